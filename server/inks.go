package server

import (
	"io"
	"mime/multipart"
	"net/http"

	"pairwall/sequence"
	"pairwall/server/printing"
	"pairwall/store"
)

// printersProfile is what a title knows of its printer's inks.
type printersProfile struct {
	Profile *store.PrinterProfile `json:"profile,omitempty"` // left out when there is none: colours are then not judged by any inks
}

type inkLimit struct {
	InkLimit int `json:"inkLimit"` // per cent of all inks together
}

const (
	mostProfile   = 16 << 20 // bytes; profiles of printers have 0.5 to 3 MB
	firstInkLimit = 300      // per cent; common practice for coated paper, until the printer says otherwise
)

func (s *Server) showInks(r *http.Request) (printersProfile, error) {
	title, err := s.title(r)
	if err != nil {
		return printersProfile{}, err
	}
	p, err := s.store.PrinterProfile(r.Context(), title.ID)
	return printersProfile{p}, err
}

// takeInks keeps the profile of a printer's inks.
func (s *Server) takeInks(r *http.Request) (printersProfile, error) {
	title, err := s.title(r)
	if err != nil {
		return printersProfile{}, err
	}
	parts, err := uploaded(r)
	if err != nil {
		return printersProfile{}, err
	}
	var taken *store.PrinterProfile
	err = eachFile(r.Context(), parts, func(part *multipart.Part) error {
		if taken != nil {
			return &sequence.Error{Code: sequence.Invalid, Message: "One profile at a time, please."}
		}
		taken, err = profileFrom(part)
		return err
	})
	if err != nil {
		return printersProfile{}, err
	}
	if taken == nil {
		return printersProfile{}, &sequence.Error{Code: sequence.Invalid, Message: "No file was sent."}
	}
	return printersProfile{taken}, s.store.KeepPrinterProfile(r.Context(), title.ID, taken)
}

func profileFrom(part *multipart.Part) (*store.PrinterProfile, error) {
	data, err := io.ReadAll(io.LimitReader(part, mostProfile+1))
	if err != nil {
		return nil, &sequence.Error{Code: sequence.Invalid, Message: "The file did not arrive whole.", Hint: "Choose it again.", Err: err}
	}
	if len(data) > mostProfile {
		return nil, &sequence.Error{Code: sequence.TooLarge, Message: "This file is too large for a colour profile."}
	}
	read, err := printing.ReadProfile(data)
	if err != nil {
		return nil, err
	}
	return &store.PrinterProfile{Name: read.Name(), Origin: part.FileName(), InkLimit: firstInkLimit, Bytes: data}, nil
}

// limitInks keeps how much ink the printer allows.
func (s *Server) limitInks(r *http.Request, in inkLimit) (printersProfile, error) {
	title, err := s.title(r)
	if err != nil {
		return printersProfile{}, err
	}
	p, err := s.store.PrinterProfile(r.Context(), title.ID)
	if err != nil {
		return printersProfile{}, err
	}
	if p == nil {
		return printersProfile{}, noInks()
	}
	p.InkLimit = in.InkLimit
	return printersProfile{p}, s.store.KeepPrinterProfile(r.Context(), title.ID, p)
}

func (s *Server) dropInks(r *http.Request) (printersProfile, error) {
	title, err := s.title(r)
	if err != nil {
		return printersProfile{}, err
	}
	return printersProfile{}, s.store.KeepPrinterProfile(r.Context(), title.ID, nil)
}

// check looks through a title before it is printed.
func (s *Server) check(r *http.Request) (printing.Checked, error) {
	m, err := s.matter(r)
	if err != nil {
		return printing.Checked{}, err
	}
	return s.press.Check(r.Context(), m)
}

// beyond sends a picture of where the printer's inks do not reach.
func (s *Server) beyond(w http.ResponseWriter, r *http.Request) error {
	title, photo, err := s.photo(r)
	if err != nil {
		return err
	}
	profile, err := s.store.PrinterProfile(r.Context(), title.ID)
	if err != nil {
		return err
	}
	if profile == nil {
		return noInks()
	}
	picture, err := s.press.ShowBeyond(r.Context(), photo, *profile)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "image/png")
	w.Header().Set("Cache-Control", "no-store")
	_, err = w.Write(picture)
	return err
}

func noInks() error {
	return &sequence.Error{Code: sequence.NotFound, Message: "No printer's profile is known yet.", Hint: "Bring in the printer's ICC profile first."}
}

package server

import (
	"errors"
	"io"
	"mime/multipart"
	"net/http"

	"pairwall/sequence"
	"pairwall/sequence/colour/inks"
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

// readProfile reads an ICC profile a maker gave and says in plain words what is
// wrong with it.
func readProfile(data []byte) (*inks.Profile, error) {
	p, err := inks.Read(data)
	switch {
	case errors.Is(err, inks.ErrKind):
		return nil, &sequence.Error{Code: sequence.Unsupported, Message: "This is a colour profile, but not one of a printer's four inks (CMYK).",
			Hint: "Ask the printer for the ICC profile of the press and the paper.", Err: err}
	case err != nil:
		return nil, &sequence.Error{Code: sequence.Damaged, Message: "This is no ICC colour profile, or it is damaged.",
			Hint: "Ask the printer for the file again; its name ends in .icc or .icm.", Err: err}
	}
	return p, nil
}

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
	read, err := readProfile(data)
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
		return printersProfile{}, &sequence.Error{Code: sequence.NotFound, Message: "There is no printer's profile to set a limit for.",
			Hint: "Bring in the printer's ICC profile first."}
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

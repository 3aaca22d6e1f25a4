package server

import (
	"context"
	"errors"
	"io"
	"mime/multipart"
	"net/http"

	"pairwall/sequence"
	"pairwall/server/bringing"
	"pairwall/server/route"
	"pairwall/store"
)

// dropFiles keeps dropped files as originals and brings them in. Nothing is
// kept of a drop that does not arrive whole.
func (s *Server) dropFiles(r *http.Request) (store.Bring, error) {
	title, err := s.title(r)
	if err != nil {
		return store.Bring{}, err
	}
	parts, err := uploaded(r)
	if err != nil {
		return store.Bring{}, err
	}
	drop, err := bringing.NewDrop(s.data, s.store.Now())
	if err != nil {
		return store.Bring{}, err
	}
	err = eachFile(r.Context(), parts, func(part *multipart.Part) error { return drop.Take(r.Context(), part.FileName(), part) })
	if err == nil && drop.Empty() {
		err = &sequence.Error{Code: sequence.Invalid, Message: "No file was dropped."}
	}
	if err != nil {
		return store.Bring{}, errors.Join(err, drop.Discard())
	}
	return s.bringIn(r.Context(), title.ID, []string{drop.Folder})
}

func uploaded(r *http.Request) (*multipart.Reader, error) {
	parts, err := r.MultipartReader()
	if err != nil {
		return nil, &sequence.Error{Code: route.WrongMedia, Message: "This address takes files as multipart/form-data.", Err: err}
	}
	return parts, nil
}

// eachFile hands out the files of an upload, not its fields.
func eachFile(ctx context.Context, parts *multipart.Reader, take func(*multipart.Part) error) error {
	for {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return bringing.BrokenUpload(ctx, err)
		}
		if part.FileName() == "" {
			continue
		}
		if err := take(part); err != nil {
			return err
		}
	}
}

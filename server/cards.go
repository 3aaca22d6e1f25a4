package server

import (
	"context"
	"errors"
	"io/fs"
	"net/http"
	"os"
	"slices"
	"strconv"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/server/bringing"
	"pairwall/server/route"
)

// card sends a card image of one photo of one title; nothing of the request
// becomes part of a file's name but a size we know.
//
// The browser may keep it but must ask each time whether it still holds: the
// address counts photos within a title, and the same address means another
// picture when Pairwall is started on another data directory. The answer is
// then a few bytes only, because the tag is the content's hash.
func (s *Server) card(w http.ResponseWriter, r *http.Request) error {
	title, err := s.title(r)
	if err != nil {
		return err
	}
	id, err := route.Number(r, "photo")
	if err != nil {
		return err
	}
	size, err := route.Number(r, "size")
	if err != nil || !slices.Contains(intake.CardSizes, int(size)) {
		return route.NoSuch("card size")
	}
	photo, err := s.store.Photo(r.Context(), title.ID, sequence.PhotoID(id))
	if err != nil {
		return err
	}
	file, err := s.openCard(r.Context(), photo, int(size))
	if err != nil {
		return err
	}
	defer file.Close()
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Cache-Control", "private, no-cache")
	w.Header().Set("ETag", strconv.Quote(photo.Hash+"-"+strconv.FormatInt(size, 10)))
	http.ServeContent(w, r, "", time.Time{}, file)
	return nil
}

// openCard opens a card image and makes it again when it is not there: what is
// derived may be thrown away at any time.
func (s *Server) openCard(ctx context.Context, photo sequence.Photo, size int) (*os.File, error) {
	name := intake.CardPath(bringing.CardsIn(s.data), photo.Hash, size)
	file, err := os.Open(name)
	if err == nil || !errors.Is(err, fs.ErrNotExist) {
		return file, orUnreadable("the card of "+photo.Name, err)
	}
	if err := s.makeCards(ctx, photo); err != nil {
		return nil, err
	}
	file, err = os.Open(name)
	return file, orUnreadable("the card of "+photo.Name, err)
}

// makeCards reads the original again, once however many windows ask.
func (s *Server) makeCards(ctx context.Context, photo sequence.Photo) error {
	made := s.making.DoChan(photo.Hash+" "+photo.Path, func() (any, error) {
		again, err := s.pool.Read(s.ctx, photo.Path, bringing.CardsIn(s.data)) // not ctx: others may wait for it as well
		if err == nil && again.Hash != photo.Hash {
			err = &sequence.Error{Code: sequence.NotFound, Message: photo.Name + " has become another picture since it was brought in.",
				Hint: "Bring it in again to have it as it is now."}
		}
		return nil, err
	})
	select {
	case <-ctx.Done():
		return ctx.Err()
	case result := <-made:
		if result.Err == nil {
			return nil
		}
		if _, err := os.Stat(photo.Path); errors.Is(err, fs.ErrNotExist) {
			return &sequence.Error{Code: sequence.NotFound, Message: "The original of " + photo.Name + " is no longer where it was.",
				Hint: "Put it back at " + photo.Path + ", or bring it in from where it is now.", Err: result.Err}
		}
		return result.Err
	}
}

func orUnreadable(what string, err error) error {
	if err == nil {
		return nil
	}
	return bringing.Unreadable(what, err)
}

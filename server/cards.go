package server

import (
	"net/http"
	"slices"
	"strconv"
	"time"

	"pairwall/sequence/intake"
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
	_, photo, err := s.photo(r)
	if err != nil {
		return err
	}
	size, err := route.Number(r, "size")
	if err != nil || !slices.Contains(intake.CardSizes, int(size)) {
		return route.NoSuch("card size")
	}
	file, err := s.cards.Open(r.Context(), photo, int(size))
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

package server

import (
	"net/http"

	"pairwall/sequence"
	"pairwall/server/bringing"
	"pairwall/store"
)

// titleEvents lists the events of a title's stream and what each carries. It
// exists for the description only: the stream carries one member at a time,
// under its name.
type titleEvents struct {
	Change    changed         `json:"change"`    // the wall has moved on
	Photo     photoEvent      `json:"photo"`     // a photo was brought in, found again or measured again
	Bring     bringEvent      `json:"bring"`     // how far bringing in is
	Arriving  arrivingEvent   `json:"arriving"`  // photographs are on their way that can be shown
	Originals bringing.Search `json:"originals"` // how far looking for lost originals is
	Reading   readingEvent    `json:"reading"`   // how far reading photographs of the paper wall is
	Refusal   refusalEvent    `json:"refusal"`   // a file could not be brought in
	Title     titleEvent      `json:"title"`     // name, binding or weights are others now
	Pages     pagesEvent      `json:"pages"`     // format or page plan are others now
	Printing  printingShown   `json:"printing"`  // how far a PDF is
	Tracks    nothing         `json:"tracks"`    // the list of tracks is another now
	Versions  nothing         `json:"versions"`  // the list of versions is another now
	Inquiry   nothing         `json:"inquiry"`   // what printers are asked or answered is another now
	Proofs    nothing         `json:"proofs"`    // rounds of proofs or what they tell are others now
	Copies    nothing         `json:"copies"`    // copies, orders or what parcels are made with are others now
	Cover     nothing         `json:"cover"`     // the cover is another now
	Reload    nothing         `json:"reload"`    // events were lost: fetch the title anew
}

type (
	photoEvent struct {
		Photo photoShown `json:"photo"`
	}
	refusalEvent struct {
		Refusal store.Refusal `json:"refusal"`
	}
	titleEvent struct {
		Title sequence.Title `json:"title"`
	}
	bringEvent struct {
		Bring store.Bring `json:"bring"`
		Name  string      `json:"name"` // the file just looked at; may be empty
	}
	readingEvent struct {
		ID    int64   `json:"id"`
		State string  `json:"state"`
		Done  float64 `json:"done"` // 0..1
	}
	nothing struct{}
)

// events streams what happens to a title until the window closes or we do.
func (s *Server) events(w http.ResponseWriter, r *http.Request) error {
	title, err := s.title(r)
	if err == nil {
		s.desk(title.ID).hub.Serve(w, r, s.heartbeat)
	}
	return err
}

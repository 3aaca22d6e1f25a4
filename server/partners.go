package server

import (
	"fmt"
	"net/http"
	"net/url"
	"strconv"

	"pairwall/sequence"
	"pairwall/sequence/pairing"
	"pairwall/server/route"
)

type partnerList struct {
	Of       sequence.PhotoID  `json:"of"`
	Page     *sequence.Page    `json:"page,omitempty"` // the blank page that partners were asked for
	Partners []pairing.Partner `json:"partners"`       // best first
	Unjudged int               `json:"unjudged"`       // photos that share no evidence with this one
}

// fewPartners is how many are proposed when nobody says: a handful more than
// one looks at, few enough to fit on a screen.
const fewPartners = 12

func partnerQuery() []route.Parameter {
	query := []route.Parameter{
		{Name: "photo", Kind: "integer", Doc: "The photo to find partners for."},
		{Name: "spread", Kind: "integer", Doc: "Instead of a photo: the spread with one blank page to find a photo for."},
		{Name: "n", Kind: "integer", Doc: fmt.Sprintf("How many at most; %d when left out.", fewPartners)},
		{Name: "box", Kind: "integer", Doc: "1: propose photos in the box as well; 0 when left out."},
		{Name: "surprise", Kind: "integer", Doc: "1: rank by what is good on one kind and far on all others that count; 0 when left out."},
	}
	for _, name := range pairing.Vocabulary() {
		query = append(query, route.Parameter{Name: string(name), Kind: "number",
			Doc: "How much " + string(name) + " counts, 0..1. When nothing is weighed, the title's own weights are taken; otherwise what is left out does not count."})
	}
	return query
}

// vocabulary names all that can be weighed: the kinds of evidence and the
// relations they are made of.
func vocabulary() []string {
	var names []string
	for _, name := range pairing.Vocabulary() {
		names = append(names, string(name))
	}
	return names
}

// listPartners looks for partners on the table and on the wall, where a better
// pair may be waiting to be made.
func (s *Server) listPartners(r *http.Request) (partnerList, error) {
	title, err := s.title(r)
	if err != nil {
		return partnerList{}, err
	}
	asked := r.URL.Query()
	ask, err := readAsk(asked, title)
	if err != nil {
		return partnerList{}, err
	}
	wall, err := s.store.Wall(r.Context(), title.ID)
	if err != nil {
		return partnerList{}, err
	}
	list := partnerList{Of: ask.Of}
	if asked.Has("spread") {
		if list, err = blankPage(wall.Sequence, sequence.SpreadID(whole(asked, "spread", 0))); err != nil {
			return partnerList{}, err
		}
		ask.Of, ask.Side = list.Of, list.Page.Side
	} else {
		ask.Side = across(wall.Sequence, ask.Of)
	}
	if ask.Refused, err = s.store.Apart(r.Context(), title.ID); err != nil {
		return partnerList{}, err
	}
	measures, among, err := s.measures(r.Context(), title.ID)
	if err != nil {
		return partnerList{}, err
	}
	ask.Among, ask.Box = among, wall.Sequence.Box
	list.Partners, list.Unjudged, err = measures.Seek(ask)
	return list, err
}

// readAsk reads what a request says of the partners wanted.
func readAsk(asked url.Values, title sequence.Title) (ask pairing.Ask, err error) {
	if asked.Has("photo") == asked.Has("spread") {
		return ask, &sequence.Error{Code: sequence.Invalid, Message: `This request must say either "photo" or "spread".`}
	}
	if ask.WithBox, err = flagged(asked, "box"); err != nil {
		return ask, err
	}
	if ask.Surprise, err = flagged(asked, "surprise"); err != nil {
		return ask, err
	}
	ask.Of, ask.Most = sequence.PhotoID(whole(asked, "photo", 0)), whole(asked, "n", fewPartners)
	ask.Balance, err = askedBalance(asked, title)
	return ask, err
}

// blankPage finds the photo that a spread's blank page faces.
func blankPage(q sequence.Sequence, id sequence.SpreadID) (partnerList, error) {
	for _, spread := range q.Spreads {
		switch {
		case spread.ID != id:
			continue
		case spread.Left != 0 && spread.Right == 0 && !spread.Across:
			return partnerList{Of: spread.Left, Page: &sequence.Page{Spread: id, Side: sequence.Right}}, nil
		case spread.Left == 0 && spread.Right != 0:
			return partnerList{Of: spread.Right, Page: &sequence.Page{Spread: id, Side: sequence.Left}}, nil
		}
		return partnerList{}, &sequence.Error{Code: sequence.Invalid, Message: "This spread has no blank page that faces a photo.",
			Hint: "Ask for the partners of a photo instead."}
	}
	return partnerList{}, route.NoSuch("spread")
}

// across is the page that faces a photo which hangs; none where it does not, or lies
// across the gutter.
func across(q sequence.Sequence, photo sequence.PhotoID) sequence.Side {
	for _, spread := range q.Spreads {
		switch {
		case spread.Across || photo == 0:
		case spread.Left == photo:
			return sequence.Right
		case spread.Right == photo:
			return sequence.Left
		}
	}
	return ""
}

// askedBalance reads the weights of a request.
func askedBalance(asked url.Values, title sequence.Title) (pairing.Balance, error) {
	weights := make(map[string]float64)
	for _, name := range vocabulary() {
		if asked.Has(name) {
			weights[name], _ = strconv.ParseFloat(asked.Get(name), 64) // checked with the query
		}
	}
	if len(weights) == 0 {
		weights = title.Weights
	}
	return weights, checkWeights(weights)
}

// whole reads a whole number that checkQuery has let through.
func whole(asked url.Values, name string, otherwise int) int {
	if n, err := strconv.Atoi(asked.Get(name)); err == nil {
		return n
	}
	return otherwise
}

func flagged(asked url.Values, name string) (bool, error) {
	switch asked.Get(name) {
	case "", "0":
		return false, nil
	case "1":
		return true, nil
	}
	return false, &sequence.Error{Code: sequence.Invalid, Message: strconv.Quote(name) + " must be 0 or 1."}
}

package server

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"sync"

	"pairwall/sequence"
	"pairwall/sequence/pairing"
	"pairwall/server/route"
)

type partnerList struct {
	Of       sequence.PhotoID  `json:"of"`
	Partners []pairing.Partner `json:"partners"` // best first
	Unjudged int               `json:"unjudged"` // photos that share no evidence with this one
}

// fewPartners is how many are proposed when nobody says: a handful more than
// one looks at, few enough to fit on a screen.
const fewPartners = 12

func partnerQuery() []route.Parameter {
	query := []route.Parameter{
		{Name: "photo", Kind: "integer", Required: true, Doc: "The photo to find partners for."},
		{Name: "n", Kind: "integer", Doc: fmt.Sprintf("How many at most; %d when left out.", fewPartners)},
		{Name: "box", Kind: "integer", Doc: "1: propose photos in the box as well; 0 when left out."},
	}
	for _, kind := range kinds() {
		query = append(query, route.Parameter{Name: kind, Kind: "number",
			Doc: "How much " + kind + " counts, 0..1. When no kind is given, the title's own weights are taken; otherwise a kind left out does not count."})
	}
	return query
}

func kinds() []string {
	var names []string
	for _, kind := range pairing.Kinds() {
		names = append(names, string(kind))
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
	box := asked.Get("box")
	if box != "" && box != "0" && box != "1" {
		return partnerList{}, &sequence.Error{Code: sequence.Invalid, Message: `"box" must be 0 or 1.`}
	}
	balance, err := askedBalance(asked, title)
	if err != nil {
		return partnerList{}, err
	}
	wall, err := s.store.Wall(r.Context(), title.ID)
	if err != nil {
		return partnerList{}, err
	}
	measures, among, err := s.measures(r.Context(), title.ID)
	if err != nil {
		return partnerList{}, err
	}
	if box != "1" {
		among = sequence.Sequence{Box: wall.Sequence.Box}.Table(among)
	}
	of := sequence.PhotoID(whole(asked, "photo", 0))
	partners, unjudged, err := measures.Partners(of, among, balance, whole(asked, "n", fewPartners))
	return partnerList{of, partners, unjudged}, err
}

// askedBalance reads the weights of a request.
func askedBalance(asked url.Values, title sequence.Title) (pairing.Balance, error) {
	weights := make(map[string]float64)
	for _, kind := range kinds() {
		if asked.Has(kind) {
			weights[kind], _ = strconv.ParseFloat(asked.Get(kind), 64) // checked with the query
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

// measured keeps what judging a title's pairs stands on, until photos come in.
type measured struct {
	mu       sync.Mutex
	measures *pairing.Measures
	photos   []sequence.PhotoID // that it was made from
}

func (m *measured) forget() {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.measures = nil
}

// forgetUnless forgets when the title has another number of photos: another
// process, such as the command in a terminal, may have brought some in.
func (m *measured) forgetUnless(photos int) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if len(m.photos) != photos {
		m.measures = nil
	}
}

// measures returns the measures of a title's photos and their numbers. Read the
// wall before: every photo on it is then among them.
func (s *Server) measures(ctx context.Context, title sequence.TitleID) (*pairing.Measures, []sequence.PhotoID, error) {
	m := &s.desk(title).measure
	m.mu.Lock() // while they are made: whoever else asks would only make them too
	defer m.mu.Unlock()
	if m.measures == nil {
		photos, err := s.store.Photos(ctx, title)
		if err != nil {
			return nil, nil, err
		}
		m.photos = make([]sequence.PhotoID, len(photos))
		for i, photo := range photos {
			m.photos[i] = photo.Number
		}
		m.measures = pairing.New(photos)
	}
	return m.measures, m.photos, nil
}

package server

import (
	"net/http"
	"strconv"

	"pairwall/sequence"
	"pairwall/sequence/place"
	"pairwall/sequence/place/gazetteer"
	"pairwall/server/route"
)

// townList answers a name or a position. Attribution must be shown with it.
type townList struct {
	Towns       []town `json:"towns"`           // best first
	Label       string `json:"label,omitempty"` // of the position that was asked for
	Attribution string `json:"attribution"`
}

type town struct {
	Name        string  `json:"name"`
	Country     string  `json:"country"`     // ISO 3166-1 alpha-2
	CountryName string  `json:"countryName"` // in English
	Lat         float64 `json:"lat"`
	Lng         float64 `json:"lng"`
	People      int     `json:"people"` // 0 where nobody counted
}

const (
	fewTowns  = 8  // when nobody says how many
	mostTowns = 50 // more, nobody reads
)

func townQuery() []route.Parameter {
	return []route.Parameter{
		{Name: "name", Kind: "string", Doc: "What the maker types of a town's name, with a country behind a comma if they like."},
		{Name: "n", Kind: "integer", Doc: "How many towns at most, 1..50; 8 when left out."},
		{Name: "lat", Kind: "number", Doc: "Instead of a name: a position, for the nearest town and a label."},
		{Name: "lng", Kind: "number", Doc: "With lat."},
	}
}

func (s *Server) listTowns(r *http.Request) (townList, error) {
	asked := r.URL.Query()
	answer := townList{Towns: []town{}, Attribution: gazetteer.Attribution}
	if asked.Has("lat") != asked.Has("lng") || asked.Has("lat") == asked.Has("name") {
		return answer, &sequence.Error{Code: sequence.Invalid, Message: `Either "name" or "lat" and "lng" must be given.`}
	}
	if asked.Has("name") {
		n := whole(asked, "n", fewTowns)
		if n < 1 || n > mostTowns {
			return answer, &sequence.Error{Code: sequence.Invalid, Message: `"n" must lie between 1 and ` + strconv.Itoa(mostTowns) + "."}
		}
		for _, t := range gazetteer.Find(asked.Get("name"), n) {
			answer.Towns = append(answer.Towns, shownTown(t))
		}
		return answer, nil
	}
	var at place.LatLng
	at.Lat, _ = strconv.ParseFloat(asked.Get("lat"), 64) // checked with the query
	at.Lng, _ = strconv.ParseFloat(asked.Get("lng"), 64)
	if !at.Valid() {
		return answer, &sequence.Error{Code: sequence.Invalid, Message: "There is no such place on the globe."}
	}
	if nearest, _, ok := gazetteer.Nearest(at); ok {
		answer.Towns, answer.Label = append(answer.Towns, shownTown(nearest)), s.labels.of(at)
	}
	return answer, nil
}

func shownTown(t gazetteer.Town) town {
	return town{t.Name, t.Country, t.CountryName, t.Lat, t.Lng, t.People}
}

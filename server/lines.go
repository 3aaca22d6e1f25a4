package server

import (
	"context"
	"net/http"

	"pairwall/sequence"
	"pairwall/server/route"
	"pairwall/store"
)

// lineBegun is a line of work to be begun beside the present one.
type lineBegun struct {
	Revision int64              `json:"revision"`
	From     sequence.VersionID `json:"from,omitempty"` // the version to go on from; the wall as it is when left out
	Name     string             `json:"name"`
	Present  string             `json:"present,omitempty"` // another name for the line the wall is on now
}

type lineName struct {
	Name string `json:"name"`
}

type lineList struct {
	Lines []sequence.Line `json:"lines"`
}

// asideAsked is a state made beside the wall, to be kept as a version.
type asideAsked struct {
	Revision int64             `json:"revision"`
	Sequence sequence.Sequence `json:"sequence"` // its revision and line do not count
	Line     string            `json:"line"`     // the name of the line of work to keep it in; begun if there is none
	Name     string            `json:"name"`
	Why      string            `json:"why,omitempty"`
}

type keptAside struct {
	Version sequence.Version `json:"version"`
	Changed changed          `json:"changed"` // the wall is as it was; the journal has moved on
}

func (s *Server) beginLine(r *http.Request, in lineBegun) (changed, error) {
	return s.act(r, func(ctx context.Context, title sequence.TitleID, from string) (sequence.Entry, store.Wall, error) {
		return s.store.BeginLine(ctx, title, store.NewLine{From: in.From, Name: in.Name, Present: in.Present}, in.Revision, from)
	})
}

func (s *Server) nameLine(r *http.Request, in lineName) (lineList, error) {
	title, line, err := s.titleLine(r)
	if err != nil {
		return lineList{}, err
	}
	if err := s.store.NameLine(r.Context(), title.ID, line, in.Name); err != nil {
		return lineList{}, err
	}
	s.desk(title.ID).hub.Publish("versions", nothing{})
	lines, err := s.store.Lines(r.Context(), title.ID)
	return lineList{lines}, err
}

func (s *Server) goOver(r *http.Request, in onRevision) (changed, error) {
	_, line, err := s.titleLine(r)
	if err != nil {
		return changed{}, err
	}
	return s.act(r, func(ctx context.Context, title sequence.TitleID, from string) (sequence.Entry, store.Wall, error) {
		return s.store.GoOver(ctx, title, line, in.Revision, from)
	})
}

func (s *Server) titleLine(r *http.Request) (sequence.Title, sequence.LineID, error) {
	title, err := s.title(r)
	if err != nil {
		return title, 0, err
	}
	line, err := route.Number(r, "line")
	return title, sequence.LineID(line), err
}

func (s *Server) keepAside(r *http.Request, in asideAsked) (keptAside, error) {
	var kept keptAside
	aside := store.Aside{State: in.Sequence, Line: in.Line, Name: in.Name, Why: in.Why}
	now, err := s.act(r, func(ctx context.Context, title sequence.TitleID, from string) (entry sequence.Entry, wall store.Wall, err error) {
		kept.Version, entry, wall, err = s.store.KeepAside(ctx, title, aside, in.Revision, from)
		return entry, wall, err
	})
	kept.Changed = now
	return kept, err
}

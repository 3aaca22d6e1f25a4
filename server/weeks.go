package server

import (
	"net/http"
	"slices"

	"pairwall/sequence"
	"pairwall/sequence/history"
)

// side is one side of a comparison: a version, a state made beside the wall, or
// the present wall when both are left out.
type side struct {
	Version  sequence.VersionID `json:"version,omitempty"`
	Sequence *sequence.Sequence `json:"sequence,omitempty"`
}

type comparisonAsked struct {
	Earlier side `json:"earlier"`
	Later   side `json:"later"`
}

// comparison is two walls and what distinguishes them.
type comparison struct {
	Earlier sequence.Sequence `json:"earlier"`
	Later   sequence.Sequence `json:"later"`
	Diff    sequence.Diff     `json:"diff"`
	Words   string            `json:"words"`
}

func (s *Server) compare(r *http.Request, in comparisonAsked) (comparison, error) {
	earlier, err := s.sideOf(r, in.Earlier)
	if err != nil {
		return comparison{}, err
	}
	later, err := s.sideOf(r, in.Later)
	diff := sequence.Compare(earlier, later)
	return comparison{earlier, later, tidyDiff(diff), diff.Words()}, err
}

func (s *Server) sideOf(r *http.Request, of side) (sequence.Sequence, error) {
	title, err := s.title(r)
	switch {
	case err != nil:
		return sequence.Sequence{}, err
	case of.Sequence != nil:
		return of.Sequence.Clone(), of.Sequence.Check()
	case of.Version != 0:
		version, err := s.store.Version(r.Context(), title.ID, of.Version)
		return version.Sequence, err
	}
	wall, err := s.store.Wall(r.Context(), title.ID)
	return wall.Sequence, err
}

// settled is what the present line of work tells of its weeks.
type settled struct {
	Line   sequence.LineID `json:"line"`
	Report history.Report  `json:"report"`
}

func (s *Server) lookBack(r *http.Request) (settled, error) {
	title, err := s.title(r)
	if err != nil {
		return settled{}, err
	}
	wall, err := s.store.Wall(r.Context(), title.ID)
	if err != nil {
		return settled{}, err
	}
	lines, err := s.store.Lines(r.Context(), title.ID)
	if err != nil {
		return settled{}, err
	}
	journal, err := s.store.Journal(r.Context(), title.ID, 0)
	if err != nil {
		return settled{}, err
	}
	stands, err := history.Stands(journal)
	line := wall.Sequence.Line
	return settled{line, history.Look(history.Of(stands, lines, line), s.store.Now())}, err
}

// thinning is what a rule would let go.
type thinning struct {
	Spare []sequence.VersionID `json:"spare"`
	Away  int                  `json:"away"` // ends of sittings that only the journal has
}

type thinningAsked struct {
	Versions []sequence.VersionID `json:"versions"`
}

type putBackCount struct {
	Kept int `json:"kept"`
}

// previewThinning tells what would go; nothing goes until it is asked for by
// name.
func (s *Server) previewThinning(r *http.Request) (thinning, error) {
	title, versions, lines, err := s.versions(r)
	if err != nil {
		return thinning{}, err
	}
	asked := r.URL.Query()
	rule := history.Rule{Keep: history.Keep(asked.Get("keep")), Older: whole(asked, "older", 0)}
	spare, err := history.Thin(versions, lines, rule, s.store.Now())
	if err != nil {
		return thinning{}, err
	}
	away, err := s.awayFrom(r, title, versions)
	answer := thinning{Spare: []sequence.VersionID{}, Away: len(away)}
	for _, v := range spare {
		answer.Spare = append(answer.Spare, v.ID)
	}
	return answer, err
}

// awayFrom lists the states that were or would have been kept at the end of a
// sitting and are not among the versions.
func (s *Server) awayFrom(r *http.Request, title sequence.TitleID, versions []sequence.Version) ([]sequence.Version, error) {
	journal, err := s.store.Journal(r.Context(), title, 0)
	if err != nil {
		return nil, err
	}
	ends, err := history.Ends(journal, s.store.Now())
	return slices.DeleteFunc(ends, func(e sequence.Version) bool {
		return slices.ContainsFunc(versions, func(v sequence.Version) bool { return v.Line() == e.Line() && v.Sequence.Alike(e.Sequence) })
	}), err
}

func (s *Server) thinOut(r *http.Request, in thinningAsked) (versionList, error) {
	title, err := s.title(r)
	if err != nil {
		return versionList{}, err
	}
	if err := s.store.ThinOut(r.Context(), title.ID, in.Versions); err != nil {
		return versionList{}, err
	}
	s.desk(title.ID).hub.Publish("versions", nothing{})
	return s.listVersions(r)
}

func (s *Server) putBack(r *http.Request, _ nothing) (putBackCount, error) {
	title, versions, _, err := s.versions(r)
	if err != nil {
		return putBackCount{}, err
	}
	away, err := s.awayFrom(r, title, versions)
	if err != nil {
		return putBackCount{}, err
	}
	kept, err := s.store.PutBack(r.Context(), title, away)
	if err == nil {
		s.desk(title).hub.Publish("versions", nothing{})
	}
	return putBackCount{kept}, err
}

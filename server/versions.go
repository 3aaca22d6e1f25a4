package server

import (
	"context"
	"net/http"
	"time"

	"pairwall/sequence"
	"pairwall/server/route"
	"pairwall/store"
)

type versionList struct {
	Versions []versionSummary `json:"versions"`
	Lines    []sequence.Line  `json:"lines"` // of work, in the order they were begun
}

// versionSummary is a version told by what it changed, with the photos of its
// wall for a small picture of it.
type versionSummary struct {
	ID       sequence.VersionID `json:"id"`
	At       time.Time          `json:"at"`
	Named    bool               `json:"named"`
	Name     string             `json:"name"`
	Why      string             `json:"why"`
	Slip     bool               `json:"slip"` // worth coming back to
	Looked   *time.Time         `json:"looked,omitempty"`
	Line     sequence.LineID    `json:"line"`
	Revision int64              `json:"revision"`
	Spreads  int                `json:"spreads"`
	Photos   int                `json:"photos"` // on its wall
	Pages    []sequence.PhotoID `json:"pages"`  // from the opening to the closing page; 0 is blank, a photo across the gutter is on both of its pages
	Diff     sequence.Diff      `json:"diff"`   // to the version before on its line of work; to a bare wall for the first
	Words    string             `json:"words"`  // the same in words
}

// versionDetail is a version and how the present wall differs from it.
type versionDetail struct {
	sequence.Version
	Diff  sequence.Diff `json:"diff"`
	Words string        `json:"words"`
}

type versionName struct {
	Name string `json:"name"`
}

// versionAmendment is what the maker says of a version; what is left out stays.
type versionAmendment struct {
	Name   *string `json:"name,omitempty"`
	Why    *string `json:"why,omitempty"`
	Slip   *bool   `json:"slip,omitempty"`   // worth coming back to
	Looked bool    `json:"looked,omitempty"` // it was looked at just now
}

func (s *Server) listVersions(r *http.Request) (versionList, error) {
	_, versions, lines, err := s.versions(r)
	if err != nil {
		return versionList{}, err
	}
	summaries := make([]versionSummary, len(versions))
	for i, v := range versions {
		diff := sequence.Compare(before(versions[i+1:], lines, v), v.Sequence)
		q := v.Sequence
		summaries[i] = versionSummary{v.ID, v.At, v.Named, v.Name, v.Why, v.Slip, v.Looked, v.Line(), q.Revision, len(q.Spreads),
			len(q.Wall()), q.Drawn(), tidyDiff(diff), diff.Words()}
	}
	return versionList{summaries, lines}, nil
}

// versions gives a title's versions, the newest first, with its lines of work.
func (s *Server) versions(r *http.Request) (sequence.TitleID, []sequence.Version, []sequence.Line, error) {
	title, err := s.title(r)
	if err != nil {
		return 0, nil, nil, err
	}
	versions, err := s.store.Versions(r.Context(), title.ID)
	if err != nil {
		return title.ID, nil, nil, err
	}
	lines, err := s.store.Lines(r.Context(), title.ID)
	return title.ID, versions, lines, err
}

// before is the state that a version is told from: the one before it on its
// line of work, or for the first of a line the one it was begun with. earlier
// lists the versions before it, the newest first.
func before(earlier []sequence.Version, lines []sequence.Line, v sequence.Version) sequence.Sequence {
	for _, e := range earlier {
		if e.Line() == v.Line() {
			return e.Sequence
		}
	}
	for _, l := range lines {
		for _, e := range earlier {
			if l.ID == v.Line() && e.Line() == l.From && e.Sequence.Revision <= l.Root {
				return e.Sequence
			}
		}
	}
	return sequence.Sequence{}
}

func (s *Server) keepVersion(r *http.Request, in versionName) (sequence.Version, error) {
	title, err := s.title(r)
	if err != nil {
		return sequence.Version{}, err
	}
	version, err := s.store.KeepVersion(r.Context(), title.ID, in.Name)
	if err != nil {
		return version, err
	}
	s.desk(title.ID).hub.Publish("versions", nothing{})
	return version, nil
}

func (s *Server) showVersion(r *http.Request) (versionDetail, error) {
	title, id, err := s.titleVersion(r)
	if err != nil {
		return versionDetail{}, err
	}
	version, err := s.store.Version(r.Context(), title.ID, id)
	if err != nil {
		return versionDetail{}, err
	}
	wall, err := s.store.Wall(r.Context(), title.ID)
	diff := sequence.Compare(version.Sequence, wall.Sequence)
	return versionDetail{version, tidyDiff(diff), diff.Words()}, err
}

func (s *Server) amendVersion(r *http.Request, in versionAmendment) (sequence.Version, error) {
	title, id, err := s.titleVersion(r)
	if err != nil {
		return sequence.Version{}, err
	}
	version, err := s.store.AmendVersion(r.Context(), title.ID, id, store.VersionAmendment(in))
	if err == nil {
		s.desk(title.ID).hub.Publish("versions", nothing{})
	}
	return version, err
}

func (s *Server) bringBack(r *http.Request, in onRevision) (changed, error) {
	title, id, err := s.titleVersion(r)
	if err != nil {
		return changed{}, err
	}
	now, err := s.act(r, func(ctx context.Context, title sequence.TitleID, from string) (sequence.Entry, store.Wall, error) {
		return s.store.BringBack(ctx, title, id, in.Revision, from)
	})
	if err == nil {
		s.desk(title.ID).hub.Publish("versions", nothing{}) // the wall it replaced was kept
	}
	return now, err
}

func (s *Server) titleVersion(r *http.Request) (sequence.Title, sequence.VersionID, error) {
	title, err := s.title(r)
	if err != nil {
		return title, 0, err
	}
	id, err := route.Number(r, "version")
	return title, sequence.VersionID(id), err
}

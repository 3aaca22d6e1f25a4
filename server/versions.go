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
}

// versionSummary is a version without its wall, told by what it changed.
type versionSummary struct {
	ID       sequence.VersionID `json:"id"`
	At       time.Time          `json:"at"`
	Named    bool               `json:"named"`
	Name     string             `json:"name"`
	Revision int64              `json:"revision"`
	Spreads  int                `json:"spreads"`
	Photos   int                `json:"photos"` // on its wall
	Diff     sequence.Diff      `json:"diff"`   // to the version before; to a bare wall for the first
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

func (s *Server) listVersions(r *http.Request) (versionList, error) {
	title, err := s.title(r)
	if err != nil {
		return versionList{}, err
	}
	versions, err := s.store.Versions(r.Context(), title.ID)
	if err != nil {
		return versionList{}, err
	}
	summaries := make([]versionSummary, len(versions))
	for i, v := range versions {
		var before sequence.Sequence
		if i+1 < len(versions) {
			before = versions[i+1].Sequence
		}
		diff := sequence.Compare(before, v.Sequence)
		summaries[i] = versionSummary{v.ID, v.At, v.Named, v.Name, v.Sequence.Revision, len(v.Sequence.Spreads),
			len(v.Sequence.Wall()), tidyDiff(diff), diff.Words()}
	}
	return versionList{summaries}, nil
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

func (s *Server) nameVersion(r *http.Request, in versionName) (sequence.Version, error) {
	title, id, err := s.titleVersion(r)
	if err != nil {
		return sequence.Version{}, err
	}
	if err := s.store.NameVersion(r.Context(), title.ID, id, in.Name); err != nil {
		return sequence.Version{}, err
	}
	s.desk(title.ID).hub.Publish("versions", nothing{})
	return s.store.Version(r.Context(), title.ID, id)
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

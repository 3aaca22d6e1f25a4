package server

import (
	"context"
	"net/http"

	"pairwall/sequence"
	"pairwall/server/gate"
	"pairwall/server/route"
	"pairwall/store"
)

// onRevision says which state of the wall the maker has before their eyes.
type onRevision struct {
	Revision int64 `json:"revision"`
}

func (s *Server) applyChange(r *http.Request, change sequence.Change) (changed, error) {
	change.Steps = list(change.Steps) // it may only state facts
	return s.act(r, func(ctx context.Context, title sequence.TitleID, from string) (sequence.Entry, store.Wall, error) {
		return s.store.Apply(ctx, title, change, from)
	})
}

func (s *Server) undo(r *http.Request, in onRevision) (changed, error) {
	return s.act(r, func(ctx context.Context, title sequence.TitleID, from string) (sequence.Entry, store.Wall, error) {
		return s.store.Undo(ctx, title, in.Revision, from)
	})
}

func (s *Server) redo(r *http.Request, in onRevision) (changed, error) {
	return s.act(r, func(ctx context.Context, title sequence.TitleID, from string) (sequence.Entry, store.Wall, error) {
		return s.store.Redo(ctx, title, in.Revision, from)
	})
}

// act is the one way on which the wall changes: commit, then tell every window,
// under the title's lock so that both happen in the same order.
func (s *Server) act(r *http.Request, do func(context.Context, sequence.TitleID, string) (sequence.Entry, store.Wall, error)) (changed, error) {
	title, err := s.title(r)
	if err != nil {
		return changed{}, err
	}
	d := s.desk(title.ID)
	d.writing.Lock()
	defer d.writing.Unlock()
	entry, wall, err := do(r.Context(), title.ID, r.Header.Get(gate.Window))
	if err != nil {
		return changed{}, route.WithWall(err, wall)
	}
	now := changed{Entry: entry, Wall: wall, Labels: s.newLabels(entry.Change.Says)}
	for _, said := range entry.Change.Says {
		d.measure.forget(said.Photo)
	}
	d.hub.Publish("change", now)
	if d.lastAct.IsZero() || sequence.SittingOver(d.lastAct, entry.At) || entry.Change.GoesOver() {
		d.hub.Publish("versions", nothing{}) // this act closed a sitting or left a line, which has left a version
	}
	d.lastAct = entry.At
	return now, nil
}

type hungList struct {
	Photos []sequence.PhotoID `json:"photos"`
}

// listHung gives the photos that were ever on the wall; of one that is not there
// now the page says "once on the wall".
func (s *Server) listHung(r *http.Request) (hungList, error) {
	title, err := s.title(r)
	if err != nil {
		return hungList{}, err
	}
	photos, err := s.store.Hung(r.Context(), title.ID)
	return hungList{photos}, err
}

// newLabels names the places that were stated, for a window that has the photos
// but no gazetteer.
func (s *Server) newLabels(says []sequence.Statement) map[sequence.PhotoID]string {
	named := make(map[sequence.PhotoID]string)
	for _, said := range says {
		if said.Fact != sequence.WhereFact {
			continue
		}
		named[said.Photo] = ""
		if said.Now.Where != nil {
			named[said.Photo] = s.labels.of(said.Now.Where.LatLng)
		}
	}
	return named
}

package server

import (
	"context"
	"maps"
	"slices"
	"sync"

	"pairwall/sequence"
	"pairwall/sequence/pairing"
)

// measured keeps what judging a title's pairs stands on. A photo that came in or
// was said something of costs its own row; the measures of all others stay.
type measured struct {
	mu       sync.Mutex
	measures *pairing.Measures
	photos   []sequence.PhotoID        // that it was made from
	changed  map[sequence.PhotoID]bool // since then
}

// mostRows is how many photos are taken in one by one; beyond it, all is made
// anew, which is then no slower.
const mostRows = 8

// forget drops what is kept of some photos.
func (m *measured) forget(photos ...sequence.PhotoID) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.measures == nil {
		return
	}
	for _, id := range photos {
		m.changed[id] = true
	}
	if len(m.changed) > mostRows {
		m.measures = nil
	}
}

// forgetUnless forgets when the title has another number of photos: another
// process, such as the command in a terminal, may have brought some in.
func (m *measured) forgetUnless(photos int) {
	m.mu.Lock()
	defer m.mu.Unlock()
	known := len(m.photos)
	for id := range m.changed {
		if !slices.Contains(m.photos, id) {
			known++
		}
	}
	if known != photos {
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
		if err := s.measureAll(ctx, title, m); err != nil {
			return nil, nil, err
		}
	}
	for _, id := range slices.Sorted(maps.Keys(m.changed)) {
		photo, err := s.store.Photo(ctx, title, id)
		if err != nil {
			return nil, nil, err
		}
		m.measures = m.measures.With(photo)
		if !slices.Contains(m.photos, id) {
			m.photos = append(slices.Clip(m.photos), id) // whoever got the list before keeps theirs
		}
		delete(m.changed, id)
	}
	return m.measures, m.photos, nil
}

func (s *Server) measureAll(ctx context.Context, title sequence.TitleID, m *measured) error {
	photos, err := s.store.Photos(ctx, title)
	if err != nil {
		return err
	}
	m.photos = make([]sequence.PhotoID, len(photos))
	for i, photo := range photos {
		m.photos[i] = photo.Number
	}
	m.measures, m.changed = pairing.New(photos), make(map[sequence.PhotoID]bool)
	return nil
}

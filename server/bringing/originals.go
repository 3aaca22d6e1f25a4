package bringing

import (
	"context"
	"os"
	"path/filepath"
	"sync"
	"time"

	"pairwall/sequence"
	"pairwall/store"
)

// Lost is a photo whose original is not there, or not as it was.
type Lost struct {
	Photo sequence.PhotoID `json:"photo"`
	Path  string           `json:"path"` // where the original was
}

// Originals tells which originals are not as they were.
type Originals struct {
	Missing []Lost `json:"missing"`
	Changed []Lost `json:"changed"` // of another size or time than when brought in; what is in them may be the same
}

// lookers is how many files are looked at at once: a disk on a network answers
// late, not slowly.
const lookers = 8

// Look looks whether originals are where they were and as they were. It reads
// none of them. When ctx ends first, those not looked at yet count as sound: a
// disk that does not answer is no reason to call its pictures lost.
func Look(ctx context.Context, photos []sequence.Photo) Originals {
	type seen struct {
		at    int
		state fileState
	}
	next, told := make(chan int), make(chan seen, len(photos))
	go func() {
		defer close(next)
		for i := range photos {
			select {
			case next <- i:
			case <-ctx.Done():
				return
			}
		}
	}()
	var looking sync.WaitGroup
	for range lookers {
		looking.Go(func() {
			for i := range next {
				told <- seen{i, stateOf(photos[i])}
			}
		})
	}
	all := make(chan struct{})
	go func() { looking.Wait(); close(all) }()
	select {
	case <-all:
	case <-ctx.Done(): // a look that hangs ends when the disk wills; told has room for it
	}
	states := make([]fileState, len(photos))
	for range len(told) {
		s := <-told
		states[s.at] = s.state
	}
	found := Originals{Missing: []Lost{}, Changed: []Lost{}}
	for i, p := range photos {
		switch states[i] {
		case missing:
			found.Missing = append(found.Missing, Lost{p.Number, p.Path})
		case changed:
			found.Changed = append(found.Changed, Lost{p.Number, p.Path})
		}
	}
	return found
}

type fileState int

const (
	sound fileState = iota
	missing
	changed
)

func stateOf(p sequence.Photo) fileState {
	info, err := os.Stat(p.Path)
	switch {
	case err != nil:
		return missing
	case info.Size() != p.Bytes || !info.ModTime().Equal(p.Stamp):
		return changed
	}
	return sound
}

// Search is how far looking for lost originals is.
type Search struct {
	Files   int    `json:"files"`   // files below the folder
	Looked  int    `json:"looked"`  // files of them looked at so far
	Found   int    `json:"found"`   // originals found so far
	Missing int    `json:"missing"` // those not found yet
	Words   string `json:"words"`
	State   string `json:"state"` // as that of a bring
}

// Find looks below folder for the originals that a title's photos have lost, by
// size first and then by content, and makes what it finds their originals.
// progress, which may be nil, is called from one goroutine: with each photo
// found, and now and then without one to tell how far it is.
//
// Find keeps what it found even with an error. Errors: Cancelled when ctx ended;
// Invalid for our own folder; NotFound or Unreadable when the folder is not
// there or the disk fails.
func Find(ctx context.Context, st *store.Store, data string, title sequence.TitleID, folder string, progress func(Search, *sequence.Photo)) (Search, error) {
	f := &finder{store: st, title: title, wanted: make(map[int64][]sequence.Photo), progress: progress}
	photos, err := st.Photos(ctx, title)
	if err == nil {
		err = f.run(ctx, photos, folder, data)
	}
	return f.ended(ctx, err), err
}

type finder struct {
	store    *store.Store
	title    sequence.TitleID
	wanted   map[int64][]sequence.Photo // by size
	lost     int
	found    int
	files    int
	looked   int
	told     time.Time // when progress was called last
	progress func(Search, *sequence.Photo)
}

func (f *finder) run(ctx context.Context, photos []sequence.Photo, folder, data string) error {
	byNumber := make(map[sequence.PhotoID]sequence.Photo, len(photos))
	for _, p := range photos {
		byNumber[p.Number] = p
	}
	look := Look(ctx, photos)
	for _, lost := range append(look.Missing, look.Changed...) {
		p := byNumber[lost.Photo]
		f.wanted[p.Bytes] = append(f.wanted[p.Bytes], p)
		f.lost++
	}
	for _, touched := range look.Changed { // perhaps by a copy that did not keep times
		if info, err := os.Stat(touched.Path); err == nil {
			if err := f.try(ctx, touched.Path, info); err != nil {
				return err
			}
		}
	}
	candidates, _, err := pictures(ctx, []string{folder}, data)
	if err != nil {
		return err
	}
	f.files = len(candidates)
	for _, c := range candidates {
		if f.found == f.lost {
			break // there is nothing left to find
		}
		f.tell()
		if c.err == nil {
			if err := f.try(ctx, c.path, c.info); err != nil {
				return err
			}
		}
		f.looked++
	}
	return nil
}

// tell says how far looking is, twice a second: hashing large scans takes a
// while without anything being found.
func (f *finder) tell() {
	if f.progress != nil && time.Since(f.told) >= 500*time.Millisecond {
		f.told = time.Now()
		f.progress(f.state(store.Running), nil)
	}
}

// try compares one file with the lost originals of its size. A file that cannot
// be read is none of them.
func (f *finder) try(ctx context.Context, path string, info os.FileInfo) error {
	of := f.wanted[info.Size()]
	if len(of) == 0 {
		return ctx.Err()
	}
	hash, err := contentHash(ctx, path)
	if err != nil {
		return ctx.Err()
	}
	for i, p := range of {
		if p.Hash != hash {
			continue
		}
		p.Path, p.Name, p.Stamp = path, filepath.Base(path), info.ModTime().UTC()
		if err := f.store.Relink(ctx, f.title, p.Number, p.Path, p.Name, p.Stamp); err != nil {
			return err
		}
		f.wanted[info.Size()] = append(of[:i:i], of[i+1:]...)
		f.found++
		if f.progress != nil {
			f.progress(f.state(store.Running), &p)
		}
		break
	}
	return ctx.Err()
}

func (f *finder) state(now string) Search {
	s := Search{Files: f.files, Looked: f.looked, Found: f.found, Missing: f.lost - f.found, State: now}
	switch {
	case f.lost == 0:
		s.Words = "Every original is where it was."
	case s.Missing == 0:
		s.Words = capital(sequence.Counted(f.found, "original")) + " found; none is missing any more."
	default:
		s.Words = capital(sequence.Counted(f.found, "original")) + " found, " + sequence.Spelled(s.Missing) + " still to find."
	}
	return s
}

func (f *finder) ended(ctx context.Context, err error) Search {
	switch {
	case err == nil:
		return f.state(store.Done)
	case ctx.Err() != nil:
		s := f.state(store.Cancelled)
		s.Words = "Stopped. " + s.Words
		if f.lost == 0 { // before it was known what to look for
			s.Words = "Stopped."
		}
		return s
	}
	s := f.state(store.Failed)
	s.Words = wordsOf(err)
	return s
}

package server

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"mime/multipart"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/sequence/pages/code"
	"pairwall/sequence/pages/perspective"
	"pairwall/sequence/pages/wallshot"
	"pairwall/server/bringing"
	"pairwall/server/route"
	"pairwall/store"
)

// wallReading is what photographs of the paper wall show. It lives as long as
// the maker corrects it and this program runs; the photographs are no photos of
// the title.
type wallReading struct {
	ID      int64              `json:"id"`
	State   string             `json:"state"`
	Done    float64            `json:"done"` // 0..1
	Shots   []wallShot         `json:"shots"`
	Hanging sequence.Hanging   `json:"hanging"`
	Doubts  []sequence.PhotoID `json:"doubts"` // in spreads of which the gaps do not tell clearly who faces whom
	Twice   []sequence.PhotoID `json:"twice"`  // found in two places of the wall
}

// wallShot is one photograph with what was read off it.
type wallShot struct {
	Name   string     `json:"name"`
	Width  int        `json:"width"` // pixels of the photograph, upright
	Height int        `json:"height"`
	Codes  []shotCode `json:"codes"`  // of this title
	Others []shotCode `json:"others"` // of other titles, or of photos the title does not have
	Unread []corners  `json:"unread"` // where a code cannot be read
	Error  string     `json:"error,omitempty"`
	Hint   string     `json:"hint,omitempty"`
}

type shotCode struct {
	Number  sequence.PhotoID `json:"number"`
	Corners corners          `json:"corners"`
}

// corners are x and y of top left, top right, bottom right and bottom left, as
// fractions of the photograph's width and height.
type corners [8]float64

// readingRun is a wall reading with what the page need not have.
type readingRun struct {
	wallReading // guarded by the desk's mu
	views       [][]byte
	found       [][]wallshot.Found
	cancel      context.CancelFunc
	folder      string
}

const (
	shotsAtOnce  = 40 // photographs of one wall
	readingsKept = 3  // of one title; who has more windows open reads again
)

// readWall takes photographs of the paper wall and begins to read them.
func (s *Server) readWall(r *http.Request) (wallReading, error) {
	title, err := s.title(r)
	if err != nil {
		return wallReading{}, err
	}
	style := pages.FirstPrintStyle
	if asked := r.URL.Query(); asked.Has("long") {
		long, _ := strconv.ParseFloat(asked.Get("long"), 64) // the route has looked that it is a number
		style.Long = pages.Length(long)
		if err := style.Check(); err != nil {
			return wallReading{}, err
		}
	}
	folder, names, err := s.takeShots(r)
	if err != nil {
		return wallReading{}, err
	}
	ctx, cancel := context.WithCancel(s.ctx)
	run := &readingRun{cancel: cancel, folder: folder, views: make([][]byte, len(names)), found: make([][]wallshot.Found, len(names)),
		wallReading: wallReading{ID: time.Now().UnixMicro(), State: store.Running, Doubts: []sequence.PhotoID{}, Twice: []sequence.PhotoID{},
			Hanging: sequence.Hanging{Spreads: []sequence.Facing{}}, Shots: make([]wallShot, len(names))}}
	for i, name := range names {
		run.Shots[i] = wallShot{Name: name, Codes: []shotCode{}, Others: []shotCode{}, Unread: []corners{}}
	}
	d := s.desk(title.ID)
	d.keepReading(run)
	if err := s.background(func(context.Context) { s.readShots(ctx, d, title, style, run) }); err != nil {
		cancel()
		return wallReading{}, errors.Join(err, os.RemoveAll(folder))
	}
	return d.readingNow(run), nil
}

// takeShots keeps the photographs sent until they are read.
func (s *Server) takeShots(r *http.Request) (folder string, names []string, err error) {
	parts, err := uploaded(r)
	if err != nil {
		return "", nil, err
	}
	if folder, err = os.MkdirTemp("", "pairwall-wall-"); err != nil {
		return "", nil, bringing.Unreadable("the folder for passing files", err)
	}
	drop := &bringing.Drop{Folder: folder}
	err = eachFile(r.Context(), parts, func(part *multipart.Part) error {
		if len(names) == shotsAtOnce {
			return &sequence.Error{Code: sequence.TooLarge, Message: fmt.Sprintf("More than %d photographs of the wall were sent at once.", shotsAtOnce),
				Hint: "Take fewer, from further away: a code may be as small as 60 pixels."}
		}
		name := fmt.Sprintf("%02d%s", len(names), filepath.Ext(bringing.SafeName(part.FileName())))
		names = append(names, part.FileName())
		return drop.Take(r.Context(), name, part)
	})
	if err == nil && len(names) == 0 {
		err = &sequence.Error{Code: sequence.Invalid, Message: "No photograph was sent."}
	}
	if err != nil {
		return "", nil, errors.Join(err, os.RemoveAll(folder))
	}
	return folder, names, nil
}

// readShots reads the photographs one after the other, then the wall off all of
// them. What a photograph is refused for is kept with it.
func (s *Server) readShots(ctx context.Context, d *desk, title sequence.Title, style pages.PrintStyle, run *readingRun) {
	defer run.cancel()
	defer os.RemoveAll(run.folder)
	photos, err := s.store.Photos(ctx, title.ID)
	wall, wallErr := s.store.Wall(ctx, title.ID)
	files, listErr := filepath.Glob(filepath.Join(run.folder, "*"))
	if err := errors.Join(err, wallErr, listErr); err != nil {
		s.endReading(ctx, d, run, store.Failed, err)
		return
	}
	prints := make(map[sequence.PhotoID]wallshot.Box)
	for _, p := range photos {
		prints[p.Number] = wallshot.Around(style.Print(pages.Proportion{Photo: p.Number, Width: float64(p.Width), Height: float64(p.Height)}))
	}
	told := time.Time{}
	for i, file := range files {
		shot := &wallShot{Name: run.Shots[i].Name, Codes: []shotCode{}, Others: []shotCode{}, Unread: []corners{}}
		view, found, err := s.readShot(ctx, file, code.TagOf(title), prints, shot, func(done float64) {
			if time.Since(told) > 200*time.Millisecond {
				told = time.Now()
				d.tellReading(run, (float64(i)+done)/float64(len(files)))
			}
		})
		if ctx.Err() != nil {
			s.endReading(ctx, d, run, store.Cancelled, nil)
			return
		}
		if err != nil {
			shot.Error, shot.Hint = inWords(err)
		}
		d.mu.Lock()
		run.Shots[i], run.views[i], run.found[i] = *shot, view, found
		d.mu.Unlock()
	}
	rows := wallshot.Read(run.found, func(id sequence.PhotoID) wallshot.Box { return prints[id] })
	d.mu.Lock()
	run.Hanging = wallshot.Hanging(rows, wall.Sequence)
	run.Doubts, run.Twice = unclear(rows)
	d.mu.Unlock()
	s.endReading(ctx, d, run, store.Done, nil)
}

// readShot reads one photograph.
func (s *Server) readShot(ctx context.Context, file string, tag code.Tag, prints map[sequence.PhotoID]wallshot.Box, shot *wallShot, tell func(float64)) (view []byte, ours []wallshot.Found, err error) {
	const decoding = 0.5 // of the time
	taken, err := s.pool.Shot(ctx, file, filepath.Dir(file))
	if err != nil {
		return nil, nil, err
	}
	tell(decoding)
	seen, err := wallshot.Find(ctx, taken.Grey, func(done float64) { tell(decoding + (1-decoding)*done) })
	if err != nil {
		return nil, nil, err
	}
	shot.Width, shot.Height = taken.Grey.Rect.Dx(), taken.Grey.Rect.Dy()
	for _, f := range seen.Codes {
		c := shotCode{f.Number, shot.fractions(f.Corners)}
		if _, known := prints[f.Number]; !known || f.Tag != tag {
			shot.Others = append(shot.Others, c)
			continue
		}
		shot.Codes = append(shot.Codes, c)
		ours = append(ours, f)
	}
	for _, q := range seen.Unread {
		shot.Unread = append(shot.Unread, shot.fractions(q))
	}
	return taken.View, ours, nil
}

func (shot *wallShot) fractions(q perspective.Quad) (c corners) {
	for i, p := range q {
		c[2*i], c[2*i+1] = p.X/float64(shot.Width), p.Y/float64(shot.Height)
	}
	return c
}

// inWords is what the maker reads of an error that stays with a photograph.
func inWords(err error) (message, hint string) {
	var coded *sequence.Error
	if errors.As(err, &coded) {
		return coded.Message, coded.Hint
	}
	return "This photograph could not be read.", "Try another."
}

// unclear lists photos in spreads that are in doubt, and those that hang twice.
func unclear(rows [][]wallshot.Group) (doubts, twice []sequence.PhotoID) {
	doubts, twice = []sequence.PhotoID{}, []sequence.PhotoID{}
	seen := make(map[sequence.PhotoID]bool)
	for _, row := range rows {
		for _, g := range row {
			for _, p := range g.Prints {
				if g.Doubt {
					doubts = append(doubts, p.Number)
				}
				if seen[p.Number] && !slices.Contains(twice, p.Number) {
					twice = append(twice, p.Number)
				}
				seen[p.Number] = true
			}
		}
	}
	return doubts, twice
}

func (s *Server) endReading(ctx context.Context, d *desk, run *readingRun, state string, err error) {
	if err != nil && ctx.Err() == nil {
		s.log.Error("reading the wall failed", slog.Any("error", err))
	}
	d.mu.Lock()
	run.State = state
	d.mu.Unlock()
	d.tellReading(run, 1)
}

// tellReading publishes how far a reading is.
func (d *desk) tellReading(run *readingRun, done float64) {
	d.mu.Lock()
	run.Done = max(run.Done, done)
	now := readingEvent{run.ID, run.State, run.Done}
	d.mu.Unlock()
	d.hub.Publish("reading", now)
}

func (d *desk) keepReading(run *readingRun) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.readings = append(d.readings, run)
	for len(d.readings) > readingsKept {
		d.readings[0].cancel()
		d.readings = d.readings[1:]
	}
}

// readingNow is a copy of a reading as it stands.
func (d *desk) readingNow(run *readingRun) wallReading {
	d.mu.Lock()
	defer d.mu.Unlock()
	now := run.wallReading
	now.Shots = slices.Clone(now.Shots)
	return now
}

func (s *Server) reading(r *http.Request) (*desk, *readingRun, error) {
	title, err := s.title(r)
	if err != nil {
		return nil, nil, err
	}
	id, err := route.Number(r, "reading")
	if err != nil {
		return nil, nil, err
	}
	d := s.desk(title.ID)
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, run := range d.readings {
		if run.ID == id {
			return d, run, nil
		}
	}
	return nil, nil, &sequence.Error{Code: sequence.NotFound, Message: "These photographs of the wall are no longer here.", Hint: "Choose them again."}
}

func (s *Server) showReading(r *http.Request) (wallReading, error) {
	d, run, err := s.reading(r)
	if err != nil {
		return wallReading{}, err
	}
	return d.readingNow(run), nil
}

// dropReading stops a reading and forgets its photographs.
func (s *Server) dropReading(r *http.Request) (nothing, error) {
	d, run, err := s.reading(r)
	if err != nil {
		return nothing{}, err
	}
	run.cancel()
	d.mu.Lock()
	defer d.mu.Unlock()
	d.readings = slices.DeleteFunc(d.readings, func(other *readingRun) bool { return other == run })
	return nothing{}, nil
}

// shotView sends one photograph of the wall, small enough for a screen.
func (s *Server) shotView(w http.ResponseWriter, r *http.Request) error {
	d, run, err := s.reading(r)
	if err != nil {
		return err
	}
	i, err := route.Number(r, "shot")
	if err != nil {
		return err
	}
	d.mu.Lock()
	var view []byte
	if i >= 1 && i <= int64(len(run.views)) {
		view = run.views[i-1]
	}
	d.mu.Unlock()
	if view == nil {
		return route.NoSuch("photograph of the wall")
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Cache-Control", "private, no-store")
	_, err = w.Write(view)
	return err
}

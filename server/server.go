package server

import (
	"context"
	"errors"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"runtime/debug"
	"strconv"
	"sync"
	"time"

	"github.com/go-chi/chi/v5"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/server/bringing"
	"pairwall/server/feed"
	"pairwall/server/printing"
	"pairwall/server/route"
	"pairwall/store"
	"pairwall/web"
)

// Config is what a server stands on. All but Version and Log are needed.
type Config struct {
	Store   *store.Store
	Pool    *intake.Pool
	Data    string // the data directory: cards and dropped files lie in it
	Version string
	Log     *slog.Logger // the default logger when nil
}

// Server answers for every title of one data directory.
type Server struct {
	store     *store.Store
	pool      *intake.Pool
	data      string // absolute
	version   string
	log       *slog.Logger
	files     fs.FS  // of the page
	hash      string // of files
	heartbeat time.Duration
	start     string // names this run of the program in event ids

	ctx    context.Context // of background jobs
	stop   context.CancelCauseFunc
	jobs   sync.WaitGroup
	cards  *bringing.Cards
	press  *printing.Press
	labels labels

	mu     sync.Mutex
	desks  map[sequence.TitleID]*desk
	closed bool
}

// desk is what we hold in memory of one title.
type desk struct {
	// writing is held from before a commit until its event is published, so
	// that events go out in the order of revisions.
	writing sync.Mutex
	lastAct time.Time // guarded by writing
	hub     *feed.Hub
	measure measured
	turn    chan struct{} // holds the token of whoever reads its files now

	mu        sync.Mutex
	readings  []*readingRun           // of the paper wall, the newest last
	runs      map[int64]*run          // brings under way or waiting for their turn, by id
	searching context.CancelCauseFunc // ends looking for lost originals; nil while nobody looks
	arriving  map[int64]*arrivals     // by bring
	printings []*printingRun          // PDFs being made or waiting to be fetched, the newest last
	printed   int64                   // how many were ever begun in this run of the program
}

// New makes a server. Brings that an earlier run left unfinished are marked as
// broken off, and sittings that ended since get their versions.
func New(cfg Config) *Server {
	s := &Server{store: cfg.Store, pool: cfg.Pool, data: bringing.RealPath(cfg.Data), version: cfg.Version, log: cfg.Log,
		files: web.Files, hash: web.Hash(), heartbeat: feed.Heartbeat, start: strconv.FormatInt(time.Now().UnixNano(), 36),
		desks: make(map[sequence.TitleID]*desk)}
	if s.log == nil {
		s.log = slog.Default()
	}
	s.ctx, s.stop = context.WithCancelCause(context.Background())
	s.cards = bringing.NewCards(s.ctx, s.pool, s.data)
	s.press = printing.New(s.cards, s.pool, s.data)
	printing.Sweep(s.data)
	if err := errors.Join(s.store.BreakOffBrings(s.ctx), s.store.CloseSittings(s.ctx)); err != nil {
		s.log.Error("could not tidy up after the last run", slog.Any("error", err))
	}
	s.jobs.Go(func() { s.prepare(s.ctx) })
	s.jobs.Go(func() { s.backUp(s.ctx) })
	return s
}

// backUp takes a copy of the data on each day of use; a window may stay open for
// weeks.
func (s *Server) backUp(ctx context.Context) {
	for {
		if path, err := s.store.BackUpToday(ctx); err != nil && ctx.Err() == nil {
			s.log.Error("today's backup could not be taken", slog.Any("error", err))
		} else if path != "" {
			s.log.Debug("today's backup was taken", slog.String("file", path))
		}
		select {
		case <-ctx.Done():
			return
		case <-time.After(time.Hour):
		}
	}
}

// Handler answers requests that came in over a loopback listener.
func (s *Server) Handler() http.Handler {
	router := chi.NewRouter()
	router.Use(s.recover, s.guard)
	for _, line := range routes() {
		router.Method(line.Method, line.Path, line.Serve(s, s.log))
		if line.Method == http.MethodGet && line.Media != "text/event-stream" {
			router.Method(http.MethodHead, line.Path, line.Serve(s, s.log))
		}
	}
	router.NotFound(func(w http.ResponseWriter, r *http.Request) { route.Fail(s.log, w, r, route.NoSuch("page")) })
	router.MethodNotAllowed(func(w http.ResponseWriter, r *http.Request) {
		route.Fail(s.log, w, r, &sequence.Error{Code: route.NotAllowed, Message: "This address does not take " + r.Method + "."})
	})
	return router
}

// recover keeps one request's panic from ending the program.
func (s *Server) recover(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			fault := recover()
			if fault == nil {
				return
			}
			if err, ok := fault.(error); ok && errors.Is(err, http.ErrAbortHandler) {
				panic(fault) // net/http's own way to break off a response
			}
			s.log.ErrorContext(r.Context(), "panic", slog.String("route", route.Name(r)),
				slog.Any("panic", fault), slog.String("stack", string(debug.Stack())))
			route.Panicked(s.log, w, r)
		}()
		next.ServeHTTP(w, r)
	})
}

// desk returns a title's desk and sets it up on first use.
func (s *Server) desk(title sequence.TitleID) *desk {
	s.mu.Lock()
	defer s.mu.Unlock()
	d := s.desks[title]
	if d == nil {
		d = &desk{hub: feed.New(s.start), turn: make(chan struct{}, 1), runs: make(map[int64]*run)}
		if s.closed {
			d.hub.Close()
		}
		s.desks[title] = d
	}
	return d
}

// Serve answers on listener until ctx ends, then closes the server, lets
// requests under way finish for a few seconds and returns.
func (s *Server) Serve(ctx context.Context, listener net.Listener) error {
	s.log.InfoContext(ctx, "listening", slog.String("address", listener.Addr().String()), slog.String("version", s.version))
	web := &http.Server{Handler: s.Handler(), ReadHeaderTimeout: 10 * time.Second, IdleTimeout: 2 * time.Minute,
		ErrorLog: slog.NewLogLogger(s.log.Handler(), slog.LevelDebug)}
	ended := make(chan error, 1)
	go func() { ended <- web.Serve(listener) }()
	select {
	case err := <-ended:
		return errors.Join(err, s.Close())
	case <-ctx.Done():
	}
	err := s.Close()
	grace, cancel := context.WithTimeout(context.WithoutCancel(ctx), 5*time.Second)
	defer cancel()
	if web.Shutdown(grace) != nil {
		err = errors.Join(err, web.Close())
	}
	return err
}

// Close ends all event streams, breaks off background jobs and waits for them.
// It closes neither the store nor the pool.
func (s *Server) Close() error {
	s.mu.Lock()
	s.closed = true
	for _, d := range s.desks {
		d.hub.Close()
	}
	s.mu.Unlock()
	s.stop(bringing.ErrBrokenOff)
	s.jobs.Wait()
	for _, d := range s.desks { // nobody else is left
		d.forgetPrintings(0)
	}
	return nil
}

// title returns the title a request is about.
func (s *Server) title(r *http.Request) (sequence.Title, error) {
	id, err := route.Number(r, "title")
	if err != nil {
		return sequence.Title{}, err
	}
	return s.store.Title(r.Context(), sequence.TitleID(id))
}

// photo gives the title and the photo of its that an address names.
func (s *Server) photo(r *http.Request) (sequence.Title, sequence.Photo, error) {
	title, err := s.title(r)
	if err != nil {
		return title, sequence.Photo{}, err
	}
	id, err := route.Number(r, "photo")
	if err != nil {
		return title, sequence.Photo{}, err
	}
	photo, err := s.store.Photo(r.Context(), title.ID, sequence.PhotoID(id))
	return title, photo, err
}

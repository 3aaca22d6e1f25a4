package intake

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"golang.org/x/sync/semaphore"

	"pairwall/sequence"
	"pairwall/sequence/intake/header"
)

// Pool reads files in worker processes, so that a file made to do harm costs
// itself and nothing else. Its methods may be called from several goroutines.
type Pool struct {
	command []string
	limits  Limits
	slots   chan *worker // nil where no worker has been started
	room    *semaphore.Weighted
	closing context.Context
	close   context.CancelFunc
	once    sync.Once
	asked   atomic.Int64
	peak    atomic.Int64
	swept   sync.Map // folders for cards that were swept
}

// NewPool makes a pool of at least one worker. command starts a process that
// calls Serve with the same limits; processes are started when first needed
// and replaced when they end.
func NewPool(workers int, command []string, limits Limits) *Pool {
	workers = max(workers, 1)
	p := &Pool{command: command, limits: limits, slots: make(chan *worker, workers), room: semaphore.NewWeighted(roomTogether)}
	p.closing, p.close = context.WithCancel(context.Background())
	for range workers {
		p.slots <- nil
	}
	return p
}

// Workers is how many files the pool reads at once.
func (p *Pool) Workers() int { return cap(p.slots) }

// Read is the package's Read in a worker. It waits while all workers are busy.
// A cancelled context and limits.Time both end the worker at once; a worker
// that ends or talks nonsense costs this file, and the next has a new one.
//
// Errors: those of the package's Read; TooLarge also beyond limits.Time or
// limits.Memory; Damaged when the file broke the worker; Internal, with Stops
// true, when no worker can be started; Cancelled after Close.
func (p *Pool) Read(ctx context.Context, path, cards string) (sequence.Photo, error) {
	absolute, err := filepath.Abs(path)
	if err != nil {
		return sequence.Photo{}, unopened(err)
	}
	photo, err := photoOf(p.put(ctx, question{Path: []byte(absolute), Cards: []byte(cards)}))
	if err == nil { // names may have been changed on the way
		photo.Path, photo.Name = absolute, filepath.Base(absolute)
	}
	return photo, err
}

// photoOf is an answer about a photo.
func photoOf(a answer, err error) (sequence.Photo, error) {
	if err != nil || a.Photo == nil {
		return sequence.Photo{}, err
	}
	return *a.Photo, nil
}

// put finds or starts a worker for a question whose number and scratch are
// still to be given, and puts it.
func (p *Pool) put(ctx context.Context, q question) (answer, error) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	defer context.AfterFunc(p.closing, cancel)()
	if err := ctx.Err(); err != nil {
		return answer{}, cancelled(err)
	}
	// Before a worker is taken, so that none is kept waiting by a large picture.
	room := roomFor(string(q.Path), p.limits)
	if err := p.room.Acquire(ctx, room); err != nil {
		return answer{}, cancelled(err)
	}
	defer p.room.Release(room)
	var w *worker
	select {
	case w = <-p.slots:
	case <-ctx.Done():
		return answer{}, cancelled(ctx.Err())
	}
	// A worker that cannot be kept leaves its place empty.
	defer func() { p.slots <- w }()
	if err := ctx.Err(); err != nil { // both may have been ready
		return answer{}, cancelled(err)
	}
	if len(q.Cards) > 0 {
		scratch, err := p.scratch(string(q.Cards))
		if err != nil {
			return answer{}, unwritable(err)
		}
		defer os.RemoveAll(scratch) // after the worker is done with it, or gone
		q.Scratch = []byte(scratch)
	}
	if w != nil && !w.waiting() {
		w.stop()
		w = nil
	}
	if w == nil {
		var err error
		if w, err = startWorker(p.command); err != nil {
			return answer{}, &sequence.Error{Code: sequence.Internal,
				Message: "The part of Pairwall that reads pictures could not be started.",
				Hint:    "Start Pairwall again.", Err: fmt.Errorf("%w: %w", errStops, err)}
		}
	}
	q.Number = p.asked.Add(1)
	a, keep, err := p.ask(ctx, w, q)
	p.note(w.size())
	if !keep {
		w = nil
	}
	return a, err
}

// ask puts a question to a worker; keep is false when the worker is gone.
func (p *Pool) ask(ctx context.Context, w *worker, q question) (a answer, keep bool, err error) {
	line, err := json.Marshal(q)
	if err != nil {
		return answer{}, true, err
	}
	// The question is small enough for the pipe, so a worker that does not
	// listen cannot hold this up; one that is gone shows below.
	w.in.Write(append(line, '\n'))
	limit := time.NewTimer(p.limits.Time)
	defer limit.Stop()
	look := time.NewTicker(50 * time.Millisecond)
	defer look.Stop()
	for {
		select {
		case raw, ok := <-w.answers:
			if !ok {
				w.drain()
				p.note(w.size())
				return answer{}, false, p.broken(w)
			}
			w.measure()
			return p.understand(w, q, raw)
		case <-look.C:
			w.measure()
		case <-limit.C:
			w.stop()
			return answer{}, false, tooLarge(
				fmt.Sprintf("This file took longer than %s to read.", p.limits.Time),
				"Export a smaller copy, or save it anew as an ordinary JPEG, and bring that in.")
		case <-ctx.Done():
			w.stop()
			return answer{}, false, cancelled(ctx.Err())
		}
	}
}

// broken is the error for a file over which its worker ended.
func (p *Pool) broken(w *worker) error {
	cause := fmt.Errorf("worker: %v: %s", w.command.ProcessState, w.last.String())
	if w.outgrew() {
		return &sequence.Error{Code: sequence.TooLarge,
			Message: fmt.Sprintf("Reading this file took more than the %d MB of memory allowed.", p.limits.Memory>>20),
			Hint:    "Export a smaller copy, or save it as an ordinary 8-bit JPEG, and bring that in.", Err: cause}
	}
	return header.Damaged("This file could not be read; it is probably damaged.", cause)
}

// understand takes a worker's line for the answer to q or dismisses the
// worker: one that talks nonsense once is not asked again.
func (p *Pool) understand(w *worker, q question, raw []byte) (answer, bool, error) {
	var a answer
	err := json.Unmarshal(raw, &a)
	switch {
	case err == nil && a.Number == q.Number && a.Fault != nil && a.Fault.Code != "" && a.Photo == nil && a.Told == nil:
		return answer{}, true, a.Fault.err()
	case err == nil && a.Number == q.Number && a.Fault == nil && fits(q, a):
		return a, true, nil
	case err == nil:
		err = errors.New("an answer that does not fit the question")
	}
	w.stop()
	return answer{}, false, header.Damaged("This file could not be read; it is probably damaged.", err)
}

// fits reports whether an answer can be one to the question.
func fits(q question, a answer) bool {
	if q.Reader != "" {
		return a.Photo == nil && len(a.Told) > 0
	}
	if a.Photo == nil || a.Told != nil {
		return false
	}
	photo := *a.Photo
	if len(q.Shot) > 0 || len(q.Plate) > 0 {
		return photo.Hash == "" && photo.Width > 0
	}
	if len(q.Cards) == 0 {
		return photo.Hash == "" && photo.Form.Measured == Edition
	}
	return cardsThere(string(q.Cards), photo.Hash)
}

// cardsThere checks that an answer is about a photo whose cards can be shown.
func cardsThere(cards, hash string) bool {
	if len(hash) != 64 || strings.Trim(hash, "0123456789abcdef") != "" {
		return false
	}
	for _, size := range CardSizes {
		if _, err := os.Stat(CardPath(cards, hash, size)); err != nil {
			return false
		}
	}
	return true
}

// scratch makes the folder in which one question's cards are drafted; the pool
// makes it so that it can clear it away when the worker cannot.
func (p *Pool) scratch(cards string) (string, error) {
	if err := os.MkdirAll(cards, 0o755); err != nil {
		return "", err
	}
	if _, swept := p.swept.LoadOrStore(cards, true); !swept {
		p.sweep(cards)
	}
	return os.MkdirTemp(cards, scratchPrefix)
}

// sweep clears away drafts left behind by a power cut: those too old to be
// anybody's any more.
func (p *Pool) sweep(cards string) {
	entries, err := os.ReadDir(cards)
	if err != nil {
		return // making a draft will say what is wrong
	}
	for _, e := range entries {
		info, err := e.Info()
		if err == nil && strings.HasPrefix(e.Name(), scratchPrefix) && time.Since(info.ModTime()) > p.limits.Time+time.Hour {
			os.RemoveAll(filepath.Join(cards, e.Name()))
		}
	}
}

// Close stops what is being read, ends all workers and returns when they are
// gone. It may be called more than once.
func (p *Pool) Close() error {
	p.once.Do(func() {
		p.close()
		for range cap(p.slots) {
			if w := <-p.slots; w != nil {
				w.dismiss()
				p.note(w.size())
			}
		}
		for range cap(p.slots) {
			p.slots <- nil
		}
	})
	return nil
}

// PeakMemory is the largest resident size of any worker so far, in bytes; 0
// where the system does not tell.
func (p *Pool) PeakMemory() int64 { return p.peak.Load() }

func (p *Pool) note(size int64) {
	for {
		was := p.peak.Load()
		if size <= was || p.peak.CompareAndSwap(was, size) {
			return
		}
	}
}

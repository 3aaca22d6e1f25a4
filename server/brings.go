package server

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"path/filepath"

	"pairwall/sequence"
	"pairwall/server/bringing"
	"pairwall/server/route"
	"pairwall/store"
)

type bringFrom struct {
	Folders []string `json:"folders"`
}

var errStopped = errors.New("the maker stopped it")

func (s *Server) startBring(r *http.Request, in bringFrom) (store.Bring, error) {
	title, err := s.title(r)
	if err != nil {
		return store.Bring{}, err
	}
	sources := make([]string, len(in.Folders))
	for i, folder := range in.Folders {
		if err := s.checkFolder(folder); err != nil {
			return store.Bring{}, err
		}
		sources[i] = filepath.Clean(folder)
	}
	return s.bringIn(r.Context(), title.ID, sources)
}

func (s *Server) checkFolder(folder string) error {
	if !filepath.IsAbs(folder) {
		return &sequence.Error{Code: sequence.Invalid, Message: "A folder must be named from the top of its disk."}
	}
	_, err := bringing.CheckSource(folder, s.data)
	return err
}

func (s *Server) bringIn(ctx context.Context, title sequence.TitleID, sources []string) (store.Bring, error) {
	d := s.desk(title)
	d.mu.Lock()
	defer d.mu.Unlock()
	job, err := s.store.StartBring(ctx, title, sources)
	if err != nil {
		return job, err
	}
	return job, s.begin(d, job)
}

// goOnBring runs a job over its sources again. What came in before is known by
// then, so this both takes up a job that was stopped and fetches what was added
// to a folder since.
func (s *Server) goOnBring(r *http.Request) (store.Bring, error) {
	d, job, err := s.bring(r)
	if err != nil {
		return job, err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if job, err = s.store.Bring(r.Context(), job.ID); err != nil {
		return job, err
	}
	if job.State == store.Running && d.runs[job.ID] != nil {
		return job, &sequence.Error{Code: sequence.Conflict, Message: "This is being brought in already."}
	}
	job = store.Bring{ID: job.ID, Title: job.Title, Sources: job.Sources, State: store.Running, Started: job.Started}
	if err := s.store.SaveBring(r.Context(), job); err != nil {
		return job, err
	}
	return job, s.begin(d, job)
}

// cancelBring asks a job to stop and answers how it stands; the job's own event
// says when it has. One that runs no more is left as it is.
func (s *Server) cancelBring(r *http.Request) (store.Bring, error) {
	d, job, err := s.bring(r)
	if err != nil {
		return job, err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if run := d.runs[job.ID]; run != nil {
		run.cancel(errStopped)
	}
	return job, nil
}

func (s *Server) bring(r *http.Request) (*desk, store.Bring, error) {
	title, err := s.title(r)
	if err != nil {
		return nil, store.Bring{}, err
	}
	id, err := route.Number(r, "bring")
	if err != nil {
		return nil, store.Bring{}, err
	}
	job, err := s.store.Bring(r.Context(), id)
	if err == nil && job.Title != title.ID {
		err = route.NoSuch("bring")
	}
	return s.desk(title.ID), job, err
}

// run is one run of a job in the background.
type run struct{ cancel context.CancelCauseFunc }

// begin runs a job in the background and tells every window so. Jobs of one
// title run one after the other, so that the photos of each are numbered in one
// run. The caller holds d.mu.
func (s *Server) begin(d *desk, job store.Bring) error {
	ctx, cancel := context.WithCancelCause(s.ctx)
	this := &run{cancel}
	d.runs[job.ID] = this
	d.hub.Publish("bring", bringEvent{job, ""}) // before the job itself can say anything
	err := s.background(func(context.Context) {
		defer func() {
			cancel(nil)
			d.mu.Lock()
			defer d.mu.Unlock()
			if d.runs[job.ID] == this { // the next may have begun the moment this one's end was written down
				delete(d.runs, job.ID)
			}
		}()
		defer d.takeTurn(ctx)() // when ctx ends first, Run finds so at once and writes it down
		s.run(ctx, d, job)
	})
	if err != nil {
		cancel(nil)
		delete(d.runs, job.ID)
	}
	return err
}

// background runs a job that Close waits for.
func (s *Server) background(do func(context.Context)) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.closed { // after which nobody would wait for it
		return &sequence.Error{Code: sequence.Cancelled, Message: "Pairwall is closing.", Hint: "Start it again and let this go on."}
	}
	s.jobs.Go(func() { do(s.ctx) })
	return nil
}

// takeTurn waits until no other job reads files for the title, or until ctx
// ends, and returns what ends the turn.
func (d *desk) takeTurn(ctx context.Context) (done func()) {
	select {
	case d.turn <- struct{}{}:
		return func() { <-d.turn }
	case <-ctx.Done():
		return func() {}
	}
}

func (s *Server) run(ctx context.Context, d *desk, job store.Bring) {
	summary, err := bringing.Run(ctx, s.store, s.pool, s.data, job, func(p bringing.Progress, photo *sequence.Photo) {
		if photo != nil {
			d.measure.forget(photo.Number)
			d.hub.Publish("photo", photoEvent{s.show(*photo)})
		}
		if p.Moved != nil {
			d.hub.Publish("photo", photoEvent{s.show(*p.Moved)})
		}
		if p.Refusal != nil {
			d.hub.Publish("refusal", refusalEvent{*p.Refusal})
		}
		d.arrived(job.ID, p.Done)
		if p.Arriving != nil {
			d.hub.Publish("arriving", d.arrive(job.ID, p.Arriving))
		}
		job.Found, job.Read, job.Known, job.Refused, job.Words = p.Found, p.Read, p.Known, p.Refused, p.Words
		d.hub.Publish("bring", bringEvent{job, p.Name})
	})
	if err != nil && sequence.CodeOf(err) != sequence.Cancelled {
		s.log.Error("bringing in failed", slog.Int64("bring", job.ID), slog.Any("error", err))
	}
	d.hub.Publish("bring", bringEvent{summary.Bring, ""})
}

package server

import (
	"context"
	"log/slog"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/server/bringing"
)

// prepare does in the background what a first window should not wait for, the
// title worked on last first: naming the places of photos, then measuring again
// those whose measures are of an earlier edition.
func (s *Server) prepare(ctx context.Context) {
	titles, err := s.store.Titles(ctx)
	for _, do := range []func(context.Context, sequence.TitleID) error{s.nameTitle, s.measureTitle} {
		for _, title := range titles {
			if err == nil {
				err = do(ctx, title.ID)
			}
		}
	}
	if err != nil && ctx.Err() == nil {
		s.log.Error("preparing titles failed", slog.Any("error", err))
	}
}

func (s *Server) nameTitle(ctx context.Context, title sequence.TitleID) error {
	photos, err := s.store.Photos(ctx, title)
	for _, p := range photos {
		if p.Where != nil && ctx.Err() == nil {
			s.labels.of(p.Where.LatLng)
		}
	}
	return err
}

// measureTitle is in no hurry: one photo at a time, never while photos are
// brought into the title, and resting as long as it worked.
func (s *Server) measureTitle(ctx context.Context, title sequence.TitleID) error {
	photos, err := s.store.Unmeasured(ctx, title, intake.Edition)
	if err != nil {
		return err
	}
	d := s.desk(title)
	for _, p := range photos {
		took, err := s.measureOne(ctx, d, title, p)
		if err != nil {
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(took):
		}
	}
	return nil
}

func (s *Server) measureOne(ctx context.Context, d *desk, title sequence.TitleID, p sequence.Photo) (time.Duration, error) {
	defer d.takeTurn(ctx)()
	began := time.Now()
	_, ok, err := bringing.Measure(ctx, s.store, s.pool, s.data, title, p)
	if err != nil || !ok {
		return time.Since(began), err
	}
	// Read anew: the maker may have stated something of it meanwhile.
	now, err := s.store.Photo(ctx, title, p.Number)
	if err == nil {
		d.measure.forget(p.Number)
		d.hub.Publish("photo", photoEvent{s.show(now)})
	}
	return time.Since(began), err
}

package server

import (
	"context"
	"log/slog"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/server/bringing"
)

// measureAgain measures the photos of every title whose measures are of an
// earlier edition. It is in no hurry: one photo at a time, never while photos
// are brought into the same title, and resting as long as it worked.
func (s *Server) measureAgain(ctx context.Context) {
	titles, err := s.store.Titles(ctx)
	for _, title := range titles {
		if err == nil {
			err = s.measureTitle(ctx, title.ID)
		}
	}
	if err != nil && ctx.Err() == nil {
		s.log.Error("measuring again failed", slog.Any("error", err))
	}
}

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
		d.measure.forget()
		d.hub.publish("photo", photoEvent{s.show(now)})
	}
	return time.Since(began), err
}

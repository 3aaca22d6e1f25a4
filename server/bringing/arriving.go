package bringing

import (
	"context"
	"sync"

	"pairwall/sequence/intake"
)

// Arriving is a photograph on its way in: what can be shown of it before it is
// read.
type Arriving struct {
	Place  int    `json:"place"` // among the files found, from 1; they come in in this order
	Name   string `json:"name"`
	Width  int    `json:"width"` // of the photograph, upright, pixels
	Height int    `json:"height"`
	Sketch bool   `json:"sketch"` // the file carries a small picture of itself

	Path string `json:"-"`
}

const (
	// glancers is how many files are glanced at at once: glancing waits for the
	// disk more than it works.
	glancers = 4
	// glanced is how many of them are told of at once.
	glanced = 16
)

// glance looks in all files for their shape and the small pictures that cameras
// put there, and hands out what it finds, some at a time, in no order. It decodes nothing and
// takes a millisecond a file, so that a maker sees what comes long before it is
// read. Both channels are closed after the last, and early when ctx ends.
func (b *bringer) glance(ctx context.Context, found []candidate) (some <-chan []Arriving, all <-chan struct{}) {
	out, seen := make(chan []Arriving), make(chan struct{})
	var looking sync.WaitGroup
	for first := range glancers {
		looking.Go(func() {
			var some []Arriving
			for i := first; i < len(found) && ctx.Err() == nil; i += glancers {
				if a, ok := b.glimpse(ctx, found[i]); ok {
					a.Place = i + 1
					some = append(some, a)
				}
				if len(some) == glanced || i+glancers >= len(found) && len(some) > 0 {
					select {
					case out <- some:
						some = nil
					case <-ctx.Done():
					}
				}
			}
		})
	}
	go func() { looking.Wait(); close(out); close(seen) }()
	return out, seen
}

// glimpse reads what one file says, unless the file is known. Whatever is
// wrong with a file is told when it is read.
func (b *bringer) glimpse(ctx context.Context, c candidate) (a Arriving, ok bool) {
	if c.err != nil {
		return Arriving{}, false
	}
	defer func() { // a file is a stranger's work, and this is not a worker's process
		if recover() != nil {
			ok = false
		}
	}()
	if known, err := b.store.HasFile(ctx, b.job.Title, c.path, c.info.Size(), c.info.ModTime()); err != nil || known {
		return Arriving{}, false
	}
	p, err := intake.ReadPreview(c.path)
	return Arriving{Name: c.info.Name(), Width: p.Width, Height: p.Height, Sketch: p.JPEG != nil, Path: c.path}, err == nil
}

package demo

import (
	"context"
	"fmt"
	"hash/crc32"
	"image"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"sync"

	"golang.org/x/sync/errgroup"
)

// Draw draws into dir those pictures that are not there yet; folders are made as
// needed. progress, which may be nil, is told after each picture how many of the
// missing ones are done; calls do not overlap. The bytes are the same every time.
// A picture stands under its own name only when it is whole. Draw ends with the
// context's error when that is cancelled, and with the system's when a file cannot
// be written.
func Draw(ctx context.Context, dir string, progress func(done, total int, name string)) error {
	return drawAll(ctx, dir, works(), 1, progress)
}

// drawAll draws at a part of the full size (1 is full), which keeps tests quick.
func drawAll(ctx context.Context, dir string, all []work, scale float64, progress func(done, total int, name string)) error {
	var missing []work
	for _, w := range all {
		if _, err := os.Stat(filepath.Join(dir, filepath.FromSlash(w.File))); err == nil {
			continue
		} else if !os.IsNotExist(err) {
			return fmt.Errorf("look for demo picture: %w", err)
		}
		missing = append(missing, w)
	}
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(min(runtime.GOMAXPROCS(0), 8)) // each picture in work holds up to some 200 MB
	var mu sync.Mutex
	done := 0
	for _, w := range missing {
		g.Go(func() error {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := w.drawFile(ctx, dir, scale); err != nil {
				return err
			}
			mu.Lock()
			defer mu.Unlock()
			done++
			if progress != nil {
				progress(done, len(missing), w.File)
			}
			return nil
		})
	}
	return g.Wait()
}

// drawFile draws, encodes and writes one picture under a passing name, then renames it.
func (p *work) drawFile(ctx context.Context, dir string, scale float64) (err error) {
	data, err := p.encode(p.picture(scale))
	if err != nil {
		return fmt.Errorf("encode %s: %w", p.File, err)
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	name := filepath.Join(dir, filepath.FromSlash(p.File))
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return fmt.Errorf("make folder for demo pictures: %w", err)
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".drawing-*")
	if err != nil {
		return fmt.Errorf("write demo picture: %w", err)
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if _, err = f.Write(data); err == nil {
		err = f.Chmod(0o644)
	}
	if err == nil {
		err = f.Close()
	}
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		return fmt.Errorf("write %s: %w", p.File, err)
	}
	return nil
}

// picture paints and develops, upright.
func (p *work) picture(scale float64) *image.RGBA {
	long := int(float64(p.long)*scale + 0.5)
	w, h := long, int(math.Round(float64(long)/p.aspect))
	if p.aspect < 1 {
		w, h = int(math.Round(float64(long)*p.aspect)), long
	}
	seed := crc32.ChecksumIEEE([]byte(p.File))
	c := newCanvas(w, h)
	p.paint(c)
	c.tilt(p.tilt)
	img := c.develop(p.stock, seed)
	if p.rebate {
		img = rebateFrame(img, seed)
	}
	return img
}

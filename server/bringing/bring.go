package bringing

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/store"
)

// Progress tells how far bringing in is.
type Progress struct {
	Found, Done, Read, Known, Refused int

	Name    string          // of the file just done; "" when none is
	Words   string          // what is going on, in a sentence
	Refusal *store.Refusal  // of that file, when it was refused
	Moved   *sequence.Photo // known before, whose original that file is now

	Arriving []Arriving // files of which there is a small picture to show until they are read
}

// Summary is what bringing in has come to.
type Summary struct {
	Bring      store.Bring
	Refused    []store.Refusal
	Seconds    float64
	PeakWorker int64 // bytes: the most memory any worker was seen to hold
}

// ErrBrokenOff is why a job ends when the program does; any other end of its
// context is the maker's wish.
var ErrBrokenOff = errors.New("the program ended")

// saveEvery is how often a job is written down while it runs: a crash loses the
// count of one second, never a photo.
const saveEvery = time.Second

// Run reads the pictures in job's sources and adds those that are new to its
// title, numbered in the order of the walk whichever is read first. What
// cannot be read is recorded and passed; files that are no pictures are passed
// over in silence. A file of known content whose photo has lost its original
// becomes that original. progress, which may be nil, is called from one
// goroutine after each file, with the photo when one was added.
//
// Run returns what came in even with an error. Errors: Cancelled when ctx
// ended; NotFound or Unreadable when a source vanished or the disk failed;
// anything else is an internal error. The job's state says the same.
func Run(ctx context.Context, st *store.Store, pool *intake.Pool, data string, job store.Bring, progress func(Progress, *sequence.Photo)) (Summary, error) {
	if progress == nil {
		progress = func(Progress, *sequence.Photo) {}
	}
	began := time.Now()
	b := &bringer{store: st, pool: pool, data: data, job: job, progress: progress}
	err := b.run(ctx)
	err = b.finish(ctx, err)
	return Summary{Bring: b.job, Refused: b.refused, Seconds: time.Since(began).Seconds(), PeakWorker: pool.PeakMemory()}, err
}

type bringer struct {
	store    *store.Store
	pool     *intake.Pool
	data     string
	job      store.Bring
	progress func(Progress, *sequence.Photo)

	done, others int
	moved        int
	refused      []store.Refusal
	marked       map[string]bool // paths that were refused before
	saved        time.Time
}

// CardsIn is the folder of card images in a data directory.
func CardsIn(data string) string { return filepath.Join(data, "cards") }

// outcome is what reading one candidate has come to: a photo, or known content,
// or an error.
type outcome struct {
	photo sequence.Photo
	known bool
	of    sequence.PhotoID // known by its content: whose it is
	err   error
}

func (b *bringer) run(ctx context.Context) error {
	b.progress(Progress{Words: "Looking for photographs."}.counting(b), nil)
	found, others, err := pictures(ctx, b.job.Sources, b.data)
	if err != nil {
		return err
	}
	b.job.Found, b.others = len(found), others
	if err := b.save(ctx); err != nil {
		return err
	}
	earlier, err := b.store.Refusals(ctx, b.job.Title)
	if err != nil {
		return err
	}
	b.marked = make(map[string]bool)
	for _, r := range earlier {
		b.marked[r.Path] = true
	}
	b.progress(Progress{Words: sequence.Counted(len(found), "picture") + " found."}.counting(b), nil)

	ctx, stop := context.WithCancel(ctx)
	arriving, seen := b.glance(ctx, found)
	results := b.read(ctx, found, seen)
	defer func() {
		stop()
		for range results { // what is still being read lets go at once
		}
	}()
	for b.done < len(found) {
		select {
		case some, ok := <-arriving:
			if !ok {
				arriving = nil
				continue
			}
			b.progress(Progress{Arriving: some}.counting(b), nil)
		case result, ok := <-results:
			if !ok {
				return ctx.Err()
			}
			if err := b.keep(ctx, found[b.done], result); err != nil {
				return err
			}
		}
	}
	return nil
}

// readAhead is how many files may be done while one before them is not: enough
// that a scan of a hundred megabytes does not leave the other workers idle.
const readAhead = 64

// mostHead is how much of a head start glancing at files has over reading them.
const mostHead = 1500 * time.Millisecond

// read reads as many candidates at once as the pool has workers and hands out
// the outcomes in the order of found. The channel is closed after the last, or
// after those under way when ctx ends. It begins when seen is closed: the maker
// sees what comes before the processors are busy with it; but soon in any case,
// for a disk may answer late.
func (b *bringer) read(ctx context.Context, found []candidate, seen <-chan struct{}) <-chan outcome {
	slots := make(chan chan outcome, readAhead) // in the order of found
	busy := make(chan struct{}, b.pool.Workers())
	go func() {
		defer close(slots)
		select {
		case <-seen:
		case <-time.After(mostHead):
		case <-ctx.Done():
			return
		}
		for _, c := range found {
			slot := make(chan outcome, 1)
			select {
			case <-ctx.Done():
				return
			case busy <- struct{}{}:
			}
			go func() {
				defer func() { <-busy }()
				slot <- b.look(ctx, c)
			}()
			slots <- slot // its reader takes every slot, whatever happens
		}
	}()
	results := make(chan outcome)
	go func() {
		defer close(results)
		for slot := range slots {
			results <- <-slot
		}
	}()
	return results
}

// look reads one candidate unless we know it: by its path, size and time first,
// which costs nothing, then by its content.
func (b *bringer) look(ctx context.Context, c candidate) outcome {
	if c.err != nil {
		return outcome{err: b.refusable(c, c.err)}
	}
	known, err := b.store.HasFile(ctx, b.job.Title, c.path, c.info.Size(), c.info.ModTime())
	if err != nil || known {
		return outcome{known: known, err: err}
	}
	hash, err := contentHash(ctx, c.path)
	if err != nil {
		return outcome{err: b.refusable(c, err)}
	}
	if of, known, err := b.store.HasContent(ctx, b.job.Title, hash); err != nil || known {
		return outcome{known: known, of: of, err: err}
	}
	photo, err := b.pool.Read(ctx, c.path, CardsIn(b.data))
	return outcome{photo: photo, err: asRefusal(err)}
}

// contentHash is the SHA-256 of a file in lower-case hex; ctx ends it between
// blocks, so that a large scan on a slow disk does not hold up a cancel.
func contentHash(ctx context.Context, path string) (string, error) {
	file, err := os.Open(path)
	if err != nil {
		return "", err
	}
	defer file.Close()
	sum := sha256.New()
	for {
		_, err := io.CopyN(sum, file, 1<<20)
		switch {
		case errors.Is(err, io.EOF):
			return hex.EncodeToString(sum.Sum(nil)), nil
		case err != nil:
			return "", err
		case ctx.Err() != nil:
			return "", ctx.Err()
		}
	}
}

// keep stores one outcome. It returns an error only when the work cannot go on.
func (b *bringer) keep(ctx context.Context, c candidate, o outcome) error {
	var added, moved *sequence.Photo
	var refused *store.Refusal
	var turned refusal
	switch {
	case errors.As(o.err, &turned):
		var err error
		if refused, err = b.refuse(ctx, c, turned); err != nil {
			return err
		}
	case o.err != nil:
		return o.err
	case o.of != 0:
		var err error
		if moved, err = b.relink(ctx, c, o.of); err != nil {
			return err
		}
	case !o.known:
		o.photo.Came = b.store.Now()
		photo, isNew, err := b.store.AddPhoto(ctx, b.job.Title, o.photo)
		if err != nil {
			return err
		}
		if o.known = !isNew; isNew {
			b.job.Read++
			added = &photo
		}
	}
	if o.known {
		b.job.Known++
	}
	if refused == nil && b.marked[c.path] {
		if err := b.store.ForgetRefusal(ctx, b.job.Title, c.path); err != nil {
			return err
		}
	}
	b.done++
	b.progress(Progress{Name: filepath.Base(c.path), Refusal: refused, Moved: moved}.counting(b), added)
	if b.store.Now().Sub(b.saved) >= saveEvery {
		return b.save(ctx)
	}
	return nil
}

func (b *bringer) refuse(ctx context.Context, c candidate, why refusal) (*store.Refusal, error) {
	kept := store.Refusal{Path: c.path, Code: sequence.CodeOf(why), At: b.store.Now()}
	var coded *sequence.Error
	if errors.As(why, &coded) {
		kept.Words, kept.Hint = coded.Message, coded.Hint
	}
	b.job.Refused++
	b.refused = append(b.refused, kept)
	return &kept, b.store.Refuse(ctx, b.job.Title, kept)
}

// relink makes a file the original of the photo that has its content, when that
// photo has lost the one it had, or when the file is that one and was only
// touched. It returns the photo when its original lies elsewhere than before.
func (b *bringer) relink(ctx context.Context, c candidate, of sequence.PhotoID) (*sequence.Photo, error) {
	photo, err := b.store.Photo(ctx, b.job.Title, of)
	if err != nil {
		return nil, err
	}
	if _, gone := os.Stat(photo.Path); photo.Path != c.path && !errors.Is(gone, fs.ErrNotExist) {
		return nil, nil // a copy: the photo keeps the original it has
	}
	elsewhere := photo.Path != c.path
	photo.Path, photo.Name, photo.Stamp = c.path, filepath.Base(c.path), c.info.ModTime().UTC()
	if err := b.store.Relink(ctx, b.job.Title, of, photo.Path, photo.Name, photo.Stamp); err != nil || !elsewhere {
		return nil, err
	}
	b.moved++
	return &photo, nil
}

// counting adds how far the job is.
func (p Progress) counting(b *bringer) Progress {
	p.Found, p.Done, p.Read, p.Known, p.Refused = b.job.Found, b.done, b.job.Read, b.job.Known, b.job.Refused
	return p
}

func (b *bringer) save(ctx context.Context) error {
	b.saved = b.store.Now()
	return b.store.SaveBring(ctx, b.job)
}

// finish writes down how the job ended, though its context may have.
func (b *bringer) finish(ctx context.Context, err error) error {
	switch {
	case err == nil:
		b.job.State, b.job.Words = store.Done, b.sum()
	case ctx.Err() != nil && !errors.Is(context.Cause(ctx), ErrBrokenOff):
		b.job.State, b.job.Words = store.Cancelled, "Stopped. "+b.sum()
		err = stopped(b.job.Words, err)
	case ctx.Err() != nil || sequence.CodeOf(err) == sequence.Cancelled: // the pool may close before we are told
		b.job.State, b.job.Words = store.BrokenOff, "Pairwall was closed. "+b.sum()
		err = stopped(b.job.Words, err)
	default:
		b.job.State, b.job.Words = store.Failed, wordsOf(err)
	}
	ended := b.store.Now()
	b.job.Ended = &ended
	return errors.Join(err, b.save(context.WithoutCancel(ctx)))
}

package bringing

import (
	"context"
	"errors"
	"io/fs"
	"os"

	"golang.org/x/sync/singleflight"

	"pairwall/sequence"
	"pairwall/sequence/intake"
)

// Cards opens the card images of a data directory.
type Cards struct {
	data   string
	pool   *intake.Pool
	until  context.Context // ends the making of cards, whoever waits for them
	making singleflight.Group
}

// NewCards opens cards until ctx ends.
func NewCards(ctx context.Context, pool *intake.Pool, data string) *Cards {
	return &Cards{data: data, pool: pool, until: ctx}
}

// Open opens a card image and makes it again when it is not there: what is
// derived may be thrown away at any time.
//
// Errors: NotFound when the original is missing or another picture by now;
// Unreadable; those of reading a picture.
func (c *Cards) Open(ctx context.Context, photo sequence.Photo, size int) (*os.File, error) {
	name := intake.CardPath(CardsIn(c.data), photo.Hash, size)
	file, err := os.Open(name)
	if err == nil || !errors.Is(err, fs.ErrNotExist) {
		return file, orUnreadable(photo, err)
	}
	if err := c.make(ctx, photo); err != nil {
		return nil, err
	}
	file, err = os.Open(name)
	return file, orUnreadable(photo, err)
}

// make reads the original again, once however many windows ask.
func (c *Cards) make(ctx context.Context, photo sequence.Photo) error {
	made := c.making.DoChan(photo.Hash+" "+photo.Path, func() (any, error) {
		again, err := c.pool.Read(c.until, photo.Path, CardsIn(c.data)) // not ctx: others may wait for it as well
		if err == nil && again.Hash != photo.Hash {
			err = &sequence.Error{Code: sequence.NotFound, Message: photo.Name + " has become another picture since it was brought in.",
				Hint: "Bring it in again to have it as it is now."}
		}
		return nil, err
	})
	select {
	case <-ctx.Done():
		return ctx.Err()
	case result := <-made:
		if result.Err == nil {
			return nil
		}
		if _, err := os.Stat(photo.Path); errors.Is(err, fs.ErrNotExist) {
			return &sequence.Error{Code: sequence.NotFound, Message: "The original of " + photo.Name + " is no longer where it was.",
				Hint: "Put it back at " + photo.Path + ", or point at the folder it lies in now.", Err: result.Err}
		}
		return result.Err
	}
}

func orUnreadable(photo sequence.Photo, err error) error {
	if err == nil {
		return nil
	}
	return Unreadable("the card of "+photo.Name, err)
}

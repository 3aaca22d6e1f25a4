package bringing

import (
	"context"
	"errors"
	"os"
	"path/filepath"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/store"
)

// Measure measures a photo again and keeps its palette, tone and form: from the
// original, or from its largest card when the original is missing, has changed
// or cannot be read any more. ok is false when neither can be measured; facts
// are never touched.
//
// Errors: Cancelled when ctx ended; what stops every other photo as well.
func Measure(ctx context.Context, st *store.Store, pool *intake.Pool, data string, title sequence.TitleID, p sequence.Photo) (measured sequence.Photo, ok bool, err error) {
	again, ok, err := measureAgain(ctx, pool, data, p)
	if err != nil || !ok {
		return p, false, err
	}
	p.Palette, p.Tone, p.Form = again.Palette, again.Tone, again.Form
	err = st.UpdateMeasures(ctx, title, p)
	if sequence.CodeOf(err) == sequence.NotFound { // it is another photo by now
		return p, false, nil
	}
	return p, err == nil, err
}

func measureAgain(ctx context.Context, pool *intake.Pool, data string, p sequence.Photo) (sequence.Photo, bool, error) {
	if stateOf(p) == sound {
		again, err := pool.Read(ctx, p.Path, CardsIn(data))
		if err == nil && again.Hash == p.Hash {
			return again, true, nil
		}
		if err != nil && !ofOneFile(err) {
			return p, false, err
		}
	}
	// The card's own cards are of no use: they go where they can be taken away.
	scrap, err := os.MkdirTemp(data, "measuring-")
	if err != nil {
		return p, false, Unreadable("our data folder", err)
	}
	defer os.RemoveAll(scrap)
	largest := intake.CardSizes[len(intake.CardSizes)-1]
	again, err := pool.Read(ctx, intake.CardPath(CardsIn(data), p.Hash, largest), filepath.Join(scrap, "cards"))
	if err != nil && !ofOneFile(err) {
		return p, false, err
	}
	return again, err == nil, nil
}

// ofOneFile tells an error that concerns one file from one that would stop the
// next as well.
func ofOneFile(err error) bool {
	var of refusal
	return errors.As(asRefusal(err), &of)
}

package bringing

import (
	"context"
	"errors"

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
	sources := []string{p.Path, intake.CardPath(CardsIn(data), p.Hash, intake.CardSizes[len(intake.CardSizes)-1])}
	if stateOf(p) != sound {
		sources = sources[1:]
	}
	taken := false
	for _, path := range sources {
		p.Palette, p.Tone, p.Form, err = pool.Remeasure(ctx, path)
		if err != nil && !ofOneFile(err) {
			return p, false, err
		}
		if taken = err == nil; taken {
			break
		}
	}
	if !taken {
		return p, false, nil
	}
	err = st.UpdateMeasures(ctx, title, p)
	if sequence.CodeOf(err) == sequence.NotFound { // its content is another by now
		return p, false, nil
	}
	return p, err == nil, err
}

// ofOneFile tells an error that concerns one file from one that would stop the
// next as well.
func ofOneFile(err error) bool {
	var of refusal
	return errors.As(asRefusal(err), &of)
}

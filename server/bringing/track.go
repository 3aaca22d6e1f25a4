package bringing

import (
	"context"
	"errors"
	"fmt"
	"io"

	"pairwall/sequence"
	"pairwall/sequence/place/track"
	"pairwall/store"
)

// ReadTrack reads one GPX file. What is odd about it is kept with it.
//
// Errors, each with the file's name: Unsupported, TooLarge, Damaged; Invalid
// when content breaks off.
func ReadTrack(ctx context.Context, name string, content io.Reader) (store.TrackFile, error) {
	name = SafeName(name)
	tracks, odd, err := track.Read(content, name)
	if err != nil {
		return store.TrackFile{}, trackRefused(ctx, name, err)
	}
	file := store.TrackFile{From: name, Tracks: tracks}
	for _, f := range odd {
		code := sequence.Invalid
		if f.Damaged {
			code = sequence.Damaged
		}
		file.Findings = append(file.Findings, sequence.Finding{Code: code, Words: f.Words})
	}
	if file.Points() == 0 {
		return file, &sequence.Error{Code: sequence.Damaged, Message: fmt.Sprintf("%s holds no point of a track.", name),
			Hint: "Export the track itself, not a planned route, as GPX."}
	}
	return file, nil
}

func trackRefused(ctx context.Context, name string, err error) error {
	for _, known := range []struct {
		cause error
		code  sequence.Code
		hint  string
	}{
		{track.ErrNotGPX, sequence.Unsupported, "Export the track as GPX, which every receiver and tracking program can write."},
		{track.ErrEncoding, sequence.Unsupported, "Save it anew as UTF-8."},
		{track.ErrTooLarge, sequence.TooLarge, "Export it day by day."},
		{track.ErrDamaged, sequence.Damaged, "Export it once more from where it came."},
	} {
		if errors.Is(err, known.cause) {
			return &sequence.Error{Code: known.code, Message: fmt.Sprintf("We cannot take %s: %s.", name, known.cause), Hint: known.hint, Err: err}
		}
	}
	return BrokenUpload(ctx, err)
}

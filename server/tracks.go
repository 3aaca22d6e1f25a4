package server

import (
	"context"
	"errors"
	"fmt"
	"mime/multipart"
	"net/http"

	"pairwall/sequence"
	"pairwall/sequence/place/track"
	"pairwall/server/bringing"
	"pairwall/store"
)

type trackList struct {
	Tracks []store.Track `json:"tracks"` // the earliest first
}

// Bounds on one upload, which is held in memory until it is kept: a journey of
// eleven days has half a million points at a point a second.
const (
	mostTracks = 200
	mostPoints = 2_000_000
)

func (s *Server) listTracks(r *http.Request) (trackList, error) {
	title, err := s.title(r)
	if err != nil {
		return trackList{}, err
	}
	tracks, err := s.store.Tracks(r.Context(), title.ID)
	return trackList{tracks}, err
}

// addTracks keeps the points of track files, of all or of none.
func (s *Server) addTracks(r *http.Request) (trackList, error) {
	title, err := s.title(r)
	if err != nil {
		return trackList{}, err
	}
	parts, err := uploaded(r)
	if err != nil {
		return trackList{}, err
	}
	var files []store.TrackFile
	points := 0
	err = eachFile(r.Context(), parts, func(part *multipart.Part) error {
		file, err := readTrack(r.Context(), part)
		if err != nil {
			return err
		}
		files = append(files, file)
		points += countPoints(file.Tracks)
		if len(files) > mostTracks || points > mostPoints {
			return &sequence.Error{Code: sequence.TooLarge, Message: "These are more tracks than we take at once.", Hint: "Add them a few at a time."}
		}
		return nil
	})
	if err != nil {
		return trackList{}, err
	}
	if len(files) == 0 {
		return trackList{}, &sequence.Error{Code: sequence.Invalid, Message: "No track was given."}
	}
	if err := s.store.AddTracks(r.Context(), title.ID, files); err != nil {
		return trackList{}, err
	}
	return s.tracksChanged(r.Context(), title.ID)
}

func (s *Server) removeTrack(r *http.Request) (trackList, error) {
	title, err := s.title(r)
	if err != nil {
		return trackList{}, err
	}
	id, err := number(r, "track")
	if err != nil {
		return trackList{}, err
	}
	if err := s.store.RemoveTrack(r.Context(), title.ID, id); err != nil {
		return trackList{}, err
	}
	return s.tracksChanged(r.Context(), title.ID)
}

func (s *Server) tracksChanged(ctx context.Context, title sequence.TitleID) (trackList, error) {
	s.desk(title).hub.publish("tracks", nothing{})
	tracks, err := s.store.Tracks(ctx, title)
	return trackList{tracks}, err
}

// readTrack reads one file. What the reader found odd is kept with it.
func readTrack(ctx context.Context, part *multipart.Part) (store.TrackFile, error) {
	name := bringing.SafeName(part.FileName())
	tracks, odd, err := track.Read(part, name)
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
	if countPoints(tracks) == 0 {
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
	return bringing.BrokenUpload(ctx, err)
}

func countPoints(tracks []track.Track) int {
	points := 0
	for _, t := range tracks {
		for _, segment := range t.Segments {
			points += len(segment)
		}
	}
	return points
}

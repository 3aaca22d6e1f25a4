package server

import (
	"context"
	"mime/multipart"
	"net/http"

	"pairwall/sequence"
	"pairwall/server/bringing"
	"pairwall/server/route"
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
		file, err := bringing.ReadTrack(r.Context(), part.FileName(), part)
		if err != nil {
			return err
		}
		files = append(files, file)
		points += file.Points()
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
	id, err := route.Number(r, "track")
	if err != nil {
		return trackList{}, err
	}
	if err := s.store.RemoveTrack(r.Context(), title.ID, id); err != nil {
		return trackList{}, err
	}
	return s.tracksChanged(r.Context(), title.ID)
}

func (s *Server) tracksChanged(ctx context.Context, title sequence.TitleID) (trackList, error) {
	s.desk(title).hub.Publish("tracks", nothing{})
	tracks, err := s.store.Tracks(ctx, title)
	return trackList{tracks}, err
}

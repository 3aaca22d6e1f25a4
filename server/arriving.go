package server

import (
	"bytes"
	"net/http"
	"time"

	"pairwall/sequence/intake"
	"pairwall/server/bringing"
	"pairwall/server/route"
)

// arrivingEvent tells of photographs on their way in, to be shown until they are
// read. Those at places up to the number of files done
// are in.
type arrivingEvent struct {
	Bring  int64               `json:"bring"`
	Photos []bringing.Arriving `json:"photos"`
}

// arrivals is what one bring has on its way.
type arrivals struct {
	photos map[int]bringing.Arriving // by place
	done   int                       // files: those at places up to it are in
}

// arrive keeps what is on its way for windows that open meanwhile.
func (d *desk) arrive(bring int64, some []bringing.Arriving) arrivingEvent {
	d.mu.Lock()
	defer d.mu.Unlock()
	if on := d.arriving[bring]; on != nil {
		for _, a := range some {
			on.photos[a.Place] = a
		}
	}
	return arrivingEvent{bring, some}
}

// arrived says that so many files of a bring are done. 0 begins it, and forgets
// what earlier ones had on their way: until then a window may still be fetching
// a picture of theirs.
func (d *desk) arrived(bring int64, done int) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if done == 0 && d.arriving[bring] == nil {
		d.arriving = map[int64]*arrivals{bring: {photos: make(map[int]bringing.Arriving)}}
	}
	if on := d.arriving[bring]; on != nil {
		on.done = done
	}
}

// onTheirWay lists all that is on its way.
func (d *desk) onTheirWay() []arrivingEvent {
	d.mu.Lock()
	defer d.mu.Unlock()
	all := []arrivingEvent{}
	for bring, on := range d.arriving {
		e := arrivingEvent{bring, []bringing.Arriving{}}
		for place, a := range on.photos {
			if place > on.done && d.runs[bring] != nil {
				e.Photos = append(e.Photos, a)
			}
		}
		all = append(all, e)
	}
	return all
}

// preview sends the small picture that a file on its way in carries of itself.
func (s *Server) preview(w http.ResponseWriter, r *http.Request) error {
	title, err := s.title(r)
	if err != nil {
		return err
	}
	bring, err := route.Number(r, "bring")
	if err != nil {
		return err
	}
	place, err := route.Number(r, "place")
	if err != nil {
		return err
	}
	d := s.desk(title.ID)
	d.mu.Lock()
	var a bringing.Arriving
	there := false
	if on := d.arriving[bring]; on != nil {
		a, there = on.photos[int(place)]
	}
	d.mu.Unlock()
	if !there || !a.Sketch {
		return route.NoSuch("preview")
	}
	p, err := intake.ReadPreview(a.Path)
	if err != nil {
		return err
	}
	if p.JPEG == nil { // it has become another file
		return route.NoSuch("preview")
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Cache-Control", "no-store")
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(p.JPEG))
	return nil
}

package server

import (
	"context"
	"math"
	"runtime"
	"sync"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/place"
	"pairwall/sequence/place/gazetteer"
	"pairwall/server/bringing"
)

// photoShown is a photo with what only this machine can say of it now.
type photoShown struct {
	sequence.Photo
	Label string `json:"label"` // where it was taken by the towns around: "Piran, Slovenia"; "" when nobody knows where
}

func (s *Server) show(p sequence.Photo) photoShown {
	p.Palette = list(p.Palette)
	shown := photoShown{Photo: p}
	if p.Where != nil {
		shown.Label = s.labels.of(p.Where.LatLng)
	}
	return shown
}

// showAll shows a title's photos with what their originals have come to, as far
// as the disks answer soon: the page must not wait for a disk that sleeps.
func (s *Server) showAll(ctx context.Context, photos []sequence.Photo) []photoShown {
	soon, cancel := context.WithTimeout(ctx, lookTime)
	defer cancel()
	looked := make(chan bringing.Originals, 1)
	go func() { looked <- bringing.Look(soon, photos) }()
	shown := make([]photoShown, len(photos))
	onAllCores(len(photos), func(i int) { shown[i] = s.show(photos[i]) })
	lost := make(map[sequence.PhotoID]sequence.Finding)
	look := <-looked
	for _, l := range look.Missing {
		lost[l.Photo] = sequence.Finding{Code: sequence.NotFound, Words: "The original is no longer where it was.",
			Hint: "Point at the folder it lies in now. It was " + l.Path + "."}
	}
	for i := range shown {
		if finding, ok := lost[shown[i].Number]; ok {
			shown[i].Findings = append(shown[i].Findings[:len(shown[i].Findings):len(shown[i].Findings)], finding)
		}
	}
	return shown
}

// lookTime is how long the page waits to hear which originals are missing.
const lookTime = 150 * time.Millisecond

func onAllCores(n int, do func(i int)) {
	workers := min(runtime.GOMAXPROCS(0), n)
	var group sync.WaitGroup
	for w := range workers {
		group.Go(func() {
			for i := w; i < n; i += workers {
				do(i)
			}
		})
	}
	group.Wait()
}

// labels remembers what the gazetteer said: in mid-ocean it searches for a
// millisecond, and a title's photos are shown again and again.
type labels struct {
	mu    sync.Mutex
	known map[spot]string
}

// spot is a position to about ten metres, by which no label changes that a
// photo's own position would support.
type spot struct{ lat, lng int32 }

const mostLabels = 100_000 // some ten megabytes

func (l *labels) of(p place.LatLng) string {
	const perDegree = 1e4
	at := spot{int32(math.Round(p.Lat * perDegree)), int32(math.Round(p.Lng * perDegree))}
	l.mu.Lock()
	label, known := l.known[at]
	l.mu.Unlock()
	if known {
		return label
	}
	label = gazetteer.Label(p)
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.known == nil || len(l.known) >= mostLabels {
		l.known = make(map[spot]string)
	}
	l.known[at] = label
	return label
}

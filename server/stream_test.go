package server

import (
	"bufio"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"runtime"
	"strings"
	"testing"
	"time"

	"pairwall/sequence"
)

type heard struct {
	id, name string
	data     []byte
}

// listen opens a title's stream as a window does and returns what it hears,
// each event held against the description. since is the id heard last, or "".
func (h *house) listen(at, since string) (events <-chan heard, stop func()) {
	h.t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, h.served.URL+at+"/events", nil)
	if err != nil {
		h.t.Fatal(err)
	}
	if since != "" {
		request.Header.Set("Last-Event-ID", since)
	}
	out := make(chan heard, 10_000)
	open, ended := make(chan error, 1), make(chan struct{})
	go func() {
		defer close(ended)
		defer close(out)
		response, err := (&http.Client{Transport: witness{h}}).Do(request)
		if err != nil {
			open <- err
			return
		}
		defer response.Body.Close()
		open <- nil
		h.hear(response.Body, out)
	}()
	if err := <-open; err != nil {
		h.t.Fatal(err)
	}
	stop = func() { cancel(); <-ended }
	h.t.Cleanup(stop)
	return out, stop
}

func (h *house) hear(stream io.Reader, out chan<- heard) {
	schemas := h.doc.Components.Schemas["TitleEvents"].Value.Properties
	var next heard
	lines := bufio.NewScanner(stream)
	lines.Buffer(nil, 4<<20)
	for lines.Scan() {
		field, value, _ := strings.Cut(lines.Text(), ": ")
		switch field {
		case "id":
			next.id = value
		case "event":
			next.name = value
		case "data":
			next.data = []byte(value)
		case "":
			if next.name == "" {
				continue // an id or a heartbeat alone
			}
			var carried any
			if err := json.Unmarshal(next.data, &carried); err != nil {
				h.t.Errorf("event %s: %v", next.name, err)
			} else if schema := schemas[next.name]; schema == nil {
				h.t.Errorf("event %s is not described", next.name)
			} else if err := schema.Value.VisitJSON(carried); err != nil {
				h.t.Errorf("event %s is not as described: %v\n%s", next.name, err, next.data)
			}
			out <- next
			next = heard{}
		}
	}
}

// next waits for the next event of a name, passing others.
func (h *house) next(events <-chan heard, name string, into any) heard {
	h.t.Helper()
	timeout := time.After(30 * time.Second)
	for {
		select {
		case e, open := <-events:
			if !open {
				h.t.Fatalf("the stream ended before a %q", name)
			}
			if e.name != name {
				continue
			}
			if into != nil {
				if err := json.Unmarshal(e.data, into); err != nil {
					h.t.Fatal(err)
				}
			}
			return e
		case <-timeout:
			h.t.Fatalf("no %q within 30 s", name)
		}
	}
}

func TestEveryWindowHearsEveryChangeInOrder(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	var windows []<-chan heard
	for range 6 {
		events, _ := h.listen(at, "")
		windows = append(windows, events)
	}
	const acts = 40
	for range acts { // four writers race for each state; three of them must be refused
		answers := make(chan int, 4)
		state := h.state(at).Wall.Sequence
		for range 4 {
			go func() {
				answers <- h.call("POST", at+"/changes", addSpread(state), nil)
			}()
		}
		count := map[int]int{}
		for range 4 {
			count[<-answers]++
		}
		if count[200] != 1 || count[409] != 3 {
			t.Fatalf("of four writers on one state: %v; want one 200 and three 409", count)
		}
	}
	for i, events := range windows {
		for want := int64(1); want <= acts; want++ {
			var now changed
			h.next(events, "change", &now)
			if now.Entry.Revision != want || now.Wall.Sequence.Revision != want {
				t.Fatalf("window %d heard revision %d, want %d", i, now.Entry.Revision, want)
			}
		}
	}
}

// addSpread is the change that puts one more empty spread at the end.
func addSpread(q sequence.Sequence) sequence.Change {
	return sequence.Change{Revision: q.Revision, Act: "add a spread",
		Steps: []sequence.Step{{Do: sequence.Add, Index: len(q.Spreads), Spread: &sequence.Spread{ID: q.Last + 1}}}}
}

func TestAWindowThatLostTheConnectionIsToldToReload(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	events, stop := h.listen(at, "")
	h.want(200, "POST", at+"/changes", addSpread(sequence.Sequence{}), nil)
	last := h.next(events, "change", nil)
	h.next(events, "versions", nil) // the first act since the start may have closed a sitting
	stop()
	h.want(200, "POST", at+"/undo", onRevision{1}, nil)
	events, _ = h.listen(at, last.id)
	h.next(events, "reload", nil)
	h.want(200, "POST", at+"/redo", onRevision{2}, nil)
	h.next(events, "change", nil)
}

func TestAStreamBeatsWhileNothingHappens(t *testing.T) {
	h := newHouse(t)
	h.heartbeat = 20 * time.Millisecond
	_, at := h.newTitle("Adriatic")
	response, err := http.Get(h.served.URL + at + "/events")
	if err != nil {
		t.Fatal(err)
	}
	defer response.Body.Close()
	lines := bufio.NewScanner(response.Body)
	for beats := 0; beats < 3; {
		if !lines.Scan() {
			t.Fatal("the stream ended")
		}
		if lines.Text() == ":" {
			beats++
		}
	}
}

func TestClosingEndsEveryStreamAndLeavesNothingRunning(t *testing.T) {
	before := runtime.NumGoroutine()
	h := newHouse(t)
	_, at := h.newTitle("Adriatic")
	var windows []<-chan heard
	for range 30 {
		events, _ := h.listen(at, "")
		windows = append(windows, events)
	}
	_, stop := h.listen(at, "")
	stop() // a window that was closed by the maker
	if err := h.Close(); err != nil {
		t.Fatal(err)
	}
	for _, events := range windows {
		for range events { // ends, or the test does not
		}
	}
	h.served.Close()
	http.DefaultTransport.(*http.Transport).CloseIdleConnections()
	for deadline := time.Now().Add(10 * time.Second); ; time.Sleep(10 * time.Millisecond) {
		if now := runtime.NumGoroutine(); now <= before+3 { // the store keeps its connections
			return
		} else if time.Now().After(deadline) {
			text := make([]byte, 1<<20)
			t.Fatalf("%d goroutines before, %d after:\n%s", before, now, text[:runtime.Stack(text, true)])
		}
	}
}

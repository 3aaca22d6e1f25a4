package feed

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"strconv"
	"sync"
	"time"
)

// Heartbeat is how often a silent stream should beat: well below the minute
// after which systems between a browser and a server drop a silent connection.
const Heartbeat = 15 * time.Second

const (
	readerBound = 256              // events a reader may lag behind: several times the photos a fast import brings in a second
	writePause  = 20 * time.Second // a reader that takes no byte for so long is gone
)

type event struct {
	name string
	data []byte
	id   int64
}

// Hub hands every event of one title to every reader, in one order.
type Hub struct {
	start string // tells this run of the program from another, whose ids would count from 1 again

	mu      sync.Mutex
	last    int64
	readers map[*reader]bool
	closed  bool
}

// reader is one open stream: a bounded queue and a bell.
type reader struct {
	mu      sync.Mutex
	waiting []event
	bell    chan struct{} // holds at most one ring
	gone    chan struct{} // closed when the hub closes
	from    string        // id of the last event before it joined; "" when it has missed some
}

// New makes a hub. start names this run of the program.
func New(start string) *Hub { return &Hub{start: start, readers: make(map[*reader]bool)} }

// Publish queues an event for every reader and never waits for one. Calls for
// one title must come in the order of its commits; its lock sees to that.
func (h *Hub) Publish(name string, carries any) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.last++
	if len(h.readers) == 0 {
		return
	}
	data, err := json.Marshal(carries)
	if err != nil {
		panic("feed: an event that JSON cannot carry: " + err.Error()) // all its types are ours
	}
	for r := range h.readers {
		r.push(event{name, data, h.last})
	}
}

// push queues an event. A reader that lags too far behind loses what waits and
// is told to fetch the state anew: that costs less than replaying it all.
func (r *reader) push(e event) {
	r.mu.Lock()
	if len(r.waiting) >= readerBound {
		r.waiting = append(r.waiting[:0], event{"reload", []byte("{}"), e.id})
	}
	r.waiting = append(r.waiting, e)
	r.mu.Unlock()
	select {
	case r.bell <- struct{}{}:
	default: // it has been rung already
	}
}

func (r *reader) take() []event {
	r.mu.Lock()
	defer r.mu.Unlock()
	events := r.waiting
	r.waiting = nil
	return events
}

// join adds a reader. since is the id the reader saw last, "" on first opening;
// if anything was published after it, the reader starts with reload.
func (h *Hub) join(since string) *reader {
	h.mu.Lock()
	defer h.mu.Unlock()
	r := &reader{bell: make(chan struct{}, 1), gone: make(chan struct{}), from: h.name(h.last)}
	if h.closed {
		close(r.gone)
		return r
	}
	h.readers[r] = true
	if since != "" && since != r.from {
		r.from = "" // the browser goes on saying where it stopped until it has got the reload
		r.push(event{"reload", []byte("{}"), h.last})
	}
	return r
}

func (h *Hub) leave(r *reader) {
	h.mu.Lock()
	defer h.mu.Unlock()
	delete(h.readers, r)
}

// Close ends every stream, and those opened later at once.
func (h *Hub) Close() {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.closed = true
	for r := range h.readers {
		close(r.gone)
		delete(h.readers, r)
	}
}

func (h *Hub) name(id int64) string { return h.start + "-" + strconv.FormatInt(id, 10) }

// Serve streams the events of h to a window until the window closes or h does.
// A heartbeat goes out after every beat without an event.
func (h *Hub) Serve(w http.ResponseWriter, r *http.Request, beat time.Duration) {
	reader := h.join(r.Header.Get("Last-Event-ID"))
	defer h.leave(reader)
	w.Header().Set("Content-Type", "text/event-stream; charset=utf-8")
	stream := stream{w, http.NewResponseController(w)}
	defer stream.free()
	if stream.send(reader.opening()) != nil {
		return // the window is gone; there is nobody to tell
	}
	ticks := time.NewTicker(beat)
	defer ticks.Stop()
	for {
		var text bytes.Buffer
		select {
		case <-r.Context().Done():
			return
		case <-reader.gone:
			return
		case <-ticks.C:
			text.WriteString(":\n\n")
		case <-reader.bell:
			for _, e := range reader.take() {
				fmt.Fprintf(&text, "id: %s\nevent: %s\ndata: %s\n\n", h.name(e.id), e.name, e.data)
			}
		}
		if stream.send(text.String()) != nil {
			return
		}
	}
}

// opening is an id without an event: it raises nothing in the browser, but a
// window that loses the connection before its first event can then say where it
// stopped.
func (r *reader) opening() string {
	if r.from == "" {
		return ":\n\n"
	}
	return "id: " + r.from + "\n\n"
}

type stream struct {
	io.Writer
	control *http.ResponseController
}

// free takes the deadline off, for the next request on this connection. Where
// that fails the connection is gone, and the deadline with it.
func (s stream) free() { _ = s.control.SetWriteDeadline(time.Time{}) }

func (s stream) send(text string) error {
	if err := s.control.SetWriteDeadline(time.Now().Add(writePause)); err != nil {
		return err
	}
	if _, err := io.WriteString(s, text); err != nil {
		return err
	}
	return s.control.Flush()
}

package server

import (
	"context"
	"net"
	"net/http"
	"os"
	"testing"
	"time"

	"pairwall/server/bringing"
)

func TestServeEndsWithItsContextThoughWindowsAreOpen(t *testing.T) {
	h := newHouse(t)
	listener, err := Listen("127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	_, at := h.newTitle("Adriatic")
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- h.Serve(ctx, listener) }()
	response, err := http.Get("http://" + listener.Addr().String() + at + "/events")
	if err != nil || response.StatusCode != http.StatusOK {
		t.Fatal(err, response)
	}
	defer response.Body.Close()
	cancel()
	select {
	case err := <-ended:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(4 * time.Second): // less than the grace given to requests: the stream must not use it up
		t.Error("an open window holds the program up")
	}
	if _, err := net.Dial("tcp", listener.Addr().String()); err == nil {
		t.Error("it still answers")
	}
}

func TestAServerOnARelativeDataDirectoryKnowsItsOwnFilesAgain(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.Mkdir("data", 0o700); err != nil {
		t.Fatal(err)
	}
	h := openHouse(t, "data")
	_, at := h.newTitle("Adriatic")
	put(t, "photos/a.jpg", jpegOf(t, 1))
	title := h.state(at).Title
	for range 2 { // by a relative name, as in a terminal
		job, err := h.store.StartBring(t.Context(), title.ID, []string{"photos"})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := bringing.Run(t.Context(), h.store, h.pool, "data", job, nil); err != nil {
			t.Fatal(err)
		}
	}
	state := h.state(at)
	if len(state.Photos) != 1 || state.Brings[0].Known != 1 {
		t.Errorf("%+v", state)
	}
}

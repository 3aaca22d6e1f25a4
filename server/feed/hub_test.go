package feed

import (
	"slices"
	"strconv"
	"sync"
	"testing"
)

func names(events []event) []string {
	var all []string
	for _, e := range events {
		all = append(all, e.name+string(e.data))
	}
	return all
}

func TestAReaderThatLagsIsToldToReloadAndLosesOnlyWhatWaited(t *testing.T) {
	h := New("t")
	slow, quick := h.join(""), h.join("")
	for i := range readerBound + 10 {
		h.Publish("n", i)
		if got := names(quick.take()); !slices.Equal(got, []string{"n" + strconv.Itoa(i)}) {
			t.Fatalf("the quick reader got %v at %d", got, i)
		}
	}
	got := names(slow.take())
	want := []string{"reload{}"}
	for i := readerBound; i < readerBound+10; i++ {
		want = append(want, "n"+strconv.Itoa(i))
	}
	if !slices.Equal(got, want) {
		t.Errorf("the slow reader got %v, want %v", got, want)
	}
}

func TestAReaderNeverHoldsMoreThanItsBound(t *testing.T) {
	h := New("t")
	slow := h.join("")
	for i := range 50 * readerBound {
		h.Publish("n", i)
	}
	if got := slow.take(); len(got) > readerBound || got[0].name != "reload" {
		t.Errorf("%d events wait, the first is %s", len(got), got[0].name)
	}
}

func TestEveryReaderSeesOneOrderWhoeverPublishes(t *testing.T) {
	h := New("t")
	readers := make([]*reader, 20)
	for i := range readers {
		readers[i] = h.join("")
	}
	var writers sync.WaitGroup
	for w := range 8 {
		writers.Go(func() {
			for i := range 25 {
				h.Publish("n", 100*w+i)
			}
		})
	}
	writers.Wait()
	first := names(readers[0].take())
	if len(first) != 200 {
		t.Fatalf("%d events, want 200", len(first))
	}
	for i, r := range readers[1:] {
		if !slices.Equal(names(r.take()), first) {
			t.Errorf("reader %d saw another order", i+1)
		}
	}
}

func TestAReaderComingBackIsToldToReloadOnlyIfItMissedSomething(t *testing.T) {
	h := New("t")
	h.Publish("n", 1)
	if r := h.join("t-1"); len(r.take()) != 0 || r.opening() != "id: t-1\n\n" {
		t.Error("a reader that missed nothing was told to reload")
	}
	for _, since := range []string{"t-0", "t-2", "older-1", "nonsense"} {
		r := h.join(since)
		if got := names(r.take()); !slices.Equal(got, []string{"reload{}"}) {
			t.Errorf("coming back from %q: %v, want reload", since, got)
		}
		if r.opening() != ":\n\n" {
			t.Errorf("coming back from %q: the opening %q would make it forget that it must reload", since, r.opening())
		}
	}
}

func TestClosingAHubLetsEveryReaderGoAndKeepsNone(t *testing.T) {
	h := New("t")
	var readers []*reader
	for range 5 {
		readers = append(readers, h.join(""))
	}
	h.leave(readers[0])
	h.Close()
	for i, r := range append(readers[1:], h.join("")) {
		select {
		case <-r.gone:
		default:
			t.Errorf("reader %d was not let go", i)
		}
	}
	if len(h.readers) != 0 {
		t.Errorf("%d readers are still held", len(h.readers))
	}
	h.Publish("n", 1) // to nobody; must not fail
}

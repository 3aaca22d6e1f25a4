package main

import (
	"testing"

	"pairwall/sequence"
)

// A browser keeps six connections to a host. Eight windows that each kept one
// for its events would leave none for anything else.
func TestEightWindowsOnOneWallAllSeeAndAllAct(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (1 2) [-]")
	windows := []*tab{a.visit(desktop)}
	for len(windows) < 8 {
		windows = append(windows, windows[0].beside())
	}
	last := windows[7]
	last.drag(card(3), opening, "put here")
	for _, window := range windows {
		window.sees("[3] (1 2) [-]")
	}

	windows[0].open("about:blank") // it was the first, and listened for all
	windows[4].drag(card(1), onSpread(1, sequence.Right), "swap with 2")
	for _, window := range windows[1:] {
		window.sees("[3] (2 1) [-]")
		window.gone("[data-offline]")
	}
}

package proof

import (
	"strings"
	"testing"

	"pairwall/sequence"
)

func TestARoundThatMakesNoSenseIsRefused(t *testing.T) {
	good := Round{Date: "2026-05-31", Printer: "Tipografia del Molo", Kind: "digital", Verdict: WithChanges, Sent: Sent{Hash: strings.Repeat("0a", 32)},
		Looks: []Look{{Item: "light", Seen: "good"}}}
	if err := good.Check(); err != nil {
		t.Error(err)
	}
	for name, spoil := range map[string]func(*Round){
		"no day":            func(r *Round) { r.Date = "31.5.2026" },
		"no verdict":        func(r *Round) { r.Verdict = "maybe" },
		"no kind":           func(r *Round) { r.Kind = "dry" },
		"no hash":           func(r *Round) { r.Sent.Hash = "abc" },
		"long words":        func(r *Round) { r.Came = strings.Repeat("x", longestWords+1) },
		"an unknown item":   func(r *Round) { r.Looks = []Look{{Item: "smell"}} },
		"an item twice":     func(r *Round) { r.Looks = []Look{{Item: "fold"}, {Item: "fold"}} },
		"an unknown answer": func(r *Round) { r.Looks = []Look{{Item: "fold", Seen: "so so"}} },
	} {
		r := good
		spoil(&r)
		if err := r.Check(); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestARoundIsFromThePrinterWhoseNameItBears(t *testing.T) {
	r := Round{Printer: " Tipografia  del Molo"}
	for name, want := range map[string]bool{"Tipografia del Molo": true, "tipografia del molo ": true, "Tipografia": false, "": false} {
		if r.From(name) != want {
			t.Errorf("from %q: %v", name, !want)
		}
	}
	if (Round{}).From("") {
		t.Error("a round of nobody is from somebody")
	}
}

package server

import "pairwall/sequence"

// The tidy functions make empty lists of missing ones, so that the page need
// not tell "none" from "nothing". What comes from the store has its lists.

func list[T any](items []T) []T {
	if items == nil {
		return []T{}
	}
	return items
}

func tidyDiff(d sequence.Diff) sequence.Diff {
	d.Kept, d.Turned, d.Broken, d.New = list(d.Kept), list(d.Turned), list(d.Broken), list(d.New)
	d.Come, d.Gone, d.Lifted = list(d.Come), list(d.Gone), list(d.Lifted)
	return d
}

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
	d.Kept, d.Broken, d.New, d.Come, d.Gone = list(d.Kept), list(d.Broken), list(d.New), list(d.Come), list(d.Gone)
	return d
}

package sequence

import "slices"

// Between returns the change that leads from one sequence to another: how an
// earlier version is brought back, and how a proposed arrangement is taken.
// Spreads are recognised by their number; those that stay in the same relative
// order are not moved, and as few as possible of the others are. It stays on
// the line of work it is on, whatever that of to.
//
// Error: Invalid when to breaks a rule of the wall.
func Between(from, to Sequence, act string) (Change, error) {
	to = to.Clone()
	to.Last, to.LastChapter = max(to.Last, from.Last), max(to.LastChapter, from.LastChapter)
	if err := to.Check(); err != nil {
		return Change{}, err
	}
	b := builder{seq: from.Clone(), change: Change{Revision: from.Revision, Act: act, Steps: []Step{}}}
	b.leave(to)
	b.enter(to)
	b.reorder(to)
	b.fill(to)
	b.boxes(to)
	b.chapters(to)
	return b.change, nil
}

// builder takes each step on a working copy as it is written down, so that
// every step's indices and preimages are those of the moment it is taken.
type builder struct {
	seq    Sequence
	change Change
}

func (b *builder) step(s Step) {
	if err := b.seq.take(s); err != nil {
		panic("sequence: Between made a step that does not fit: " + err.Error()) // a fault of this file, not of any input
	}
	b.change.Steps = append(b.change.Steps, s)
}

// leave removes the spreads that to does not have, from the end.
func (b *builder) leave(to Sequence) {
	for i := len(b.seq.Spreads) - 1; i >= 0; i-- {
		if spread := b.seq.Spreads[i]; to.Index(spread.ID) < 0 {
			b.step(Step{Do: Remove, Index: i, Spread: &spread})
		}
	}
}

// enter adds the spreads that only to has, behind the one they follow there.
func (b *builder) enter(to Sequence) {
	for i, spread := range to.Spreads {
		if b.seq.Index(spread.ID) >= 0 {
			continue
		}
		at := 0
		if i > 0 {
			at = b.seq.Index(to.Spreads[i-1].ID) + 1
		}
		b.step(Step{Do: Add, Index: at, Spread: &spread})
	}
}

// reorder moves every spread that is not in the longest run already in order
// to its place behind the one it follows. Both sides now hold the same
// spreads.
func (b *builder) reorder(to Sequence) {
	rank := make(map[SpreadID]int, len(to.Spreads))
	for i, s := range to.Spreads {
		rank[s.ID] = i
	}
	ranks := make([]int, len(b.seq.Spreads))
	for i, s := range b.seq.Spreads {
		ranks[i] = rank[s.ID]
	}
	stays := make(map[int]bool)
	for _, r := range longestRising(ranks) {
		stays[r] = true
	}
	for i, spread := range to.Spreads {
		if stays[i] {
			continue
		}
		from, target := b.seq.Index(spread.ID), 0
		if i > 0 {
			target = b.seq.Index(to.Spreads[i-1].ID) + 1
		}
		if from < target {
			target-- // counted after it was taken out
		}
		if from != target {
			b.step(Step{Do: Move, Index: from, To: target})
		}
	}
}

// fill sets pages and marks of the spreads both have. Across comes off before
// pages change and goes on after, so that every step reads sensibly by itself.
func (b *builder) fill(to Sequence) {
	for i, want := range to.Spreads {
		have := b.seq.Spreads[i]
		if have.Across && (!want.Across || have.Left != want.Left) {
			b.step(Step{Do: Across, Spread: &Spread{ID: want.ID}})
		}
		b.set(Page{want.ID, Left}, want.Left)
		b.set(Page{want.ID, Right}, want.Right)
		if want.Across && !b.seq.Spreads[i].Across {
			b.step(Step{Do: Across, Spread: &Spread{ID: want.ID}, On: true})
		}
		if have.Pinned != want.Pinned {
			b.step(Step{Do: Pin, Spread: &Spread{ID: want.ID}, On: want.Pinned})
		}
		if have.Chapter != want.Chapter {
			b.step(Step{Do: Join, Spread: &Spread{ID: want.ID}, WasChapter: have.Chapter, NowChapter: want.Chapter})
		}
		if have.Note != want.Note {
			b.step(Step{Do: Note, Spread: &Spread{ID: want.ID}, WasText: have.Note, NowText: want.Note})
		}
	}
	b.set(Page{Side: Opening}, to.Opening)
	b.set(Page{Side: Closing}, to.Closing)
}

func (b *builder) set(p Page, now PhotoID) {
	if was, _ := b.seq.At(p); was != now {
		b.step(Step{Do: Put, Page: &p, Was: was, Now: now})
	}
}

func (b *builder) boxes(to Sequence) {
	for _, id := range slices.Clone(b.seq.Box) {
		if !slices.Contains(to.Box, id) {
			b.step(Step{Do: Box, Now: id})
		}
	}
	for _, id := range to.Box {
		if !slices.Contains(b.seq.Box, id) {
			b.step(Step{Do: Box, Now: id, On: true})
		}
	}
}

// chapters begins, renames and ends them.
func (b *builder) chapters(to Sequence) {
	for _, c := range slices.Concat(b.seq.Chapters, to.Chapters) {
		was, _ := b.seq.Chapter(c.ID) // a chapter on both sides comes twice, the second time as it is to be
		now, _ := to.Chapter(c.ID)
		if was.Name != now.Name {
			b.step(Step{Do: Name, Chapter: c.ID, WasText: was.Name, NowText: now.Name})
		}
	}
}

// longestRising returns the values of a longest strictly rising subsequence:
// patience sorting, O(n log n) (Fredman, "On computing the length of longest
// increasing subsequences", Discrete Mathematics 11, 1975).
func longestRising(values []int) []int {
	var tails []int // tails[k]: index of the smallest end of a rising run of length k+1
	before := make([]int, len(values))
	for i, v := range values {
		k, _ := slices.BinarySearchFunc(tails, v, func(t, v int) int { return values[t] - v })
		before[i] = -1
		if k > 0 {
			before[i] = tails[k-1]
		}
		if k == len(tails) {
			tails = append(tails, i)
		} else {
			tails[k] = i
		}
	}
	var run []int
	if len(tails) > 0 {
		for i := tails[len(tails)-1]; i >= 0; i = before[i] {
			run = append(run, values[i])
		}
	}
	slices.Reverse(run)
	return run
}

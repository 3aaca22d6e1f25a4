package sequence

import (
	"math/rand/v2"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// journal is the store's part in this test: a list of entries, and the state.
type journal struct {
	entries []Entry // entries[i] has revision i+1
	seq     Sequence
}

func (j *journal) entry(revision int64) Entry {
	if revision == 0 {
		return Entry{}
	}
	return j.entries[revision-1]
}

func (j *journal) append(t *testing.T, e Entry) {
	t.Helper()
	next, err := j.seq.Apply(e.Change)
	if err != nil {
		t.Fatal(err)
	}
	if e.Revision != next.Revision {
		t.Fatalf("entry %d leads to revision %d", e.Revision, next.Revision)
	}
	j.seq, j.entries = next, append(j.entries, e)
}

func TestUndoAndRedoWalkAJournalLikeTwoStacks(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	var j journal
	past, future := []Sequence{{}}, []Sequence(nil) // states one can go back to, the present on top; and forward to
	for range 3000 {
		last := j.entry(int64(len(j.entries)))
		switch r.IntN(3) {
		case 0:
			c, err := Between(j.seq, randomSequence(r, 8), "act")
			if err != nil {
				t.Fatal(err)
			}
			j.append(t, NextAct(last, c))
			past, future = append(past, j.seq), nil
		case 1:
			target := j.entry(last.UndoNext)
			if len(past) == 1 {
				if _, err := NextUndo(last, target, Entry{}); CodeOf(err) != NotFound {
					t.Fatalf("undo of nothing: %v", err)
				}
				continue
			}
			e, err := NextUndo(last, target, j.entry(target.Revision-1))
			if err != nil {
				t.Fatal(err)
			}
			j.append(t, e)
			past, future = past[:len(past)-1], append(future, past[len(past)-1])
		case 2:
			target := j.entry(last.RedoNext)
			if len(future) == 0 {
				if _, err := NextRedo(last, target, Entry{}); CodeOf(err) != NotFound {
					t.Fatalf("redo of nothing: %v", err)
				}
				continue
			}
			e, err := NextRedo(last, target, j.entry(target.Revision-1))
			if err != nil {
				t.Fatal(err)
			}
			j.append(t, e)
			past, future = append(past, future[len(future)-1]), future[:len(future)-1]
		}
		if diff := cmp.Diff(past[len(past)-1], j.seq, alike); diff != "" {
			t.Fatalf("after %d entries:\n%s", len(j.entries), diff)
		}
	}
	if len(j.entries) < 1000 {
		t.Fatalf("only %d entries were made", len(j.entries))
	}
}

func TestASittingEndsAfterALongPauseOnly(t *testing.T) {
	evening := time.Date(2026, 5, 20, 21, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		name string
		last time.Time
		now  time.Time
		over bool
	}{
		{"nothing was ever changed", time.Time{}, evening, false},
		{"a pause for coffee", evening, evening.Add(20 * time.Minute), false},
		{"the next morning", evening, evening.Add(11 * time.Hour), true},
		{"a clock set back", evening, evening.Add(-3 * time.Hour), false},
	} {
		if got := SittingOver(c.last, c.now); got != c.over {
			t.Errorf("%s: over is %v", c.name, got)
		}
	}
}

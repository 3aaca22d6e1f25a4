package store

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
)

// state is what the model remembers of one: the wall, and the act that led to
// it.
type state struct {
	act string
	q   sequence.Sequence
}

// model is undo and redo as everyone pictures them: two stacks of states. The
// present one lies on top of past; the first has no act.
type model struct {
	past, future []state
	kept         map[sequence.VersionID]sequence.Sequence
}

func (m *model) present() state { return m.past[len(m.past)-1] }

func (m *model) act(act string, q sequence.Sequence) {
	m.past, m.future = append(m.past, state{act, q}), nil
}

// wall is what the store should show.
func (m *model) wall() Wall {
	w := Wall{Sequence: m.present().q, Undo: m.present().act}
	if n := len(m.future); n > 0 {
		w.Redo = m.future[n-1].act
	}
	return w
}

func TestTheStoreIsTwoStacksThatSurviveAnything(t *testing.T) {
	for seed := range uint64(6) {
		t.Run(fmt.Sprintf("seed %d", seed), func(t *testing.T) {
			const photos = 24
			r := rand.New(rand.NewPCG(seed, 7))
			dir, c := t.TempDir(), newClock()
			s := openStore(t, dir)
			s.Now = c.now
			title := newTitle(t, s, "Adria", photos)
			m := model{past: []state{{q: sequence.Sequence{}}}, kept: map[sequence.VersionID]sequence.Sequence{}}
			done := map[string]int{}
			for range 250 {
				c.forward(time.Duration(r.IntN(int(sequence.SittingPause * 5 / 4))))
				what := m.move(t, r, s, title, photos)
				done[what]++
				if what == "reopen" {
					s.Close()
					s = openStore(t, dir)
					s.Now = c.now
				}
				if diff := cmp.Diff(m.wall(), wallOf(t, s, title), sees); diff != "" {
					t.Fatalf("after %s (-model +store):\n%s", what, diff)
				}
			}
			replays(t, s, title)
			m.versionsHold(t, s, title)
			for _, what := range []string{"act", "refused act", "undo", "redo", "keep", "bring back", "reopen", "nothing to redo"} {
				if done[what] == 0 {
					t.Errorf("%q never happened: %v", what, done)
				}
			}
		})
	}
}

// move does one thing at random to both the store and the model, checks that
// the store answers as it should, and says what was done.
func (m *model) move(t *testing.T, r *rand.Rand, s *Store, title sequence.TitleID, photos int) string {
	t.Helper()
	wall := wallOf(t, s, title)
	q := wall.Sequence
	switch n := r.IntN(20); {
	case n < 9:
		change := randomChange(r, q, photos)
		next, refusal := q.Apply(change)
		_, _, err := s.Apply(ctx, title, change, "")
		if sequence.CodeOf(err) != sequence.CodeOf(refusal) {
			t.Fatalf("a sequence says %v, the store %v", refusal, err)
		}
		if err != nil {
			return "refused act"
		}
		m.act(change.Act, next)
		return "act"
	case n < 13:
		_, _, err := s.Undo(ctx, title, q.Revision, "")
		if len(m.past) == 1 {
			isCoded(t, err, sequence.NotFound)
			return "nothing to undo"
		}
		if err != nil {
			t.Fatal(err)
		}
		m.future, m.past = append(m.future, m.present()), m.past[:len(m.past)-1]
		return "undo"
	case n < 16:
		_, _, err := s.Redo(ctx, title, q.Revision, "")
		if len(m.future) == 0 {
			isCoded(t, err, sequence.NotFound)
			return "nothing to redo"
		}
		if err != nil {
			t.Fatal(err)
		}
		m.past, m.future = append(m.past, m.future[len(m.future)-1]), m.future[:len(m.future)-1]
		return "redo"
	case n < 17:
		v, err := s.KeepVersion(ctx, title, fmt.Sprintf("kept %d", r.IntN(1e6)))
		if err != nil {
			t.Fatal(err)
		}
		m.kept[v.ID] = m.present().q
		return "keep"
	case n < 19:
		return m.bringBack(t, r, s, title, q)
	}
	return "reopen"
}

func (m *model) bringBack(t *testing.T, r *rand.Rand, s *Store, title sequence.TitleID, q sequence.Sequence) string {
	t.Helper()
	all := versionsOf(t, s, title)
	if len(all) == 0 {
		return "nothing to bring back"
	}
	v := all[r.IntN(len(all))]
	entry, _, err := s.BringBack(ctx, title, v.ID, q.Revision, "")
	if cmp.Equal(v.Sequence, q, sees) {
		isCoded(t, err, sequence.Invalid)
		return "refused bring back"
	}
	if err != nil {
		t.Fatal(err)
	}
	m.act(entry.Change.Act, v.Sequence)
	return "bring back"
}

// versionsHold checks that every version kept is still what it was, and is the
// state the journal reaches at its revision.
func (m *model) versionsHold(t *testing.T, s *Store, title sequence.TitleID) {
	t.Helper()
	entries, err := s.Journal(ctx, title, 0)
	if err != nil {
		t.Fatal(err)
	}
	states := []sequence.Sequence{{}}
	for i, e := range entries {
		next, err := states[i].Apply(e.Change)
		if err != nil {
			t.Fatal(err)
		}
		states = append(states, next)
	}
	versions := versionsOf(t, s, title)
	if len(versions) < len(m.kept) {
		t.Errorf("of %d versions %d are left", len(m.kept), len(versions))
	}
	for _, v := range versions {
		if want, named := m.kept[v.ID]; named && !cmp.Equal(want, v.Sequence, sees) {
			t.Errorf("version %d: %s", v.ID, cmp.Diff(want, v.Sequence, sees))
		}
		if diff := cmp.Diff(states[v.Sequence.Revision], v.Sequence, sees); diff != "" {
			t.Errorf("version %d is not what the journal had at %d:\n%s", v.ID, v.Sequence.Revision, diff)
		}
	}
}

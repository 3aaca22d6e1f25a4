package sequence

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// alike compares sequences but for what an undo cannot give back: the count of
// changes and the highest spread number ever given.
var alike = cmp.Options{cmpopts.IgnoreFields(Sequence{}, "Revision", "Last", "LastChapter"), cmpopts.EquateEmpty()}

// sharedCase is one row of testdata/changes.json, which the browser's model is
// tested with too, so that both ends take a change alike.
type sharedCase struct {
	Name    string   `json:"name"`
	Before  Sequence `json:"before"`
	Change  Change   `json:"change"`
	After   Sequence `json:"after"`
	Inverse Change   `json:"inverse"`
	Refused bool     `json:"refused"`
}

func TestSharedChangesApplyAndInvertAsWritten(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "testdata", "changes.json"))
	if err != nil {
		t.Fatal(err)
	}
	var cases []sharedCase
	if err := json.Unmarshal(data, &cases); err != nil {
		t.Fatal(err)
	}
	if len(cases) < 25 {
		t.Fatalf("only %d shared cases", len(cases))
	}
	for _, c := range cases {
		t.Run(c.Name, func(t *testing.T) {
			before := c.Before.Clone()
			after, err := c.Before.Apply(c.Change)
			if diff := cmp.Diff(before, c.Before, cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("the sequence it was made on was altered:\n%s", diff)
			}
			if c.Refused {
				if err == nil {
					t.Fatal("was not refused")
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(c.After, after, cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("after (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(c.Inverse, c.Change.Invert(), cmpopts.EquateEmpty()); diff != "" {
				t.Errorf("inverse (-want +got):\n%s", diff)
			}
		})
	}
}

// randomSequence hangs some of the photos 1..n at random and puts some in the
// box; spread numbers are drawn from a pool so that two sequences share some.
func randomSequence(r *rand.Rand, n int) Sequence {
	deck := r.Perm(n)
	draw := func() PhotoID {
		if len(deck) == 0 || r.IntN(4) == 0 {
			return 0
		}
		id := PhotoID(deck[0] + 1)
		deck = deck[1:]
		return id
	}
	q := Sequence{Spreads: []Spread{}, Box: []PhotoID{}}
	for _, id := range r.Perm(n)[:r.IntN(n)] {
		s := Spread{ID: SpreadID(id + 1), Left: draw(), Pinned: r.IntN(5) == 0}
		if s.Left != 0 && r.IntN(6) == 0 {
			s.Across = true
		} else {
			s.Right = draw()
		}
		q.Spreads = append(q.Spreads, s)
		q.Last = max(q.Last, s.ID)
	}
	q.Opening, q.Closing = draw(), draw()
	for i := 1; i <= n; i++ {
		if id := PhotoID(i); r.IntN(3) == 0 && len(q.Table([]PhotoID{id})) == 1 {
			q.Box = append(q.Box, id)
		}
	}
	return randomChapters(r, q)
}

// randomChapters names some runs and writes some notes; chapter numbers are
// drawn from a pool so that two sequences share some.
func randomChapters(r *rand.Rand, q Sequence) Sequence {
	pool := r.Perm(6)
	for i := 0; i < len(q.Spreads); i++ {
		if r.IntN(3) == 0 {
			q.Spreads[i].Note = fmt.Sprintf("why %d", r.IntN(3))
		}
		if len(pool) == 0 || r.IntN(2) == 0 {
			continue
		}
		c := Chapter{ChapterID(pool[0] + 1), fmt.Sprintf("Station %d", r.IntN(4))}
		pool = pool[1:]
		for end := min(len(q.Spreads), i+1+r.IntN(4)); i < end; i++ {
			q.Spreads[i].Chapter = c.ID
		}
		i--
		q.Chapters = append(q.Chapters, c)
		q.LastChapter = max(q.LastChapter, c.ID)
	}
	slices.SortFunc(q.Chapters, func(a, b Chapter) int { return int(a.ID - b.ID) })
	return q
}

func TestBetweenLeadsFromAnySequenceToAnyOther(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		from, to := randomSequence(r, 14), randomSequence(r, 14)
		c, err := Between(from, to, "bring back")
		if err != nil {
			t.Fatal(err)
		}
		got, err := from.Apply(c)
		if err != nil {
			t.Fatalf("%v\nfrom %+v\nto %+v\nsteps %+v", err, from, to, c.Steps)
		}
		if diff := cmp.Diff(to, got, alike); diff != "" {
			t.Fatal(diff)
		}
		back, err := got.Apply(c.Invert())
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(from, back, alike); diff != "" {
			t.Fatalf("inverse does not lead back:\n%s", diff)
		}
	}
}

func TestComposedChangesLeadWhereBothWould(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 500 {
		a, b, c := randomSequence(r, 10), randomSequence(r, 10), randomSequence(r, 10)
		first, _ := Between(a, b, "one")
		mid, err := a.Apply(first)
		if err != nil {
			t.Fatal(err)
		}
		second, _ := Between(mid, c, "two")
		apart, err := mid.Apply(second)
		if err != nil {
			t.Fatal(err)
		}
		joined, err := first.Then(second)
		if err != nil {
			t.Fatal(err)
		}
		together, err := a.Apply(joined)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(apart, together, alike); diff != "" {
			t.Fatal(diff)
		}
	}
	if _, err := (Change{Revision: 4}).Then(Change{Revision: 6}); CodeOf(err) != Stale {
		t.Errorf("joining changes with a gap between them: %v", err)
	}
}

func TestBetweenMovesOneSpreadOnceToTheFront(t *testing.T) {
	var from Sequence
	for i := 1; i <= 20; i++ {
		from.Spreads = append(from.Spreads, Spread{ID: SpreadID(i), Left: PhotoID(i)})
	}
	from.Last = 20
	to := from.Clone()
	last := to.Spreads[19]
	to.Spreads = append([]Spread{last}, to.Spreads[:19]...)
	c, err := Between(from, to, "to the front")
	if err != nil {
		t.Fatal(err)
	}
	want := []Step{{Do: Move, Index: 19, To: 0}}
	if diff := cmp.Diff(want, c.Steps); diff != "" {
		t.Error(diff)
	}
}

func TestAStaleChangeIsRefusedAndSaysSo(t *testing.T) {
	q := Sequence{Revision: 7}
	_, err := q.Apply(Change{Revision: 6})
	if CodeOf(err) != Stale {
		t.Fatalf("got %v", err)
	}
}

func FuzzApplyNeverBreaksTheRulesOfTheWall(f *testing.F) {
	f.Add([]byte(`{"revision":0,"steps":[{"do":"add","index":0,"spread":{"id":1,"left":3}},{"do":"move","index":0,"to":0}]}`))
	f.Add([]byte(`{"revision":0,"steps":[{"do":"put","page":{"side":"opening"},"now":2},{"do":"box","now":2,"on":true}]}`))
	f.Add([]byte(`{"revision":0,"steps":[{"do":"across","spread":{"id":9},"on":true}]}`))
	f.Add([]byte(`{"revision":0,"steps":[{"do":"name","chapter":1,"nowText":"Trieste"},{"do":"join","spread":{"id":1},"nowChapter":1},{"do":"note","spread":{"id":1},"nowText":"both wait"}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		var c Change
		if json.Unmarshal(data, &c) != nil {
			return
		}
		before := Sequence{Spreads: []Spread{{ID: 1, Left: 1, Right: 2}}, Box: []PhotoID{5}, Last: 1}
		after, err := before.Apply(c)
		if err != nil {
			return
		}
		if err := after.Check(); err != nil {
			t.Fatal(err)
		}
		back, err := after.Apply(c.Invert())
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(before, back, alike); diff != "" {
			t.Fatal(diff)
		}
	})
}

package store

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

func pagesOf(t testing.TB, s *Store, title sequence.TitleID) Pages {
	t.Helper()
	now, err := s.Pages(ctx, title)
	if err != nil {
		t.Fatal(err)
	}
	return now
}

// repaged saves what change makes of the present pages.
func repaged(t testing.TB, s *Store, title sequence.TitleID, act string, change func(*pages.Format, *pages.Plan)) Pages {
	t.Helper()
	was := pagesOf(t, s, title)
	want := PagesWanted{was.Revision, act, was.Format, was.Plan}
	change(&want.Format, &want.Plan)
	now, err := s.SavePages(ctx, title, want, "window-1")
	if err != nil {
		t.Fatal(err)
	}
	return now
}

// decided compares pages as the maker sees them.
var decided = cmpopts.IgnoreFields(Pages{}, "Revision", "Undo", "Redo", "Reached")

func TestPagesAreKeptAndUndoneWithoutLimit(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adria", 20)
	first := pagesOf(t, s, title)
	if diff := cmp.Diff(Pages{Format: pages.FirstFormat, Plan: pages.FirstPlan}, first); diff != "" {
		t.Fatal(diff)
	}
	rng := rand.New(rand.NewPCG(11, 7))
	states := []Pages{first}
	for i := range 60 {
		states = append(states, repaged(t, s, title, fmt.Sprintf("act %d", i+1), func(f *pages.Format, p *pages.Plan) {
			switch rng.IntN(4) {
			case 0:
				f.Trim.Width = pages.Length(100 + i)
			case 1:
				p.Front = append(p.Front, pages.Leaf{Kind: pages.TextLeaf, Text: fmt.Sprint(i)})
			case 2:
				p.Placements = append(p.Placements, pages.Placement{Photo: sequence.PhotoID(1 + i%20), Share: 0.2 + float64(i)/100})
				said := map[sequence.PhotoID]pages.Placement{}
				for _, one := range p.Placements {
					said[one.Photo] = one
				}
				p.Placements = nil
				for _, one := range said {
					p.Placements = append(p.Placements, one)
				}
			case 3:
				f.Bleed = pages.Length(i%7) + 0.5
				if n := len(p.Placements); n > 0 { // nothing is said of one any more
					p.Placements = p.Placements[:n-1]
				}
			}
		}))
	}
	for i := len(states) - 1; i > 0; i-- {
		now := pagesOf(t, s, title)
		if diff := cmp.Diff(states[i], now, decided); diff != "" || now.Undo != fmt.Sprintf("act %d", i) {
			t.Fatalf("%q: %s", now.Undo, diff)
		}
		if _, err := s.UndoPages(ctx, title, now.Revision, "w"); err != nil {
			t.Fatal(err)
		}
	}
	now := pagesOf(t, s, title)
	if diff := cmp.Diff(first, now, decided); diff != "" || now.Undo != "" {
		t.Fatal(diff, now.Undo)
	}
	_, err := s.UndoPages(ctx, title, now.Revision, "w")
	isCoded(t, err, sequence.NotFound)
	for i := 1; i < len(states); i++ {
		if now, err = s.RedoPages(ctx, title, now.Revision, "w"); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(states[i], now, decided); diff != "" {
			t.Fatal(i, diff)
		}
	}
	_, err = s.RedoPages(ctx, title, now.Revision, "w")
	isCoded(t, err, sequence.NotFound)
}

func TestPagesMadeOnAnotherStateAreRefusedWithThePresentOne(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adria", 1)
	now := repaged(t, s, title, "bleed", func(f *pages.Format, _ *pages.Plan) { f.Bleed = 4 })
	for name, do := range map[string]func() (Pages, error){
		"save": func() (Pages, error) {
			return s.SavePages(ctx, title, PagesWanted{0, "late", pages.FirstFormat, pages.FirstPlan}, "w")
		},
		"undo": func() (Pages, error) { return s.UndoPages(ctx, title, 0, "w") },
		"redo": func() (Pages, error) { return s.RedoPages(ctx, title, 7, "w") },
	} {
		is, err := do()
		isCoded(t, err, sequence.Stale)
		if diff := cmp.Diff(now, is); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

func TestPagesThatCannotBeAreRefusedAndNothingChanges(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adria", 1)
	plan := func(one pages.Placement) pages.Plan {
		p := pages.FirstPlan
		p.Placements = []pages.Placement{one}
		return p
	}
	narrow := pages.FirstFormat
	narrow.Trim.Width = 3
	for name, want := range map[string]PagesWanted{
		"no act":  {0, " ", pages.FirstFormat, plan(pages.Placement{Photo: 1, Share: 0.4})},
		"format":  {0, "narrow", narrow, pages.FirstPlan},
		"plan":    {0, "tiny", pages.FirstFormat, plan(pages.Placement{Photo: 1, Share: 0.01})},
		"photo":   {0, "stranger", pages.FirstFormat, plan(pages.Placement{Photo: 2, Share: 0.4})},
		"nothing": {0, "nothing", pages.FirstFormat, pages.FirstPlan},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := s.SavePages(ctx, title, want, "w")
			isCoded(t, err, sequence.Invalid)
		})
	}
	if now := pagesOf(t, s, title); now.Revision != 0 {
		t.Errorf("%+v", now)
	}
	_, err := s.Pages(ctx, title+1)
	isCoded(t, err, sequence.NotFound)
	_, err = s.SavePages(ctx, title+1, PagesWanted{0, "x", narrow, pages.FirstPlan}, "w")
	isCoded(t, err, sequence.Invalid)
}

func TestTheBindingIsTheTitlesToo(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adria", 0)
	binding := func() string {
		got, err := s.Title(ctx, title)
		if err != nil {
			t.Fatal(err)
		}
		return got.Binding
	}
	for _, want := range []pages.Binding{pages.SaddleStitch, pages.PerfectBound, pages.HardCase, pages.Unbound} {
		repaged(t, s, title, "bind", func(f *pages.Format, _ *pages.Plan) { f.Binding = want })
		if binding() != string(want) {
			t.Fatalf("%q, not %q", binding(), want)
		}
	}
	if _, err := s.UndoPages(ctx, title, 4, "w"); err != nil || binding() != string(pages.HardCase) {
		t.Fatal(err, binding())
	}
}

// A title bound by an earlier version of the program keeps its binding, and so
// does what its first act is taken back to.
func TestABindingChosenBeforeThereWereFormatsIsKept(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adria", 0)
	if _, err := s.db.Exec(`UPDATE titles SET binding = 'perfect-bound'`); err != nil {
		t.Fatal(err)
	}
	now := pagesOf(t, s, title)
	if diff := cmp.Diff(pages.FirstFormat.Bound(pages.PerfectBound), now.Format); diff != "" {
		t.Fatal(diff)
	}
	repaged(t, s, title, "bind", func(f *pages.Format, _ *pages.Plan) { *f = f.Bound(pages.SaddleStitch) })
	back, err := s.UndoPages(ctx, title, 1, "w")
	if diff := cmp.Diff(now, back, decided); diff != "" || err != nil {
		t.Fatal(diff, err)
	}
}

func TestThePastOfPagesCannotBeRewritten(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adria", 0)
	repaged(t, s, title, "bleed", func(f *pages.Format, _ *pages.Plan) { f.Bleed = 4 })
	for _, spoil := range []string{`DELETE FROM page_acts`, `DELETE FROM page_parts`, `UPDATE page_acts SET act = 'x'`, `UPDATE page_parts SET said = '{}'`,
		`INSERT INTO page_acts SELECT title_id, 9, way, of, undo_next, redo_next, at, origin, 'x' FROM page_acts WHERE revision = 1`} {
		if _, err := s.db.Exec(spoil); err == nil || !strings.Contains(err.Error(), "journal of pages") {
			t.Errorf("%s: %v", spoil, err)
		}
	}
}

func TestPagesGoAlongWithAPackedTitle(t *testing.T) {
	here, _ := newStore(t)
	newTitle(t, here, "Another", 1)
	title := newTitle(t, here, "Adria", 3)
	repaged(t, here, title, "bind", func(f *pages.Format, p *pages.Plan) {
		f.Binding = pages.SaddleStitch
		p.Placements = []pages.Placement{{Photo: 3, Manner: pages.FullBleed}}
	})
	repaged(t, here, title, "fold", func(_ *pages.Format, p *pages.Plan) { p.Folios = true })
	there, _ := newStore(t)
	for range 2 { // beside itself too
		got, err := there.Unpack(ctx, packed(t, here, title, false), nowhere)
		if err != nil {
			t.Fatal(err)
		}
		now := pagesOf(t, there, got.ID)
		if diff := cmp.Diff(pagesOf(t, here, title), now); diff != "" || got.Binding != string(pages.SaddleStitch) {
			t.Fatal(diff, got.Binding)
		}
		for range 2 {
			if now, err = there.UndoPages(ctx, got.ID, now.Revision, "w"); err != nil {
				t.Fatal(err)
			}
		}
		if diff := cmp.Diff(pages.FirstFormat, now.Format); diff != "" {
			t.Fatal(diff)
		}
	}
}

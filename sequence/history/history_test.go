package history

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"pairwall/sequence"
)

// made writes a journal of the states one wants, as a maker's acts.
type made struct {
	t       testing.TB
	entries []sequence.Entry
	q       sequence.Sequence
	at      time.Time
}

func newMade(t testing.TB) *made {
	return &made{t: t, q: sequence.Sequence{}.Clone(), at: time.Date(2026, 5, 4, 20, 0, 0, 0, time.UTC)} // a Monday
}

// day goes to the evening of a day, 1 being the first.
func (m *made) day(n int) *made {
	m.at = time.Date(2026, 5, 3+n, 20, 0, 0, 0, time.UTC)
	return m
}

// hang makes one change that leads to these spreads; a spread of the same
// photos keeps its number.
func (m *made) hang(opening, closing sequence.PhotoID, spreads ...[2]sequence.PhotoID) *made {
	m.t.Helper()
	to := sequence.Sequence{Opening: opening, Closing: closing, Last: m.q.Last}
	for _, s := range spreads {
		spread := sequence.Spread{Left: s[0], Right: s[1]}
		for _, old := range m.q.Spreads {
			if old.Left == s[0] && old.Right == s[1] {
				spread.ID = old.ID
			}
		}
		if spread.ID == 0 {
			to.Last++
			spread.ID = to.Last
		}
		to.Spreads = append(to.Spreads, spread)
	}
	change, err := sequence.Between(m.q, to, "hang")
	if err != nil {
		m.t.Fatal(err)
	}
	return m.enter(change)
}

func (m *made) over(line sequence.LineID, to sequence.Sequence) *made {
	m.t.Helper()
	change, err := sequence.GoOver(m.q, to, line, "go over")
	if err != nil {
		m.t.Fatal(err)
	}
	return m.enter(change)
}

func (m *made) enter(change sequence.Change) *made {
	m.t.Helper()
	next, err := m.q.Apply(change)
	if err != nil {
		m.t.Fatal(err)
	}
	e := sequence.NextAct(sequence.Entry{Revision: m.q.Revision}, change)
	e.At = m.at
	m.entries, m.q, m.at = append(m.entries, e), next, m.at.Add(time.Minute)
	return m
}

func (m *made) stands() map[sequence.LineID][]Stand {
	m.t.Helper()
	stands, err := Stands(m.entries)
	if err != nil {
		m.t.Fatal(err)
	}
	return stands
}

type two = [2]sequence.PhotoID

// fiveEvenings is a made history: 1 2 hold throughout; 3 4 hold for three
// sittings and nine days and are broken on the 12th; 3 has three partners; the
// opening page never rests, nor does page 6, which came with the second; 7 8 are tried within one sitting and again once.
func fiveEvenings(t testing.TB) *made {
	m := newMade(t)
	m.day(1).hang(11, 0, two{1, 2}, two{3, 4}).hang(11, 0, two{1, 2}, two{3, 4}, two{7, 8}).hang(11, 0, two{1, 2}, two{3, 4})
	m.day(3).hang(12, 0, two{1, 2}, two{3, 4}, two{5, 6})
	m.day(8).hang(13, 0, two{7, 8}, two{1, 2}, two{3, 4}, two{5, 6})
	m.day(10).hang(14, 0, two{1, 2}, two{3, 5}, two{6, 0})
	m.day(15).hang(11, 0, two{1, 2}, two{3, 6}, two{5, 0})
	return m
}

func TestAMadeHistoryTellsWhatHeldAndWhatNeverRests(t *testing.T) {
	m := fiveEvenings(t)
	now := time.Date(2026, 5, 20, 12, 0, 0, 0, time.UTC)
	r := Look(m.stands()[0], now)
	evening := func(day, minute int) time.Time { return time.Date(2026, 5, 3+day, 20, minute, 0, 0, time.UTC) }
	want := Report{
		Sittings: 5, Since: new(evening(1, 2)),
		Hold: []Held{
			{Pair: sequence.Pair{1, 2}, Left: 1, Sittings: 5, Days: 16, Times: 1, Since: evening(1, 2)},
			{Pair: sequence.Pair{3, 6}, Left: 3, Sittings: 1, Days: 2, Times: 1, Since: evening(15, 0)},
		},
		Broken: []Held{
			{Pair: sequence.Pair{3, 4}, Left: 3, Sittings: 3, Days: 9, Times: 1, Since: evening(1, 2), Until: new(evening(10, 0)), Behind: []sequence.PhotoID{2, 1, 8, 7, 13}},
			{Pair: sequence.Pair{5, 6}, Left: 5, Sittings: 2, Days: 7, Times: 1, Since: evening(3, 0), Until: new(evening(10, 0)), Behind: []sequence.PhotoID{4, 3, 2, 1, 8, 7, 13}},
		},
		Company: []Company{
			{3, []sequence.PhotoID{4, 5, 6}},
			{5, []sequence.PhotoID{6, 3}},
			{6, []sequence.PhotoID{5, 3}},
		},
		Restless: []Restless{
			{Number: 1, Changes: 4, Of: 4, Photos: []sequence.PhotoID{12, 13, 14, 11}},
			{Number: 6, Changes: 2, Of: 3, Photos: []sequence.PhotoID{3, 6, 5}},
		},
	}
	if diff := cmp.Diff(want, r, cmpopts.EquateEmpty()); diff != "" {
		t.Error(diff)
	}
}

func TestAPairHungAnewHasHeldTwice(t *testing.T) {
	m := newMade(t)
	m.day(1).hang(0, 0, two{1, 2})
	m.day(2).hang(0, 0, two{1, 3})
	m.day(4).hang(0, 0, two{2, 1})
	r := Look(m.stands()[0], time.Date(2026, 5, 9, 20, 0, 0, 0, time.UTC)) // the sixth day
	want := []Held{{Pair: sequence.Pair{1, 2}, Left: 2, Sittings: 2, Days: 3, Times: 2, Since: time.Date(2026, 5, 7, 20, 0, 0, 0, time.UTC)}}
	if diff := cmp.Diff(want, r.Hold, cmpopts.EquateEmpty()); diff != "" {
		t.Error(diff)
	}
	if len(r.Broken) != 0 {
		t.Errorf("one sitting is no long hold: %+v", r.Broken)
	}
}

func TestWhatIsOnlyShiftedRests(t *testing.T) {
	m := newMade(t)
	m.day(1).hang(0, 0, two{1, 2}, two{3, 4})
	m.day(2).hang(0, 0, two{5, 6}, two{1, 2}, two{3, 4})
	m.day(3).hang(0, 0, two{5, 6}, two{7, 8}, two{1, 2}, two{3, 4})
	m.day(4).hang(0, 0, two{9, 10}, two{7, 8}, two{1, 2}, two{3, 4})
	var pages []int
	for _, p := range Look(m.stands()[0], m.at).Restless {
		pages = append(pages, p.Number)
	}
	if !slices.Equal(pages, []int{2, 3}) {
		t.Errorf("pages %v are said never to rest", pages)
	}
}

func TestGoingOverToAnotherLineBreaksNoPair(t *testing.T) {
	m := newMade(t)
	m.day(1).hang(0, 0, two{1, 2}, two{3, 4})
	m.day(2).hang(0, 0, two{1, 2}, two{3, 4}, two{5, 6})
	first := m.q
	root := m.q.Revision
	m.day(3).over(1, m.q).hang(0, 0, two{1, 2}, two{3, 7})
	m.day(4).hang(0, 0, two{1, 2}, two{3, 8})
	m.day(5).over(0, first)
	stands := m.stands()
	now := m.at
	if r := Look(stands[0], now); len(r.Broken) != 0 || len(r.Hold) != 3 || r.Hold[0].Sittings != 3 {
		t.Errorf("the first line: %+v", r)
	}
	lines := []sequence.Line{{ID: 1, From: 0, Root: root}}
	r := Look(Of(stands, lines, 1), now)
	if r.Hold[0].Pair != (sequence.Pair{1, 2}) || r.Hold[0].Sittings != 4 || len(r.Broken) != 1 || r.Broken[0].Pair != (sequence.Pair{3, 4}) {
		t.Errorf("the second line, with what it comes from: %+v", r)
	}
}

func TestEndsAreTheStatesThatAreKeptByThemselves(t *testing.T) {
	m := fiveEvenings(t)
	ends, err := Ends(m.entries, m.at)
	if err != nil {
		t.Fatal(err)
	}
	var revisions []int64
	for _, e := range ends {
		revisions = append(revisions, e.Sequence.Revision)
	}
	if !slices.Equal(revisions, []int64{3, 4, 5, 6}) { // the last sitting is not over
		t.Errorf("%v", revisions)
	}
	m.at = m.at.Add(time.Hour)
	left := m.q.Revision
	m.over(1, m.q)
	if ends, err = Ends(m.entries, m.at); err != nil || ends[len(ends)-1].Sequence.Revision != left {
		t.Errorf("a line left within a sitting: %+v %v", ends[len(ends)-1], err)
	}
}

func TestAJournalThatDoesNotFitTogetherIsSaidToBeDamaged(t *testing.T) {
	m := fiveEvenings(t)
	if _, err := Stands(m.entries[1:]); sequence.CodeOf(err) != sequence.Damaged {
		t.Errorf("%v", err)
	}
}

func TestThinningLeavesAllThatTheMakerSpokeOf(t *testing.T) {
	at := func(day, hour int) time.Time { return time.Date(2026, 5, day, hour, 0, 0, 0, time.UTC) }
	version := func(id int64, at time.Time, line sequence.LineID) sequence.Version {
		return sequence.Version{ID: sequence.VersionID(id), At: at, Sequence: sequence.Sequence{Revision: id * 10, Line: line}}
	}
	named, slipped, why := version(4, at(5, 9), 0), version(5, at(5, 10), 0), version(6, at(5, 11), 0)
	named.Named, named.Name, slipped.Slip, why.Why = true, "By place", true, "the harbour works"
	versions := []sequence.Version{
		version(1, at(4, 9), 0), version(2, at(4, 21), 0), version(3, at(5, 8), 0), named, slipped, why,
		version(7, at(6, 9), 1), version(8, at(6, 10), 1), version(9, at(11, 10), 0), version(10, at(12, 10), 0),
	}
	lines := []sequence.Line{{ID: 1, Root: 10}}
	for _, c := range []struct {
		rule Rule
		want []sequence.VersionID
	}{
		{Rule{ADay, 0}, []sequence.VersionID{3, 7}},
		{Rule{AWeek, 0}, []sequence.VersionID{2, 3, 7, 9}},
		{Rule{None, 0}, []sequence.VersionID{2, 3, 7, 9}},
		{Rule{None, 7}, []sequence.VersionID{2, 3}},
		{Rule{None, 36500}, nil},
	} {
		spare, err := Thin(versions, lines, c.rule, at(13, 8))
		var ids []sequence.VersionID
		for _, v := range spare {
			ids = append(ids, v.ID)
		}
		if err != nil || !slices.Equal(ids, c.want) {
			t.Errorf("%+v: %v, want %v, %v", c.rule, ids, c.want, err)
		}
	}
	for _, rule := range []Rule{{"month", 0}, {ADay, -1}} {
		if _, err := Thin(versions, lines, rule, at(13, 8)); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%+v: %v", rule, err)
		}
	}
}

// BenchmarkLook replays weeks of work: each act lets two spreads exchange a
// photo, twenty acts are a sitting.
func BenchmarkLook(b *testing.B) {
	for _, c := range []struct{ entries, spreads int }{{1000, 60}, {5000, 60}, {5000, 250}} {
		b.Run(fmt.Sprintf("%d entries, %d spreads", c.entries, c.spreads), func(b *testing.B) {
			m := newMade(b)
			var spreads []two
			for i := range sequence.PhotoID(c.spreads) {
				spreads = append(spreads, two{2*i + 1, 2*i + 2})
			}
			m.hang(0, 0, spreads...)
			for i := range c.entries - 1 {
				if i%20 == 0 {
					m.at = m.at.Add(26 * time.Hour)
				}
				m.exchange(i%c.spreads, i*7%c.spreads)
			}
			for b.Loop() {
				Look(m.stands()[0], m.at)
			}
		})
	}
}

func (m *made) exchange(i, j int) {
	one, other := m.q.Spreads[i], m.q.Spreads[j]
	change := sequence.Change{Revision: m.q.Revision, Act: "exchange", Steps: []sequence.Step{
		{Do: sequence.Put, Page: &sequence.Page{Spread: one.ID, Side: sequence.Left}, Was: one.Left, Now: other.Right},
		{Do: sequence.Put, Page: &sequence.Page{Spread: other.ID, Side: sequence.Right}, Was: other.Right, Now: one.Left}}}
	m.enter(change)
}

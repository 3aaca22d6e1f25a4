package pairing

import (
	"fmt"
	"math/bits"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/pairing/evidence"
)

func arranged(t *testing.T, m *Measures, seq sequence.Sequence, table []sequence.PhotoID, w Balance, scope Scope) Proposal {
	t.Helper()
	p, err := m.Arrange(seq, table, w, scope)
	if err != nil {
		t.Fatal(err)
	}
	checkProposal(t, seq, table, scope, p)
	return p
}

// checkProposal checks what holds of every proposal.
func checkProposal(t *testing.T, seq sequence.Sequence, table []sequence.PhotoID, scope Scope, p Proposal) {
	t.Helper()
	reached, err := seq.Apply(p.Change)
	if err != nil || !reflect.DeepEqual(reached, p.Sequence) {
		t.Fatalf("the change leads to %+v, %v; proposed is %+v", reached, err, p.Sequence)
	}
	if reached.Opening != seq.Opening || reached.Closing != seq.Closing || !slices.Equal(reached.Box, seq.Box) {
		t.Fatalf("opening, closing or box changed: %+v", reached)
	}
	if scope == Table && !slices.Equal(reached.Spreads[:len(seq.Spreads)], seq.Spreads) {
		t.Fatalf("spreads on the wall changed: %+v to %+v", seq.Spreads, reached.Spreads)
	}
	checkPinned(t, seq, reached)
	checkAllThere(t, seq, table, scope, p)
	listed := make(map[sequence.SpreadID]bool)
	for _, s := range p.Spreads {
		i := reached.Index(s.Spread)
		if i < 0 || !reached.Spreads[i].Paired() || !s.Judged || s.Reasons == "" || s.Alike {
			t.Fatalf("proposed spread %+v stands for %+v", s, reached.Spreads)
		}
		listed[s.Spread] = true
	}
	for _, s := range reached.Spreads {
		if before := seq.Index(s.ID); before < 0 && !listed[s.ID] {
			t.Fatalf("spread %+v is new but has no evidence", s)
		}
	}
	if strings.Count(p.Rule, ".") != 1 || !strings.HasSuffix(p.Rule, ".") {
		t.Fatalf("the rule is not one sentence: %q", p.Rule)
	}
}

func checkPinned(t *testing.T, seq, reached sequence.Sequence) {
	t.Helper()
	behind := 0 // pinned spreads after this one
	for i, s := range slices.Backward(seq.Spreads) {
		if !s.Pinned {
			continue
		}
		behind++
		now := reached.Index(s.ID)
		if now < 0 || reached.Spreads[now] != s {
			t.Fatalf("pinned spread %+v became %+v", s, reached.Spreads)
		}
		if now != min(i, len(reached.Spreads)-behind) {
			t.Fatalf("pinned spread %d went from place %d to %d of %d", s.ID, i, now, len(reached.Spreads))
		}
	}
}

// checkAllThere checks that every photo asked for is either on the wall or left
// over, with a reason.
func checkAllThere(t *testing.T, seq sequence.Sequence, table []sequence.PhotoID, scope Scope, p Proposal) {
	t.Helper()
	want := append(slices.Clone(table), seq.Wall()...)
	have := p.Sequence.Wall()
	for _, l := range p.Left {
		have = append(have, l.Photo)
		if l.Why == "" || scope == Table && !slices.Contains(table, l.Photo) {
			t.Fatalf("left over: %+v", l)
		}
	}
	slices.Sort(want)
	slices.Sort(have)
	if !slices.Equal(want, have) {
		t.Fatalf("arranged were %v, and there are %v", want, have)
	}
}

func TestProposalsKeepThePromisesOfTheWall(t *testing.T) {
	for seed := range uint64(120) {
		d := dice(seed)
		d.roll(1)
		n := d.roll(46)
		photos := journey(n, seed)
		seq, table := someWall(&d, photos)
		m := New(photos)
		for _, scope := range []Scope{Table, Wall} {
			for _, w := range []Balance{nil, {"colour": 1}, {"place": 0.7, "time": 0.1}} {
				arranged(t, m, seq, table, w, scope)
			}
		}
	}
}

// someWall hangs some of the photos: pairs, single photos, blanks, photos
// across, a third of the spreads pinned; and puts a few into the box.
func someWall(d *dice, photos []sequence.Photo) (seq sequence.Sequence, table []sequence.PhotoID) {
	ids := allOf(photos)
	for i := range ids {
		j := d.roll(i + 1)
		ids[i], ids[j] = ids[j], ids[i]
	}
	take := func() sequence.PhotoID {
		if len(ids) == 0 {
			return 0
		}
		id := ids[0]
		ids = ids[1:]
		return id
	}
	seq = sequence.Sequence{Revision: 7, Spreads: []sequence.Spread{}, Box: []sequence.PhotoID{}}
	if d.roll(2) == 0 {
		seq.Opening = take()
	}
	for range d.roll(9) {
		seq.Last += sequence.SpreadID(1 + d.roll(2))
		s := sequence.Spread{ID: seq.Last, Pinned: d.roll(3) == 0}
		switch d.roll(6) {
		case 0:
			s.Left = take()
			s.Across = s.Left != 0
		case 1:
			s.Right = take()
		case 2:
		default:
			s.Left, s.Right = take(), take()
		}
		seq.Spreads = append(seq.Spreads, s)
	}
	if d.roll(2) == 0 {
		seq.Closing = take()
	}
	if id := take(); id != 0 && d.roll(2) == 0 {
		seq.Box = append(seq.Box, id)
	} else if id != 0 {
		table = append(table, id)
	}
	return seq, append(table, ids...)
}

// The sum of the scores is compared with the best over all ways of pairing.
func TestThePairsProposedSumToTheMostThereIs(t *testing.T) {
	proposed := 0
	for seed := range uint64(60) {
		photos := journey(8+int(seed%4), seed)
		m := New(photos)
		ids := allOf(photos)
		bar := 0.0
		for k := range Kinds() {
			bar += m.title.Typical(evidence.Row(k)) / 5 / 2
		}
		score := make([][]float64, len(ids))
		for i := range ids {
			score[i] = make([]float64, len(ids))
			for j := range i {
				if v := pairOf(t, m, ids[i], ids[j], nil); v.Judged && !v.Alike && v.Score >= bar {
					score[i][j], score[j][i] = v.Score, v.Score
				}
			}
		}
		best := make([]float64, 1<<len(ids))
		for set := 1; set < len(best); set++ {
			i := bits.TrailingZeros(uint(set))
			best[set] = best[set&^(1<<i)]
			for j := i + 1; j < len(ids); j++ {
				if set&(1<<j) != 0 {
					best[set] = max(best[set], score[i][j]+best[set&^(1<<i)&^(1<<j)])
				}
			}
		}
		p := arranged(t, m, sequence.Sequence{}, ids, nil, Table)
		sum := 0.0
		for _, s := range p.Spreads {
			sum += s.Score
			if s.Score < bar {
				t.Errorf("seed %d: spread %d scores %g, below %g", seed, s.Spread, s.Score, bar)
			}
		}
		proposed += len(p.Spreads)
		if want := best[len(best)-1]; sum < want-1e-7 || sum > want+1e-7 {
			t.Errorf("seed %d: proposed pairs sum to %.9f, the best there are to %.9f", seed, sum, want)
		}
	}
	if proposed < 200 {
		t.Errorf("only %d spreads proposed in all", proposed)
	}
}

func TestAPairThatFacedEachOtherKeepsItsSpreadAndSides(t *testing.T) {
	photos := dated(3, 4, 5, 6)
	seq := sequence.Sequence{Last: 9, Spreads: []sequence.Spread{
		{ID: 4, Left: 8, Right: 7}, // the later one left, by the maker's hand
		{ID: 9, Left: 1, Right: 5},
	}}
	p := arranged(t, New(photos), seq, []sequence.PhotoID{2, 3, 4, 6}, nil, Wall)
	if i := p.Sequence.Index(4); i != 3 || p.Sequence.Spreads[i].Left != 8 || p.Sequence.Index(9) >= 0 {
		t.Errorf("%+v", p.Sequence.Spreads)
	}
}

func TestPinnedSpreadsStayAndTheRestGoesAround(t *testing.T) {
	photos := dated(3, 4, 5, 6, 7, 8)
	seq := sequence.Sequence{Last: 7, Opening: 12, Spreads: []sequence.Spread{
		{ID: 1, Left: 10, Right: 2},
		{ID: 2, Left: 9, Right: 1, Pinned: true},
		{ID: 3, Left: 11, Across: true},
		{ID: 4},
		{ID: 5, Right: 3},
		{ID: 7, Left: 4, Right: 8, Pinned: true},
	}}
	p := arranged(t, New(photos), seq, []sequence.PhotoID{5, 6, 7}, nil, Wall)
	// Free are 10, 2, 3, 5, 6, 7 and the spread across: 5 goes with 6, the others
	// are a mixed lot. Spread 7 was the sixth and there are fewer now.
	if p.Sequence.Index(2) != 1 || p.Sequence.Index(7) != len(p.Sequence.Spreads)-1 || p.Sequence.Index(3) < 0 || p.Sequence.Index(4) >= 0 {
		t.Errorf("%+v", p.Sequence.Spreads)
	}
	for _, s := range p.Spreads {
		if s.Spread == 2 || s.Spread == 7 || s.Spread == 3 {
			t.Errorf("spread %d was not for arranging", s.Spread)
		}
	}
}

func TestPhotosLeftOverAreToldWhy(t *testing.T) {
	photos := []sequence.Photo{
		{Number: 1, Palette: grey(30)}, {Number: 2, Palette: grey(34)}, {Number: 3, Palette: grey(40)},
		{Number: 4, Palette: grey(70), Taken: after(0)}, {Number: 5, Palette: grey(70), Taken: after(0.05)},
		{Number: 6, Palette: grey(2), Taken: after(0)}, {Number: 7, Palette: grey(99), Taken: after(90_000)},
		{Number: 8, Where: at(0)}, {Number: 9},
	}
	for k := range 30 { // what is usual in this title
		photos = append(photos, sequence.Photo{Number: sequence.PhotoID(10 + k), Palette: grey(float64(3 * k)), Taken: after(float64(500 * k))})
	}
	m := New(photos)
	for name, c := range map[string]struct {
		table []sequence.PhotoID
		w     Balance
		want  map[sequence.PhotoID]string
	}{
		"alone":             {[]sequence.PhotoID{3}, nil, map[sequence.PhotoID]string{3: "no other photo"}},
		"nothing known":     {[]sequence.PhotoID{1, 8, 9}, nil, map[sequence.PhotoID]string{1: "nothing that counts", 8: "nothing that counts", 9: "nothing that counts"}},
		"nothing asked for": {[]sequence.PhotoID{1, 2}, Balance{"place": 1}, map[sequence.PhotoID]string{1: "nothing that counts", 2: "nothing that counts"}},
		"odd one out":       {[]sequence.PhotoID{1, 2, 3}, nil, map[sequence.PhotoID]string{3: "its best partner, 2, goes with 1"}},
		"the same picture":  {[]sequence.PhotoID{4, 5}, nil, map[sequence.PhotoID]string{4: "5 shows nearly the same picture", 5: "4 shows nearly"}},
		"too far":           {[]sequence.PhotoID{6, 7}, nil, map[sequence.PhotoID]string{6: "no other photo here suits it well enough", 7: "no other photo here suits it well enough"}},
	} {
		t.Run(name, func(t *testing.T) {
			p := arranged(t, m, sequence.Sequence{}, c.table, c.w, Table)
			if len(p.Left) != len(c.want) {
				t.Errorf("%+v", p.Left)
			}
			for _, l := range p.Left {
				if c.want[l.Photo] == "" || !strings.Contains(l.Why, c.want[l.Photo]) {
					t.Errorf("%d: %q, want %q", l.Photo, l.Why, c.want[l.Photo])
				}
			}
		})
	}
}

func TestArrangeRefusesWhatDoesNotFit(t *testing.T) {
	m := New(journey(6, 1))
	hung := sequence.Sequence{Last: 1, Box: []sequence.PhotoID{3}, Spreads: []sequence.Spread{{ID: 1, Left: 1, Right: 2}}}
	for name, c := range map[string]struct {
		seq   sequence.Sequence
		table []sequence.PhotoID
		scope Scope
		want  sequence.Code
	}{
		"a photo there is not":        {hung, []sequence.PhotoID{4, 99}, Table, sequence.NotFound},
		"one on the wall":             {hung, []sequence.PhotoID{1}, Table, sequence.Invalid},
		"one in the box":              {hung, []sequence.PhotoID{3}, Wall, sequence.Invalid},
		"one twice":                   {hung, []sequence.PhotoID{4, 4}, Table, sequence.Invalid},
		"another scope":               {hung, []sequence.PhotoID{4}, "floor", sequence.Invalid},
		"a wall that breaks rules":    {sequence.Sequence{Spreads: []sequence.Spread{{ID: 5}}}, nil, Wall, sequence.Invalid},
		"a stranger on a free spread": {sequence.Sequence{Last: 1, Spreads: []sequence.Spread{{ID: 1, Left: 77}}}, nil, Wall, sequence.NotFound},
	} {
		if _, err := m.Arrange(c.seq, c.table, nil, c.scope); sequence.CodeOf(err) != c.want {
			t.Errorf("%s: %v, want %s", name, err, c.want)
		}
	}
	many := make([]sequence.Photo, MostArranged+1)
	for i := range many {
		many[i] = sequence.Photo{Number: sequence.PhotoID(i + 1)}
	}
	if _, err := New(many).Arrange(sequence.Sequence{}, allOf(many), nil, Table); sequence.CodeOf(err) != sequence.TooLarge {
		t.Errorf("too many: %v", err)
	}
}

func TestTheSameWallGetsTheSameProposal(t *testing.T) {
	photos := journey(90, 3)
	first := arranged(t, New(photos), sequence.Sequence{}, allOf(photos), nil, Table)
	table := allOf(photos)
	slices.Reverse(table)
	again := arranged(t, New(photos), sequence.Sequence{}, table, nil, Table)
	if !reflect.DeepEqual(first, again) {
		t.Error("two proposals for one wall differ")
	}
}

func TestTheRuleNamesWhatCountsAndHowMuch(t *testing.T) {
	photos := journey(10, 3)
	m := New(photos)
	for want, w := range map[string]Balance{
		"by place, time, colour, feeling and form,": nil,
		"by place, time and colour,":                three,
		"by place and time,":                        {"place": 0.3, "time": 0.3},
		"by time (25 %) and colour (75 %),":         {"colour": 0.9, "time": 0.3},
	} {
		if p := arranged(t, m, sequence.Sequence{}, allOf(photos), w, Table); !strings.Contains(p.Rule, want) {
			t.Errorf("%q does not say %q", p.Rule, want)
		}
	}
}

func BenchmarkArrange(b *testing.B) {
	for _, n := range []int{40, 300, 1000} {
		photos := journey(n, 1)
		m := New(photos)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if _, err := m.Arrange(sequence.Sequence{}, allOf(photos), nil, Table); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

package pairing

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/colour"
)

func proposed(t *testing.T, m *Measures, seq sequence.Sequence, plan Plan) Proposal {
	t.Helper()
	p, err := m.Propose(seq, plan)
	if err != nil {
		t.Fatal(err)
	}
	if !plan.Singles {
		checkProposal(t, seq, plan.Table, plan.Scope, p)
	}
	return p
}

func pairsOf(q sequence.Sequence) map[sequence.Pair]bool {
	pairs := make(map[sequence.Pair]bool)
	for _, p := range q.Pairs() {
		pairs[inOneOrder(p[0], p[1])] = true
	}
	return pairs
}

func TestRefusedPairsAreNeverProposed(t *testing.T) {
	photos := journey(40, 3)
	m := New(photos)
	plan := Plan{Scope: Table, Table: allOf(photos)}
	for range 6 { // refuse whatever is proposed, time and again
		p := proposed(t, m, sequence.Sequence{}, plan)
		for pair := range pairsOf(p.Sequence) {
			if slices.Contains(plan.Refused, sequence.Pair{pair[1], pair[0]}) {
				t.Fatalf("%v was refused", pair)
			}
			plan.Refused = append(plan.Refused, sequence.Pair{pair[1], pair[0]})
		}
		if len(p.Spreads) == 0 {
			t.Fatal("nothing left to propose")
		}
	}
	if p := proposed(t, m, sequence.Sequence{}, plan); !strings.Contains(p.Rule, "refused") {
		t.Error(p.Rule)
	}
}

func TestAHigherBarLeavesMoreAloneAndSinglesHangAlone(t *testing.T) {
	photos := journey(60, 4)
	m := New(photos)
	last := 1 << 30
	for _, bar := range []float64{0.5, 1.2, 1.6, 2} {
		p := proposed(t, m, sequence.Sequence{}, Plan{Scope: Table, Table: allOf(photos), Enough: bar})
		if len(p.Spreads) > last {
			t.Errorf("at %g there are %d spreads after %d", bar, len(p.Spreads), last)
		}
		last = len(p.Spreads)
		alone := proposed(t, m, sequence.Sequence{}, Plan{Scope: Table, Table: allOf(photos), Enough: bar, Singles: true})
		if got := len(alone.Sequence.Wall()); got != len(photos) || len(alone.Left) != 0 {
			t.Errorf("at %g: %d photos hang and %d are left of %d", bar, got, len(alone.Left), len(photos))
		}
		for _, s := range alone.Sequence.Spreads {
			if !s.Paired() && s.Left != 0 {
				t.Errorf("a single stands left: %+v", s)
			}
		}
	}
	if last == 0 || last >= 30 {
		t.Errorf("at the highest bar %d spreads of 60 photos", last)
	}
}

func TestPhotosThatHangAloneAreTakenInPartAsWell(t *testing.T) {
	photos := journey(60, 4)
	p := proposed(t, New(photos), sequence.Sequence{}, Plan{Scope: Table, Table: allOf(photos), Enough: 2, Singles: true})
	if len(p.Spreads) != len(p.Sequence.Spreads) {
		t.Fatalf("%d of %d spreads are listed", len(p.Spreads), len(p.Sequence.Spreads))
	}
	var alone []sequence.SpreadID
	for _, s := range p.Spreads {
		if spread := p.Sequence.Spreads[p.Sequence.Index(s.Spread)]; s.Alone == spread.Paired() || s.Reasons == "" {
			t.Errorf("%+v is said to be %+v", spread, s)
		}
		if s.Alone {
			alone = append(alone, s.Spread)
		}
	}
	change, err := p.Accept(sequence.Sequence{}, alone)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := (sequence.Sequence{}).Apply(change); err != nil || len(got.Spreads) != len(alone) || len(alone) == 0 {
		t.Errorf("%d spreads of the %d taken, %v", len(got.Spreads), len(alone), err)
	}
}

func TestChaptersStayTogetherInTheirOrderAndArePairedWithinThemselves(t *testing.T) {
	photos := journey(36, 5)
	chapters := make([]ChapterPhotos, 2)
	in := make(map[sequence.PhotoID]int)
	for i, p := range photos {
		if c := i % 3; c < 2 {
			chapters[c].Photos = append(chapters[c].Photos, p.Number)
			in[p.Number] = c + 1
		}
	}
	for _, ordering := range Orderings() {
		p := proposed(t, New(photos), sequence.Sequence{}, Plan{Scope: Table, Table: allOf(photos), Chapters: chapters, Ordering: ordering})
		last := 1
		for _, s := range p.Sequence.Spreads {
			one, other := in[s.Left], in[s.Right]
			if one != other {
				t.Errorf("%q: %+v is of two chapters", ordering, s)
			}
			if one == 0 {
				one = 3
			}
			if one < last {
				t.Errorf("%q: chapter %d comes again after %d", ordering, one, last)
			}
			last = one
		}
		if len(p.Spreads) < 12 || !strings.Contains(p.Rule, "by chapter") {
			t.Errorf("%q: %d spreads, %q", ordering, len(p.Spreads), p.Rule)
		}
	}
}

func TestTheWallsChaptersAreKeptOrEndedAsTheMakerWishes(t *testing.T) {
	photos := journey(40, 12)
	seq := sequence.Sequence{LastChapter: 2, Chapters: []sequence.Chapter{{ID: 1, Name: "Ferries"}, {ID: 2, Name: "Stations"}}}
	for k := range 12 {
		seq.Last++
		seq.Spreads = append(seq.Spreads, sequence.Spread{ID: seq.Last, Left: sequence.PhotoID(1 + k*17%36), Right: sequence.PhotoID(1 + (k*17+18)%36), Chapter: sequence.ChapterID(k / 4)})
	}
	in := make(map[sequence.PhotoID]sequence.ChapterID)
	for _, s := range seq.Spreads {
		in[s.Left], in[s.Right] = s.Chapter, s.Chapter
	}
	table := seq.Table(allOf(photos))
	around := proposed(t, New(photos), seq, Plan{Scope: Wall, Table: table, Chapters: ChaptersOf(seq)})
	if len(around.Sequence.Chapters) != 2 {
		t.Errorf("chapters %+v", around.Sequence.Chapters)
	}
	for _, s := range around.Sequence.Spreads {
		if s.Chapter != in[s.Left] || s.Chapter != in[s.Right] {
			t.Errorf("%+v holds photos of the chapters %d and %d", s, in[s.Left], in[s.Right])
		}
	}
	without := proposed(t, New(photos), seq, Plan{Scope: Wall, Table: table})
	if len(without.Sequence.Chapters) != 0 {
		t.Errorf("chapters %+v are left of a wall arranged without regard to them", without.Sequence.Chapters)
	}
}

func TestTheSpreadsTheMakerNamesBeginAndEnd(t *testing.T) {
	photos := journey(40, 6)
	m := New(photos)
	for _, ordering := range Orderings() {
		for seed := range 4 {
			free := proposed(t, m, sequence.Sequence{}, Plan{Scope: Table, Table: allOf(photos), Ordering: ordering})
			spreads := free.Sequence.Spreads
			first, last := spreads[(seed*5+3)%len(spreads)].Left, spreads[(seed*7+1)%len(spreads)].Right
			if (seed*5+3)%len(spreads) == (seed*7+1)%len(spreads) {
				continue
			}
			p := proposed(t, m, sequence.Sequence{}, Plan{Scope: Table, Table: allOf(photos), Ordering: ordering, First: first, Last: last})
			got := p.Sequence.Spreads
			if begin, end := got[0], got[len(got)-1]; begin.Left != first && begin.Right != first || end.Left != last && end.Right != last {
				t.Errorf("%q: from %+v to %+v, wanted %d and %d", ordering, begin, end, first, last)
			}
		}
	}
}

// walkOf makes pairs in towns visited one after the other, with a return.
func TestByPlaceFollowsTheTownsInTheOrderVisited(t *testing.T) {
	var photos []sequence.Photo
	for k, town := range []float64{40, 0, 20, 40, 0, 20} { // km
		for half := range 2 {
			photos = append(photos, sequence.Photo{Number: sequence.PhotoID(2*k + half + 1), Where: at(1000*town + float64(5*k)), Taken: after(float64(600*(k%3) + 5*k + 2*half)),
				Palette: grey(15 + 12*float64(k) + float64(half))})
		}
	}
	p := proposed(t, New(photos), sequence.Sequence{}, Plan{Scope: Table, Table: allOf(photos), Balance: Balance{"time": 1}, Ordering: ByPlace})
	var towns []int
	for _, s := range p.Sequence.Spreads {
		towns = append(towns, int(s.Left-1)/2%3)
	}
	if want := []int{0, 0, 1, 1, 2, 2}; !slices.Equal(towns, want) {
		t.Errorf("towns %v in %+v, want %v", towns, p.Sequence.Spreads, want)
	}
	if !strings.Contains(p.Rule, "by place in the order visited") {
		t.Error(p.Rule)
	}
}

func TestOneLineOfLightRunsFromDarkToLightOrBack(t *testing.T) {
	var photos []sequence.Photo
	for k, l := range []float64{50, 20, 80, 35, 65, 5, 90} {
		for half := range 2 {
			p := sequence.Photo{Number: sequence.PhotoID(2*k + half + 1), Taken: after(float64(3000*k + half)), Palette: grey(l)}
			p.Tone = colour.Tone{Mean: l, Deviation: 3, Dark: l - 5, Light: l + 5, Monochrome: true}
			photos = append(photos, p)
		}
	}
	p := proposed(t, New(photos), sequence.Sequence{}, Plan{Scope: Table, Table: allOf(photos), Balance: Balance{"gap": 1}, Ordering: ByLight})
	var lights []float64
	for _, s := range p.Sequence.Spreads {
		lights = append(lights, photos[s.Left-1].Tone.Mean)
	}
	up := slices.IsSorted(lights)
	slices.Reverse(lights)
	if !up && !slices.IsSorted(lights) || len(lights) != 7 {
		t.Errorf("lights %v", lights)
	}
}

func TestALineOfColourFlowsThroughThePinnedSpreads(t *testing.T) {
	photos := dated(0, 0, 0, 0, 0, 0) // greys of 8, 23, 38, 53, 68, 83
	seq := sequence.Sequence{Last: 2, Spreads: []sequence.Spread{{ID: 1, Left: 11, Right: 12, Pinned: true}, {ID: 2, Left: 9, Right: 10}}}
	p := proposed(t, New(photos), seq, Plan{Scope: Wall, Table: []sequence.PhotoID{1, 2, 3, 4, 5, 6, 7, 8}, Balance: Balance{"colour": 1}, Ordering: ByColour})
	if want := []sequence.PhotoID{11, 9, 7, 5, 3, 1}; !slices.Equal(leftPages(p.Sequence), want) {
		t.Errorf("left pages %v, want %v", leftPages(p.Sequence), want)
	}
}

func TestAProposalCanBeTakenSpreadBySpread(t *testing.T) {
	photos := journey(50, 8)
	m := New(photos)
	d := dice(4)
	for round := range 20 {
		seq, table := someWall(&d, photos)
		for _, scope := range []Scope{Table, Wall} {
			p := proposed(t, m, seq, Plan{Scope: scope, Table: table})
			var some []sequence.SpreadID
			for k, s := range p.Spreads {
				if (k+round)%3 == 0 {
					some = append(some, s.Spread)
				}
			}
			change, err := p.Accept(seq, some)
			if err != nil {
				t.Fatal(err)
			}
			got, err := seq.Apply(change)
			if err != nil {
				t.Fatal(err)
			}
			checkTaken(t, seq, got, p, some)
		}
	}
	p := proposed(t, m, sequence.Sequence{}, Plan{Scope: Table, Table: allOf(photos)})
	var all []sequence.SpreadID
	for _, s := range p.Spreads {
		all = append(all, s.Spread)
	}
	change, err := p.Accept(sequence.Sequence{}, all)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := (sequence.Sequence{}).Apply(change); err != nil || !reflect.DeepEqual(got.Spreads, p.Sequence.Spreads) {
		t.Errorf("all taken: %+v, %v", got.Spreads, err)
	}
	if _, err := p.Accept(sequence.Sequence{}, []sequence.SpreadID{999}); sequence.CodeOf(err) != sequence.NotFound {
		t.Errorf("a spread that is not proposed: %v", err)
	}
	if _, err := p.Accept(sequence.Sequence{Revision: 3}, all); sequence.CodeOf(err) != sequence.Invalid {
		t.Errorf("another wall: %v", err)
	}
}

// checkTaken checks that the spreads taken hang as proposed, and that of the others
// only what those took is gone.
func checkTaken(t *testing.T, before, after sequence.Sequence, p Proposal, taken []sequence.SpreadID) {
	t.Helper()
	moved := make(map[sequence.PhotoID]bool)
	for _, id := range taken {
		want := p.Sequence.Spreads[p.Sequence.Index(id)]
		moved[want.Left], moved[want.Right] = true, true
		if i := after.Index(id); i < 0 || after.Spreads[i] != want {
			t.Fatalf("spread %d: %+v is not %+v", id, after.Spreads, want)
		}
	}
	for _, s := range before.Spreads {
		i := after.Index(s.ID)
		if s.Pinned && (i < 0 || after.Spreads[i] != s) {
			t.Fatalf("pinned spread %+v became %+v", s, after.Spreads)
		}
		for _, id := range []sequence.PhotoID{s.Left, s.Right} {
			if id != 0 && !moved[id] && !slices.Contains(after.Wall(), id) {
				t.Fatalf("photo %d is gone from %+v", id, after.Spreads)
			}
		}
	}
}

func TestPlansThatMakeNoSenseAreRefused(t *testing.T) {
	m := New(journey(6, 1))
	for name, plan := range map[string]Plan{
		"another ordering": {Scope: Table, Ordering: "taste"}, "too much asked": {Scope: Table, Enough: 2.5}, "less than nothing": {Scope: Table, Enough: -1},
		"one photo at both ends": {Scope: Table, First: 3, Last: 3},
	} {
		if _, err := m.Propose(sequence.Sequence{}, plan); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestNoLongRunOfOneLookAndNotTheLoudestFirst(t *testing.T) {
	var photos []sequence.Photo
	for k := range 24 { // twelve warm pairs and twelve cool ones, of about one lightness
		b := 18.0
		if k >= 12 {
			b = -18
		}
		for half := range 2 {
			photos = append(photos, sequence.Photo{Number: sequence.PhotoID(2*k + half + 1), Taken: after(float64(2000*k + half)),
				Palette: colour.Palette{{Lab: colour.Lab{L: 50 + float64(k%12)/4, A: 4, B: b}, Weight: 1}}})
		}
	}
	photos[0].Palette[0].Lab.A, photos[1].Palette[0].Lab.A = 70, 70
	m := New(photos)
	p := proposed(t, m, sequence.Sequence{}, Plan{Scope: Table, Table: allOf(photos), Balance: Balance{"gap": 1}, Ordering: ByColour})
	run, longest, last := 0, 0, ""
	for _, s := range p.Sequence.Spreads {
		look := m.title.Look(int(s.Left) - 1)
		run++
		if look != last {
			run, last = 1, look
		}
		longest = max(longest, run)
	}
	if longest > 2*mostOfOneLook || len(p.Spreads) != 24 {
		t.Errorf("%d of one look on end in %d spreads: %s", longest, len(p.Spreads), fmt.Sprint(leftPages(p.Sequence)))
	}
	if first := p.Sequence.Spreads[0]; first.Left == 1 || first.Right == 1 {
		t.Error("the loudest comes first")
	}
}

func TestEveryOrderingKeepsThePromisesOfTheWall(t *testing.T) {
	for seed := range uint64(60) {
		d := dice(seed + 500)
		d.roll(1)
		photos := journey(d.roll(46), seed)
		seq, table := someWall(&d, photos)
		m := New(photos)
		plan := Plan{Table: table, Ordering: Orderings()[int(seed)%len(Orderings())]}
		if len(table) > 4 {
			plan.First, plan.Last = table[1], table[3]
		}
		for c := range d.roll(3) {
			plan.Chapters = append(plan.Chapters, ChapterPhotos{Photos: allOf(photos)[c*len(photos)/5 : (c+1)*len(photos)/5]})
		}
		for _, plan.Scope = range []Scope{Table, Wall} {
			first := proposed(t, m, seq, plan)
			if again := proposed(t, m, seq, plan); !reflect.DeepEqual(first, again) {
				t.Fatalf("seed %d: two proposals of one plan differ", seed)
			}
		}
	}
}

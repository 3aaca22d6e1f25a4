package pairing

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/place"
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

func TestChaptersStayTogetherInTheirOrderAndArePairedWithinThemselves(t *testing.T) {
	photos := journey(36, 5)
	chapters := []Chapter{{Name: "Ferries"}, {Name: "Stations"}}
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

func TestABoxAndRefusalsKeepPartnersOutUnlessAskedFor(t *testing.T) {
	photos := journey(30, 9)
	m := New(photos)
	all := allOf(photos)
	seek := func(ask Ask) []sequence.PhotoID {
		ask.Of, ask.Among, ask.Most = 5, all, 30
		partners, _, err := m.Seek(ask)
		if err != nil {
			t.Fatal(err)
		}
		var ids []sequence.PhotoID
		for _, p := range partners {
			ids = append(ids, p.Photo)
		}
		return ids
	}
	open := seek(Ask{})
	box := []sequence.PhotoID{open[0], open[3]}
	for name, c := range map[string]struct {
		ask  Ask
		gone []sequence.PhotoID
	}{
		"box": {Ask{Box: box}, box}, "box asked for": {Ask{Box: box, WithBox: true}, nil},
		"refused": {Ask{Refused: []sequence.Pair{{5, open[1]}, {open[2], 5}, {open[3], open[4]}}}, open[1:3]},
	} {
		want := slices.DeleteFunc(slices.Clone(open), func(id sequence.PhotoID) bool { return slices.Contains(c.gone, id) })
		if got := seek(c.ask); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
}

func TestASurpriseIsGoodOnOneKindAndFarOnTheOthers(t *testing.T) {
	photos := journey(120, 10)
	for i := range photos {
		photos[i].Where, photos[i].Taken = at(float64(i*900)), after(float64(i*300))
	}
	photos[110].Palette = photos[2].Palette // far away, long after, in one world
	partners, _, err := New(photos).Seek(Ask{Of: 3, Among: allOf(photos), Balance: three, Surprise: true, Most: 3})
	if err != nil || partners[0].Photo != 111 || partners[0].Surprise != Colour {
		t.Errorf("%+v, %v", partners, err)
	}
	plain, _, err := New(photos).Partners(3, allOf(photos), three, 1)
	if err != nil || plain[0].Photo == 111 {
		t.Errorf("best partner: %+v, %v", plain, err)
	}
}

func TestWhoLooksInStandsOnThatSideAndLooksOutAreWarnedOf(t *testing.T) {
	photos := []sequence.Photo{
		{Number: 1, Taken: after(0), Palette: grey(40), Gaze: &sequence.Gaze{X: 0.5, Y: 0.5, Towards: sequence.TowardsLeft}},
		{Number: 2, Taken: after(9), Palette: grey(60)},
		{Number: 3, Taken: after(20), Palette: grey(70), Gaze: &sequence.Gaze{X: 0.97, Y: 0.5, Towards: sequence.TowardsLeft}},
	}
	m := New(photos)
	if j := pairOf(t, m, 1, 2, nil); j.Left != 2 || j.LeftWhy != "1 looks in from the right" || len(j.Warnings) != 0 {
		t.Errorf("%+v", j)
	}
	if j := pairOf(t, m, 1, 3, nil); j.Left != 1 || len(j.Warnings) == 0 || !strings.Contains(j.Warnings[0], "1 looks out of the spread to the left") {
		t.Errorf("%+v", j)
	}
	partners, _, err := m.Partners(1, []sequence.PhotoID{2}, nil, 1)
	if err != nil || partners[0].Side != sequence.Left {
		t.Errorf("%+v, %v", partners, err)
	}
}

func TestFingerprintsTellTheSamePictureOnAnotherDay(t *testing.T) {
	form := func(print string) sequence.Form { return sequence.Form{Measured: 1, Fingerprint: print} }
	photos := []sequence.Photo{
		{Number: 1, Taken: after(0), Palette: grey(50), Form: form("00ff00ff00ff00ff")},
		{Number: 2, Taken: after(5000), Palette: grey(52), Form: form("00ff00ff00ff00fe")},
		{Number: 3, Taken: after(5000), Palette: grey(52), Form: form("ff00ff00ff00ff00")},
		{Number: 4, Palette: grey(50), Form: form("ff00ff00ff00ff00")}, // one palette, another picture
	}
	m := New(photos)
	for b, want := range map[sequence.PhotoID]bool{2: true, 3: false, 4: false} {
		if j := pairOf(t, m, 1, b, nil); j.Alike != want {
			t.Errorf("1 with %d: alike %v", b, j.Alike)
		}
	}
}

func TestALossIsWhatLeavesTheSequenceWithAPhoto(t *testing.T) {
	var photos []sequence.Photo
	for k := range 10 {
		photos = append(photos, sequence.Photo{Number: sequence.PhotoID(k + 1), Width: 3, Height: 2, Where: at(float64(3000 * k)), Taken: after(float64(200 * k)), Palette: grey(20 + 6*float64(k)),
			Tone: colour.Tone{Mean: 40, Deviation: 10, Light: 60}})
	}
	photos[4].Palette = colour.Palette{{Lab: colour.Lab{L: 45, A: 60, B: 42}, Weight: 0.4}, {Lab: colour.Lab{L: 44}, Weight: 0.6}}
	photos[4].Tone.Monochrome, photos[4].Width, photos[4].Feeling = true, 1, []string{"salt"}
	photos[4].Taken, photos[4].Where = place.Day(2026, 6, 1, place.FromMaker), at(60_000)
	photos[8].Where, photos[8].Taken, photos[8].Palette = at(21010), after(1401), grey(62.3) // nearly photo 8
	var seq sequence.Sequence
	for k := range 5 {
		seq.Spreads = append(seq.Spreads, sequence.Spread{ID: sequence.SpreadID(k + 1), Left: photos[2*k].Number, Right: photos[2*k+1].Number})
	}
	seq.Last = 5
	m := New(photos)
	l, err := m.Loss(seq, 5)
	if err != nil {
		t.Fatal(err)
	}
	var only []string
	for _, o := range l.Only {
		only = append(only, o.Words)
	}
	want := []string{"the only one of its place", "the only one of 1 June 2026", "the only one with deep red", "the only one in black and white", "the only upright one", "the only one that is “salt”"}
	if !slices.Equal(only, want) || len(l.Same) != 0 {
		t.Errorf("%q, %+v", only, l.Same)
	}
	l, err = m.Loss(seq, 9)
	if err != nil || len(l.Same) != 1 || l.Same[0].Photo != 8 || len(l.Only) != 0 {
		t.Errorf("%+v, %v", l, err)
	}
	losses := m.Losses(seq)
	if len(losses) != 10 || losses[0].Photo != 8 || losses[1].Photo != 9 || losses[9].Photo != 5 {
		t.Errorf("%+v", losses)
	}
	if _, err := m.Loss(seq, 99); sequence.CodeOf(err) != sequence.NotFound {
		t.Errorf("a photo there is not: %v", err)
	}
}

func TestWordsAreSuggestedFromThoseUsedOfPhotosThatFeelAlike(t *testing.T) {
	photos := journey(20, 11)
	photos[3].Feeling, photos[3].Palette = []string{"cold"}, grey(30)
	photos[4].Feeling, photos[5].Feeling = []string{"cold", "loud"}, []string{"loud"}
	photos[4].Palette, photos[5].Palette = grey(90), grey(92)
	photos[6].Palette, photos[6].Feeling = grey(31), []string{"own"}
	got, err := New(photos).Suggest(7)
	if err != nil || len(got) != 2 || got[0].Word != "cold" || got[0].Used != 2 || got[0].Like[0] != 4 || got[1].Word != "loud" {
		t.Errorf("%+v, %v", got, err)
	}
}

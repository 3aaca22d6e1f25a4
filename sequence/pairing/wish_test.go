package pairing

import (
	"slices"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/place"
)

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

// A page that is free fixes the side, and what the two do to each other is judged
// from there.
func TestPartnersForAFreePageAreRankedByHowTheyFaceFromThere(t *testing.T) {
	photos := make([]sequence.Photo, 12)
	for i := range photos {
		photos[i] = sequence.Photo{Number: sequence.PhotoID(i + 1), Palette: grey(20 + 5*float64(i))}
		switch i {
		case 3:
			photos[i].Gaze = &sequence.Gaze{X: 0.5, Y: 0.5, Towards: sequence.TowardsLeft}
		case 7:
			photos[i].Gaze = &sequence.Gaze{X: 0.5, Y: 0.5, Towards: sequence.TowardsRight}
		}
	}
	m := New(photos)
	for side, want := range map[sequence.Side]sequence.PhotoID{sequence.Right: 4, sequence.Left: 8} {
		partners, _, err := m.Seek(Ask{Of: 1, Among: allOf(photos), Balance: Balance{"form": 1}, Side: side, Most: 12})
		if err != nil {
			t.Fatal(err)
		}
		for k, p := range partners {
			if p.Side != side || k == 0 && (p.Photo != want || p.Score < 0.8 || len(p.Warnings) != 0) {
				t.Errorf("%s, place %d: %+v", side, k+1, p)
			}
			if p.Photo != want && p.Score > 0 {
				t.Errorf("%s: %d looks out and scores %g", side, p.Photo, p.Score)
			}
		}
	}
	other, _, err := m.Seek(Ask{Of: 1, Among: []sequence.PhotoID{8}, Balance: Balance{"form": 1}, Side: sequence.Right, Most: 1})
	if err != nil || other[0].LeftWhy != "that page is free" || len(other[0].Warnings) == 0 {
		t.Errorf("%+v, %v", other, err)
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
	for _, c := range []struct {
		left, right sequence.PhotoID
		want        []string
	}{
		{1, 2, []string{"1 looks out of the spread to the left"}}, {2, 1, []string{}},
		{3, 2, []string{"3 looks out of the spread to the left", "3 has a face close to the gutter"}}, {2, 3, []string{}},
	} {
		if got, err := m.Warnings(c.left, c.right); err != nil || !slices.Equal(got, c.want) {
			t.Errorf("%d beside %d: %q, %v", c.left, c.right, got, err)
		}
	}
	if _, err := m.Warnings(1, 1); sequence.CodeOf(err) != sequence.Invalid {
		t.Errorf("a photo with itself: %v", err)
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

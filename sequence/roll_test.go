package sequence

import (
	"slices"
	"strings"
	"testing"
)

// rollOf makes photos of one roll from "number:frame" in the order of numbers.
func rollOf(roll string, frames ...string) []Photo {
	photos := make([]Photo, len(frames))
	for i, f := range frames {
		photos[i] = Photo{Number: PhotoID(i + 1), Roll: roll, Frame: f}
	}
	return photos
}

func framesAfter(t *testing.T, photos []Photo, c Change) []string {
	t.Helper()
	frames := make([]string, len(photos))
	for i, p := range photos {
		for _, said := range c.Says {
			if said.Photo != p.Number {
				continue
			}
			var err error
			if p, err = p.State(said); err != nil {
				t.Fatal(err)
			}
		}
		frames[i] = p.Frame
		photos[i] = p
	}
	return frames
}

func TestAReversedRollKeepsItsNumbersInTheOppositeOrder(t *testing.T) {
	for _, c := range []struct {
		name, was, want string
		says            int
	}{
		{"a whole roll", "1 2 3 4", "4 3 2 1", 4},
		{"the middle one stays", "1 2 3", "3 2 1", 2},
		{"by value and not by letters", "9 10 11", "11 10 9", 2},
		{"a roll with gaps", "2 5 30", "30 5 2", 2},
		{"in whatever order they came in", "3 1 2", "1 3 2", 2},
		{"half steps and the frames before the first", "00 0 0A 1 1A 2", "2 1A 1 0A 0 00", 6},
		{"two scans of one frame", "1 2 2 3", "3 2 2 1", 2},
		{"leading zeros", "01 02 10", "10 02 01", 2},
		{"words behind numbers", "1 leader", "leader 1", 2},
		{"a frame without a number is left alone", "1 - 3", "3 - 1", 2},
	} {
		frames := strings.Fields(strings.ReplaceAll(c.was, "-", "none"))
		for i, f := range frames {
			frames[i] = strings.TrimPrefix(f, "none")
		}
		photos := append(rollOf("R7", frames...), Photo{Number: 99, Roll: "R8", Frame: "1"}, Photo{Number: 100, Frame: "2"})
		change, err := ReverseRoll(photos, "R7", 12)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if change.Revision != 12 || change.Act == "" || len(change.Says) != c.says {
			t.Errorf("%s: %+v", c.name, change)
		}
		want := append(strings.Fields(c.want), "1", "2")
		got := framesAfter(t, photos, change)
		for i := range got {
			if got[i] == "" {
				got[i] = "-"
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", c.name, got, want)
		}
		again, err := ReverseRoll(photos, "R7", 13)
		if err != nil {
			t.Fatal(err)
		}
		if back := framesAfter(t, photos, again); !slices.Equal(back[:len(frames)], frames) {
			t.Errorf("%s: reversed twice it is %q", c.name, back)
		}
	}
}

func TestARollWithoutAnOrderIsNotReversed(t *testing.T) {
	for _, c := range []struct {
		photos []Photo
		roll   string
		code   Code
	}{
		{rollOf("R7", "1", "2"), "R8", NotFound},
		{rollOf("", "1", "2"), "", NotFound},
		{nil, "R7", NotFound},
		{rollOf("R7", "", ""), "R7", Invalid},
		{rollOf("R7", "5", "5"), "R7", Invalid},
		{rollOf("R7", "1"), "R7", Invalid},
	} {
		if change, err := ReverseRoll(c.photos, c.roll, 0); CodeOf(err) != c.code || len(change.Says) > 0 {
			t.Errorf("%+v: %+v, %v, want %q", c.photos, change, err, c.code)
		}
	}
}

func TestFramesAreOrderedAsTheyRunAlongAFilm(t *testing.T) {
	want := []string{"00", "0", "0A", "01", "1", "1a", "2", "2A", "3", "10", "36", "36A", "37", "leader"}
	got := slices.Clone(want)
	slices.Reverse(got)
	slices.SortFunc(got, CompareFrames)
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

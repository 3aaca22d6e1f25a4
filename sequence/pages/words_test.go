package pages

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// typewriter gives every letter half its size, so that lines can be reckoned by
// hand; it lacks the snowman.
type typewriter struct{}

func (typewriter) Width(text string, size Length) Length {
	return Length(len([]rune(text))) * size / 2
}

func (w typewriter) Break(text string, size, room Length, most int) (lines []string) {
	for _, word := range strings.Fields(text) {
		if n := len(lines); n > 0 && w.Width(lines[n-1]+" "+word, size) <= room {
			lines[n-1] += " " + word
			continue
		}
		lines = append(lines, word)
	}
	return lines[:min(most, len(lines))]
}

func (typewriter) Missing(text string) []rune {
	if strings.ContainsRune(text, '☃') {
		return []rune{'☃'}
	}
	return nil
}

func lies(t *testing.T, what string, got, want Length) {
	t.Helper()
	if math.Abs(float64(got-want)) > 1e-9 {
		t.Errorf("%s: %s, not %s", what, got, want)
	}
}

// Text of 3.5 mm on 4.9 with 2.45 between paragraphs: its first baseline lies
// 0.8 × 3.5 below the room's top.
func TestWordsAreSetFromTheTopOfTheirRoom(t *testing.T) {
	w := Writing{TextWriting, "one two three\n\nfour", Rect{10, 20, Size{14, 60}}} // eight letters to a line
	lines, over := w.Set(typewriter{}, true)
	var text []string
	for _, l := range lines {
		text = append(text, l.Text)
	}
	if diff := cmp.Diff([]string{"one two", "three", "four"}, text); diff != "" || over != 0 {
		t.Fatal(diff, over)
	}
	for i, want := range []Length{22.8, 27.7, 35.05} {
		lies(t, text[i], lines[i].Y, want)
		lies(t, text[i], lines[i].X, 10)
	}
}

func TestWordsAreAlignedAsTheirKindAsks(t *testing.T) {
	room := Rect{10, 100, Size{50, 20}}
	line := func(kind WritingKind, right bool) TextLine {
		lines, _ := Writing{kind, "12", room}.Set(typewriter{}, right)
		return lines[0]
	}
	lies(t, "a folio stands at the outer edge of a left page", line(FolioWriting, false).X, 10)
	lies(t, "and of a right one", line(FolioWriting, true).X, 60-2.8)
	lies(t, "at the foot", line(FolioWriting, true).Y, 120-0.2*2.8)
	lies(t, "a title in the middle", line(NameWriting, true).X, 35-4.25)
}

// What does not fit is set all the same, below its room, and counted.
func TestLinesBeyondTheirRoomAreCounted(t *testing.T) {
	w := Writing{TextWriting, "a\nb\nc", Rect{0, 0, Size{50, 9}}} // two lines need 0.8 × 3.5 + 4.9 + 0.2 × 3.5 = 8.4 mm
	if lines, over := w.Set(typewriter{}, true); len(lines) != 3 || over != 1 {
		t.Errorf("%d lines, %d over", len(lines), over)
	}
	if lines, over := (Writing{TextWriting, " \n\n ", w.Room}).Set(typewriter{}, true); lines != nil || over != 0 {
		t.Errorf("%v", lines)
	}
}

func TestAColophonTellsWhatTheFormatIs(t *testing.T) {
	p, f := FirstPlan, FirstFormat.Bound(SaddleStitch)
	p.Edition, f.Text.Name = 100, "Lagoon"
	want := "Edition of 100 copies.\n48 pages of 148 × 210 mm, saddle stitch.\nText: Lagoon, 150 g/m², silk.\nCover: 250 g/m², silk."
	if diff := cmp.Diff(want, p.Details(f, 48)); diff != "" {
		t.Error(diff)
	}
	p.Edition, f.Unit, f.Text, f.Cover = 1, Inches, Paper{}, Paper{}
	if diff := cmp.Diff("Edition of 1 copy.\n1 page of 5.827 × 8.268 in, saddle stitch.", p.Details(f, 1)); diff != "" {
		t.Error(diff)
	}
}

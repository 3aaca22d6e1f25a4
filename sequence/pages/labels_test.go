package pages

import (
	"math"
	"strings"
	"testing"
)

// The check of the first preset is the published sum: 3×63.5 + 2×2.5 + 2×7.2 =
// 209.9; 7×38.1 + 2×15.15 = 297.0 (table of sources). That every margin occurs
// twice is what a symmetrical sheet means; the 0.1 mm is what the published
// figures leave.
func TestEveryPresetOfLabelsSumsToItsSheet(t *testing.T) {
	for _, s := range LabelSheets {
		width := Length(s.Across)*s.Label.Width + Length(s.Across-1)*s.GapX + 2*s.Left
		height := Length(s.Down)*s.Label.Height + Length(s.Down-1)*s.GapY + 2*s.Top
		if math.Abs((width-s.Sheet.Width).Mm()) > 0.101 || math.Abs((height-s.Sheet.Height).Mm()) > 0.001 {
			t.Errorf("%s sums to %v × %v on a sheet of %v", s.Name, width, height, s.Sheet)
		}
		if err := s.Check(); err != nil {
			t.Errorf("%s: %v", s.Name, err)
		}
		if doubt := s.Doubt(); doubt != "" {
			t.Errorf("%s: %s", s.Name, doubt)
		}
		last := s.At(s.Count() - 1)
		if math.Abs((last.Right()-s.Filled().Right()).Mm()) > 1e-9 || math.Abs((last.Bottom()-s.Filled().Bottom()).Mm()) > 1e-9 {
			t.Errorf("%s: the last label ends at %v, %v and the block at %v", s.Name, last.Right(), last.Bottom(), s.Filled())
		}
	}
	if s := LabelSheets[0]; s.Count() != 21 || s.At(4) != (Rect{7.2 + 63.5 + 2.5, 15.15 + 38.1, Size{63.5, 38.1}}) {
		t.Errorf("the fifth of 21 labels lies at %v", s.At(4))
	}
}

func TestLabelsGoOnWhereASheetWasLeft(t *testing.T) {
	s := LabelSheets[0]
	all, err := s.Stick(25, 20)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range map[int]Stuck{0: {0, s.At(19)}, 1: {0, s.At(20)}, 2: {1, s.At(0)}, 22: {1, s.At(20)}, 23: {2, s.At(0)}} {
		if all[i] != want {
			t.Errorf("label %d lies at %v, want %v", i, all[i], want)
		}
	}
	for _, first := range []int{0, 22, -1} {
		if _, err := s.Stick(1, first); err == nil {
			t.Errorf("a sheet of 21 begins at label %d", first)
		}
	}
}

func TestMeasuresThatAreNoSheetAreRefusedInWords(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*LabelSheet)
		want   string
	}{
		"too wide":   {func(s *LabelSheet) { s.GapX = 10 }, "reach to 217.7 mm, and the sheet is 210 mm wide"},
		"too high":   {func(s *LabelSheet) { s.Down = 8 }, "reach to 319.95 mm"},
		"none":       {func(s *LabelSheet) { s.Across = 0 }, "0 × 7 labels"},
		"tiny":       {func(s *LabelSheet) { s.Label.Height = 4 }, "too small"},
		"no number":  {func(s *LabelSheet) { s.Left = Length(math.NaN()) }, "on no sheet"},
		"below zero": {func(s *LabelSheet) { s.Top = -1 }, "on no sheet"},
	} {
		s := LabelSheets[0]
		c.change(&s)
		if err := s.Check(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
	s := LabelSheets[0]
	s.Left = 4
	if !strings.Contains(s.Doubt(), "4 mm on the left and would be 10.5 mm on the right") {
		t.Errorf("the doubt is %q", s.Doubt())
	}
	if err := (Shift{X: 11}).Check(); err == nil {
		t.Error("a printer is off by 11 mm")
	}
}

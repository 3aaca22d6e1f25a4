package press

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"pairwall/sequence/pages"
)

// adrift is how far a measure may be off: 0.2 mm is what is promised.
const adrift = 0.2

// The edge of every label of every preset, on its test sheet and with the printer
// corrected, lies where its measures say.
func TestTheTestSheetLiesOnEveryLabelToTwoTenthsOfAMillimetre(t *testing.T) {
	const ppi = 300 // a pixel is 0.085 mm
	shift := pages.Shift{X: 0.4, Y: -0.4}
	for _, sheet := range pages.LabelSheets {
		t.Run(sheet.Name, func(t *testing.T) {
			_, file := written(t, func(d *Document) error { return d.LabelTest(sheet, shift) })
			accepted(t, file)
			keep(t, file)
			img := rendered(t, file, 1, ppi)
			for n := range sheet.Count() {
				at := sheet.At(n)
				at.X, at.Y = at.X+shift.X, at.Y+shift.Y
				middle := pages.Rect{X: at.X + at.Width/2 - 3, Y: at.Y + at.Height/2 - 3, Size: pages.Size{Width: 6, Height: 6}}
				cross := inkedIn(img, middle, ppi)
				near(t, fmt.Sprintf("cross of label %d", n+1), cross, middle)
				thin := inkedIn(img, pages.Rect{X: middle.X, Y: middle.Y, Size: pages.Size{Width: 6, Height: 2}}, ppi)
				if off := thin.X + thin.Width/2 - at.X - at.Width/2; math.Abs(off.Mm()) > adrift {
					t.Errorf("the middle of label %d is %v off", n+1, off)
				}
				for edge, part := range map[string]pages.Rect{
					"left":   {X: at.X - 0.8, Y: at.Y + at.Height*0.3, Size: pages.Size{Width: 1.6, Height: 1}},
					"bottom": {X: at.X + at.Width*0.3, Y: at.Bottom() - 0.8, Size: pages.Size{Width: 1, Height: 1.6}},
				} {
					if part.X < 0 || part.Y < 0 || part.Right() > sheet.Sheet.Width || part.Bottom() > sheet.Sheet.Height {
						continue // at the sheet's own edge there is nothing to see
					}
					line := inkedIn(img, part, ppi)
					got, want := line.X+line.Width/2, at.X
					if edge == "bottom" {
						got, want = line.Y+line.Height/2, at.Bottom()
					}
					// Where two labels touch, or lie 2.5 mm apart, only their own edge is in the window.
					if math.Abs((got - want).Mm()) > adrift {
						t.Errorf("the %s edge of label %d is at %v, want %v", edge, n+1, got, want)
					}
				}
			}
		})
	}
}

// What is printed on a label stands where the face and the measures say: an H
// begins 98 units of 1000 after its origin and is 714 high (tables hmtx and OS/2 of
// the file).
func TestAnAddressStandsOnItsLabelToTwoTenthsOfAMillimetre(t *testing.T) {
	const ppi = 300
	sheet, l := pages.LabelSheets[0], letters(t)
	label := Label{To: []string{"HHH", "HHHH", "HH"}}
	labels := make([]Label, 21)
	for i := range labels {
		labels[i] = label
	}
	_, file := written(t, func(d *Document) error { return d.Labels(sheet, 1, pages.Shift{}, labels) })
	img := rendered(t, file, 1, ppi)
	set, fits := l.address(label, sheet.Label)
	if !fits || set.size != labelMost(sheet.Label) {
		t.Fatalf("three short lines are set in %v", set.size)
	}
	block := l.height(3, set.size)
	for n := range sheet.Count() {
		at := sheet.At(n)
		got := inkedIn(img, at, ppi)
		top := at.Y + (at.Height-block)/2 + set.size*(0.8-0.714)
		left := at.X + labelEdge + set.size*0.098
		bottom := at.Y + (at.Height-block)/2 + set.size*(0.8+2*leading)
		for what, off := range map[string]pages.Length{"top": got.Y - top, "left": got.X - left, "bottom": got.Bottom() - bottom} {
			if math.Abs(off.Mm()) > adrift {
				t.Errorf("the %s of label %d is %v off", what, n+1, off)
			}
		}
	}
}

var hostile = []Label{
	{To: []string{"Ulla Ångström-Þórðardóttir", "Łódzka 5/7", "90-001 ŁÓDŹ", "POLAND"}},
	{To: []string{"Ελένη Παπαδοπούλου", "Οδός Κέρκυρας 12", "491 00 ΚΕΡΚΥΡΑ", "GREECE"}},
	{To: []string{"Ђорђе Живковић", "Његошева 3", "85330 КОТОР", "MONTENEGRO"}},
	{To: []string{"Անի Սարգսյան", "0010 ԵՐԵՎԱՆ", "ARMENIA"}},
	{To: []string{"ნინო ბერიძე", "0105 თბილისი", "GEORGIA"}},
	{To: []string{"〒650-0042", "神戸市中央区波止場町2-2", "葛󠄀城 花子 様", "JAPAN"}},
	{To: []string{"محمد علي", "12 Harbour Street", "ALEXANDRIA", "EGYPT"}},
	{To: []string{"נועה לוי", "HAIFA", "ISRAEL"}},
	{To: []string{"\u202egpj.exe\u202c Evil", "=HYPERLINK(\"http://x\")", "@SUM(A1)", "12345 TOWN", "ITALY"}},
	{To: []string{"Jose\u0301 Mun\u0303oz", "Calle 1", "28001 MADRID", "SPAIN"}},
	{To: []string{strings.Repeat("A very long name that no clerk would write ", 7), "Street 1", "1000 LJUBLJANA", "SLOVENIA"}},
	{To: []string{strings.Repeat("W", 300), "Street 1", "1000 LJUBLJANA", "SLOVENIA"}},
	{To: []string{strings.Repeat("w ", 2000), "Street 1"}},
	{To: []string{"Emoji 🚂 Street", "34121 TRIESTE"}},
	{To: []string{}},
}

func TestNoLabelPrintsAnAddressWrong(t *testing.T) {
	const ppi = 150
	l, sheet := letters(t), pages.LabelSheets[0]
	from := []string{"Vera Immaginaria", "Molo 1", "34121 TRIESTE", "ITALY"}
	for i := range hostile {
		hostile[i].From, hostile[i].Foot = from, fmt.Sprintf("Order %d · 7/100", i+1)
	}
	for i, want := range map[int]string{
		6: "from right to left (م (U+0645), ح (U+062D)", 7: "from right to left", 11: "does not fit a label of 63.5 mm × 38.1 mm", 12: "does not fit a label of 63.5 mm × 38.1 mm",
		13: "The typeface has no 🚂 (U+1F682)"} {
		if got := strings.Join(l.Doubts(hostile[i], sheet.Label), " "); !strings.Contains(got, want) {
			t.Errorf("of label %d is said %q, want %q", i+1, got, want)
		}
	}
	for _, i := range []int{0, 1, 2, 3, 4, 5, 8, 9, 10, 14} {
		if doubts := l.Doubts(hostile[i], sheet.Label); len(doubts) > 0 {
			t.Errorf("of label %d is said %q", i+1, doubts)
		}
	}
	_, file := written(t, func(d *Document) error { return d.Labels(sheet, 5, pages.Shift{}, hostile) })
	accepted(t, file)
	keep(t, file)
	text := strings.Join(strings.Fields(judge(t, "pdftotext", "-raw", file, "-")), " ")
	for _, want := range []string{"Łódzka 5/7", "ΚΕΡΚΥΡΑ", "Ђорђе", "Սարգսյան", "ბერიძე", "神戸市中央区波止場町", "葛城 花子 様", "HAIFA", "José Muñoz", "gpj.exe Evil", "Order 13"} {
		if !strings.Contains(text, want) {
			t.Errorf("the labels lack %q", want)
		}
	}
	if n := strings.Count(text, "that no clerk would write"); n != 7 {
		t.Errorf("of 7 parts of a long name %d were printed", n)
	}
	for _, never := range []string{"محمد", "נועה", "w w w w w w w w"} {
		if strings.Contains(text, never) {
			t.Errorf("%q was printed, though it cannot be right", never)
		}
	}
	img := rendered(t, file, 1, ppi)
	for n := range sheet.Count() {
		ink := inkedIn(img, sheet.At(n), ppi)
		if n < 4 || n >= 4+len(hostile) {
			if ink.Width > 0 {
				t.Errorf("label %d is printed on, though it is not to be", n+1)
			}
			continue
		}
		// A J reaches to the left of where it begins.
		if room := sheet.At(n).Inset(labelEdge - 0.6); ink.X < room.X || ink.Right() > room.Right() || ink.Y < room.Y || ink.Bottom() > room.Bottom() {
			t.Errorf("label %d is printed on at %v, beyond %v", n+1, ink, room)
		}
	}
}

func TestASingleLabelHasTheSenderAboveTheAddressee(t *testing.T) {
	sheet := pages.LabelSheets[8]
	_, file := written(t, func(d *Document) error { return d.Labels(sheet, 1, pages.Shift{X: 1, Y: 2}, hostile[:3]) })
	accepted(t, file)
	if info := judge(t, "pdfinfo", file); !strings.Contains(info, "Pages:           3") || !strings.Contains(info, "283.465 x 425.197 pts") {
		t.Errorf("three labels of 100 × 150 mm are\n%s", info)
	}
	keep(t, file)
}

// keep puts a file where PAIRWALL_SHOTS says, to be looked at.
func keep(t *testing.T, file string) {
	if dir := os.Getenv("PAIRWALL_SHOTS"); dir != "" {
		data, err := os.ReadFile(file)
		if err == nil {
			err = os.WriteFile(filepath.Join(dir, strings.ReplaceAll(t.Name(), "/", "-")+".pdf"), data, 0o600)
		}
		if err != nil {
			t.Error(err)
		}
	}
}

func FuzzAddressesAreSetWholeOrNotAtAll(f *testing.F) {
	for _, label := range hostile {
		f.Add(strings.Join(label.To, "\n"))
	}
	l := letters(f)
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 2000 || !utf8.ValidString(text) {
			return
		}
		label := Label{To: strings.Split(text, "\n")}
		size := pages.LabelSheets[0].Label
		set, fits := l.address(label, size)
		if !fits {
			return
		}
		room := l.addressRoom(label, pages.Rect{Size: size})
		var got strings.Builder
		for _, line := range set.lines {
			if l.Width(line, set.size) > room.Width+1e-6 && utf8.RuneCountInString(line) > 1 {
				t.Errorf("%q runs over its room", line)
			}
			got.WriteString(strings.ReplaceAll(line, " ", ""))
		}
		var want strings.Builder
		for _, line := range label.To {
			if l.Unset(line) == "" {
				want.WriteString(strings.ReplaceAll(Tidied(line), " ", ""))
			}
		}
		if got.String() != want.String() {
			t.Errorf("%q became %q", want.String(), got.String())
		}
	})
}

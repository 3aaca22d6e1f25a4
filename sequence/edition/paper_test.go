package edition

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

func rowsOf(t *testing.T, name string) []map[string]string {
	t.Helper()
	file, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	all, err := csv.NewReader(file).ReadAll()
	if err != nil || len(all) < 2 {
		t.Fatal(len(all), err)
	}
	var rows []map[string]string
	for _, line := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = line[i]
		}
		rows = append(rows, row)
	}
	return rows
}

func figure(t *testing.T, text string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Computed from ISO 216 sizes and ISO 536 grammage, independently of this
// package (testdata/README.md).
func TestALeafWeighsWhatTheTableSays(t *testing.T) {
	rows := rowsOf(t, "leaf_mass.csv")
	for _, r := range rows {
		size := pages.Size{Width: pages.Length(figure(t, r["w_mm"])), Height: pages.Length(figure(t, r["h_mm"]))}
		got, want := SheetMass(size, Grammage(figure(t, r["gsm"]))).Grams(), figure(t, r["grams_per_leaf"])
		if math.Abs(got-want) > 0.00051 { // half a milligram, and the table's last decimal
			t.Errorf("%s at %s g/m²: %g g, want %g", r["size"], r["gsm"], got, want)
		}
	}
	if len(rows) < 50 {
		t.Errorf("the table has %d rows", len(rows))
	}
}

func TestUSBasisWeightsBecomeGrammage(t *testing.T) {
	for _, r := range rowsOf(t, "us_basis_weight_gsm.csv") {
		grade, _, _ := strings.Cut(r["grade"], " ")
		grade, _, _ = strings.Cut(grade, "/")
		got, err := BasisWeight(Grade(grade), figure(t, r["lb"]))
		if want := figure(t, r["gsm(computed 453.59237/(500*area))"]); err != nil || math.Abs(float64(got)-want) > 0.011 {
			t.Errorf("%s %s lb: %.3f, want %.2f, %v", r["grade"], r["lb"], got, want, err)
		}
	}
	// Published in paper merchants' tables, which use 1406.5 for the text grade and
	// the like: to 0.02.
	for _, c := range []struct {
		grade  Grade
		pounds float64
		want   float64
	}{{TextGrade, 90, 133.218}, {CoverGrade, 100, 270.42}} {
		if got, err := BasisWeight(c.grade, c.pounds); err != nil || math.Abs(float64(got)-c.want) > 0.02 {
			t.Errorf("%s %g: %.3f, want %g, %v", c.grade, c.pounds, got, c.want, err)
		}
	}
	if _, err := BasisWeight("tissue", 10); sequence.CodeOf(err) != sequence.Invalid {
		t.Error(err)
	}
}

func TestTheSpineIsWhatPrintersPublish(t *testing.T) {
	// Patterson Printing, paper diagrams: 128 pages at 0.0039 in.
	if got := Spine(128, 0.0039*pages.Inch).Inches(); math.Abs(got-0.2496) > 1e-9 {
		t.Errorf("caliper rule: %g in", got)
	}
	// Computed: 48/2 × 150 × 0.9 / 1000.
	if got := Spine(48, Caliper(150, 0.9)).Mm(); math.Abs(got-3.24) > 1e-9 {
		t.Errorf("bulk rule: %g mm", got)
	}
	if got := Spine(47, 1); got != 24 {
		t.Errorf("an odd page has its own leaf: %v", got)
	}
	if got := Caliper(150, SupposedBulk); got != pages.SupposedCaliper {
		t.Errorf("%v is not what pages supposes", got)
	}
}

// Computed by hand from area × grammage: 24 leaves of A5 at 150 g/m² and a cover
// of 296 × 210 mm at 300 g/m²; with a spine of 3.24 mm around it when glued.
func TestACopyIsTheSumOfItsParts(t *testing.T) {
	a5 := pages.Size{Width: 148, Height: 210}
	format := pages.Format{Trim: a5, Binding: pages.SaddleStitch, Text: pages.Paper{Grammage: 150, Bulk: 0.9}, Cover: pages.Paper{Grammage: 300, Bulk: 0.9}}
	zine := Build{Pages: 48, Format: format}
	stitched := zine.Copy()
	if got, want := stitched.Mass, Grams(24*4.662)+Grams(0.296*0.210*300); got != want || stitched.Mass != 130_536 {
		t.Errorf("stitched %v, want %v", got, want)
	}
	if got := stitched.Thickness.Mm(); math.Abs(got-(3.24+2*0.27)) > 1e-9 {
		t.Errorf("thickness %v", got)
	}
	if stitched.Least != 124_009 || stitched.Most != 137_063 {
		t.Errorf("tolerance %v to %v", stitched.Least, stitched.Most)
	}
	zine.Format.Binding = pages.PerfectBound
	if got := zine.Copy().Mass; got != stitched.Mass+204 { // 3.24 × 210 mm at 300 g/m²
		t.Errorf("glued %d mg", got)
	}
	zine.Weighed = 133 * Gram
	if weighed := zine.Copy(); weighed.Mass != 133*Gram || weighed.Most != 133*Gram || weighed.Computed != stitched.Mass+204 {
		t.Errorf("weighed: %+v", weighed)
	}
	// Grey board of 2 mm has about 1250 g/m² (from memory).
	format.Binding, format.Cover = pages.HardCase, pages.Paper{}
	cased := Build{Pages: 48, Format: format, Boards: pages.Paper{Grammage: 1250, Caliper: 2}}.Copy()
	if cased.Size.Width != 151 || cased.Size.Height != 216 || cased.Thickness <= 7.2 || cased.Thickness > 7.3 || len(cased.Doubts) != 1 {
		t.Errorf("a hard case: %+v", cased)
	}
	format.Text.Bulk = 0
	if told := (Build{Pages: 8, Format: format}).Copy(); len(told.Doubts) != 2 {
		t.Errorf("what was supposed is not told: %q", told.Doubts)
	}
}

func TestAMassIsReadAsItIsWritten(t *testing.T) {
	for text, want := range map[string]Mass{"218": 218 * Gram, "218,5 g": 218_500, "1.2 kg": 1_200 * Gram, " 4 OZ ": 113_398, "2lb": 907_185, "0": 0, "350mg": 350} {
		if got, err := ParseMass(text); err != nil || got != want {
			t.Errorf("%q: %d, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "g", "-1 g", "NaN", "1e9 kg", "two", "1,2,3"} {
		if got, err := ParseMass(text); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%q: %d, %v", text, got, err)
		}
	}
	for m, want := range map[Mass]string{130_536: "130.5 g", 4990: "5 g", 2 * Kilogram: "2000 g", 350: "0.35 g"} {
		if m.String() != want {
			t.Errorf("%d: %s", m, m)
		}
	}
}

func TestWhatCannotBeBuiltIsRefused(t *testing.T) {
	good := Build{Pages: 48, Format: pages.FirstFormat}
	if err := good.Check(); err != nil {
		t.Error(err)
	}
	for name, spoil := range map[string]func(*Build){
		"pages":    func(b *Build) { b.Pages = -1 },
		"trim":     func(b *Build) { b.Format.Trim.Width = pages.Length(math.NaN()) },
		"weighed":  func(b *Build) { b.Weighed = -1 },
		"grammage": func(b *Build) { b.Format.Text.Grammage = -5 },
		"caliper":  func(b *Build) { b.Boards.Caliper = 50 },
	} {
		bad := good
		spoil(&bad)
		if err := bad.Check(); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
}

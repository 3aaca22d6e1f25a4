package proof

import (
	"fmt"
	"math"
	"strings"

	"pairwall/sequence/colour"
)

// Course is how a zone went from one round to the next.
type Course string

// The courses.
const (
	Better  Course = "better"
	Worse   Course = "worse"
	AsWas   Course = "as before"
	Unknown Course = "cannot tell"
)

// ZoneChange is what became of one zone from one round to the next.
type ZoneChange struct {
	Zone   string        `json:"zone"`
	Before float64       `json:"before"` // ΔE00 from the page as it should be
	After  float64       `json:"after"`
	Moved  colour.LabD50 `json:"moved"` // shift after less shift before
	Course Course        `json:"course"`
}

// Progress is two rounds of one page beside each other.
type Progress struct {
	Zones []ZoneChange `json:"zones"`
	Map   []Cell       `json:"map"`   // shift after less before, by the map of the later; DeltaE is that after less that before, below 0 where better
	Where string       `json:"where"` // the part that changed most; "" where none stands out
}

// Compare compares two findings of the same page, the earlier round first. That
// something became better or worse is said where the difference is more than one
// ΔE00 and than what is unsure of both.
func Compare(before, after Measurement) Progress {
	c := Progress{Zones: []ZoneChange{}, Map: []Cell{}}
	for _, z := range after.Zones {
		was := before.Zone(z.Name)
		change := ZoneChange{Zone: z.Name, Before: was.DeltaE, After: z.DeltaE, Moved: z.Shift.Minus(was.Shift), Course: Unknown}
		if was.Share > 0 && z.Share > 0 && before.Base != None && after.Base != None {
			unsure := sureness * math.Hypot(was.Unsure.most(), z.Unsure.most())
			switch gain := was.DeltaE - z.DeltaE; {
			case gain > max(leastShift, unsure):
				change.Course = Better
			case -gain > max(leastShift, unsure):
				change.Course = Worse
			default:
				change.Course = AsWas
			}
		}
		c.Zones = append(c.Zones, change)
	}
	if before.Map.Columns == after.Map.Columns && before.Map.Rows == after.Map.Rows {
		c.compareMaps(before.Map, after.Map)
	}
	return c
}

func (u Unsure) most() float64 { return max(u.L, u.AB) }

func (c *Progress) compareMaps(before, after Map) {
	var gain [9]float64
	var counts [9]float64
	for i, cell := range after.Cells {
		was := before.Cells[i]
		n := min(was.Patches, cell.Patches)
		out := Cell{Patches: n}
		if n > 0 {
			out.Shift, out.DeltaE = cell.Shift.Minus(was.Shift), cell.DeltaE-was.DeltaE
			part := i/after.Columns*3/after.Rows*3 + i%after.Columns*3/after.Columns
			gain[part], counts[part] = gain[part]+out.DeltaE, counts[part]+1
		}
		c.Map = append(c.Map, out)
	}
	most, at := 1.0, -1
	for i, n := range counts {
		if n >= 2 && math.Abs(gain[i]/n) > most {
			most, at = math.Abs(gain[i]/n), i
		}
	}
	if at >= 0 {
		word := map[bool]string{true: "worse", false: "better"}[gain[at] > 0]
		c.Where = fmt.Sprintf("Most of it is in the %s, which is %.1f ΔE00 %s.", parts[at], most, word)
	}
}

// Words says a comparison in one or more sentences.
func (c Progress) Words() []string {
	by := map[Course][]string{}
	for _, z := range c.Zones {
		if z.Zone == Whole || z.Before == 0 && z.After == 0 {
			continue
		}
		by[z.Course] = append(by[z.Course], fmt.Sprintf("%s (ΔE00 %.1f, was %.1f)", z.Zone, z.After, z.Before))
	}
	words := []string{}
	for _, course := range []Course{Better, Worse, AsWas, Unknown} {
		if list := by[course]; len(list) > 0 {
			words = append(words, sentence(string(course)+": "+strings.Join(list, ", ")))
		}
	}
	if c.Where != "" {
		words = append(words, c.Where)
	}
	return words
}

// Beside is a finding relative to another page photographed in the same light by
// the same camera with the same settings: what the two have in common, light and
// camera among it, falls out. The figures say how this page differs from that
// one, not how it differs from what was wanted.
func (f Measurement) Beside(other Measurement) []Tones {
	zones := make([]Tones, 0, len(f.Zones))
	for _, z := range f.Zones {
		o := other.Zone(z.Name)
		r := Tones{Name: z.Name, Light: CannotTell, Colour: CannotTell}
		if z.Share > 0 && o.Share > 0 {
			r.Share, r.Wanted, r.Shift = z.Share, z.Wanted, z.Shift.Minus(o.Shift)
			r.DeltaE = z.Wanted.DeltaE00(z.Wanted.Plus(r.Shift))
			r.Unsure = Unsure{math.Hypot(z.Unsure.L, o.Unsure.L), math.Hypot(z.Unsure.AB, o.Unsure.AB)}
			r.judge()
		}
		zones = append(zones, r)
	}
	return zones
}

package proof

import (
	"fmt"
	"math"
	"strings"

	"pairwall/sequence/colour"
)

// Words is a finding as it is said.
type Words struct {
	Says    []string `json:"says"`    // what was found, the most important first
	Printer []string `json:"printer"` // to be said to the printer; empty when there is nothing to ask for
	Instead []string `json:"instead"` // what it may be instead
	Trust   string   `json:"trust"`   // how far the figures can be trusted
}

// lean is a direction in the plane of a* and b*: what it is called, and what a
// printer does about it. The angles lie between those of solid inks on coated
// paper: yellow 94°, green 155°, cyan 233°, blue 290°, magenta 358°, red 34°
// (from a* and b* of ISO 12647-2:2013, from memory).
type lean struct {
	to     float64 // degrees
	word   string
	remedy string
}

var leans = []lean{
	{20, "pink", "less magenta"},
	{65, "red", "less magenta and yellow"},
	{118, "yellow", "less yellow"},
	{195, "green", "more magenta, or less cyan and yellow"},
	{258, "cyan", "less cyan"},
	{305, "blue", "less cyan and magenta"},
	{340, "violet", "less magenta, and a little less cyan"},
	{360, "pink", "less magenta"},
}

func leanOf(s colour.LabD50) lean {
	h := math.Mod(math.Atan2(s.B, s.A)*180/math.Pi+360, 360)
	for _, l := range leans {
		if h < l.to {
			return l
		}
	}
	return leans[0]
}

// Zone returns the zone of a name; its figures are nothing where it was not
// measured.
func (f Measurement) Zone(name string) Tones {
	for _, z := range f.Zones {
		if z.Name == name {
			return z
		}
	}
	return Tones{Name: name, Light: CannotTell, Colour: CannotTell}
}

// signed writes a figure with its sign and one decimal; what rounds to nothing
// has no sign.
func signed(v float64) string {
	if math.Abs(v) < 0.05 {
		return "0.0"
	}
	return strings.Replace(fmt.Sprintf("%+.1f", v), "-", "\u2212", 1)
}

// Says is one zone in words: "midtones lean pink: +3.1 a*, +0.6 b*; 4.0 L*
// darker".
func (z Tones) Says() string {
	var parts []string
	if z.Colour == Shifted {
		parts = append(parts, fmt.Sprintf("lean %s: %s a*, %s b*", leanOf(z.Shift).word, signed(z.Shift.A), signed(z.Shift.B)))
	}
	if z.Light == Shifted {
		parts = append(parts, fmt.Sprintf("%.1f L* %s", math.Abs(z.Shift.L), map[bool]string{true: "lighter", false: "darker"}[z.Shift.L > 0]))
	}
	switch {
	case len(parts) > 0:
		return z.Name + " " + strings.Join(parts, ", ")
	case z.Share == 0:
		return "no " + z.Name + " to measure"
	case z.Light == Clean && z.Colour == Clean:
		return z.Name + " clean"
	case z.Colour == Clean:
		return z.Name + " without a cast; whether they are lighter or darker cannot be told"
	case z.Light == Clean:
		return z.Name + " as light as wanted; whether they lean cannot be told"
	}
	return "of " + z.Name + " nothing can be told"
}

// Words says a finding.
func (f Measurement) Words() Words {
	w := Words{Says: []string{}, Printer: []string{}, Instead: []string{}, Trust: f.trust()}
	if f.Base == None {
		w.Says = append(w.Says, "No cast can be told from this photograph: nothing in it tells the colour of the light.")
		w.Instead = append(w.Instead, "Photograph it again with bare paper of the page in view and not overexposed, or with a grey card or a 24-patch target beside it; or compare it with another page photographed the same way.")
		return w
	}
	shifted := false
	for _, name := range []string{Midtones, Lights, Shadows, Neutrals} {
		z := f.Zone(name)
		if z.Share == 0 {
			continue
		}
		w.Says = append(w.Says, sentence(z.Says()))
		if (z.Colour == Shifted || z.Light == Shifted) && name != Neutrals {
			shifted = true
			w.Printer = append(w.Printer, z.ask())
		}
	}
	if f.Paper != nil {
		w.Says = append(w.Says, f.ofPaper(shifted))
	}
	if where := f.where(); where != "" {
		w.Says = append(w.Says, where)
	}
	if shifted {
		w.Printer = append(w.Printer, "The figures were taken off a photograph, in Lab for D50 beside the bare paper; please measure the sheet before you change anything.")
		w.Instead = f.instead()
	}
	if f.Clipped > 0.03 {
		w.Instead = append(w.Instead, fmt.Sprintf("%.0f %% of the page is pure white or black in the photograph and was left out.", f.Clipped*100))
	}
	return w
}

func sentence(s string) string {
	return strings.ToUpper(s[:1]) + s[1:] + "."
}

// ask is what to say to the printer of one zone.
func (z Tones) ask() string {
	var parts []string
	if z.Colour == Shifted {
		parts = append(parts, fmt.Sprintf("lean %s by %s a*, %s b* (%s)", leanOf(z.Shift).word, signed(z.Shift.A), signed(z.Shift.B), leanOf(z.Shift).remedy))
	}
	if z.Light == Shifted {
		parts = append(parts, fmt.Sprintf("are %.1f L* too %s", math.Abs(z.Shift.L), map[bool]string{true: "light", false: "dark"}[z.Shift.L > 0]))
	}
	return fmt.Sprintf("Against the file the %s %s; ΔE00 %.1f.", z.Name, strings.Join(parts, " and "), z.DeltaE)
}

func (f Measurement) ofPaper(shifted bool) string {
	switch {
	case f.Paper.Colour == Shifted:
		return fmt.Sprintf("The bare paper leans %s by itself: %s a*, %s b*; what is said of the inks is beside that paper.", leanOf(f.Paper.Shift).word, signed(f.Paper.Shift.A), signed(f.Paper.Shift.B))
	case f.Paper.Colour == Clean && shifted:
		return "Paper white is clean, so it is the inks and not the paper."
	case f.Paper.Colour == Clean:
		return "Paper white is clean."
	}
	return "Whether the paper itself leans cannot be told."
}

// where names the part of the page that differs most from the rest of it.
func (f Measurement) where() string {
	const apart = 2.0 // ΔE00 from the page's mean
	whole := f.Zone(Whole)
	var sums [9]colour.LabD50
	var counts [9]float64
	for i, c := range f.Map.Cells {
		if c.Patches == 0 {
			continue
		}
		part := i/f.Map.Columns*3/f.Map.Rows*3 + i%f.Map.Columns*3/f.Map.Columns
		sums[part], counts[part] = sums[part].Plus(c.Shift), counts[part]+1
	}
	worst, part := apart, -1
	for i, n := range counts {
		if n < 2 {
			continue
		}
		mean := colour.LabD50{L: sums[i].L / n, A: sums[i].A / n, B: sums[i].B / n}
		if d := whole.Wanted.Plus(whole.Shift).DeltaE00(whole.Wanted.Plus(mean)); d > worst {
			worst, part = d, i
		}
	}
	if part < 0 {
		return ""
	}
	n := counts[part]
	z := Tones{Shift: colour.LabD50{L: sums[part].L/n - whole.Shift.L, A: sums[part].A/n - whole.Shift.A, B: sums[part].B/n - whole.Shift.B}}
	how := ""
	if z.Shift.Chroma() > 1 {
		how = " and leans " + leanOf(z.Shift).word
	}
	return fmt.Sprintf("The %s is %s L* from the rest of the page%s: look there, and see whether the light fell evenly.", parts[part], signed(z.Shift.L), how)
}

var parts = [9]string{"top left", "top", "top right", "left side", "middle", "right side", "bottom left", "bottom", "bottom right"}

func (f Measurement) instead() (list []string) {
	list = append(list, "The light you look under: compare under D50 light, and away from coloured walls.")
	switch f.Base {
	case ByPaper:
		list = append(list, "The paper: its own tint cannot be told from the colour of the light here. Lay it beside a paper you know.",
			"The camera: with bare paper alone to go by, how it renders tones and colours is in these figures. A grey card or a 24-patch target beside the page takes that out.")
	case ByCard:
		list = append(list, "The camera: a grey card tells the colour of the light, not how the camera renders tones.")
	}
	return append(list, "Drying: a wet proof changes for some hours; look at it again the next day.")
}

func (f Measurement) trust() string {
	const end = " A photograph is no spectrophotometer."
	switch f.Base {
	case ByTarget:
		return fmt.Sprintf("Measured by the 24-patch target in the photograph, whose patches came out within ΔE00 %.1f on average.", f.Rest) + end
	case ByCard:
		return "Measured by the grey card and the bare paper of the page: good for casts, less so for how light or dark." + end
	case ByPaper:
		return "Measured by the bare paper of the page alone: a cast beside the paper can be told, the paper's own tint cannot, and how light or dark only as far as the camera is true." + end
	}
	return "Nothing in the photograph tells the light: only differences to a page photographed the same way mean anything." + end
}

package evidence

import (
	"slices"

	"pairwall/sequence/colour"
)

// A Trait is something that can be said of one photo and of no other among some.
type Trait struct {
	Of    Kind
	Words string
}

// A colour is a photo's own when none of the others has one within ownColour of it;
// it must be strong and fill some of the picture. Our own.
const (
	ownColour  = 12   // ΔE00
	ownChroma  = 20   // C*ab
	ownShare   = 0.05 // of the picture
	otherShare = 0.02
	oneStreet  = 50.0 // m: one place, however near all lies in a title
)

// Unique lists of what photo i is the only one among others.
func (t *Title) Unique(i int, others []int) []Trait {
	var traits []Trait
	none := func(is func(j int) bool) bool { return !slices.ContainsFunc(others, is) }
	say := func(of Kind, words string) { traits = append(traits, Trait{of, words}) }
	s := t.subjects[i]
	if s.placed() && t.aloneThere(i, others) {
		where := "of its place"
		if s.town != "" && t.setting.rareTown >= telling {
			where = "in " + s.town
		}
		say(Place, "the only one "+where)
	}
	if s.dated() && none(func(j int) bool { return t.subjects[j].dated() && t.subjects[j].day == s.day }) {
		say(Time, "the only one of "+s.taken.From.Format("2 January 2006"))
	}
	if name := t.ownColour(i, others); name != "" {
		say(Colour, "the only one with "+name)
	}
	if s.toned {
		mono := map[bool]string{true: "the only one in black and white", false: "the only one in colour"}
		if none(func(j int) bool { return t.subjects[j].toned && t.subjects[j].mono == s.mono }) {
			say(Colour, mono[s.mono])
		}
	}
	if s.ratio > 0 {
		shape := shapeName(s.ratio)
		if none(func(j int) bool { return t.subjects[j].ratio > 0 && shapeName(t.subjects[j].ratio) == shape }) {
			say(Form, "the only "+shape+" one")
		}
	}
	for _, w := range s.words {
		if none(func(j int) bool { return slices.Contains(t.subjects[j].words, w) }) {
			say(Feeling, "the only one that is “"+w+"”")
		}
	}
	return traits
}

// aloneThere reports whether no other photo is of the same place: nearer than what
// is near in this title, or of the same town where towns tell photos apart.
func (t *Title) aloneThere(i int, others []int) bool {
	near := max(t.scales[distanceRow].near, oneStreet)
	tells := t.setting.rareTown >= telling
	return !slices.ContainsFunc(others, func(j int) bool {
		other := t.subjects[j]
		return other.placed() && (tells && t.subjects[i].town != "" && other.town == t.subjects[i].town ||
			readDistance(t, min(i, j), max(i, j)).measure <= near)
	})
}

// ownColour names the strongest colour that no other photo has, "" when there is
// none.
func (t *Title) ownColour(i int, others []int) string {
	name, strongest := "", 0.0
	for _, own := range t.subjects[i].palette {
		force := own.Lab.Chroma() * own.Weight
		if own.Lab.Chroma() < ownChroma || own.Weight < ownShare || force <= strongest || !t.subjects[i].usable {
			continue
		}
		shared := slices.ContainsFunc(others, func(j int) bool {
			return slices.ContainsFunc(t.subjects[j].palette, func(s colour.Swatch) bool {
				return s.Weight >= otherShare && colour.DeltaE00(s.Lab, own.Lab) <= ownColour
			})
		})
		if !shared {
			name, strongest = own.Lab.Name(), force
		}
	}
	return name
}

package pairing

import (
	"path/filepath"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/pairing/evidence"
)

// Pairs picked by eye from picture sheets of the ten best of each relation: these
// one would hang for the reason given, those not.
func TestRelationsOnRealPhotographsAreThoseTheEyeSees(t *testing.T) {
	photos := romanDay(t)
	number := make(map[string]sequence.PhotoID)
	for _, p := range photos {
		number[strings.TrimSuffix(strings.TrimPrefix(p.Name, "BDH_10_1I_"), ".jpg")] = p.Number
	}
	for _, name := range []string{"blue-periwinkle", "canyon-wren", "casa-mila", "high-trestle-trail", "lake-sherburne", "roman-colosseum", "tea-gardens"} {
		p := sequence.Photo{Number: sequence.PhotoID(len(photos) + 1), Name: name + ".jpg"}
		p.Palette, p.Tone = measured(t, filepath.Join(folderOfPhotos(t), "photos-cc0", p.Name))
		photos = append(photos, p)
		number[name] = p.Number
	}
	m := New(photos)
	for _, c := range []struct {
		of          Kind
		one, other  string
		least, most float64
		words       string
	}{
		{evidence.Accent, "blue-periwinkle", "0174", 0.4, 1, "a touch of steel blue in both"},   // forget-me-nots, the sky over the steps
		{evidence.Accent, "0384", "0617", 0, 0.31, ""},                                          // two skies are no accent
		{evidence.Opposites, "casa-mila", "roman-colosseum", 0.25, 1, "against sea blue"},       // a glowing court, a teal sky
		{evidence.Opposites, "0181", "0732", 0.4, 1, "against"},                                 // an ochre street, a blue evening
		{evidence.World, "0180", "0196", 0.5, 1, "both in tan"},                                 // two ochre streets
		{evidence.World, "canyon-wren", "0676", 0.5, 1, "answers"},                              // bird and marble, grey on pale grey
		{evidence.World, "casa-mila", "lake-sherburne", 0, 0.2, "no colour in common"},          // fire and ice
		{evidence.Contrast, "casa-mila", "lake-sherburne", 0.8, 1, "warm against cool"},         // by feeling as well
		{evidence.Contrast, "high-trestle-trail", "canyon-wren", 0.8, 1, "heavy against light"}, // a night bridge, a pale sky
		{evidence.Mood, "0180", "0196", 0.6, 1, "both warm"},                                    // streets in the same sun
		{evidence.Tone, "high-trestle-trail", "canyon-wren", 0, 0.05, "other tones"},            // darkest, lightest
	} {
		e := evidenceOf(t, pairOf(t, m, number[c.one], number[c.other], Balance{string(c.of): 1}), c.of)
		if e.Score < c.least || e.Score > c.most || !strings.Contains(e.Words, c.words) {
			t.Errorf("%s of %s and %s: %.3f %q, want %g to %g and %q", c.of, c.one, c.other, e.Score, e.Words, c.least, c.most, c.words)
		}
	}
}

package colour

import (
	"math"
	"sync"
)

// WarmCool is the warm–cool index of Ou, Luo, Woodcock and Wright, "A study of
// colour emotion and colour preference, part I", Color Res. Appl. 29(3):232–240,
// 2004: −0.5 + 0.02·C*^1.07·cos(h − 50°). Positive is warm (sRGB red 2.35),
// negative cool (sRGB cyan −1.60); a grey is −0.5. The paper calls it colour heat.
func WarmCool(c Lab) float64 {
	return -0.5 + 0.02*math.Pow(c.Chroma(), 1.07)*math.Cos((c.Hue()-50)*degree)
}

// Activity is the paper's second factor, passive (negative) to active, cited
// from memory: −2.1 + 0.06·√((L*−50)² + (a*−3)² + ((b*−17)/1.4)²).
func Activity(c Lab) float64 {
	b := (c.B - 17) / 1.4
	return -2.1 + 0.06*math.Sqrt((c.L-50)*(c.L-50)+(c.A-3)*(c.A-3)+b*b)
}

// Heaviness is the paper's third factor, light (negative) to heavy, cited from
// memory: −1.8 + 0.04·(100−L*) + 0.45·cos(h − 100°). A grey has no hue; there the
// last term is left out.
func Heaviness(c Lab) float64 {
	heavy := -1.8 + 0.04*(100-c.L)
	if c.Chroma() > 0 {
		heavy += 0.45 * math.Cos((c.Hue()-100)*degree)
	}
	return heavy
}

// Arousal is how far a colour wakes, by Valdez and Mehrabian, "Effects of color on
// emotions", J. Exp. Psych. General 123(4), 1994: −.31·B + .60·S, where B and S
// are brightness and saturation in standard deviations from their mean.
func Arousal(brightness, saturation float64) float64 {
	return -0.31*brightness + 0.60*saturation
}

// Mood is what colours feel like, on three scales of which 0 is the mean of all
// colours of a screen and 1 their standard deviation: so that they can be
// compared and added.
type Mood struct {
	Warm   float64 // cool below, warm above
	Lively float64 // calm below, lively above
	Heavy  float64 // light below, heavy above
}

// Mood is that of the palette's colours by their weights, as the feeling of two
// colours together is the mean of both (Ou et al., part II, Color Res. Appl.
// 29(4), 2004). Lively is the mean of Activity and of Arousal, each on the scale
// of Mood. ok is false when the palette holds no usable swatch (see Distance).
func (p Palette) Mood() (mood Mood, ok bool) {
	s := screen()
	total := 0.0
	for _, sw := range p {
		if !sw.usable() {
			continue
		}
		f := feelings(sw.Lab, s)
		total += sw.Weight
		mood.Warm += sw.Weight * s.warm.of(f.warm)
		mood.Lively += sw.Weight * (s.active.of(f.active) + s.awake.of(f.awake)) / 2
		mood.Heavy += sw.Weight * s.heavy.of(f.heavy)
	}
	if !(total > 0) || math.IsInf(total, 0) {
		return Mood{}, false
	}
	return Mood{mood.Warm / total, mood.Lively / total, mood.Heavy / total}, true
}

// Apart is the distance between two moods on the three scales, 0 for one mood,
// about 1 for pictures that feel clearly different.
func (m Mood) Apart(n Mood) float64 {
	w, l, h := m.Warm-n.Warm, m.Lively-n.Lively, m.Heavy-n.Heavy
	return math.Sqrt(w*w + l*l + h*h)
}

// spread is a mean and a standard deviation.
type spread struct{ mean, deviation float64 }

func (s spread) of(v float64) float64 { return (v - s.mean) / s.deviation }

func spreadOf(values []float64) spread {
	var s spread
	for _, v := range values {
		s.mean += v / float64(len(values))
	}
	for _, v := range values {
		s.deviation += (v - s.mean) * (v - s.mean) / float64(len(values))
	}
	s.deviation = math.Sqrt(s.deviation)
	return s
}

type feltColour struct{ warm, active, awake, heavy float64 }

func feelings(c Lab, s *screenColours) feltColour {
	return feltColour{WarmCool(c), Activity(c), Arousal(s.light.of(c.L), s.chroma.of(c.Chroma())), Heaviness(c)}
}

// screenColours says how the colours of a screen are spread.
type screenColours struct{ light, chroma, warm, active, awake, heavy spread }

// screen measures a lattice of 16³ colours evenly spread over sRGB.
var screen = sync.OnceValue(func() *screenColours {
	const step = 17
	var colours []Lab
	for r := 0; r < 256; r += step {
		for g := 0; g < 256; g += step {
			for b := 0; b < 256; b += step {
				colours = append(colours, FromSRGB(uint8(r), uint8(g), uint8(b)))
			}
		}
	}
	var s screenColours
	over := func(f func(Lab) float64) spread {
		values := make([]float64, len(colours))
		for i, c := range colours {
			values[i] = f(c)
		}
		return spreadOf(values)
	}
	s.light = over(func(c Lab) float64 { return c.L })
	s.chroma = over(Lab.Chroma)
	s.warm = over(WarmCool)
	s.active = over(Activity)
	s.awake = over(func(c Lab) float64 { return Arousal(s.light.of(c.L), s.chroma.of(c.Chroma())) })
	s.heavy = over(Heaviness)
	return &s
})

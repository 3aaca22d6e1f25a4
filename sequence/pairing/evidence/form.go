package evidence

import (
	"math"

	"pairwall/sequence"
)

func shaped(t *Title, i int) bool { return t.subjects[i].ratio > 0 }
func formed(t *Title, i int) bool { return t.subjects[i].formed() }
func gazing(t *Title, i int) bool { return t.subjects[i].gaze != nil }

// shapeWithin is the difference of the logarithms of two pictures' proportions at
// which their likeness has fallen to 1/e: 3:2 beside 4:3 hardly shows, a square
// beside 3:2 does.
const shapeWithin = 0.4

func readShape(t *Title, a, b int) reading {
	apart := math.Abs(math.Log(t.subjects[a].ratio / t.subjects[b].ratio))
	return reading{math.Exp(apart), math.Exp(-apart * apart / (shapeWithin * shapeWithin))}
}

func shapeWords(t *Title, a, b int, r reading) string {
	one, other := shapeName(t.subjects[a].ratio), shapeName(t.subjects[b].ratio)
	switch {
	case one == other && r.measure < 1.02:
		return "both " + one + ", of one shape"
	case one == other:
		return "both " + one
	}
	return max(one, other) + " beside " + min(one, other) // upright before square before lying
}

func shapeName(ratio float64) string {
	switch {
	case ratio > 1.08:
		return "lying"
	case ratio < 1/1.08:
		return "upright"
	}
	return "square"
}

// meets is the difference in height, as a share of the taller picture's height, at
// which two horizons no longer look like one line through the gutter.
const meets = 0.04

// horizons says how well the level lines of two pictures meet at the gutter when
// left stands left: the lesser of how much they stand out, times e^−(gap/meets)².
// Both are taken to lie in the middle of their pages, as large as a square page
// lets them, so that a panorama's middle does not pass for that of a tall picture.
func horizons(left, right *subject) (gap, strength float64) {
	p, q := left.tall(), right.tall()
	gap = math.Abs((left.form.HorizonRight-0.5)*p-(right.form.HorizonLeft-0.5)*q) / max(p, q)
	strength = min(left.form.Horizon, right.form.Horizon) * math.Exp(-gap*gap/(meets*meets))
	return gap, strength
}

// tall is the height of a picture in a square page, as a share of the page.
func (s *subject) tall() float64 {
	if s.ratio > 1 {
		return 1 / s.ratio
	}
	return 1
}

// directionsCount is what main lines that run alike are worth beside horizons that
// meet.
const directionsCount = 0.6

// directions compares how the edges of two pictures run: the cosine between what
// either has beyond an even share of each direction, by how pronounced that is.
func directions(p, q *subject) float64 {
	var dot, one, other float64
	for k := range p.form.Lines {
		x, y := p.form.Lines[k]-0.25, q.form.Lines[k]-0.25
		dot, one, other = dot+x*y, one+x*x, other+y*y
	}
	if one == 0 || other == 0 || dot <= 0 {
		return 0
	}
	const pronounced = 0.35 // length of the surplus in a picture of mostly one direction
	force := min(1, math.Sqrt(math.Sqrt(one*other))/pronounced)
	return dot / math.Sqrt(one*other) * force
}

func readLines(t *Title, a, b int) reading {
	gap, strength := bestHorizons(t.subjects[a], t.subjects[b])
	return reading{gap, max(strength, directionsCount*directions(t.subjects[a], t.subjects[b]))}
}

func bestHorizons(p, q *subject) (gap, strength float64) {
	gap, strength = horizons(p, q)
	if g, s := horizons(q, p); s > strength || s == strength && g < gap {
		return g, s
	}
	return gap, strength
}

func linesWords(t *Title, a, b int, r reading) string {
	p, q := t.subjects[a], t.subjects[b]
	_, strength := bestHorizons(p, q)
	along := directionsCount * directions(p, q)
	switch {
	case strength >= along && strength >= faint:
		return "the horizons meet at the gutter"
	case along >= alongTells:
		return "the lines of both run " + mainLine(p)
	}
	return ""
}

// alongTells is the strength from which lines that run alike are worth a word.
const alongTells = 0.35

func mainLine(s *subject) string {
	best := 0
	for k, share := range s.form.Lines {
		if share > s.form.Lines[best] {
			best = k
		}
	}
	return [4]string{"level", "rising to the right", "upright", "falling to the right"}[best]
}

// leadFull is how far, summed over both pictures, the weights must lie towards the
// gutter for the lead to be as strong as can be.
const leadFull = 0.25

// lead is how far the weights of two pictures lie towards the gutter when left
// stands left: below 0, away from it.
func lead(left, right *subject) float64 {
	return (left.form.WeightX - 0.5) + (0.5 - right.form.WeightX)
}

func readLead(t *Title, a, b int) reading {
	p, q := t.subjects[a], t.subjects[b]
	in := math.Abs(lead(p, q)) // on the better sides
	return reading{in, min(1, in/leadFull)}
}

// leadWorthAWord is the strength from which a lead is worth a word: most pictures
// lean a little.
const leadWorthAWord = 0.5

func leadWords(t *Title, a, b int, r reading) string {
	if r.score < leadWorthAWord {
		return ""
	}
	return "the weight of both leads in to the gutter"
}

// wide guesses how far off a picture's subject is, 0 close .. 1 wide: from near by
// most of a picture falls out of focus, from afar little does, and a view mostly has
// a horizon. Of a picture with few edges, such as one by night, nothing is said:
// middling. Our own guess, for no file says it; held against real photographs.
func wide(s *subject) float64 {
	const (
		near, far = 0.34, 0.50 // depth of pictures from near by and from afar
		view      = 0.25       // what a horizon adds
	)
	if s.form.Depth == 0 {
		return 0.5
	}
	depth := min(1, max(0, (s.form.Depth-near)/(far-near)))
	return depth * (1 - view + view*s.form.Horizon)
}

func readReach(t *Title, a, b int) reading {
	apart := math.Abs(wide(t.subjects[a]) - wide(t.subjects[b]))
	return reading{apart, apart}
}

func reachWords(t *Title, a, b int, r reading) string {
	if r.score < telling {
		return ""
	}
	return "a wide view beside a close one"
}

func readFocus(t *Title, a, b int) reading {
	apart := math.Abs(t.subjects[a].form.Sharpness - t.subjects[b].form.Sharpness)
	return reading{apart, min(1, apart/0.7)}
}

func focusWords(t *Title, a, b int, r reading) string {
	if r.score < telling {
		return ""
	}
	return "sharp beside soft"
}

// looks says how two gazes go together when left stands left: 1 when they meet or
// one looks at the other picture, below 0 when they leave the spread.
func looks(left, right *subject) float64 {
	sum, marked := 0.0, 0.0
	for _, s := range []struct {
		gaze    *sequence.Gaze
		in, out sequence.Direction
	}{{left.gaze, sequence.TowardsRight, sequence.TowardsLeft}, {right.gaze, sequence.TowardsLeft, sequence.TowardsRight}} {
		if s.gaze == nil {
			continue
		}
		marked++
		switch s.gaze.Towards {
		case s.in:
			sum++
		case s.out:
			sum--
		}
	}
	if marked == 0 {
		return 0
	}
	return sum / marked
}

func readGaze(t *Title, a, b int) reading {
	p, q := t.subjects[a], t.subjects[b]
	best := max(looks(p, q), looks(q, p))
	return reading{1 - best, max(0, best)}
}

func gazeWords(t *Title, a, b int, r reading) string {
	p, q := t.subjects[a], t.subjects[b]
	switch {
	case r.score == 0:
		return ""
	case p.gaze != nil && q.gaze != nil && r.score == 1:
		return "they look at each other"
	}
	return "a look goes across the gutter"
}

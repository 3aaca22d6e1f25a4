package wallshot

import (
	"pairwall/sequence"
	"pairwall/sequence/pages/code"
	"pairwall/sequence/pages/perspective"
)

// Found is a code read in a photograph.
type Found struct {
	Tag     code.Tag         `json:"tag"`
	Number  sequence.PhotoID `json:"number"`
	Corners perspective.Quad `json:"corners"` // of its 21 × 21 modules, in pixels of the photograph
}

// outcome is what came of an attempt to read a code.
type outcome int

const (
	none    outcome = iota // there is no code
	unread                 // something looks like a code but cannot be read
	foreign                // a code of something else, read whole
	ours
)

// decode reads the code under a quad, in pixels of the photograph. The Found it
// returns has corners whatever came of it; like is how much the place looks like
// a code. Nothing is taken for read whose check does not agree.
func (l level) decode(q perspective.Quad) (found Found, like float64, came outcome) {
	q = q.Scaled(1 / l.scale)
	const hopeless, promising = 0.4, 0.55
	if l.likeness(q) < hopeless {
		return Found{}, 0, none
	}
	q, like = l.settle(q)
	if like < promising {
		return Found{}, 0, none
	}
	// Of the four corners the fourth is known least: it has no mark.
	u, v := q[1].Minus(q[0]).Times(1.0/code.Side), q[3].Minus(q[0]).Times(1.0/code.Side)
	for _, by := range [...][2]float64{{0, 0}, {.5, 0}, {-.5, 0}, {0, .5}, {0, -.5}, {.5, .5}, {-.5, -.5}, {.5, -.5}, {-.5, .5}} {
		try := q
		try[2] = try[2].Plus(u.Times(by[0])).Plus(v.Times(by[1]))
		text, ok := l.text(try)
		if !ok {
			continue
		}
		tag, number, err := code.Parse(text)
		if err != nil {
			return Found{Corners: try.Scaled(l.scale)}, like, foreign
		}
		return Found{tag, number, try.Scaled(l.scale)}, like, ours
	}
	return Found{Corners: q.Scaled(l.scale)}, like, unread
}

// text reads what the code under a quad says, with more and less against blur,
// and taking dark wider and narrower.
func (l level) text(q perspective.Quad) (string, bool) {
	values := l.sample(q)
	for _, sharper := range [...]float64{0, 0.3, 0.5} {
		for _, threshold := range [...]float64{0.5, 0.4, 0.6} {
			if text, ok := values.read(sharper, threshold); ok {
				return text, true
			}
		}
	}
	return "", false
}

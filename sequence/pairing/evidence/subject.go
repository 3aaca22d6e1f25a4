package evidence

import (
	"math"
	"strconv"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/pairing/sun"
	"pairwall/sequence/place"
	"pairwall/sequence/place/gazetteer"
)

// A subject is what is worked out of one photo once, however many it is compared
// with.
type subject struct {
	number sequence.PhotoID

	where  place.LatLng
	radius float64 // NaN where no place is known
	town   string

	taken  place.When
	clock  int   // minutes since midnight where the picture was taken
	day    int64 // calendar day from 1970
	height float64
	rising bool
	lit    bool // whether the sun's height is known

	palette   colour.Palette
	character colour.Character
	usable    bool // the palette can be compared
	mono      bool
	tone      [colour.LightSteps]float64
	toned     bool
	mood      colour.Mood
	felt      bool

	words []string
	ratio float64 // width over height, 0 when not known
	form  sequence.Form
	print uint64
	gaze  *sequence.Gaze
}

// halfway round the Earth, in metres, nowhere is farther.
const halfway = 20_004_000

func subjectOf(p sequence.Photo) *subject {
	s := &subject{number: p.Number, taken: p.Taken, palette: p.Palette, mono: p.Tone.Monochrome,
		words: p.Feeling, form: p.Form, gaze: p.Gaze, radius: math.NaN()}
	if p.Where != nil && p.Where.Valid() {
		s.where, s.radius = p.Where.LatLng, 0
		if r := p.Where.Radius; r > 0 {
			s.radius = min(r, halfway)
		}
		if s.radius <= townWide {
			s.town = townOf(gazetteer.Label(s.where))
		}
	}
	s.setTime()
	// A palette that cannot be compared is infinitely far even from itself.
	s.usable = !math.IsInf(colour.Distance(p.Palette, p.Palette), 1)
	s.character = colour.Characterise(p.Palette)
	s.mood, s.felt = moodOf(p)
	s.setTone(p.Tone)
	if p.Width > 0 && p.Height > 0 {
		s.ratio = float64(p.Width) / float64(p.Height)
	}
	s.print, _ = strconv.ParseUint(p.Form.Fingerprint, 16, 64)
	if s.gaze != nil && !s.gaze.Valid() {
		s.gaze = nil
	}
	return s
}

// moodOf is what the palette feels like; how calm or lively it is, where the form
// was measured, by half what its edges say: a dark blur is calm whatever its
// colours. detailMean and detailDeviation are those of 32 real photographs of
// streets, views, flowers and birds.
func moodOf(p sequence.Photo) (mood colour.Mood, felt bool) {
	const detailMean, detailDeviation, most = 0.27, 0.11, 2
	mood, felt = p.Palette.Mood()
	if felt && p.Form.Measured > 0 {
		edges := (p.Form.Detail - detailMean) / detailDeviation
		mood.Lively = (mood.Lively + max(-most, min(most, edges))) / 2
	}
	return mood, felt
}

// townWide is the radius in metres beyond which a place is known no better than a
// town is wide, so that it has no town of its own.
const townWide = 10_000

// townOf is a label of the gazetteer that names a town; out in the country it says
// how far the next one is instead, which is no place's name.
func townOf(label string) string {
	if label == "" || label[0] >= '0' && label[0] <= '9' {
		return ""
	}
	return label
}

func (s *subject) setTime() {
	const minutes, daily = 60, 24 * 60 * 60
	at := s.taken.From.Unix()
	s.day = int64(math.Floor(float64(at) / daily))
	s.clock = int((at - s.day*daily) / minutes)
	if s.instant() && s.placed() {
		height, rising := sun.Height(s.where, s.taken.From, s.offset())
		s.height, s.rising, s.lit = height, rising, true
	}
}

// offset is the clock's distance from UTC in minutes: as the file tells it, else that
// of the nautical zone of the place. That is off by an hour in summer and more
// elsewhere, but by the same for all photos of a place, and light is only ever
// compared.
func (s *subject) offset() int {
	if s.taken.Offset != nil {
		return *s.taken.Offset
	}
	const zone, hour = 15, 60 // degrees, minutes
	return hour * int(math.Round(s.where.Lng/zone))
}

// setTone takes the tone as measured, or where it was not, the lights of the
// palette.
func (s *subject) setTone(t colour.Tone) {
	if t.Known() {
		s.tone = t.Spread()
		s.toned = true
		return
	}
	if !s.usable {
		return
	}
	for _, swatch := range s.palette {
		if swatch.Weight > 0 && !math.IsInf(swatch.Weight, 0) {
			k := int(swatch.Lab.L / 100 * colour.LightSteps)
			t.Lights[min(max(k, 0), colour.LightSteps-1)] += swatch.Weight
		}
	}
	s.tone = t.Spread()
	s.toned = true
}

func (s *subject) placed() bool  { return !math.IsNaN(s.radius) }
func (s *subject) instant() bool { return s.timed() && s.taken.Precision == place.PrecisionInstant }
func (s *subject) timed() bool   { return s.taken.CountsAsTaken() }
func (s *subject) dated() bool   { return s.timed() && s.taken.Precision != place.PrecisionSpan }
func (s *subject) formed() bool  { return s.form.Measured > 0 }

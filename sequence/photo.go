package sequence

import (
	"time"

	"pairwall/sequence/colour"
	"pairwall/sequence/place"
)

// PhotoID is the number printed on a photo's card: from 1 upwards within one
// title, given in the order photos were brought in, never used twice. 0 is no
// photo, which on a page means a blank.
//
// Because it counts within its title, a sequence, a version or a paper wall
// can be carried to another machine without renumbering.
type PhotoID int

// Photo is one photograph brought in: where its file lies, what the file says
// of itself, and what we measured.
type Photo struct {
	Number PhotoID   `json:"number"`
	Name   string    `json:"name"` // file name, as the maker knows it
	Path   string    `json:"path"` // where the original lies on this machine
	Hash   string    `json:"hash"` // SHA-256 of the whole file, lower-case hex
	Bytes  int64     `json:"bytes"`
	Stamp  time.Time `json:"stamp"` // the file's modification time when read
	Came   time.Time `json:"came"`  // when it was brought in

	Format  string `json:"format"`  // "jpeg", "png", "tiff", "webp", "heic", "avif"
	Width   int    `json:"width"`   // pixels, upright
	Height  int    `json:"height"`  // pixels, upright
	Profile string `json:"profile"` // name of the embedded colour profile; "" when there is none and sRGB was assumed

	Camera string       `json:"camera"` // make and model as the file gives them
	Scan   bool         `json:"scan"`   // a film scan: its camera is a scanner, its date the day of scanning
	Roll   string       `json:"roll"`   // film roll; "" when not known
	Frame  string       `json:"frame"`  // the frame's number on its roll
	Taken  place.When   `json:"taken"`
	Where  *place.Where `json:"where,omitempty"` // nil when not known

	Caption string         `json:"caption"`
	Note    string         `json:"note,omitempty"`    // the maker's own, never printed
	Feeling []string       `json:"feeling,omitempty"` // the maker's own words, ascending
	Gaze    *Gaze          `json:"gaze,omitempty"`    // the maker's mark of a face; nil when none was made
	Palette colour.Palette `json:"palette"`
	Tone    colour.Tone    `json:"tone"`
	Form    Form           `json:"form"`

	Findings []Finding `json:"findings,omitempty"`
}

// Form is what we measured of a picture beside its colours. Fractions count from
// the upright picture's left and top edge, 0..1.
type Form struct {
	Measured    int     `json:"measured"`    // which edition of the measures these are; 0: none was taken
	Fingerprint string  `json:"fingerprint"` // perceptual hash, 16 hex digits; alike pictures differ in few bits
	Sharpness   float64 `json:"sharpness"`   // 0 soft .. 1 sharp where it is sharpest
	Depth       float64 `json:"depth"`       // how sharp most of it is beside its sharpest: 0.3 one plane among blur .. 0.6 all; 0 where too little shows
	Detail      float64 `json:"detail"`      // 0 calm .. 1 lively: how much of the picture is edges
	WeightX     float64 `json:"weightX"`     // where the picture's visual weight lies, across
	WeightY     float64 `json:"weightY"`     // and down

	// A level line through the picture, such as a horizon: its height where it
	// leaves the picture at either side, and how much it stands out, 0 none .. 1.
	HorizonLeft  float64 `json:"horizonLeft"`
	HorizonRight float64 `json:"horizonRight"`
	Horizon      float64 `json:"horizon"`

	// How the edges run: shares of level, rising to the right, upright and
	// falling to the right; they sum to 1, or are all 0 in a picture without any.
	Lines [4]float64 `json:"lines"`
}

// Gaze is the maker's mark of where a face is and which way it looks: a look
// leads the eye across the page, and a face must not lie in the gutter.
type Gaze struct {
	X       float64   `json:"x"` // fraction of the upright picture's width, 0..1
	Y       float64   `json:"y"` // and height, from the top
	Towards Direction `json:"towards"`
}

// Direction is which way a gaze goes, as the viewer sees it.
type Direction string

// The directions. NoDirection marks a face that looks nowhere in particular.
const (
	NoDirection  Direction = ""
	TowardsLeft  Direction = "left"
	TowardsRight Direction = "right"
	TowardsOut   Direction = "out" // at the viewer
)

// Valid reports whether the mark lies on the picture and names a direction.
func (g Gaze) Valid() bool {
	switch g.Towards {
	case NoDirection, TowardsLeft, TowardsRight, TowardsOut:
		return g.X >= 0 && g.X <= 1 && g.Y >= 0 && g.Y <= 1
	}
	return false
}

// Finding is something the maker should know of a photo's file: that it is
// damaged and shown only as far as it goes, that its date cannot be true.
type Finding struct {
	Code  Code   `json:"code"`
	Words string `json:"words"` // a plain sentence
	Hint  string `json:"hint,omitempty"`
}

// TitleID names one title in the data file.
type TitleID int64

// Title is one publication being made; photos, wall and versions belong to it.
type Title struct {
	ID      TitleID            `json:"id"`
	Name    string             `json:"name"`
	Created time.Time          `json:"created"`
	Weights map[string]float64 `json:"weights"` // how much each kind of evidence counts for this maker, 0..1 by kind
	Binding string             `json:"binding"` // by its name in package pages; "" while none is chosen
}

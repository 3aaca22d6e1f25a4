package preflight

import "pairwall/sequence/pages"

// Facts are what a file says and holds. Rectangles count from the top left
// corner of their page's MediaBox, before the page is turned.
type Facts struct {
	Version  string    `json:"version"`  // of the format: "1.6"
	Standard string    `json:"standard"` // the PDF/X it says to be: "PDF/X-4"; "" for none
	Intent   *Intent   `json:"intent,omitempty"`
	Count    int       `json:"count"` // of its pages
	Pages    []Page    `json:"pages"` // the first few
	Fonts    []Font    `json:"fonts"` // in which something is written
	Pictures []Picture `json:"pictures"`
	Colours  []Colour  `json:"colours"` // in which something is drawn, pictures included
	Clear    bool      `json:"clear"`   // something is transparent
	Unread   []string  `json:"unread"`  // what could not be looked at, as sentences
}

// Page is one page.
type Page struct {
	Media   pages.Rect  `json:"media"`
	Crop    *pages.Rect `json:"crop,omitempty"` // what a screen shows; nil when not said, as of the two others
	Bleed   *pages.Rect `json:"bleed,omitempty"`
	Trim    *pages.Rect `json:"trim,omitempty"`
	Turned  int         `json:"turned"`  // degrees clockwise: 0, 90, 180, 270
	Remarks int         `json:"remarks"` // comments, links and fields lying on it
}

// Font is a typeface the file writes with.
type Font struct {
	Name     string `json:"name"`
	Embedded bool   `json:"embedded"`
}

// Picture is a picture as it is placed.
type Picture struct {
	Page   int        `json:"page"`  // from 1
	Width  int        `json:"width"` // pixels
	Height int        `json:"height"`
	PPI    float64    `json:"ppi"`  // as placed, the lesser of both ways
	At     pages.Rect `json:"at"`   // the least rectangle around it
	Mask   bool       `json:"mask"` // one colour through a stencil of 1 bit
}

// Colour is a way in which colours are said.
type Colour struct {
	Family  Family `json:"family"`
	Profile bool   `json:"profile"`        // measured: an ICC profile, or calibrated
	Name    string `json:"name,omitempty"` // of a spot colour
}

// Family is how many numbers a colour has and what they mean.
type Family string

// The families.
const (
	Grey  Family = "grey"
	RGB   Family = "RGB"
	CMYK  Family = "CMYK"
	Lab   Family = "Lab"
	Spot  Family = "spot colour"
	Other Family = "other"
)

// Intent is the printing condition a file was made for.
type Intent struct {
	Name       string `json:"name"`       // its identifier, or its words when it has none
	Components int    `json:"components"` // of its profile; 0 without one
}

package pages

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"pairwall/sequence"
)

// OwnCover is a simple cover for the test copy: one photo, a title, a name.
type OwnCover struct {
	Photo     sequence.PhotoID `json:"photo"`          // 0: none
	Manner    Manner           `json:"manner"`         // FullBleed over the whole front, or Framed above the title
	Crop      *Crop            `json:"crop,omitempty"` // nil: the middle
	Title     string           `json:"title"`          // "": the title's own name
	Name      string           `json:"name"`           // the maker's; "": none is printed
	Ground    string           `json:"ground"`         // "#rrggbb", sRGB
	Lettering string           `json:"lettering"`      // likewise
	Ascending bool             `json:"ascending"`      // the spine reads upwards; downwards is what ISO 6357 asks for
}

// FirstOwnCover is black on white.
var FirstOwnCover = OwnCover{Manner: Framed, Ground: "#ffffff", Lettering: "#111111"}

const longestLine = 200 // runes of a title or a name: no cover holds more

func (o OwnCover) check() error {
	refuse := func(message string) error { return &sequence.Error{Code: sequence.Invalid, Message: message} }
	switch {
	case o.Photo < 0:
		return refuse("There is no such photo.")
	case o.Manner != FullBleed && o.Manner != Framed:
		return refuse(fmt.Sprintf("A photo does not lie %q on a cover.", o.Manner))
	case !colourText(o.Ground), !colourText(o.Lettering):
		return refuse("The colours of a cover are written as #rrggbb.")
	case o.Crop != nil && !(o.Crop.Middle.X >= 0 && o.Crop.Middle.X <= 1 && o.Crop.Middle.Y >= 0 && o.Crop.Middle.Y <= 1 && o.Crop.Zoom >= 1 && o.Crop.Zoom <= mostZoom):
		return refuse(fmt.Sprintf("A crop lies inside the picture, 1 to %d times nearer.", mostZoom))
	}
	for _, line := range []string{o.Title, o.Name} {
		if !utf8.ValidString(line) || utf8.RuneCountInString(line) > longestLine || strings.ContainsFunc(line, func(r rune) bool { return r < ' ' }) {
			return refuse(fmt.Sprintf("A line on the cover has %d letters at most.", longestLine))
		}
	}
	return nil
}

func colourText(s string) bool {
	return len(s) == 7 && s[0] == '#' && strings.Trim(strings.ToLower(s[1:]), "0123456789abcdef") == ""
}

// OwnLaid is where the parts of a simple cover lie.
type OwnLaid struct {
	Picture *Shown `json:"picture,omitempty"`
	Title   Rect   `json:"title"` // room for its lines, from the top
	Name    Rect   `json:"name"`  // room for one line, at the bottom
	// Spine is room for one line along the spine, nil when none fits. Its letters
	// are as high as SpineSize.
	Spine     *Rect  `json:"spine,omitempty"`
	SpineSize Length `json:"spineSize"`
}

// LayOwn lays a simple cover out. least is the least the block may measure: the
// spine's letters must find room on that.
func (c FlatCover) LayOwn(f Format, p CoverPlan, least Length, photo *sequence.Photo) OwnLaid {
	_, room := c.safe(f, c.bend(p))
	lines, name := room.Height*0.16, room.Height*0.06
	laid := OwnLaid{Title: Rect{room.X, room.Y, Size{room.Width, lines}},
		Name: Rect{room.X, room.Bottom() - name, Size{room.Width, name}}}
	if photo != nil && photo.Width > 0 && photo.Height > 0 {
		one := Placement{Manner: p.Own.Manner, Crop: p.Own.Crop}
		if one.Crop == nil {
			one.Crop = &Crop{Middle: Point{0.5, 0.5}, Zoom: 1}
		}
		window := c.overEdge()
		if p.Own.Manner == Framed {
			between := Rect{room.X, room.Y + lines, Size{room.Width, room.Height - lines - name - 4}}
			window = between.Centred(between.Fitted(float64(photo.Width), float64(photo.Height)))
		}
		laid.Picture = show(one, *photo, window, window)
	}
	if c.Binding == HardCase { // its spine carries the boards' thickness too
		least += 2 * p.Case.Board
	}
	if size, fits := SpineLetters(least); fits && c.Spine.Width > 0 {
		at := Rect{c.Spine.X, c.Spine.Y + f.Safe, Size{c.Spine.Width, c.Spine.Height - 2*f.Safe}}
		laid.Spine, laid.SpineSize = &at, size
	}
	return laid
}

// overEdge is the front with what bleeds on its three outer sides.
func (c FlatCover) overEdge() Rect {
	bled := c.Bled()
	return Rect{c.Front.X, bled.Y, Size{bled.Right() - c.Front.X, bled.Height}}
}

// CoverLine is one line of words on a cover. X and Y are where its baseline
// begins.
type CoverLine struct {
	TextLine
	Wide  Length  `json:"wide"` // how far it runs
	Reads Reading `json:"reads"`
}

// Reading is which way a line runs.
type Reading string

// The readings. Those of a spine turn the head of the letters to the right or to
// the left.
const (
	Across     Reading = "across"
	Descending Reading = "descending"
	Ascending  Reading = "ascending"
)

// Sizes of words on a cover: ours.
const (
	mostTitle  Length = 11
	leastTitle Length = 3
	nameSize   Length = 4.2
	titleLines        = 3
	nameGap           = "   " // on the spine, between title and name
)

// Lines sets the words of a simple cover. left is what found no room on the
// spine although it is thick enough; "" for nothing.
func (l OwnLaid) Lines(letters Lettering, own OwnCover) (lines []CoverLine, left string) {
	size, parts := fitted(letters, own.Title, l.Title)
	y := l.Title.Y + ascent*size
	for _, text := range parts {
		lines = append(lines, centred(letters, text, size, l.Title, y))
		y += 1.15 * size
	}
	for _, text := range letters.Break(own.Name, nameSize, l.Name.Width, 1) {
		lines = append(lines, centred(letters, text, nameSize, l.Name, l.Name.Bottom()-(1-ascent)*nameSize))
	}
	text := own.Title
	if own.Name != "" && text != "" {
		text += nameGap
	}
	if text += own.Name; l.Spine == nil || text == "" {
		return lines, ""
	}
	size = l.SpineSize
	if wide := letters.Width(text, size); wide > l.Spine.Height {
		size *= l.Spine.Height / wide
	}
	if size < leastLetters-tiny {
		return lines, text
	}
	return append(lines, l.along(letters, text, size, own.Ascending)), ""
}

// fitted is the largest size at which a text finds room whole, in lines; the
// least when it finds none, cut.
func fitted(letters Lettering, text string, room Rect) (Length, []string) {
	for size := mostTitle; size > leastTitle; size -= 0.5 {
		lines := letters.Break(text, size, room.Width, titleLines)
		if strings.Join(lines, " ") == strings.Join(strings.Fields(text), " ") && size*(1.15*Length(len(lines)-1)+1) <= room.Height {
			return size, lines
		}
	}
	return leastTitle, letters.Break(text, leastTitle, room.Width, titleLines)
}

func centred(letters Lettering, text string, size Length, room Rect, y Length) CoverLine {
	wide := letters.Width(text, size)
	return CoverLine{TextLine{text, room.X + (room.Width-wide)/2, y, size}, wide, Across}
}

// along sets a line along the spine, in its middle both ways.
func (l OwnLaid) along(letters Lettering, text string, size Length, up bool) CoverLine {
	room, wide := *l.Spine, letters.Width(text, size)
	middle := room.X + room.Width/2
	const lower = ascent - 0.5 // of the size, from the middle of the letters down to their baseline
	if up {
		return CoverLine{TextLine{text, middle + lower*size, room.Y + (room.Height+wide)/2, size}, wide, Ascending}
	}
	return CoverLine{TextLine{text, middle - lower*size, room.Y + (room.Height-wide)/2, size}, wide, Descending}
}

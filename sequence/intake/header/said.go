package header

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"github.com/rwcarlsen/goexif/exif"
	"github.com/rwcarlsen/goexif/tiff"

	"pairwall/sequence/place"
)

// Said is what a file says of itself, as it says it; nothing here is judged.
type Said struct {
	Make, Model, Software, Description string
	Lens                               string
	Orientation                        int // 0 when not said

	Original, Digitized, Changed                   string // dates as written
	OriginalOffset, DigitizedOffset, ChangedOffset string // their offsets from UTC as written
	SubSecond                                      string // of Original

	Exposed  bool // exposure time, aperture or sensitivity is given
	Operated bool // something else is that only a camera in somebody's hands knows: flash, metering, focal length, zone
	Scanner  bool // the file source says scanner of film or of prints
	AdobeRGB bool // colours are Adobe RGB, though there may be no profile to say so

	Position   *place.LatLng // nil when there is none that can be true
	NoPosition string        // why a position that is there cannot be used; "" otherwise
	Void       bool          // the receiver says that it had no fix
	Radius     float64       // metres, 0 when not said
}

// listen decodes a walked block. A block that cannot be decoded says nothing.
func listen(b *block) (s Said) {
	if b == nil {
		return Said{}
	}
	// The decoder has panicked on odd values; those were left behind by the
	// walk, but a photo must not be lost to one that was missed.
	defer func() {
		if recover() != nil {
			s = Said{}
		}
	}()
	x, err := decodeBlock(b)
	if err != nil {
		return Said{}
	}
	s = Said{
		Make: word(x, exif.Make), Model: word(x, exif.Model),
		Software: word(x, exif.Software), Description: word(x, exif.ImageDescription),
		Lens:        strings.TrimSpace(word(x, exif.LensMake) + " " + word(x, exif.LensModel)),
		Orientation: int(number(x, exif.Orientation)),
		Original:    word(x, exif.DateTimeOriginal), Digitized: word(x, exif.DateTimeDigitized), Changed: word(x, exif.DateTime),
		SubSecond: word(x, exif.SubSecTimeOriginal),
		Exposed: ratio(x, exif.ExposureTime) > 0 || ratio(x, exif.FNumber) > 0 ||
			number(x, exif.ISOSpeedRatings) > 0,
		// The decoder does not know the offset tags, so they come from the walk.
		OriginalOffset: text(b.exif, tagOffsetOriginal), DigitizedOffset: text(b.exif, tagOffsetDigitized),
		ChangedOffset: text(b.exif, tagOffset),
		Scanner:       fromScanner(b.exif),
		Operated:      operated(b.exif),
	}
	space, index := number(x, exif.ColorSpace), word(x, exif.InteroperabilityIndex)
	// 2 is written by some cameras though EXIF knows only 1 and 65535
	// (uncalibrated); DCF 2.0 says Adobe RGB by the index R03.
	s.AdobeRGB = space == 2 || space != 1 && index == "R03"
	s.listenForPosition(x)
	return s
}

// decodeBlock hands a walked block, written anew, to the EXIF decoder, which
// would go round in circles on some files and trusts the counts in all.
func decodeBlock(b *block) (*exif.Exif, error) {
	return exif.Decode(bytes.NewReader(b.bytes()))
}

// listenForPosition judges nothing but whether numbers can be a position: 0,0
// is what receivers without a fix write.
func (s *Said) listenForPosition(x *exif.Exif) {
	s.Void = word(x, "GPSStatus") == "V"
	if _, err := x.Get(exif.GPSLatitude); err != nil {
		return
	}
	if _, err := x.Get(exif.GPSLongitude); err != nil {
		return
	}
	// The decoder takes any other letter than S and W for north and east.
	ns, ew := word(x, exif.GPSLatitudeRef), word(x, exif.GPSLongitudeRef)
	if ns != "N" && ns != "S" || ew != "E" && ew != "W" {
		s.NoPosition = "it does not say which side of the equator or of Greenwich it is on"
		return
	}
	lat, lng, err := x.LatLong()
	p := place.LatLng{Lat: lat, Lng: lng}
	switch {
	case err != nil || math.IsNaN(lat) || math.IsNaN(lng):
		s.NoPosition = "it cannot be read"
	case lat == 0 && lng == 0:
	case !p.Valid():
		s.NoPosition = "there is no such position on the globe"
	default:
		s.Position = &p
		if r := ratio(x, "GPSHPositioningError"); r > 0 && r < 1e6 {
			s.Radius = r
		}
	}
}

// word returns a text as UTF-8 in one line, "" when there is none. Texts that
// are not UTF-8 are taken for Latin-1, the commonest other one.
func word(x *exif.Exif, name exif.FieldName) string {
	tag, err := x.Get(name)
	if err != nil {
		return ""
	}
	value, err := tag.StringVal()
	if err != nil {
		return ""
	}
	if !utf8.ValidString(value) {
		var wide strings.Builder
		for i := range len(value) {
			wide.WriteRune(rune(value[i]))
		}
		value = wide.String()
	}
	return strings.Join(strings.FieldsFunc(value, func(r rune) bool { return r < ' ' || r == 0x7F }), " ")
}

// number returns the first whole number of a field, 0 when there is none.
func number(x *exif.Exif, name exif.FieldName) int64 {
	tag, err := x.Get(name)
	if err != nil || tag.Format() != tiff.IntVal || tag.Count < 1 {
		return 0
	}
	n, err := tag.Int64(0)
	if err != nil {
		return 0
	}
	return n
}

// ratio returns the first ratio of a field as a number, 0 when there is none
// or it divides by zero.
func ratio(x *exif.Exif, name exif.FieldName) float64 {
	tag, err := x.Get(name)
	if err != nil || tag.Format() != tiff.RatVal || tag.Count < 1 {
		return 0
	}
	above, below, err := tag.Rat2(0)
	if err != nil || below == 0 {
		return 0
	}
	return float64(above) / float64(below)
}

// fromScanner reports whether the file source is 1 or 2, a scanner of film or of
// prints (EXIF 2.32, 4.6.5). 3, a digital camera, is also written by scanners
// and proves nothing.
func fromScanner(entries []entry) bool {
	for _, e := range entries {
		if e.tag == tagFileSource && len(e.value) > 0 {
			return e.value[0] == 1 || e.value[0] == 2
		}
	}
	return false
}

// operated reports whether any field is there that a camera fills in and a
// scanner has nothing to fill in with.
func operated(entries []entry) bool {
	for _, e := range entries {
		switch e.tag {
		case tagProgram, tagMetering, tagFlash, tagFocalLength, tagOffset, tagOffsetOriginal, tagOffsetDigitized, tagSubSecOriginal:
			if len(bytes.Trim(e.value, "\x00 ")) > 0 {
				return true
			}
		}
	}
	return false
}

// Camera names make and model as the file gives them, the make only once.
func (s Said) Camera() string {
	made, model := strings.TrimSpace(s.Make), strings.TrimSpace(s.Model)
	if made == "" || strings.HasPrefix(strings.ToLower(model), strings.ToLower(made)) {
		return model
	}
	return strings.TrimSpace(fmt.Sprintf("%s %s", made, model))
}

// Caption is the description, unless it is what the camera writes into every
// file: capitals only, or its own make.
func (s Said) Caption() string {
	text := strings.TrimSpace(s.Description)
	maker, _, _ := strings.Cut(strings.ToLower(s.Make), " ")
	if text == strings.ToUpper(text) || maker != "" && strings.Contains(strings.ToLower(text), maker) {
		return ""
	}
	return text
}

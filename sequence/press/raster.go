package press

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

// Resolutions of a template picture, in pixels per inch.
const (
	LeastTemplatePPI = 72
	MostTemplatePPI  = 400
)

// TemplatePicture writes the outside of a cover's template as a PNG file that is
// the cover with its bleed, no more, at so many pixels to the inch. face is a
// TrueType file to letter it with.
//
// Errors: Invalid for a resolution beyond the limits; Unreadable when out fails.
func TemplatePicture(out io.Writer, c pages.FlatCover, ppi int, letters Letters, face []byte) error {
	if ppi < LeastTemplatePPI || ppi > MostTemplatePPI {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("A template of %d pixels to the inch cannot be made.", ppi),
			Hint: fmt.Sprintf("%d to %d can; 300 are usual.", LeastTemplatePPI, MostTemplatePPI)}
	}
	r := raster{ppi: float64(ppi), from: c.Bled()}
	r.img = image.NewGray(image.Rect(0, 0, int(math.Round(r.pixels(r.from.Width))), int(math.Round(r.pixels(r.from.Height)))))
	r.fill(r.from, 255)
	for _, z := range zones(c.Outer) {
		r.fill(z, byte(math.Round(zoneGrey*255)))
	}
	for _, s := range strokes(c.Outer) {
		r.line(s)
	}
	for _, l := range labels(c.Outer, letters) {
		if err := r.letter(l, face); err != nil {
			return err
		}
	}
	var packed bytes.Buffer
	if err := png.Encode(&packed, r.img); err != nil {
		return err
	}
	if _, err := out.Write(scaled(packed.Bytes(), ppi)); err != nil {
		return &sequence.Error{Code: sequence.Unreadable, Message: "The picture could not be written to its end.", Hint: "See whether the disk has room, and try again.", Err: err}
	}
	return nil
}

// raster is a template in pixels.
type raster struct {
	img  *image.Gray
	ppi  float64
	from pages.Rect
}

func (r raster) pixels(l pages.Length) float64 { return l.Inches() * r.ppi }
func (r raster) at(x, y pages.Length) (float64, float64) {
	return r.pixels(x - r.from.X), r.pixels(y - r.from.Y)
}

func (r raster) fill(area pages.Rect, grey byte) {
	x1, y1 := r.at(area.X, area.Y)
	x2, y2 := r.at(area.Right(), area.Bottom())
	inside := image.Rect(int(math.Round(x1)), int(math.Round(y1)), int(math.Round(x2)), int(math.Round(y2))).Intersect(r.img.Rect)
	for y := inside.Min.Y; y < inside.Max.Y; y++ {
		for x := inside.Min.X; x < inside.Max.X; x++ {
			r.img.SetGray(x, y, color.Gray{Y: grey})
		}
	}
}

// line draws an upright or level line; its middle lies where the line does.
func (r raster) line(s stroke) {
	thick := max(1, int(math.Round(r.pixels(hair))))
	x1, y1 := r.at(min(s.x1, s.x2), min(s.y1, s.y2))
	x2, y2 := r.at(max(s.x1, s.x2), max(s.y1, s.y2))
	long, level := max(x2-x1, y2-y1), x2-x1 > y2-y1
	period, on := r.pixels(s.on+s.off), r.pixels(s.on)
	for d := 0.0; d <= long; d++ {
		if s.on > 0 && math.Mod(d, period) > on {
			continue
		}
		for w := range thick {
			x, y := x1+float64(w)-float64(thick)/2, y1+d
			if level {
				x, y = x1+d, y1+float64(w)-float64(thick)/2
			}
			// The outermost lines would lie half outside.
			px := max(0, min(int(math.Round(x)), r.img.Rect.Dx()-1))
			py := max(0, min(int(math.Round(y)), r.img.Rect.Dy()-1))
			r.img.SetGray(px, py, color.Gray{Y: byte(math.Round(s.grey * 255))})
		}
	}
}

func (r raster) letter(l label, face []byte) error {
	parsed, err := opentype.Parse(face)
	if err != nil {
		return fmt.Errorf("reading a typeface: %w", err)
	}
	set, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: r.pixels(l.Size), DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		return fmt.Errorf("reading a typeface: %w", err)
	}
	defer set.Close()
	x, y := r.at(l.X, l.Y)
	d := font.Drawer{Dst: r.img, Src: image.NewUniform(color.Gray{Y: 51}), Face: set, Dot: fixed.P(int(x), int(y))}
	d.DrawString(l.Text)
	return nil
}

// scaled adds to a PNG file how many pixels it has to the metre (PNG, third
// edition, 11.3.4.3: pHYs), behind its header.
func scaled(file []byte, ppi int) []byte {
	const header = 8 + 25
	perMetre := uint32(math.Round(float64(ppi) / 0.0254))
	chunk := binary.BigEndian.AppendUint32([]byte("pHYs"), perMetre)
	chunk = append(binary.BigEndian.AppendUint32(chunk, perMetre), 1)
	whole := append([]byte{}, file[:header]...)
	whole = binary.BigEndian.AppendUint32(whole, uint32(len(chunk)-4))
	whole = append(whole, chunk...)
	whole = binary.BigEndian.AppendUint32(whole, crc32.ChecksumIEEE(chunk))
	return append(whole, file[header:]...)
}

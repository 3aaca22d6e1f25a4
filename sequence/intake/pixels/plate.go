package pixels

import (
	"fmt"
	"image"
	"io"
	"runtime"

	"pairwall/sequence/colour"
	"pairwall/sequence/colour/inks"
	"pairwall/sequence/intake/header"
)

// Wanted is how a plate is to be made.
type Wanted struct {
	Long int           // longest side in pixels; 0: as large as the picture is
	Inks *inks.Profile // to convert to; nil: the picture keeps its own colours
}

// Plate is what a press gets of a picture that cannot go to it as it is.
type Plate struct {
	Width, Height int    // pixels as stored, not upright
	Channels      int    // 1, 3 or 4, of 8 bits each, side by side
	Profile       []byte // of the colours; nil: Wanted.Inks
}

// WritePlate writes a picture's samples, line after line from the top, 8 bits a
// channel, on white paper where it is transparent. It keeps the colours of the
// file when its profile fits the picture; what is said otherwise, or in 16 bits,
// becomes sRGB of 8.
//
// Errors: Damaged; what out returns.
func WritePlate(out io.Writer, full image.Image, h header.Header, want Wanted) (p Plate, err error) {
	defer func() {
		if cause := recover(); cause != nil {
			p, err = Plate{}, header.Damaged("This picture is damaged and cannot be printed.", fmt.Errorf("panic: %v", cause))
		}
	}()
	from := linesOf(full)
	if want.Long > 0 && want.Long < max(from.width, from.height) {
		small, err := shrink(from, want.Long)
		if err != nil {
			return Plate{}, err
		}
		from = small.lines()
	}
	p = Plate{Width: from.width, Height: from.height}
	convert, err := p.conversion(from, h, want.Inks)
	if err != nil {
		return Plate{}, err
	}
	return p, writeLines(out, from, p.Channels, convert)
}

// lines reads a raster as any other picture.
func (r raster) lines() lines {
	l := lines{width: r.width, height: r.height, colours: r.colours, alpha: r.alpha}
	row := r.width * r.channels()
	l.read = func(y int, line []uint16) { copy(line, r.pixels[y*row:(y+1)*row]) }
	return l
}

// toPlate converts a colour, up to four channels 0..1, in its place.
type toPlate func(c *colourIn)

// conversion works out which colours the plate has and how to come to them.
func (p *Plate) conversion(from lines, h header.Header, press *inks.Profile) (toPlate, error) {
	own := h.Profile
	if h.Torn || len(h.CICP) == 4 || !fitting(own, from.colours) {
		own = nil
	}
	if press != nil {
		p.Channels = 4
		return toInks(from, h, own, press)
	}
	if own != nil {
		p.Channels, p.Profile = from.colours, own
		return func(*colourIn) {}, nil
	}
	space, err := spaceOfLines(h, from)
	if err != nil {
		return nil, err
	}
	if from.colours == 1 && space.name == "" {
		p.Channels, p.Profile = 1, colour.GreyProfile()
		return func(*colourIn) {}, nil
	}
	p.Channels, p.Profile = 3, colour.SRGBProfile()
	if space.convert == nil {
		return func(*colourIn) {}, nil
	}
	return func(c *colourIn) { c[0], c[1], c[2] = space.convert(c) }, nil
}

// spaceOfLines is spaceOf for a picture that is not small: only where it says it
// is grey must its colours be looked at first.
func spaceOfLines(h header.Header, from lines) (colourSpace, error) {
	small, err := raster{colours: from.colours}, error(nil)
	if fitting(h.Profile, 1) && from.colours == 3 {
		small, err = shrink(from, 64)
	}
	return spaceOf(h, small), err
}

// fitting tells whether a profile can be embedded for a picture of so many
// channels: sound, of a device that shows or takes pictures, of as many channels
// (ICC.1:2022, 7.2.5 and 7.2.6).
func fitting(profile []byte, channels int) bool {
	if !inks.Sound(profile) {
		return false
	}
	switch string(profile[12:16]) {
	case "scnr", "mntr", "prtr", "spac":
	default:
		return false
	}
	return map[string]int{"GRAY": 1, "RGB ": 3, "CMYK": 4}[string(profile[16:20])] == channels
}

// writeLines converts and writes block by block, on all processors.
func writeLines(out io.Writer, from lines, channels int, convert toPlate) error {
	block := 32 * runtime.GOMAXPROCS(0)
	n := from.channels()
	row := from.width * channels
	samples := make([]byte, block*row)
	for top := 0; top < from.height; top += block {
		rows := min(block, from.height-top)
		err := spread(rows, func(first, last int) {
			line, in := make([]uint16, from.width*n), new(colourIn)
			for y := first; y < last; y++ {
				from.read(top+y, line)
				plateLine(line, from, samples[y*row:(y+1)*row], channels, convert, in)
			}
		})
		if err != nil {
			return err
		}
		if _, err := out.Write(samples[:rows*row]); err != nil {
			return err
		}
	}
	return nil
}

func plateLine(line []uint16, from lines, out []byte, channels int, convert toPlate, in *colourIn) {
	n := from.channels()
	var before [5]uint16 // neighbours are often equal, and converting is not cheap
	for x := range from.width {
		var pixel [5]uint16
		copy(pixel[:], line[n*x:n*x+n])
		to := out[channels*x : channels*x+channels]
		if x > 0 && pixel == before {
			copy(to, out[channels*(x-1):channels*x])
			continue
		}
		before = pixel
		for i := range from.colours {
			v := float64(pixel[i]) / 65535
			if from.alpha { // multiplied in already: what is missing to white is paper
				v = min(v+1-float64(pixel[from.colours])/65535, 1)
			}
			in[i] = v
		}
		convert(in)
		for i := range to {
			to[i] = uint8(min(max(in[i], 0), 1)*255 + 0.5)
		}
	}
}

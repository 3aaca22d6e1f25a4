package pixels

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"math"
	"strings"

	"github.com/kovidgoyal/imaging/prism/meta"
	"github.com/kovidgoyal/imaging/prism/meta/icc"

	"pairwall/sequence"
	"pairwall/sequence/colour/inks"
	"pairwall/sequence/intake/header"
)

// colourIn is a colour to be converted, up to four channels 0..1 in the
// picture's own space, and behind it room to work in.
type colourIn [8]float64

// toSRGB converts a colour to sRGB, 0..1, and may leave anything in its place;
// nil stands for RGB that is sRGB already.
type toSRGB func(c *colourIn) (r, g, b float64)

// colourSpace is how a picture's colours are to be understood.
type colourSpace struct {
	name     string // "" when sRGB was assumed
	convert  toSRGB
	findings []sequence.Finding
}

// spaceOf works out the colour space of a small picture: the file's profile if
// it has one that fits, what EXIF says otherwise, and else sRGB.
func spaceOf(h header.Header, small raster) colourSpace {
	plain := colourSpace{convert: assumed(small.colours)}
	unusable := func(why string) colourSpace {
		plain.findings = []sequence.Finding{{Code: sequence.Damaged, Words: "The colour profile in this file " + why + ", so its colours may look wrong.",
			Hint: "Export it again with a profile, or as sRGB."}}
		return plain
	}
	switch {
	case h.Torn:
		return unusable("is not whole")
	case len(h.CICP) == 4:
		code := meta.CodingIndependentCodePoints{ColorPrimaries: h.CICP[0], TransferCharacteristics: h.CICP[1],
			MatrixCoefficients: h.CICP[2], VideoFullRange: h.CICP[3], IsSet: true}
		if code.IsSRGB() || small.colours != 3 {
			return plain
		}
		if p := code.PipelineToSRGB(); p != nil {
			return colourSpace{name: fmt.Sprintf("cICP %d/%d", h.CICP[0], h.CICP[1]), convert: three(p)}
		}
		return unusable("is of a kind that Pairwall does not know")
	case h.Profile != nil:
		space, err := fromProfile(h.Profile, small)
		if err != nil {
			return unusable(err.Error())
		}
		return space
	case small.colours == 3 && h.Said.AdobeRGB:
		return colourSpace{name: "Adobe RGB (1998)", convert: adobeRGB}
	case small.colours == 4:
		plain.findings = []sequence.Finding{{Code: sequence.Unsupported, Words: "This picture is in printing inks (CMYK) without a colour profile, so its colours are only a guess.",
			Hint: "Export it as RGB from the program it was made with."}}
	}
	return plain
}

// assumed is the conversion when nothing is known: grey and RGB are taken for
// sRGB, inks for ideal ones.
func assumed(colours int) toSRGB {
	switch colours {
	case 1:
		return func(c *colourIn) (r, g, b float64) { return c[0], c[0], c[0] }
	case 4:
		return func(c *colourIn) (r, g, b float64) {
			light := 1 - c[3]
			return (1 - c[0]) * light, (1 - c[1]) * light, (1 - c[2]) * light
		}
	}
	return nil
}

var errTornProfile = errors.New("is damaged")

// fromProfile understands a picture by its embedded ICC profile: relative
// colorimetric with black point compensation, clipped to sRGB, as printing
// programs commonly do.
func fromProfile(data []byte, small raster) (space colourSpace, err error) {
	defer func() {
		if recover() != nil {
			space, err = colourSpace{}, errTornProfile
		}
	}()
	if !inks.Sound(data) {
		return colourSpace{}, errTornProfile
	}
	p, err := icc.DecodeProfile(bytes.NewReader(data))
	if err != nil {
		return colourSpace{}, errTornProfile
	}
	space.name = "unnamed profile"
	if name, err := p.Description(); err == nil && strings.Trim(name, "\x00 ") != "" {
		space.name = strings.Trim(name, "\x00 ")
	}
	if p.IsSRGB() && small.colours != 4 {
		space.convert = assumed(small.colours)
		return space, nil
	}
	channels := map[icc.ColorSpace]int{icc.ColorSpaceGray: 1, icc.ColorSpaceRGB: 3, icc.ColorSpaceCMYK: 4}[p.Header.DataColorSpace]
	pipeline, err := toScreen(p, channels, true)
	if err != nil {
		return colourSpace{}, errTornProfile
	}
	unclipped, err := toScreen(p, channels, false)
	if err != nil {
		return colourSpace{}, errTornProfile
	}
	space.convert, err = through(pipeline, unclipped, channels, small)
	return space, err
}

// toScreen is the library's conversion from a profile to sRGB, out-of-gamut
// colours clipped channel by channel or left beyond 0..1.
func toScreen(p *icc.Profile, channels int, clip bool) (*icc.Pipeline, error) {
	const blackPoint, mapGamut, optimize = true, false, true
	return p.CreateTransformerToSRGB(icc.RelativeColorimetricRenderingIntent, blackPoint, channels, clip, mapGamut, optimize)
}

// through feeds a picture's channels to a pipeline, which may take grey for a
// colour with three equal parts and the other way round.
func through(pipeline, unclipped *icc.Pipeline, channels int, small raster) (toSRGB, error) {
	switch {
	case channels == 1 && (small.colours == 1 || small.colours == 3 && small.neutral()):
		table := greyTable(pipeline)
		return func(c *colourIn) (r, g, b float64) {
			entry := &table[int(min(max(c[0], 0), 1)*65535+0.5)]
			return entry[0], entry[1], entry[2]
		}, nil
	case channels == 3 && small.colours == 1:
		colour := three(pipeline)
		return func(c *colourIn) (r, g, b float64) {
			c[1], c[2] = c[0], c[0]
			return colour(c)
		}, nil
	case channels == 3 && small.colours == 3:
		return quick(three(pipeline), unclipped), nil
	case channels == 4 && small.colours == 4:
		return func(c *colourIn) (r, g, b float64) {
			pipeline.TransformGeneral(c[4:], c[:4])
			return c[4], c[5], c[6]
		}, nil
	}
	return nil, errors.New("is for another kind of picture")
}

func three(p *icc.Pipeline) toSRGB {
	return func(c *colourIn) (r, g, b float64) { return p.Transform(c[0], c[1], c[2]) }
}

func greyTable(p *icc.Pipeline) *[65536][3]float64 {
	var table [65536][3]float64
	for i := range table {
		r, g, b := p.Transform(float64(i)/65535, 0, 0)
		table[i] = [3]float64{r, g, b}
	}
	return &table
}

// adobeRGB converts Adobe RGB (1998), whose transfer is a power of 563/256 and
// whose white is that of sRGB. The matrix is that of Adobe RGB (1998) Color
// Image Encoding, 2005, 4.3.5.3, multiplied by that of IEC 61966-2-1.
func adobeRGB(c *colourIn) (r, g, b float64) {
	const power = 563.0 / 256
	x, y, z := math.Pow(c[0], power), math.Pow(c[1], power), math.Pow(c[2], power)
	return encoded(1.39836*x - 0.39836*y), encoded(y), encoded(-0.04293*y + 1.04293*z)
}

// encoded is the transfer function of sRGB, IEC 61966-2-1, clipped.
func encoded(v float64) float64 {
	switch {
	case v <= 0:
		return 0
	case v <= 0.0031308:
		return 12.92 * v
	case v >= 1:
		return 1
	}
	return 1.055*math.Pow(v, 1/2.4) - 0.055
}

// neutral reports whether a picture of three channels shows no colour.
func (r raster) neutral() bool {
	n := r.channels()
	for i := 0; i+2 < len(r.pixels); i += n {
		if r.pixels[i] != r.pixels[i+1] || r.pixels[i] != r.pixels[i+2] {
			return false
		}
	}
	return true
}

// develop turns a small picture into sRGB on white paper.
func develop(small raster, convert toSRGB) (*image.RGBA, error) {
	n := small.channels()
	img := image.NewRGBA(image.Rect(0, 0, small.width, small.height))
	if convert == nil && n == 3 {
		for i := range small.width * small.height {
			from, to := small.pixels[3*i:3*i+3], img.Pix[4*i:4*i+4]
			to[0], to[1], to[2], to[3] = narrow(from[0]), narrow(from[1]), narrow(from[2]), 255
		}
		return img, nil
	}
	err := spread(small.height, func(first, last int) {
		in := new(colourIn)
		var before [5]uint16 // neighbours are often equal, and converting is not cheap
		var shown [3]uint8
		for i := first * small.width; i < last*small.width; i++ {
			var pixel [5]uint16
			copy(pixel[:], small.pixels[n*i:n*i+n])
			if pixel != before || i == first*small.width {
				shown, before = developed(pixel, small, convert, in), pixel
			}
			out := img.Pix[4*i : 4*i+4]
			out[0], out[1], out[2], out[3] = shown[0], shown[1], shown[2], 255
		}
	})
	return img, err
}

func developed(pixel [5]uint16, small raster, convert toSRGB, in *colourIn) [3]uint8 {
	alpha := 1.0
	if small.alpha {
		alpha = float64(pixel[small.colours]) / 65535
	}
	if alpha == 0 {
		return [3]uint8{255, 255, 255}
	}
	for i := range small.colours {
		in[i] = min(float64(pixel[i])/65535/alpha, 1)
	}
	r, g, b := in[0], in[1], in[2]
	if convert != nil {
		r, g, b = convert(in)
	}
	paper := 1 - alpha
	lay := func(v float64) uint8 { return uint8((min(max(v, 0), 1)*alpha+paper)*255 + 0.5) }
	return [3]uint8{lay(r), lay(g), lay(b)}
}

// narrow rounds 0..65535 to 0..255.
func narrow(v uint16) uint8 { return uint8((uint32(v) + 128) / 257) }

package pixels

import (
	"image"
	"image/color"
)

// lines reads a decoded picture line by line in its own colours: 16 bits a
// channel, channels side by side, alpha last and already multiplied in.
type lines struct {
	width, height int
	colours       int  // 1 grey, 3 RGB, 4 inks
	alpha         bool // a further channel
	read          func(y int, line []uint16)
}

// channels is how many numbers a pixel takes.
func (l lines) channels() int {
	if l.alpha {
		return l.colours + 1
	}
	return l.colours
}

// wide spreads 0..255 over 0..65535.
func wide(v uint8) uint16 { return uint16(v) * 0x101 }

// linesOf knows the layouts the decoders produce and goes round image.Image's
// costly At for them.
func linesOf(img image.Image) lines {
	b := img.Bounds()
	l := lines{width: b.Dx(), height: b.Dy(), colours: 3}
	switch img := img.(type) {
	case *image.YCbCr:
		l.read = func(y int, line []uint16) { readYCbCr(img, b.Min.X, b.Min.Y+y, line) }
	case *image.Gray:
		l.colours = 1
		l.read = func(y int, line []uint16) {
			for x, v := range img.Pix[y*img.Stride:][:l.width] {
				line[x] = wide(v)
			}
		}
	case *image.Gray16:
		l.colours = 1
		l.read = func(y int, line []uint16) {
			row := img.Pix[y*img.Stride:][:2*l.width]
			for x := range line {
				line[x] = uint16(row[2*x])<<8 | uint16(row[2*x+1])
			}
		}
	case *image.CMYK:
		l.colours = 4
		l.read = func(y int, line []uint16) {
			for i, v := range img.Pix[y*img.Stride:][:4*l.width] {
				line[i] = wide(v)
			}
		}
	case *image.RGBA:
		l.alpha = !img.Opaque()
		l.read = func(y int, line []uint16) { readRGBA(img.Pix[y*img.Stride:][:4*l.width], l.alpha, line) }
	case *image.RGBA64:
		l.alpha = !img.Opaque()
		l.read = func(y int, line []uint16) { readRGBA64(img.Pix[y*img.Stride:][:8*l.width], l.alpha, line) }
	case *banded:
		return img.lines()
	case *image.Paletted:
		l.alpha = !img.Opaque()
		l.read = palettedLines(img, l)
	default:
		opaque, known := img.(interface{ Opaque() bool })
		l.alpha = !known || !opaque.Opaque()
		l.read = anyLines(img, l)
	}
	return l
}

func readYCbCr(img *image.YCbCr, left, y int, line []uint16) {
	luma := img.Y[img.YOffset(left, y):]
	chroma := img.COffset(left, y)
	shift := 0 // how many pixels share a chroma sample, as a power of two
	switch img.SubsampleRatio {
	case image.YCbCrSubsampleRatio422, image.YCbCrSubsampleRatio420:
		shift = 1
	case image.YCbCrSubsampleRatio411, image.YCbCrSubsampleRatio410:
		shift = 2
	}
	chroma -= left >> shift
	for x := 0; 3*x < len(line); x++ {
		c := chroma + (left+x)>>shift
		r, g, b := color.YCbCrToRGB(luma[x], img.Cb[c], img.Cr[c])
		out := line[3*x : 3*x+3 : 3*x+3]
		out[0], out[1], out[2] = wide(r), wide(g), wide(b)
	}
}

func readRGBA(row []uint8, alpha bool, line []uint16) {
	if alpha {
		for i, v := range row {
			line[i] = wide(v)
		}
		return
	}
	for x := 0; 4*x < len(row); x++ {
		line[3*x], line[3*x+1], line[3*x+2] = wide(row[4*x]), wide(row[4*x+1]), wide(row[4*x+2])
	}
}

func readRGBA64(row []uint8, alpha bool, line []uint16) {
	to := 0
	for i := 0; i < len(row); i += 2 {
		if i%8 == 6 && !alpha {
			continue
		}
		line[to] = uint16(row[i])<<8 | uint16(row[i+1])
		to++
	}
}

// palettedLines looks every colour up once. An index beyond the palette shows
// as its first colour.
func palettedLines(img *image.Paletted, l lines) func(y int, line []uint16) {
	var table [256][4]uint16
	for i, c := range img.Palette[:min(len(img.Palette), 256)] {
		r, g, b, a := c.RGBA()
		table[i] = [4]uint16{uint16(r), uint16(g), uint16(b), uint16(a)}
	}
	for i := len(img.Palette); i < 256; i++ {
		table[i] = table[0]
	}
	n := l.channels()
	return func(y int, line []uint16) {
		for x, index := range img.Pix[y*img.Stride:][:l.width] {
			copy(line[n*x:n*x+n], table[index][:])
		}
	}
}

func anyLines(img image.Image, l lines) func(y int, line []uint16) {
	b, n := img.Bounds(), l.channels()
	deep, fast := img.(image.RGBA64Image)
	return func(y int, line []uint16) {
		for x := range l.width {
			var c color.RGBA64
			if fast {
				c = deep.RGBA64At(b.Min.X+x, b.Min.Y+y)
			} else {
				c = color.RGBA64Model.Convert(img.At(b.Min.X+x, b.Min.Y+y)).(color.RGBA64)
			}
			pixel := [4]uint16{c.R, c.G, c.B, c.A}
			copy(line[n*x:n*x+n], pixel[:])
		}
	}
}

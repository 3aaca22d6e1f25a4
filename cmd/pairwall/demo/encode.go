package demo

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"path/filepath"
)

const jpegQuality = 88

// encode turns an upright picture into the bytes of its file, EXIF included.
func (p *work) encode(img *image.RGBA) ([]byte, error) {
	if p.turned {
		img = turnLeft(img)
	}
	exif := p.exifBlock(img.Rect.Dx(), img.Rect.Dy())
	switch filepath.Ext(p.File) {
	case ".tif":
		return p.tiff(img), nil
	case ".png":
		return pngFile(img, exif)
	}
	var pic image.Image = img
	if p.stock.mono {
		pic = toGray(img)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, pic, &jpeg.Options{Quality: jpegQuality}); err != nil {
		return nil, err
	}
	// APP1 must follow the two bytes that open the file; its length counts itself.
	head := append([]byte("Exif\x00\x00"), exif...)
	out := append([]byte{0xff, 0xd8, 0xff, 0xe1}, binary.BigEndian.AppendUint16(nil, uint16(len(head)+2))...)
	return append(append(out, head...), b.Bytes()[2:]...), nil
}

// pngFile puts the EXIF block into an eXIf chunk (PNG, third edition, 11.3.4.6)
// straight after the header chunk, whose end is always at byte 33.
func pngFile(img image.Image, exif []byte) ([]byte, error) {
	var b bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := enc.Encode(&b, img); err != nil {
		return nil, err
	}
	chunk := append([]byte("eXIf"), exif...)
	out := append([]byte(nil), b.Bytes()[:33]...)
	out = binary.BigEndian.AppendUint32(out, uint32(len(exif)))
	out = append(out, chunk...)
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(chunk))
	return append(out, b.Bytes()[33:]...), nil
}

// tiff writes an 8-bit grey TIFF, one uncompressed strip, as scanners do.
func (p *work) tiff(img *image.RGBA) []byte {
	g := toGray(img)
	w, h := g.Rect.Dx(), g.Rect.Dy()
	exif := p.exifDirectory(w, h)
	build := func(exifAt, pixels uint32) directory {
		var d directory
		d.long(0x0100, uint32(w))
		d.long(0x0101, uint32(h))
		d.shorts(0x0102, 8)
		d.shorts(0x0103, 1)
		d.shorts(0x0106, 1)
		d.text(0x010e, invented)
		d.text(0x010f, "Pairwall")
		d.text(0x0110, p.device())
		d.long(0x0111, pixels)
		d.shorts(0x0112, 1)
		d.shorts(0x0115, 1)
		d.long(0x0116, uint32(h))
		d.long(0x0117, uint32(w*h))
		d.rationals(0x011a, 1, 300)
		d.rationals(0x011b, 1, 300)
		d.shorts(0x0128, 2)
		d.text(0x0131, "Pairwall demo")
		d.text(0x0132, p.written())
		d.long(0x8769, exifAt)
		return d
	}
	exifAt := 8 + build(0, 0).size()
	pixels := exifAt + exif.size()
	out := append([]byte("II*\x00"), 8, 0, 0, 0)
	out = build(exifAt, pixels).write(out, 8)
	out = exif.write(out, exifAt)
	return append(out, g.Pix...)
}

func toGray(img *image.RGBA) *image.Gray {
	g := image.NewGray(img.Rect)
	for i := range g.Pix {
		g.Pix[i] = img.Pix[4*i+1]
	}
	return g
}

// turnLeft stores an upright picture on its side, so that turning it a quarter to
// the right (orientation 6) shows it upright again.
func turnLeft(img *image.RGBA) *image.RGBA {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	out := image.NewRGBA(image.Rect(0, 0, h, w))
	for y := range w {
		for x := range h {
			copy(out.Pix[out.PixOffset(x, y):][:4], img.Pix[img.PixOffset(w-1-y, x):][:4])
		}
	}
	return out
}

// rebateFrame lays the picture into the black border of the film, with the soft,
// not quite straight edge of a filed-out negative carrier.
func rebateFrame(img *image.RGBA, seed uint32) *image.RGBA {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	m := h / 24
	out := image.NewRGBA(image.Rect(0, 0, w+2*m, h+2*m))
	u := float64(h)
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			fx, fy := float64(x-m)/u, float64(y-m)/u
			wob := 0.004*fbm(fx*9, fy*9, 2, seed) + 0.002*fbm(fx*70, fy*70, 2, seed+1)
			e := min(fx, float64(w)/u-fx, fy, 1-fy) - wob
			a := ramp(-0.0012, 0.0022, e)
			base := 10 + 14*fbm(fx*5, fy*5, 2, seed+2)
			v := color.RGBA{uint8(base), uint8(base), uint8(base), 255}
			if a > 0 {
				q := img.RGBAAt(min(max(x-m, 0), w-1), min(max(y-m, 0), h-1))
				k := func(p uint8) uint8 { return uint8(lerp(base, float64(p), a) + 0.5) }
				v = color.RGBA{k(q.R), k(q.G), k(q.B), 255}
			}
			out.SetRGBA(x, y, v)
		}
	}
	return out
}

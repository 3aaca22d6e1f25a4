package demo

import (
	"bytes"
	"encoding/binary"
	"math"
	"time"
)

// Field types of TIFF 6.0, section 2, and tag numbers of TIFF 6.0 and EXIF 2.31
// (CIPA DC-008-2016), from memory; the tests read them back with another reader.
const (
	tByte, tASCII, tShort, tLong, tRational, tUndefined = 1, 2, 3, 4, 5, 7

	invented = "Invented picture, drawn by Pairwall"
)

type field struct {
	tag, kind uint16
	count     uint32
	data      []byte
}

// directory is one IFD; fields must be added in ascending order of tag.
type directory []field

func (d *directory) bytes(tag, kind uint16, data []byte) {
	*d = append(*d, field{tag, kind, uint32(len(data)), data})
}

func (d *directory) text(tag uint16, s string) { d.bytes(tag, tASCII, append([]byte(s), 0)) }

func (d *directory) shorts(tag uint16, v ...uint16) {
	b := new(bytes.Buffer)
	_ = binary.Write(b, binary.LittleEndian, v) // a buffer takes everything
	*d = append(*d, field{tag, tShort, uint32(len(v)), b.Bytes()})
}

func (d *directory) long(tag uint16, v uint32) {
	*d = append(*d, field{tag, tLong, 1, binary.LittleEndian.AppendUint32(nil, v)})
}

// rationals writes each value as numerator over a fixed denominator.
func (d *directory) rationals(tag uint16, den uint32, v ...float64) {
	var b []byte
	for _, x := range v {
		b = binary.LittleEndian.AppendUint32(b, uint32(math.Round(x*float64(den))))
		b = binary.LittleEndian.AppendUint32(b, den)
	}
	*d = append(*d, field{tag, tRational, uint32(len(v)), b})
}

// size is what the directory takes together with the values that do not fit into its entries.
func (d directory) size() uint32 {
	n := uint32(2 + 12*len(d) + 4)
	for _, f := range d {
		if len(f.data) > 4 {
			n += uint32(len(f.data)+1) &^ 1
		}
	}
	return n
}

// write appends the directory as it must stand at offset at.
func (d directory) write(out []byte, at uint32) []byte {
	le := binary.LittleEndian
	out = le.AppendUint16(out, uint16(len(d)))
	next := at + uint32(2+12*len(d)+4)
	var tail []byte
	for _, f := range d {
		out = le.AppendUint16(out, f.tag)
		out = le.AppendUint16(out, f.kind)
		out = le.AppendUint32(out, f.count)
		if len(f.data) <= 4 {
			out = append(append(out, f.data...), make([]byte, 4-len(f.data))...)
			continue
		}
		out = le.AppendUint32(out, next+uint32(len(tail)))
		tail = append(tail, f.data...)
		if len(tail)%2 == 1 {
			tail = append(tail, 0)
		}
	}
	out = le.AppendUint32(out, 0)
	return append(out, tail...)
}

// exifBlock is a whole TIFF structure: header, IFD0, the EXIF directory and, where
// the picture has a position, the GPS directory. w and h are stored pixels.
func (p *work) exifBlock(w, h int) []byte {
	orientation := uint16(1)
	if p.turned {
		orientation = 6
	}
	build := func(exifAt, gpsAt uint32) directory {
		var d directory
		d.text(0x010e, invented)
		d.text(0x010f, "Pairwall")
		d.text(0x0110, p.device())
		d.shorts(0x0112, orientation)
		d.rationals(0x011a, 1, 300)
		d.rationals(0x011b, 1, 300)
		d.shorts(0x0128, 2)
		d.text(0x0131, "Pairwall demo")
		d.text(0x0132, p.written())
		d.shorts(0x0213, 1)
		d.long(0x8769, exifAt)
		if p.Position != nil {
			d.long(0x8825, gpsAt)
		}
		return d
	}
	exif, gps := p.exifDirectory(w, h), p.gpsDirectory()
	exifAt := 8 + build(0, 0).size()
	gpsAt := exifAt + exif.size()
	out := append([]byte("II*\x00"), 8, 0, 0, 0)
	out = build(exifAt, gpsAt).write(out, 8)
	out = exif.write(out, exifAt)
	if p.Position != nil {
		out = gps.write(out, gpsAt)
	}
	return out
}

func (p *work) device() string {
	if p.Kind == Film {
		return "Demo film scanner"
	}
	return "Demo camera"
}

// written is the file's own date: of taking for a camera, of scanning for a scanner.
func (p *work) written() string {
	if p.Taken == nil {
		return p.scanned
	}
	return p.Taken.Format("2006:01:02 15:04:05")
}

func (p *work) exifDirectory(w, h int) directory {
	var d directory
	d.bytes(0x9000, tUndefined, []byte("0231"))
	if p.Taken != nil {
		stamp, zone := p.Taken.Format("2006:01:02 15:04:05"), p.Taken.Format("-07:00")
		d.text(0x9003, stamp)
		d.text(0x9004, stamp)
		d.text(0x9010, zone)
		d.text(0x9011, zone)
		d.text(0x9012, zone)
	}
	d.bytes(0x9101, tUndefined, []byte{1, 2, 3, 0})
	d.bytes(0x9286, tUndefined, append([]byte("ASCII\x00\x00\x00"), invented...))
	d.bytes(0xa000, tUndefined, []byte("0100"))
	d.shorts(0xa001, 1)
	d.long(0xa002, uint32(w))
	d.long(0xa003, uint32(h))
	return d
}

func (p *work) gpsDirectory() directory {
	var d directory
	if p.Position == nil {
		return d
	}
	lat, lng := p.Position[0], p.Position[1]
	half := func(v float64, pos, neg string) string {
		if v < 0 {
			return neg
		}
		return pos
	}
	utc := p.Taken.In(time.UTC)
	d.bytes(0, tByte, []byte{2, 3, 0, 0})
	d.text(1, half(lat, "N", "S"))
	d.rationals(2, 10000, sexagesimal(lat)...)
	d.text(3, half(lng, "E", "W"))
	d.rationals(4, 10000, sexagesimal(lng)...)
	d.rationals(7, 1, float64(utc.Hour()), float64(utc.Minute()), float64(utc.Second()))
	d.text(18, "WGS-84")
	d.text(29, utc.Format("2006:01:02"))
	return d
}

// sexagesimal splits degrees into whole degrees, whole minutes and seconds to 0.0001.
func sexagesimal(v float64) []float64 {
	n := math.Round(math.Abs(v) * 3600 * 10000)
	s := math.Mod(n, 600000)
	m := math.Mod((n-s)/600000, 60)
	return []float64{(n - s - m*600000) / 36000000, m, s / 10000}
}

package jpeg

import (
	"errors"
	"fmt"
	"image"
)

// ErrDamaged means that no picture could be had from the file at all.
var ErrDamaged = errors.New("damaged JPEG")

// ErrUnsupported means a kind of JPEG that this package does not decode.
var ErrUnsupported = errors.New("unsupported JPEG")

// Picture is what could be decoded of a file.
type Picture struct {
	// Image is *image.Gray, *image.YCbCr, *image.RGBA or *image.CMYK of the
	// scaled size, each side rounded up.
	Image image.Image
	// Shown is the share of the picture that came through, 0..1: what of it is
	// missing or broken is grey. 1 when it is whole.
	Shown float64
	// Coarse is true when all of the picture is shown but some scan is missing
	// or broken that makes it finer, or gives it its colours.
	Coarse bool
	// Ended is false when the marker that ends a file was not found.
	Ended bool
}

// Markers, T.81 table B.1.
const (
	markerSOF0  = 0xC0
	markerSOF1  = 0xC1
	markerSOF2  = 0xC2
	markerDHT   = 0xC4
	markerRST0  = 0xD0
	markerRST7  = 0xD7
	markerSOI   = 0xD8
	markerEOI   = 0xD9
	markerSOS   = 0xDA
	markerDQT   = 0xDB
	markerDRI   = 0xDD
	markerAPP14 = 0xEE
)

// component is one channel.
type component struct {
	id             byte
	across, down   int // sampling factors
	table          int // of quantisation
	blocksX        int // blocks of the channel, padded to whole units
	blocksY        int
	plane          []uint8
	stride         int
	saved          []int16 // a progressive picture's coefficients, 64 a block in zigzag order
	ownX, ownY     int     // blocks without padding, for scans of this channel alone
	lastDC         int32
	dcTable, acSet int
}

type decoder struct {
	data          []byte
	at            int
	side          int // pixels of a block after scaling: 8, 4, 2 or 1
	width, height int
	progressive   bool
	components    []component
	mostX, mostY  int // largest sampling factors
	unitsX        int // units (MCU) of the picture
	unitsY        int
	quantities    [4][64]uint16 // zigzag order
	dc, ac        [4]huffman
	interval      int // units between restarts, 0 for none
	transform     int // of Adobe's marker, -1 without one
	eobRun        int32
	bits          bits
	finest        [4][64]int8 // progressive: how many low bits of a coefficient are still to come; -1 before its first scan

	decoded int  // units of the widest scan that came through
	wanted  int  // units it has
	broken  bool // a scan was not whole
}

// Decode decodes a file to 1/scale of its size; scale is 1, 2, 4 or 8.
//
// Errors: ErrUnsupported, and ErrDamaged when not even a row of the picture
// could be decoded.
func Decode(data []byte, scale int) (Picture, error) {
	d := &decoder{data: data, side: 8 / scale, transform: -1}
	if scale != 1 && scale != 2 && scale != 4 && scale != 8 {
		return Picture{}, fmt.Errorf("no scale %d", scale)
	}
	for i := range d.finest {
		for k := range d.finest[i] {
			d.finest[i][k] = -1
		}
	}
	ended, err := d.segments()
	if err != nil && (errors.Is(err, ErrUnsupported) || d.components == nil || d.wanted == 0) {
		return Picture{}, err
	}
	if d.decoded < min(d.unitsX, d.wanted) {
		return Picture{}, fmt.Errorf("%w: %d of %d units", ErrDamaged, d.decoded, d.wanted)
	}
	if d.progressive {
		d.renderSaved()
	}
	p := Picture{Image: d.image(), Shown: float64(d.decoded) / float64(d.wanted), Ended: ended}
	p.Coarse = p.Shown == 1 && d.coarse()
	return p, nil
}

func damaged(what string) error { return fmt.Errorf("%w: %s", ErrDamaged, what) }

// segments reads the file's segments and scans to its end.
func (d *decoder) segments() (ended bool, err error) {
	if len(d.data) < 4 || d.data[0] != 0xFF || d.data[1] != markerSOI {
		return false, damaged("no start")
	}
	d.at = 2
	for {
		marker, payload, ok := d.next()
		if !ok {
			return false, damaged("no end")
		}
		switch {
		case marker == markerEOI:
			return true, nil
		case marker == markerSOI, payload == nil:
			continue
		case marker == markerSOF0, marker == markerSOF1, marker == markerSOF2:
			err = d.frame(marker, payload)
		case marker > markerSOF2 && marker < markerRST0 && marker != markerDHT && marker != 0xC8 && marker != 0xCC:
			err = fmt.Errorf("%w: frame of type %X", ErrUnsupported, marker)
		case marker == markerDHT:
			err = d.huffmanTables(payload)
		case marker == markerDQT:
			err = d.quantisation(payload)
		case marker == markerDRI && len(payload) >= 2:
			d.interval = int(payload[0])<<8 | int(payload[1])
		case marker == markerAPP14 && len(payload) >= 12 && string(payload[:5]) == "Adobe":
			d.transform = int(payload[11])
		case marker == markerSOS:
			err = d.scan(payload)
		}
		if err != nil {
			return false, err
		}
	}
}

// next finds the next marker and its payload, nil for one that stands alone.
func (d *decoder) next() (marker byte, payload []byte, ok bool) {
	for d.at+1 < len(d.data) && (d.data[d.at] != 0xFF || d.data[d.at+1] == 0 || d.data[d.at+1] == 0xFF) {
		d.at++
	}
	if d.at+1 >= len(d.data) {
		return 0, nil, false
	}
	marker = d.data[d.at+1]
	d.at += 2
	if marker == markerEOI || marker >= markerRST0 && marker <= markerSOI || marker == 0x01 {
		return marker, nil, true
	}
	if d.at+2 > len(d.data) {
		return 0, nil, false
	}
	length := int(d.data[d.at])<<8 | int(d.data[d.at+1])
	if length < 2 || d.at+length > len(d.data) {
		return 0, nil, false
	}
	payload = d.data[d.at+2 : d.at+length]
	d.at += length
	return marker, payload, true
}

func (d *decoder) quantisation(p []byte) error {
	for len(p) > 0 {
		wide, table := int(p[0]>>4), p[0]&15
		p = p[1:]
		if wide > 1 || table > 3 || len(p) < 64*(wide+1) {
			return damaged("quantisation")
		}
		for i := range 64 {
			if wide == 1 {
				d.quantities[table][i] = uint16(p[2*i])<<8 | uint16(p[2*i+1])
			} else {
				d.quantities[table][i] = uint16(p[i])
			}
		}
		p = p[64*(wide+1):]
	}
	return nil
}

func (d *decoder) huffmanTables(p []byte) error {
	for len(p) > 0 {
		if len(p) < 17 {
			return damaged("Huffman table")
		}
		class, table := p[0]>>4, p[0]&15
		total := 0
		for _, count := range p[1:17] {
			total += int(count)
		}
		if class > 1 || table > 3 || total > 256 || len(p) < 17+total {
			return damaged("Huffman table")
		}
		to := &d.dc[table]
		if class == 1 {
			to = &d.ac[table]
		}
		if !to.make(p[1:17], p[17:17+total]) {
			return damaged("Huffman table")
		}
		p = p[17+total:]
	}
	return nil
}

// frame reads the frame header (T.81, B.2.2) and makes room for the picture.
func (d *decoder) frame(marker byte, p []byte) error {
	if d.components != nil {
		return damaged("a second frame")
	}
	if len(p) < 6 || p[0] != 8 || len(p) < 6+3*int(p[5]) {
		return fmt.Errorf("%w: frame header", ErrUnsupported)
	}
	d.progressive = marker == markerSOF2
	d.height, d.width = int(p[1])<<8|int(p[2]), int(p[3])<<8|int(p[4])
	count := int(p[5])
	if d.width == 0 || d.height == 0 || count != 1 && count != 3 && count != 4 {
		return fmt.Errorf("%w: %d × %d, %d channels", ErrUnsupported, d.width, d.height, count)
	}
	list := make([]component, count)
	for i := range list {
		raw := p[6+3*i:]
		c := &list[i]
		c.id, c.across, c.down, c.table = raw[0], int(raw[1]>>4), int(raw[1]&15), int(raw[2])
		if c.across < 1 || c.across > 4 || c.down < 1 || c.down > 4 || c.table > 3 {
			return damaged("sampling")
		}
		if count == 1 { // means nothing for a single channel (T.81, A.2.2)
			c.across, c.down = 1, 1
		}
		d.mostX, d.mostY = max(d.mostX, c.across), max(d.mostY, c.down)
	}
	d.unitsX, d.unitsY = ceil(d.width, 8*d.mostX), ceil(d.height, 8*d.mostY)
	for i := range list {
		c := &list[i]
		c.blocksX, c.blocksY = d.unitsX*c.across, d.unitsY*c.down
		c.ownX, c.ownY = ceil(ceil(d.width*c.across, d.mostX), 8), ceil(ceil(d.height*c.down, d.mostY), 8)
		c.stride = c.blocksX * d.side
		c.plane = make([]uint8, c.stride*c.blocksY*d.side)
		for j := range c.plane {
			c.plane[j] = 128 // what never comes is grey
		}
		if d.progressive {
			c.saved = make([]int16, 64*c.blocksX*c.blocksY)
		}
	}
	d.components = list
	return nil
}

func ceil(a, b int) int { return (a + b - 1) / b }

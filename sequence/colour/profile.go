package colour

import (
	"crypto/md5"
	"encoding/binary"
	"math"
	"slices"
	"unicode/utf16"
)

// SRGBProfile returns a complete ICC profile for sRGB (ICC.1:2004-10, profile
// version 4.2, monitor class, RGB to XYZ by matrix), to be embedded in pictures
// and PDF. It is built from the figures of IEC 61966-2-1 alone: the transfer
// curve as parameters, the primaries adapted to D50 by Bradford. The bytes are
// always the same, and the caller's to keep.
func SRGBProfile() []byte { return slices.Clone(srgbProfile) }

var srgbProfile = buildProfile()

// GreyProfile returns a profile for greys with the transfer curve of sRGB, so
// that a picture of one channel without a profile looks like the same picture of
// three. Built and kept as SRGBProfile is.
func GreyProfile() []byte { return slices.Clone(greyProfile) }

var greyProfile = buildGreyProfile()

func buildGreyProfile() []byte {
	return assemble("GRAY", []iccTag{
		{"desc", textElement("Grey with the curve of sRGB")},
		{"cprt", textElement("No copyright (CC0 1.0). Use freely.")},
		{"wtpt", fixedElement("XYZ ", fixed(iccD50[0]), fixed(iccD50[1]), fixed(iccD50[2]))},
		{"chad", chadElement(adaptation(whiteXYZ(srgbWhite), iccD50))},
		{"kTRC", srgbCurve()},
	})
}

// iccD50 is the profile connection space's white as ICC.1 prints it.
var iccD50 = [3]float64{0.9642, 1, 0.8249}

// bradford takes XYZ to the sharpened cone responses of ICC.1, annex E.
var bradford = matrix{
	{0.8951, 0.2664, -0.1614},
	{-0.7502, 1.7135, 0.0367},
	{0.0389, -0.0685, 1.0296},
}

// adaptation is the Bradford transform from one white to another.
func adaptation(from, to [3]float64) matrix {
	a, b := bradford.apply(from), bradford.apply(to)
	return bradford.inverse().times(diagonal([3]float64{b[0] / a[0], b[1] / a[1], b[2] / a[2]})).times(bradford)
}

type iccTag struct {
	signature string
	data      []byte
}

func buildProfile() []byte {
	adapt := adaptation(whiteXYZ(srgbWhite), iccD50)
	colorants := colorantsOf(adapt.times(srgbToXYZ))
	curve := srgbCurve()
	return assemble("RGB ", []iccTag{
		{"desc", textElement("sRGB (IEC 61966-2-1)")},
		{"cprt", textElement("No copyright (CC0 1.0). Use freely.")},
		{"wtpt", fixedElement("XYZ ", fixed(iccD50[0]), fixed(iccD50[1]), fixed(iccD50[2]))},
		{"chad", chadElement(adapt)},
		{"rXYZ", fixedElement("XYZ ", colorants[0][:]...)},
		{"gXYZ", fixedElement("XYZ ", colorants[1][:]...)},
		{"bXYZ", fixedElement("XYZ ", colorants[2][:]...)},
		{"rTRC", curve}, {"gTRC", curve}, {"bTRC", curve},
	})
}

// colorantsOf rounds the matrix's columns to the file's precision so that they
// still sum to the white point exactly; what is over goes to green, the largest.
func colorantsOf(m matrix) (columns [3][3]int32) {
	for i := range 3 {
		left := fixed(iccD50[i])
		for _, j := range []int{0, 2} {
			columns[j][i] = fixed(m[i][j])
			left -= columns[j][i]
		}
		columns[1][i] = left
	}
	return columns
}

// fixed is ICC's s15Fixed16Number.
func fixed(v float64) int32 { return int32(math.Round(v * 65536)) }

// element starts a tag's data: its type and four reserved bytes.
func element(kind string) []byte { return append([]byte(kind), 0, 0, 0, 0) }

func fixedElement(kind string, values ...int32) []byte {
	data := element(kind)
	for _, v := range values {
		data = binary.BigEndian.AppendUint32(data, uint32(v))
	}
	return data
}

func chadElement(m matrix) []byte {
	var values []int32
	for _, row := range m {
		for _, v := range row {
			values = append(values, fixed(v))
		}
	}
	return fixedElement("sf32", values...)
}

// srgbCurve is a parametricCurveType, function 3: Y = (aX+b)^g from X = d
// upward, Y = cX below. All three channels share one copy.
func srgbCurve() []byte {
	const function = 3 << 16 // a 16-bit number and two reserved bytes
	return fixedElement("para", function, fixed(curveGamma), fixed(1/(1+curveOffset)),
		fixed(curveOffset/(1+curveOffset)), fixed(1/curveSlope), fixed(curveKnee))
}

// textElement is a multiLocalizedUnicodeType with one record, in English.
func textElement(text string) []byte {
	units := utf16.Encode([]rune(text))
	data := element("mluc")
	data = binary.BigEndian.AppendUint32(data, 1)  // records
	data = binary.BigEndian.AppendUint32(data, 12) // bytes in each
	data = append(data, "enGB"...)
	data = binary.BigEndian.AppendUint32(data, uint32(2*len(units)))
	data = binary.BigEndian.AppendUint32(data, 28) // where the text starts
	for _, u := range units {
		data = binary.BigEndian.AppendUint16(data, u)
	}
	return data
}

const iccHeaderSize = 128

// assemble lays out header, tag table and data, each element at a multiple of
// four bytes; equal elements of neighbouring tags are stored once.
func assemble(space string, tags []iccTag) []byte {
	table := binary.BigEndian.AppendUint32(nil, uint32(len(tags)))
	offset := iccHeaderSize + 4 + 12*len(tags)
	var body []byte
	for i, tag := range tags {
		if i > 0 && slices.Equal(tag.data, tags[i-1].data) {
			last := table[len(table)-8:]
			table = append(append(table, tag.signature...), last...)
			continue
		}
		table = append(table, tag.signature...)
		table = binary.BigEndian.AppendUint32(table, uint32(offset+len(body)))
		table = binary.BigEndian.AppendUint32(table, uint32(len(tag.data)))
		body = append(body, tag.data...)
		for len(body)%4 != 0 {
			body = append(body, 0)
		}
	}
	profile := slices.Concat(iccHeader(space, offset+len(body)), table, body)
	// The profile ID is the MD5 of the profile while flags, intent and ID are
	// zero; the first two are zero here anyway.
	id := md5.Sum(profile)
	copy(profile[84:], id[:])
	return profile
}

func iccHeader(space string, size int) []byte {
	header := make([]byte, iccHeaderSize)
	binary.BigEndian.PutUint32(header, uint32(size))
	binary.BigEndian.PutUint32(header[8:], 0x04200000) // version 4.2
	copy(header[12:], "mntr"+space+"XYZ ")
	for i, v := range []uint16{2026, 1, 1, 0, 0, 0} { // a fixed date keeps the bytes fixed
		binary.BigEndian.PutUint16(header[24+2*i:], v)
	}
	copy(header[36:], "acsp")
	for i, v := range iccD50 {
		binary.BigEndian.PutUint32(header[68+4*i:], uint32(fixed(v)))
	}
	return header
}

var (
	srgbToD50    = adaptation(whiteXYZ(srgbWhite), iccD50).times(srgbToXYZ)
	printersRows = [3][3]float64{over(srgbToD50[0], iccD50[0]), over(srgbToD50[1], iccD50[1]), over(srgbToD50[2], iccD50[2])}
)

func over(row [3]float64, white float64) [3]float64 {
	return [3]float64{row[0] / white, row[1] / white, row[2] / white}
}

// UnderD50 converts one sRGB pixel to CIELAB as printing uses it: the white
// point is D50, adapted to by Bradford (ICC.1:2010, annex E), and white is
// exactly 100, 0, 0. It is not to be mixed with colours of FromSRGB.
func UnderD50(r, g, b uint8) Lab {
	return Lab(D50FromLinear([3]float64{linearOf[r], linearOf[g], linearOf[b]}))
}

package header

import (
	"bytes"
	"encoding/binary"
	"io"
	"slices"
)

// The tags we want, by the directory they lie in. Source: EXIF 2.32
// (CIPA DC-008-2019), sections 4.6.4 to 4.6.7, and DCF 2.0 for the
// interoperability index.
const (
	tagDescription = 0x010E
	tagMake        = 0x010F
	tagModel       = 0x0110
	tagOrientation = 0x0112
	tagSoftware    = 0x0131
	tagDateTime    = 0x0132
	tagEXIF        = 0x8769
	tagGPS         = 0x8825

	tagExposureTime    = 0x829A
	tagFNumber         = 0x829D
	tagSensitivity     = 0x8827
	tagProgram         = 0x8822
	tagMetering        = 0x9207
	tagFlash           = 0x9209
	tagFocalLength     = 0x920A
	tagOriginal        = 0x9003
	tagDigitized       = 0x9004
	tagOffset          = 0x9010
	tagOffsetOriginal  = 0x9011
	tagOffsetDigitized = 0x9012
	tagSubSecOriginal  = 0x9291
	tagColourSpace     = 0xA001
	tagInteroperation  = 0xA005
	tagFileSource      = 0xA300
	tagLensSpec        = 0xA432
	tagLensMake        = 0xA433
	tagLensModel       = 0xA434

	tagInteropIndex = 0x0001

	tagLatitudeRef  = 0x0001
	tagLatitude     = 0x0002
	tagLongitudeRef = 0x0003
	tagLongitude    = 0x0004
	tagGPSStatus    = 0x0009
	tagGPSError     = 0x001F
)

var (
	wantedMain = []uint16{tagDescription, tagMake, tagModel, tagOrientation, tagSoftware, tagDateTime}
	wantedEXIF = []uint16{tagExposureTime, tagFNumber, tagSensitivity, tagOriginal, tagDigitized,
		tagOffset, tagOffsetOriginal, tagOffsetDigitized, tagSubSecOriginal, tagColourSpace, tagFileSource,
		tagLensSpec, tagLensMake, tagLensModel, tagProgram, tagMetering, tagFlash, tagFocalLength}
	wantedInterop = []uint16{tagInteropIndex}
	wantedGPS     = []uint16{tagLatitudeRef, tagLatitude, tagLongitudeRef, tagLongitude, tagGPSStatus, tagGPSError}
)

// entry is a field copied out of a file together with its value, which is
// still in the file's byte order.
type entry struct {
	tag, kind uint16
	count     uint32
	value     []byte
}

// block is what a file's EXIF holds of the tags we want.
type block struct {
	order                    binary.ByteOrder
	main, exif, interop, gps []entry

	from io.ReaderAt // the structure it was read from
	size int64
}

// readBlock walks the directories of a TIFF structure that can hold wanted
// tags: the first one and the three it points to, each once. It follows no
// chain of directories, so there is nothing to go round in. A structure that
// does not begin as one gives nil.
func readBlock(from io.ReaderAt, size int64) *block {
	t, first, err := openTree(from, size)
	if err != nil {
		return nil
	}
	main := t.directory(first)
	exif := t.directory(t.number(main, tagEXIF, 0))
	b := &block{order: t.order, from: from, size: size}
	b.main = t.copyOf(main, wantedMain)
	b.exif = t.copyOf(exif, wantedEXIF)
	b.interop = t.copyOf(t.directory(t.number(exif, tagInteroperation, 0)), wantedInterop)
	b.gps = t.copyOf(t.directory(t.number(main, tagGPS, 0)), wantedGPS)
	b.mendRatios(b.gps)
	return b
}

// copyOf copies the wanted ones among fields, each tag once, in ascending
// order of their tags. Values longer than maxValue are left behind.
func (t tree) copyOf(fields []field, wanted []uint16) []entry {
	var entries []entry
	for _, tag := range wanted {
		f, found := find(fields, tag)
		if !found {
			continue
		}
		if value, read := t.value(f, maxValue); read {
			entries = append(entries, entry{f.tag, f.kind, f.count, value})
		}
	}
	slices.SortFunc(entries, func(a, b entry) int { return int(a.tag) - int(b.tag) })
	return entries
}

// mendRatios writes 0/1 for 0/0, which some receivers write for seconds they
// do not give and which would make the whole position not a number.
func (b *block) mendRatios(entries []entry) {
	for _, e := range entries {
		for i := 0; e.kind == kindRational && i+8 <= len(e.value); i += 8 {
			if b.order.Uint32(e.value[i:]) == 0 && b.order.Uint32(e.value[i+4:]) == 0 {
				b.order.PutUint32(e.value[i+4:], 1)
			}
		}
	}
}

// text returns the value of a text among entries, "" when there is none.
func text(entries []entry, tag uint16) string {
	for _, e := range entries {
		if e.tag == tag && e.kind == kindText {
			value, _, _ := bytes.Cut(e.value, []byte{0})
			return string(bytes.TrimSpace(value))
		}
	}
	return ""
}

// bytes writes the block as a TIFF structure of its own, without gaps, chains
// or anything that was not asked for: header, the four directories, values.
func (b *block) bytes() []byte {
	main, exif := slices.Clone(b.main), slices.Clone(b.exif)
	pointer := func(list []entry, tag uint16) []entry {
		return append(list, entry{tag, kindLong, 1, make([]byte, 4)})
	}
	exif = pointer(exif, tagInteroperation)
	main = pointer(pointer(main, tagEXIF), tagGPS)
	directories := [][]entry{main, exif, b.interop, b.gps}

	var starts [4]uint32
	at := uint32(8)
	for i, d := range directories {
		slices.SortFunc(d, func(a, b entry) int { return int(a.tag) - int(b.tag) })
		starts[i] = at
		at += uint32(2 + 12*len(d) + 4)
	}
	point := func(list []entry, tag uint16, to uint32) {
		i := slices.IndexFunc(list, func(e entry) bool { return e.tag == tag })
		b.order.PutUint32(list[i].value, to)
	}
	point(main, tagEXIF, starts[1])
	point(exif, tagInteroperation, starts[2])
	point(main, tagGPS, starts[3])
	return b.lay(directories, at)
}

// lay writes the header and the directories one after the other, with their
// longer values from the offset end onwards.
func (b *block) lay(directories [][]entry, end uint32) []byte {
	out := []byte("MM\x00*")
	if b.order == binary.LittleEndian {
		out = []byte("II*\x00")
	}
	order := b.order.(binary.AppendByteOrder)
	out = order.AppendUint32(out, 8)
	var values []byte
	for _, d := range directories {
		out = order.AppendUint16(out, uint16(len(d)))
		for _, e := range d {
			out = order.AppendUint16(out, e.tag)
			out = order.AppendUint16(out, e.kind)
			out = order.AppendUint32(out, e.count)
			if len(e.value) <= 4 {
				out = append(out, append(slices.Clone(e.value), make([]byte, 4-len(e.value))...)...)
				continue
			}
			out = order.AppendUint32(out, end+uint32(len(values)))
			values = append(values, e.value...)
			if len(values)%2 == 1 {
				values = append(values, 0)
			}
		}
		out = order.AppendUint32(out, 0)
	}
	return append(out, values...)
}

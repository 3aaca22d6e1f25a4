package header

import (
	"encoding/binary"
	"errors"
	"io"
)

// The ceilings of the walk. An EXIF directory of a camera holds about forty
// fields; none of those we want is longer than a caption.
const (
	maxFields = 512
	maxValue  = 4 << 10
)

// errNoTree means that what should be a TIFF structure does not begin as one.
var errNoTree = errors.New("no TIFF structure")

// tree reads the directories of a TIFF structure, which is also how EXIF is
// kept. It trusts nothing: every offset is checked against the size, counts
// are cut to ceilings, and it only ever goes where it is told, so that
// directories that lead back to themselves cannot lead it astray.
//
// Source: TIFF revision 6.0 (1992), section 2.
type tree struct {
	from  io.ReaderAt
	size  int64
	order binary.ByteOrder
}

// field is one entry of a directory.
type field struct {
	tag, kind uint16
	count     uint32
	at        int64 // where the value lies
}

// widths are the bytes that one value of a kind takes, by kind.
var widths = [...]int64{0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8}

// The kinds of value that matter here.
const (
	kindByte      = 1
	kindText      = 2
	kindShort     = 3
	kindLong      = 4
	kindRational  = 5
	kindUndefined = 7
	kindSRational = 10
)

// length is how many bytes the value takes, -1 when the kind is unknown.
func (f field) length() int64 {
	if int(f.kind) >= len(widths) || widths[f.kind] == 0 {
		return -1
	}
	return widths[f.kind] * int64(f.count)
}

// openTree reads the eight bytes a TIFF structure begins with, and returns
// where its first directory lies.
func openTree(from io.ReaderAt, size int64) (t tree, first int64, err error) {
	var head [8]byte
	if size < 8 {
		return tree{}, 0, errNoTree
	}
	if _, err := from.ReadAt(head[:], 0); err != nil {
		return tree{}, 0, err
	}
	switch string(head[:4]) {
	case "II*\x00":
		t.order = binary.LittleEndian
	case "MM\x00*":
		t.order = binary.BigEndian
	default:
		return tree{}, 0, errNoTree
	}
	t.from, t.size = from, size
	return t, int64(t.order.Uint32(head[4:])), nil
}

// directory lists the fields of the directory at an offset whose values lie
// within the structure, at most maxFields. What lies outside is left out: a
// damaged field does not spoil the others.
func (t tree) directory(at int64) []field {
	var head [2]byte
	if at < 8 || at > t.size-2 {
		return nil
	}
	if _, err := t.from.ReadAt(head[:], at); err != nil {
		return nil
	}
	count := min(int64(t.order.Uint16(head[:])), maxFields, (t.size-at-2)/12)
	raw := make([]byte, 12*count)
	if _, err := t.from.ReadAt(raw, at+2); err != nil {
		return nil
	}
	var fields []field
	for i := int64(0); i < count; i++ {
		entry := raw[12*i : 12*i+12]
		f := field{tag: t.order.Uint16(entry), kind: t.order.Uint16(entry[2:]), count: t.order.Uint32(entry[4:])}
		length := f.length()
		if length <= 0 {
			continue
		}
		f.at = at + 2 + 12*i + 8
		if length > 4 {
			f.at = int64(t.order.Uint32(entry[8:]))
		}
		if f.at >= 8 && length <= t.size-f.at {
			fields = append(fields, f)
		}
	}
	return fields
}

// find returns the first field with the tag.
func find(fields []field, tag uint16) (field, bool) {
	for _, f := range fields {
		if f.tag == tag {
			return f, true
		}
	}
	return field{}, false
}

// value returns the bytes of a field's value; false if there are more than
// limit or they cannot be read.
func (t tree) value(f field, limit int64) ([]byte, bool) {
	length := f.length()
	if length <= 0 || length > limit || length > t.size {
		return nil, false
	}
	value := make([]byte, length)
	if _, err := t.from.ReadAt(value, f.at); err != nil {
		return nil, false
	}
	return value, true
}

// numbers returns the whole numbers of the field with the tag, at most limit,
// nil when there is none.
func (t tree) numbers(fields []field, tag uint16, limit int) []int64 {
	f, found := find(fields, tag)
	if !found {
		return nil
	}
	f.count = min(f.count, uint32(limit))
	raw, read := t.value(f, int64(8*limit))
	if !read {
		return nil
	}
	var list []int64
	for i := 0; i < int(f.count); i++ {
		switch f.kind {
		case kindByte:
			list = append(list, int64(raw[i]))
		case kindShort:
			list = append(list, int64(t.order.Uint16(raw[2*i:])))
		case kindLong:
			list = append(list, int64(t.order.Uint32(raw[4*i:])))
		}
	}
	return list
}

// number returns the first whole number of the field with the tag, or
// otherwise when there is none.
func (t tree) number(fields []field, tag uint16, otherwise int64) int64 {
	if list := t.numbers(fields, tag, 1); len(list) > 0 {
		return list[0]
	}
	return otherwise
}

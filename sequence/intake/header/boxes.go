package header

import (
	"bytes"
	"encoding/binary"
	"io"
)

// HEIC and AVIF keep their pictures as items of a box file. Source: ISO/IEC
// 14496-12:2022 (boxes, items) and ISO/IEC 23008-12:2022 (pictures, properties).

// The ceilings of the walk; a phone's picture of 48 tiles has some 55 items and
// 5 kB of boxes about them.
const (
	maxMeta     = 4 << 20
	maxItems    = 4096
	maxItemSize = 4 << 20 // of an item that is read, EXIF or XMP
)

// item is one thing that a box file holds.
type item struct {
	kind, content string
	inside        bool // its bytes lie within the boxes about it, not elsewhere in the file
	parts         [][2]int64
	properties    []int // indices into the list of properties
	thumbnailOf   uint32
}

// boxFile is what the boxes say of a file.
type boxFile struct {
	from       io.ReaderAt
	size       int64
	primary    uint32
	items      map[uint32]*item
	order      []uint32
	properties []property
	data       []byte // of the idat box
}

type property struct {
	kind string
	data []byte
}

// readBoxes reads the header of a HEIC or AVIF file.
//
// Errors: Damaged when there is no picture in it.
func readBoxes(kind string, from io.ReaderAt, size int64) (Header, error) {
	h := Header{Format: kind}
	f, ok := openBoxes(from, size)
	if !ok {
		return Header{}, noPicture(nil)
	}
	h.boxes = f
	first := f.items[f.primary]
	if first == nil {
		return Header{}, noPicture(nil)
	}
	f.describe(first, &h)
	if h.Width <= 0 || h.Height <= 0 {
		return Header{}, noPicture(nil)
	}
	h.Memory = h.boxMemory(size)
	for _, id := range f.order {
		it := f.items[id]
		switch {
		case it.kind == "Exif" && h.block == nil:
			if data := f.read(it); len(data) > 4 {
				if at := int64(binary.BigEndian.Uint32(data)) + 4; at < int64(len(data)) {
					h.block = readBlock(bytes.NewReader(data[at:]), int64(len(data))-at)
				}
			}
		case it.kind == "mime" && it.content == "application/rdf+xml" && h.xmp == nil:
			h.xmp = f.read(it)
		}
	}
	return h, nil
}

// openBoxes finds the box about the items and reads it.
func openBoxes(from io.ReaderAt, size int64) (*boxFile, bool) {
	var raw []byte
	at := int64(0)
	for range 64 {
		var head [16]byte
		if n, _ := from.ReadAt(head[:], at); n < 8 {
			return nil, false
		}
		length, start := int64(binary.BigEndian.Uint32(head[:])), int64(8)
		switch length {
		case 0:
			length = size - at
		case 1:
			length, start = int64(binary.BigEndian.Uint64(head[8:])), 16
		}
		if length < start || at+length > size && string(head[4:8]) == "meta" {
			return nil, false
		}
		if string(head[4:8]) == "meta" {
			if length > maxMeta {
				return nil, false
			}
			raw = make([]byte, length-start)
			if _, err := from.ReadAt(raw, at+start); err != nil {
				return nil, false
			}
			break
		}
		if at += length; at < 0 || at >= size {
			return nil, false
		}
	}
	if len(raw) < 4 {
		return nil, false
	}
	f := &boxFile{from: from, size: size, items: map[uint32]*item{}}
	eachBox(raw[4:], f.learn)
	return f, f.primary != 0
}

// eachBox calls back with every box in data.
func eachBox(data []byte, with func(kind string, data []byte)) {
	for range maxItems {
		if len(data) < 8 {
			return
		}
		length := int64(binary.BigEndian.Uint32(data))
		start := int64(8)
		if length == 1 && len(data) >= 16 {
			length, start = int64(binary.BigEndian.Uint64(data[8:])), 16
		}
		if length == 0 {
			length = int64(len(data))
		}
		if length < start || length > int64(len(data)) {
			return
		}
		with(string(data[4:8]), data[start:length])
		data = data[length:]
	}
}

// learn takes in one box about the items.
func (f *boxFile) learn(kind string, data []byte) {
	r := fields{data: data}
	switch kind {
	case "idat":
		f.data = data
		return
	case "iprp":
		eachBox(data, f.learnProperties)
		return
	}
	version := r.number(1)
	r.number(3)
	wide := 2
	switch kind {
	case "pitm":
		if version > 0 {
			wide = 4
		}
		f.primary = uint32(r.number(wide))
	case "iinf":
		if version > 0 {
			wide = 4
		}
		r.number(wide)
		eachBox(r.data, f.learnItem)
	case "iloc":
		f.learnPlaces(&r, version)
	case "iref":
		if version > 0 {
			wide = 4
		}
		eachBox(r.data, func(kind string, data []byte) {
			r := fields{data: data}
			if kind == "thmb" {
				from := uint32(r.number(wide))
				r.number(2)
				f.item(from).thumbnailOf = uint32(r.number(wide))
			}
		})
	}
}

func (f *boxFile) item(id uint32) *item {
	it := f.items[id]
	if it == nil {
		it = &item{}
		if len(f.items) < maxItems {
			f.items[id] = it
			f.order = append(f.order, id)
		}
	}
	return it
}

func (f *boxFile) learnItem(kind string, data []byte) {
	r := fields{data: data}
	version := r.number(1)
	r.number(3)
	if kind != "infe" || version < 2 {
		return
	}
	wide := 2
	if version > 2 {
		wide = 4
	}
	it := f.item(uint32(r.number(wide)))
	r.number(2)
	it.kind = r.text(4)
	r.word()
	if it.kind == "mime" {
		it.content = r.word()
	}
}

func (f *boxFile) learnPlaces(r *fields, version uint64) {
	sizes := r.number(2)
	offset, length, base, index := int(sizes>>12&15), int(sizes>>8&15), int(sizes>>4&15), int(sizes&15)
	wide := 2
	if version > 1 {
		wide = 4
	}
	count := r.number(wide)
	for range min(count, maxItems) {
		it := f.item(uint32(r.number(wide)))
		if version > 0 {
			it.inside = r.number(2)&15 == 1
		} else {
			index = 0
		}
		r.number(2)
		from := r.number(base)
		for range min(r.number(2), 64) {
			r.number(index)
			at := int64(from + r.number(offset))
			it.parts = append(it.parts, [2]int64{at, int64(r.number(length))})
		}
		if r.short {
			return
		}
	}
}

func (f *boxFile) learnProperties(kind string, data []byte) {
	switch kind {
	case "ipco":
		eachBox(data, func(kind string, data []byte) {
			f.properties = append(f.properties, property{kind, data})
		})
	case "ipma":
		r := fields{data: data}
		version, flags := r.number(1), r.number(3)
		wide, each := 2, 1
		if version > 0 {
			wide = 4
		}
		if flags&1 != 0 {
			each = 2
		}
		for range min(r.number(4), maxItems) {
			it := f.item(uint32(r.number(wide)))
			for range r.number(1) {
				it.properties = append(it.properties, int(r.number(each)&(1<<(8*each-1)-1)))
			}
			if r.short {
				return
			}
		}
	}
}

// describe takes what the properties of the picture say into a header.
func (f *boxFile) describe(it *item, h *Header) {
	turns, mirror := 0, -1
	for _, i := range it.properties {
		if i < 1 || i > len(f.properties) {
			continue
		}
		p := f.properties[i-1]
		r := fields{data: p.data}
		switch p.kind {
		case "ispe":
			r.number(4)
			h.Width, h.Height = int(r.number(4)), int(r.number(4))
		case "irot":
			turns = int(r.number(1) & 3)
		case "imir":
			mirror = int(r.number(1) & 1)
		case "pixi": // ISO/IEC 23008-12, 6.5.6: of each channel, and the first will do
			r.number(4 + 1)
			h.bits = int(r.number(1))
		case "colr":
			h.colours(&r)
		}
	}
	h.turned = true
	h.Turn = turnOf(turns, mirror)
	if h.Format == "heic" { // its decoder turns, so what matters is how it comes out
		if h.Turn >= 5 {
			h.Width, h.Height = h.Height, h.Width
		}
		h.Turn = 1
	}
}

// turnOf is EXIF's orientation for quarter turns against the clock followed by a
// mirror: 0 exchanges top and bottom, 1 left and right, -1 is none.
func turnOf(turns, mirror int) int {
	switch mirror {
	case 0:
		return [4]int{4, 5, 2, 7}[turns]
	case 1:
		return [4]int{2, 7, 4, 5}[turns]
	}
	return [4]int{1, 8, 3, 6}[turns]
}

// colours takes in a colr box: a profile, or the four numbers of ITU-T H.273.
func (h *Header) colours(r *fields) {
	switch r.text(4) {
	case "prof", "rICC":
		if len(r.data) > 0 && len(r.data) <= maxProfile {
			h.Profile = bytes.Clone(r.data)
		}
	case "nclx":
		primaries, transfer, matrix := r.number(2), r.number(2), r.number(2)
		h.Matrix, h.Studio = int(matrix), r.number(1)>>7 == 0
		if primaries != 2 && transfer != 2 && primaries < 256 && transfer < 256 {
			h.CICP = []byte{byte(primaries), byte(transfer), 0, 1}
		}
	}
}

// read returns an item's bytes, nil if there are none or too many.
func (f *boxFile) read(it *item) []byte {
	var all []byte
	for _, p := range it.parts {
		at, length := p[0], p[1]
		if at < 0 || length <= 0 || int64(len(all))+length > maxItemSize {
			return nil
		}
		if it.inside {
			if at+length > int64(len(f.data)) {
				return nil
			}
			all = append(all, f.data[at:at+length]...)
			continue
		}
		part := make([]byte, length)
		if at+length > f.size {
			return nil
		}
		if _, err := f.from.ReadAt(part, at); err != nil {
			return nil
		}
		all = append(all, part...)
	}
	return all
}

// fields reads numbers one after the other; behind the end they are 0.
type fields struct {
	data  []byte
	short bool
}

// number reads so many bytes, at most 8, most significant first.
func (r *fields) number(count int) (n uint64) {
	if count > 8 || len(r.data) < count {
		r.data, r.short = nil, true
		return 0
	}
	for _, b := range r.data[:count] {
		n = n<<8 | uint64(b)
	}
	r.data = r.data[count:]
	return n
}

func (r *fields) text(count int) string {
	if len(r.data) < count {
		r.data, r.short = nil, true
		return ""
	}
	s := string(r.data[:count])
	r.data = r.data[count:]
	return s
}

// word reads a text that ends with a zero.
func (r *fields) word() string {
	word, rest, _ := bytes.Cut(r.data, []byte{0})
	r.data = rest
	return string(word)
}

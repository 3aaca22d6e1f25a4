package header

import (
	"io"
	"slices"
)

// Bands tell how the pixels of a TIFF file lie in it: in strips, or rows of
// tiles, that can be decoded each by itself. A scan of hundreds of megabytes is
// so read in little memory.
type Bands struct {
	Rows  int // lines of pixels in each band but the last
	Count int
	Alpha bool // a channel beside the colours says how much they cover

	tree          tree
	fields        []field
	tiled         bool
	across        int     // tiles in a row, 1 for strips
	height        int     // of the whole picture
	offsets, size []int64 // of strips or tiles
}

const (
	mostStrips  = 1 << 18
	rowsOfBand  = 64 // at least, where the file allows it
	tagLengths  = 279
	tagTileSize = 325
	tagColours  = 320
)

// bandTags are copied into the file of a band as they are.
var bandTags = []uint16{tagWidth, tagBits, tagCompression, tagPhotometric, 266, tagSamples, 317, tagColours,
	tagTileWidth, tagTileHeight, tagExtra, tagFormat}

// bandsOf finds the bands of a picture whose kind the decoder knows, nil where it
// has none that could be read alone.
func (t tree) bandsOf(fields []field, width, height int) *Bands {
	_, extra := find(fields, tagExtra)
	b := &Bands{Alpha: extra, tree: t, fields: fields, across: 1, height: height}
	rows := t.number(fields, tagRowsPerStrip, int64(height))
	at, length := uint16(tagStripOffsets), uint16(tagLengths)
	if _, b.tiled = find(fields, tagTileWidth); b.tiled {
		tile := t.number(fields, tagTileWidth, 0)
		if tile <= 0 {
			return nil
		}
		rows, at, length = t.number(fields, tagTileHeight, 0), tagTileOffsets, tagTileSize
		b.across = int((int64(width) + tile - 1) / tile)
	}
	if rows <= 0 {
		return nil
	}
	b.Rows = int(min(rows, int64(height)))
	if b.tiled {
		b.Rows = int(rows)
	}
	b.offsets, b.size = t.numbers(fields, at, mostStrips), t.numbers(fields, length, mostStrips)
	if !b.tiled && t.number(fields, tagCompression, 1) == 1 {
		b.cut(width)
	}
	if n := (height + b.Rows - 1) / b.Rows * b.across; len(b.offsets) < n || len(b.size) < n {
		return nil
	}
	b.gather()
	b.Count = (height + b.Rows - 1) / b.Rows
	return b
}

// cut divides strips that are not compressed, of which scanners often write one.
func (b *Bands) cut(width int) {
	bits, samples := b.tree.number(b.fields, tagBits, 1), b.tree.number(b.fields, tagSamples, 1)
	if bits < 8 || b.Rows <= rowsOfBand || len(b.offsets) != (b.height+b.Rows-1)/b.Rows {
		return
	}
	line := int64(width) * samples * bits / 8
	var offsets, sizes []int64
	for i, at := range b.offsets {
		for y := 0; y < min(b.Rows, b.height-i*b.Rows); y += rowsOfBand {
			if len(offsets) > 0 && b.Rows%rowsOfBand != 0 && i > 0 {
				return // strips of another height in between: leave them whole
			}
			rows := min(rowsOfBand, b.Rows-y, b.height-i*b.Rows-y)
			offsets, sizes = append(offsets, at+int64(y)*line), append(sizes, int64(rows)*line)
		}
	}
	b.offsets, b.size, b.Rows = offsets, sizes, rowsOfBand
}

// gather puts low strips together, so that a band is worth a decoder's while.
func (b *Bands) gather() {
	if b.tiled || b.Rows >= rowsOfBand {
		b.across = max(b.across, 1)
		return
	}
	b.across = rowsOfBand / b.Rows // strips in a band
	b.Rows *= b.across
}

// File is one band as a TIFF file of its own, over the bytes of the whole file.
func (b *Bands) File(i int) *io.SectionReader {
	first := i * b.across
	last := min(first+b.across, len(b.offsets), len(b.size))
	rows := min(b.Rows, b.height-i*b.Rows)
	lead := b.lead(rows, first, last, 0)
	lead = b.lead(rows, first, last, int64(len(lead)))
	return io.NewSectionReader(spliced{lead, b.tree.from}, 0, int64(len(lead))+b.tree.size)
}

// lead is the directory of a band's file, whose bytes lie by shift further on.
func (b *Bands) lead(rows, first, last int, shift int64) []byte {
	entries := b.tree.copyOf(b.fields, bandTags)
	add := func(tag uint16, values ...int64) {
		e := entry{tag: tag, kind: kindLong, count: uint32(len(values)), value: make([]byte, 4*len(values))}
		for i, v := range values {
			b.tree.order.PutUint32(e.value[4*i:], uint32(v))
		}
		entries = append(entries, e)
	}
	offsets := make([]int64, 0, last-first)
	for _, at := range b.offsets[first:last] {
		offsets = append(offsets, at+shift)
	}
	add(tagHeight, int64(rows))
	if b.tiled {
		add(tagTileOffsets, offsets...)
		add(tagTileSize, b.size[first:last]...)
	} else {
		add(tagRowsPerStrip, int64(b.Rows/b.across))
		add(tagStripOffsets, offsets...)
		add(tagLengths, b.size[first:last]...)
	}
	slices.SortFunc(entries, func(a, b entry) int { return int(a.tag) - int(b.tag) })
	frame := block{order: b.tree.order}
	return frame.lay([][]entry{entries}, uint32(8+2+12*len(entries)+4))
}

// spliced reads some bytes, and behind them a file.
type spliced struct {
	lead []byte
	from io.ReaderAt
}

func (s spliced) ReadAt(p []byte, off int64) (int, error) {
	n := 0
	if off < int64(len(s.lead)) {
		n = copy(p, s.lead[off:])
		if n == len(p) {
			return n, nil
		}
	}
	more, err := s.from.ReadAt(p[n:], off+int64(n)-int64(len(s.lead)))
	return n + more, err
}

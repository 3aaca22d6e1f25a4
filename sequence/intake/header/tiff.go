package header

import (
	"fmt"
	"io"
)

// TIFF tags that tell how a picture is stored. Source: TIFF revision 6.0
// (1992), section 8 and the extensions; ICC.1:2010 annex B for the profile;
// TIFF/EP and DNG 1.6 for the raw ones.
const (
	tagSubfile      = 254
	tagWidth        = 256
	tagHeight       = 257
	tagBits         = 258
	tagCompression  = 259
	tagPhotometric  = 262
	tagStripOffsets = 273
	tagSamples      = 277
	tagRowsPerStrip = 278
	tagPlanar       = 284
	tagTileWidth    = 322
	tagTileHeight   = 323
	tagTileOffsets  = 324
	tagSubPictures  = 330
	tagExtra        = 338
	tagFormat       = 339
	tagXMP          = 700
	tagIPTC         = 33723
	tagProfile      = 34675
	tagDNG          = 50706
)

// TIFFHint is the way out for a TIFF of a kind we do not read.
const TIFFHint = "Save it as an ordinary 8- or 16-bit RGB or grey TIFF, or as JPEG, and bring that in."

// packings name the compressions of TIFF that the decoder does not know. Fax it
// knows, but shows negatively where black is zero (compared with libtiff 4.5.0).
var packings = map[int64]string{
	2: "the fax method", 3: "the fax method", 4: "the fax method", 6: "JPEG (an old kind)", 7: "JPEG", 9: "JBIG", 10: "JBIG", 32809: "ThunderScan",
	34661: "JBIG", 34676: "LogLuv", 34677: "LogLuv", 34712: "JPEG 2000", 34887: "LERC",
	34925: "LZMA", 50000: "Zstandard", 50001: "WebP", 50002: "JPEG XL", 52546: "JPEG XL",
}

// colourings name what the samples of a TIFF mean where the decoder does not know it.
var colourings = map[int64]string{
	4: "a mask", 5: "printing inks (CMYK)", 6: "brightness and colour difference (YCbCr)",
	8: "Lab colour", 9: "Lab colour", 10: "Lab colour", 32844: "LogLuv", 32845: "LogLuv",
}

// readTIFF reads the first directory of a TIFF file.
//
// Errors: Damaged when there is no picture in it, Unsupported with the name of
// the kind when the decoder does not know it.
func readTIFF(from io.ReaderAt, size int64) (Header, error) {
	h := Header{Format: "tiff"}
	t, first, err := openTree(from, size)
	if err != nil {
		return Header{}, noPicture(err)
	}
	fields := t.directory(first)
	h.Width, h.Height = int(t.number(fields, tagWidth, 0)), int(t.number(fields, tagHeight, 0))
	if _, raw := find(fields, tagDNG); raw {
		return Header{}, Refuse("camera raw")
	}
	if h.Width <= 0 || h.Height <= 0 {
		return Header{}, noPicture(nil)
	}
	if err := t.readable(fields); err != nil {
		return Header{}, err
	}
	h.Bands = t.bandsOf(fields, h.Width, h.Height)
	h.Memory = t.memory(fields, int64(h.Width), int64(h.Height))
	if f, found := find(fields, tagProfile); found {
		var read bool
		h.Profile, read = t.value(f, maxProfile)
		h.Torn = !read
	}
	if f, found := find(fields, tagXMP); found {
		h.xmp, _ = t.value(f, maxPacket)
	}
	if f, found := find(fields, tagIPTC); found {
		h.iptc, _ = t.value(f, maxPacket)
	}
	h.block = readBlock(from, size)
	return h, nil
}

// readable returns nil if the decoder knows this kind of TIFF, and otherwise
// an Unsupported error that names the kind.
func (t tree) readable(fields []field) error {
	refuse := func(what string) error {
		return Unsupported("This TIFF file "+what+", which Pairwall does not read.", TIFFHint, nil)
	}
	if t.number(fields, tagSubfile, 0)&1 != 0 {
		if _, more := find(fields, tagSubPictures); more {
			return Refuse("camera raw")
		}
	}
	packing := t.number(fields, tagCompression, 1)
	colouring := t.number(fields, tagPhotometric, -1)
	if colouring == 32803 || colouring == 34892 || packing == 34713 || packing == 34892 {
		return Refuse("camera raw")
	}
	switch packing {
	case 1, 5, 8, 32773, 32946:
	default:
		if name, known := packings[packing]; known {
			return refuse("is compressed with " + name)
		}
		return refuse(fmt.Sprintf("is compressed in an unusual way (number %d)", packing))
	}
	if packing == 5 && t.oldLZW(fields) {
		return refuse("is compressed with LZW in the way given up in the 1990s")
	}
	if _, tiles := find(fields, tagTileWidth); tiles {
		if _, listed := find(fields, tagTileOffsets); !listed {
			return refuse("lists its tiles in an unusual way")
		}
	}
	if err := readableNumbers(t.numbers(fields, tagFormat, 16), refuse); err != nil {
		return err
	}
	bits := t.numbers(fields, tagBits, 16)
	if len(bits) == 0 {
		bits = []int64{1}
	}
	if err := readableDepth(bits, colouring, refuse); err != nil {
		return err
	}
	if t.number(fields, tagPlanar, 1) == 2 && t.number(fields, tagSamples, 1) > 1 {
		return refuse("keeps its colours in separate planes (planar)")
	}
	return readableChannels(t.numbers(fields, tagExtra, 16), t.number(fields, tagSamples, 1), colouring, refuse)
}

// oldLZW reports whether the first strip is packed as before TIFF 6.0, bits the
// other way round. Both kinds begin with the code 256.
func (t tree) oldLZW(fields []field) bool {
	var start [2]byte
	at := t.number(fields, tagStripOffsets, t.number(fields, tagTileOffsets, 0))
	_, err := t.from.ReadAt(start[:], at)
	return err == nil && start[0] == 0 && start[1]&1 == 1
}

func readableNumbers(formats []int64, refuse func(string) error) error {
	for _, format := range formats {
		switch format {
		case 1, 4: // whole numbers; undefined
		case 2:
			return refuse("holds signed numbers, as measuring instruments write them")
		case 3, 6:
			return refuse("holds floating-point numbers")
		default:
			return refuse("holds numbers of an unusual kind")
		}
	}
	return nil
}

func readableDepth(bits []int64, colouring int64, refuse func(string) error) error {
	if name, known := colourings[colouring]; known {
		return refuse("holds " + name + " instead of RGB")
	}
	for _, b := range bits {
		switch {
		case b != bits[0]:
			return refuse("has different numbers of bits for its colours")
		case b != 1 && b != 8 && b != 16, b == 1 && colouring == 2:
			return refuse(fmt.Sprintf("has %d bits a channel", b))
		}
	}
	return nil
}

func readableChannels(extra []int64, samples, colouring int64, refuse func(string) error) error {
	var colours int64 = 1
	switch colouring {
	case 0, 1, 3:
	case 2:
		colours = 3
	default:
		return refuse("holds colours of an unusual kind")
	}
	switch {
	case samples == colours:
		return nil
	case colouring == 2 && samples == 4 && len(extra) == 1 && (extra[0] == 1 || extra[0] == 2):
		return nil
	case samples < colours:
		return noPicture(nil)
	}
	return refuse("has a further channel beside its colours")
}

// memory estimates what decoding takes: the picture in memory, and the largest
// strip or tile both as stored and unpacked, while buffers that hold it grow.
func (t tree) memory(fields []field, width, height int64) int64 {
	bits := t.number(fields, tagBits, 1)
	stored := max(1, bits/8) * t.number(fields, tagSamples, 1)
	kept := stored
	if stored == 3 || stored == 6 { // RGB is kept with a fourth channel
		kept = stored / 3 * 4
	}
	rows := height
	if strip := t.number(fields, tagRowsPerStrip, height); strip > 0 {
		rows = min(rows, strip)
	}
	if tile := t.number(fields, tagTileHeight, 0); tile > 0 {
		rows = min(rows, tile)
	}
	return width * (height*kept + 3*rows*stored)
}

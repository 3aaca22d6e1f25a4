package pdf

import (
	"encoding/binary"
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode/utf16"

	"github.com/tdewolff/font"
)

// Face is a TrueType face, read once and used by any number of files.
type Face struct {
	sfnt  *font.SFNT
	name  string
	known sync.Map // glyphs by character: the library looks through all ranges of a face each time, and a Japanese one has thousands
}

// glyph is the face's glyph for a character; 0 when it has none.
func (f *Face) glyph(r rune) uint16 {
	if g, ok := f.known.Load(r); ok {
		return g.(uint16)
	}
	g := f.sfnt.GlyphIndex(r)
	f.known.Store(r, g)
	return g
}

// ReadFace reads a TrueType file.
func ReadFace(data []byte) (*Face, error) {
	sfnt, err := font.ParseSFNT(data, 0)
	if err != nil {
		return nil, fmt.Errorf("reading a typeface: %w", err)
	}
	if !sfnt.IsTrueType {
		return nil, fmt.Errorf("reading a typeface: only TrueType outlines are embedded")
	}
	return &Face{sfnt: sfnt, name: postScriptName(sfnt)}, nil
}

func postScriptName(sfnt *font.SFNT) string {
	for _, record := range sfnt.Name.Get(font.NamePostScript) {
		if name := record.String(); name != "" {
			return name
		}
	}
	return "Unnamed"
}

// Has reports whether the face has a glyph for a character.
func (f *Face) Has(r rune) bool { return f.glyph(r) != 0 }

// em is in how many units the face counts.
func (f *Face) em() float64 { return float64(f.sfnt.Head.UnitsPerEm) }

// Ascent and Descent are how far the face reaches above and below the
// baseline, in parts of its size, both positive.
func (f *Face) Ascent() float64 { return float64(f.sfnt.Hhea.Ascender) / f.em() }

// Descent is the part below the baseline.
func (f *Face) Descent() float64 { return -float64(f.sfnt.Hhea.Descender) / f.em() }

// Width is how far a text runs, in parts of the size.
func (f *Face) Width(text string) float64 {
	total := 0
	for _, r := range text {
		total += int(f.sfnt.GlyphAdvance(f.glyph(r)))
	}
	return float64(total) / f.em()
}

// Font is what one file uses of a face: only those glyphs are embedded.
type Font struct {
	Ref    Ref
	face   *Face
	glyphs []uint16          // of the face, by the code they have in this file
	codes  map[uint16]uint16 // the other way round
	stands []rune            // the character each code stands for
}

// NewFont begins to use a face in a file; PutFont writes it when all is set.
func (w *Writer) NewFont(face *Face) *Font {
	return &Font{Ref: w.Reserve(), face: face, glyphs: []uint16{0}, stands: []rune{0xFFFD}, codes: map[uint16]uint16{0: 0}}
}

// Set turns text into a run of this file's codes. A character the face lacks
// becomes its sign for a missing one.
func (f *Font) Set(text string) []uint16 {
	run := make([]uint16, 0, len(text))
	for _, r := range text {
		glyph := f.face.glyph(r)
		code, known := f.codes[glyph]
		if !known {
			code = uint16(len(f.glyphs))
			f.codes[glyph] = code
			f.glyphs, f.stands = append(f.glyphs, glyph), append(f.stands, r)
		}
		run = append(run, code)
	}
	return run
}

// PutFont writes a font with the glyphs that were set (ISO 32000-1, 9.7): a
// composite font whose codes are the glyphs of an embedded subset.
func (w *Writer) PutFont(f *Font) {
	subset, err := f.face.sfnt.Subset(slices.Clone(f.glyphs), font.SubsetOptions{Tables: font.KeepPDFTables})
	if err != nil {
		if w.err == nil {
			w.err = fmt.Errorf("making a subset of %s: %w", f.face.name, err)
		}
		w.Put(f.Ref, Dict{})
		return
	}
	program := subset.Write()
	undated(program)
	file := w.AddStream(Dict{"Length1": len(program)}, program)
	name := Name(f.tag() + "+" + f.face.name)
	sfnt := f.face.sfnt
	scale := func(v int16) int { return int(float64(v) * 1000 / f.face.em()) }
	descriptor := w.Add(Dict{"Type": Name("FontDescriptor"), "FontName": name, "Flags": 4, "ItalicAngle": 0, "StemV": 80,
		"FontBBox": Array{scale(sfnt.Head.XMin), scale(sfnt.Head.YMin), scale(sfnt.Head.XMax), scale(sfnt.Head.YMax)},
		"Ascent":   scale(sfnt.Hhea.Ascender), "Descent": scale(sfnt.Hhea.Descender), "CapHeight": scale(sfnt.OS2.SCapHeight),
		"FontFile2": file})
	widths := make(Array, len(f.glyphs))
	for code, glyph := range f.glyphs {
		widths[code] = float64(sfnt.GlyphAdvance(glyph)) * 1000 / f.face.em()
	}
	descendant := w.Add(Dict{"Type": Name("Font"), "Subtype": Name("CIDFontType2"), "BaseFont": name,
		"CIDSystemInfo":  Dict{"Registry": Text("Adobe"), "Ordering": Text("Identity"), "Supplement": 0},
		"FontDescriptor": descriptor, "W": Array{0, widths}, "CIDToGIDMap": Name("Identity")})
	w.Put(f.Ref, Dict{"Type": Name("Font"), "Subtype": Name("Type0"), "BaseFont": name, "Encoding": Name("Identity-H"),
		"DescendantFonts": Array{descendant}, "ToUnicode": w.AddStream(Dict{}, f.toUnicode())})
}

// tag is six letters that differ for another set of glyphs (9.6.4).
func (f *Font) tag() string {
	sum := uint64(14695981039346656037) // FNV-1a
	for _, g := range f.glyphs {
		sum = (sum ^ uint64(g)) * 1099511628211
	}
	var tag [6]byte
	for i := range tag {
		tag[i] = 'A' + byte(sum%26)
		sum /= 26
	}
	return string(tag[:])
}

// toUnicode says which character each code stands for, so that text can be
// searched and copied (9.10.3).
func (f *Font) toUnicode() []byte {
	var b strings.Builder
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n" +
		"/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	const most = 100 // lines in one block
	for from := 0; from < len(f.stands); from += most {
		block := f.stands[from:min(from+most, len(f.stands))]
		fmt.Fprintf(&b, "%d beginbfchar\n", len(block))
		for i, r := range block {
			fmt.Fprintf(&b, "<%s> <", hex4(uint16(from+i)))
			for _, unit := range utf16.Encode([]rune{r}) {
				b.WriteString(hex4(unit))
			}
			b.WriteString(">\n")
		}
		b.WriteString("endbfchar\n")
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n")
	return []byte(b.String())
}

// undated takes the hour of writing out of a TrueType font, so that the same
// glyphs are the same bytes: head.modified becomes head.created, and the sums
// that count it are made anew (OpenType 1.9, "head" and "Calculating checksums").
func undated(program []byte) {
	const directory, entry, adjustment, created, modified, moment = 12, 16, 8, 20, 28, 8
	order := binary.BigEndian
	for i := range int(order.Uint16(program[4:])) {
		row := program[directory+entry*i:][:entry]
		if string(row[:4]) != "head" {
			continue
		}
		head := program[order.Uint32(row[8:]):][:(order.Uint32(row[12:])+3)&^3]
		copy(head[modified:modified+moment], head[created:created+moment])
		order.PutUint32(head[adjustment:], 0)
		order.PutUint32(row[4:], checksum(head))
		order.PutUint32(head[adjustment:], 0xB1B0AFBA-checksum(program))
	}
}

// checksum adds up words of four bytes; tables and fonts are padded to them.
func checksum(data []byte) (sum uint32) {
	for ; len(data) >= 4; data = data[4:] {
		sum += binary.BigEndian.Uint32(data)
	}
	return sum
}

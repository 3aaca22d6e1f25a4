package press

import (
	"crypto/sha256"
	"errors"
	"io"
	"syscall"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/pages"
	"pairwall/sequence/press/pdf"
)

// About is what a file says of itself.
type About struct {
	Title string
	Made  time.Time // part of the file: the same input and time make the same bytes

	Intent *Intent // what it is to be printed on; nil for a file to look at or to print at home
}

// Document is a file in the making, written page by page.
type Document struct {
	w       *pdf.Writer
	about   About
	letters Letters
	fonts   []*pdf.Font // by face; nil while none of it was used
	parent  pdf.Ref
	leaves  pdf.Array // the pages so far
	srgb    pdf.Ref   // the colour space of what we colour ourselves and of pictures that say nothing
	all     pdf.Ref   // the colour space of registration marks; 0 while there are none
	spaces  map[[32]byte]pdf.Ref
	shown   map[string]Picture
}

// Begin begins a file on out.
func Begin(out io.Writer, about About, letters Letters) *Document {
	d := &Document{w: pdf.NewWriter(out), about: about, letters: letters, fonts: make([]*pdf.Font, len(letters)),
		spaces: make(map[[32]byte]pdf.Ref), shown: make(map[string]Picture)}
	d.parent = d.w.Reserve()
	d.srgb = d.space(colour.SRGBProfile(), 3)
	return d
}

// space makes an ICCBased colour space (ISO 32000-1, 8.6.5.5), once for each
// profile.
func (d *Document) space(profile []byte, components int) pdf.Ref {
	key := sha256.Sum256(profile)
	ref, known := d.spaces[key]
	if !known {
		alternate := map[int]pdf.Name{1: "DeviceGray", 3: "DeviceRGB", 4: "DeviceCMYK"}[components]
		stream := d.w.AddStream(pdf.Dict{"N": components, "Alternate": alternate}, profile)
		ref = d.w.Add(pdf.Array{pdf.Name("ICCBased"), stream})
		d.spaces[key] = ref
	}
	return ref
}

// Boxes are the boxes of a page (ISO 32000-1, 14.11.2): what is cut out of the
// sheet, and what is printed beyond that.
type Boxes struct {
	Media pages.Size
	Trim  pages.Rect // on the media
	Bleed pages.Length
}

// Page adds a page of a size; draw puts onto it what belongs there.
func (d *Document) Page(size pages.Size, draw func(*Ink) error) error {
	return d.Boxed(Boxes{Media: size, Trim: pages.Rect{Size: size}}, draw)
}

// Boxed adds a page that will be cut. What is drawn counts from the corner of
// its trim.
func (d *Document) Boxed(b Boxes, draw func(*Ink) error) error {
	ink := &Ink{doc: d, height: b.Media.Height, x0: b.Trim.X, y0: b.Trim.Y, pictures: pdf.Dict{}, fonts: pdf.Dict{},
		spaces: pdf.Dict{sRGB: d.srgb}}
	if err := draw(ink); err != nil {
		return err
	}
	content := d.w.AddStream(pdf.Dict{}, ink.content.Bytes())
	box := func(r pages.Rect) pdf.Array {
		return pdf.Numbers(points(r.X), points(b.Media.Height-r.Bottom()), points(r.Right()), points(b.Media.Height-r.Y))
	}
	leaf := pdf.Dict{"Type": pdf.Name("Page"), "Parent": d.parent, "MediaBox": box(pages.Rect{Size: b.Media}), "TrimBox": box(b.Trim), "Contents": content,
		"Resources": pdf.Dict{"XObject": ink.pictures, "Font": ink.fonts, "ColorSpace": ink.spaces}}
	if b.Trim.Size != b.Media {
		leaf["BleedBox"] = box(b.Trim.Inset(-b.Bleed))
	}
	d.leaves = append(d.leaves, d.w.Add(leaf))
	return unwritten(d.w.Err())
}

// End writes what belongs to the whole file.
//
// Errors: Invalid when there is no page; Unreadable when the writer failed.
func (d *Document) End() error {
	if len(d.leaves) == 0 {
		return &sequence.Error{Code: sequence.Invalid, Message: "There is nothing to print.", Hint: "Hang photos on the wall, or choose some."}
	}
	for _, f := range d.fonts {
		if f != nil {
			d.w.PutFont(f)
		}
	}
	d.w.Put(d.parent, pdf.Dict{"Type": pdf.Name("Pages"), "Kids": d.leaves, "Count": len(d.leaves)})
	made := pdf.Text(d.about.Made.UTC().Format("D:20060102150405Z"))
	info := pdf.Dict{"Title": pdf.Text(d.about.Title), "Producer": pdf.Text(producer), "CreationDate": made, "ModDate": made}
	root := pdf.Dict{"Type": pdf.Name("Catalog"), "Pages": d.parent,
		"ViewerPreferences": pdf.Dict{"DisplayDocTitle": true, "PrintScaling": pdf.Name("None")}}
	if d.about.Intent != nil {
		d.identify(root, info)
	}
	return unwritten(d.w.Close(d.w.Add(root), d.w.Add(info)))
}

const producer = "Pairwall"

// unwritten is the error for a file that could not be written. One of ours that
// was met on the way is passed on as it is.
func unwritten(err error) error {
	if err == nil {
		return nil
	}
	var ours *sequence.Error
	if errors.As(err, &ours) {
		return err
	}
	e := &sequence.Error{Code: sequence.Unreadable, Message: "The PDF could not be written to its end.",
		Hint: "Look at the disk, and try again.", Err: err}
	if errors.Is(err, syscall.ENOSPC) {
		e.Message, e.Hint = "The disk is full: there is no room for the PDF.", "Make room on it, or write the PDF to another disk."
	}
	return e
}

// Source opens the picture of a photo as a JPEG file, upright.
type Source func(sequence.PhotoID) (io.ReadCloser, error)

// Picture is a picture in the file; it can be shown any number of times.
type Picture struct {
	ref  pdf.Ref
	name pdf.Name
	turn int
}

// font names the font of a face in this file.
func (d *Document) font(face int) *pdf.Font {
	if d.fonts[face] == nil {
		d.fonts[face] = d.w.NewFont(d.letters[face])
	}
	return d.fonts[face]
}

// points is 1/72 inch, the unit of the file.
func points(l pages.Length) float64 { return l.Inches() * 72 }

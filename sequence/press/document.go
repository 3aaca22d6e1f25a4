package press

import (
	"crypto/sha256"
	"fmt"
	"io"
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

// Page adds a page of a size; draw puts onto it what belongs there.
func (d *Document) Page(size pages.Size, draw func(*Ink) error) error {
	ink := &Ink{doc: d, height: size.Height, pictures: pdf.Dict{}, fonts: pdf.Dict{}}
	if err := draw(ink); err != nil {
		return err
	}
	content := d.w.AddStream(pdf.Dict{}, ink.content.Bytes())
	box := pdf.Numbers(0, 0, points(size.Width), points(size.Height))
	leaf := d.w.Add(pdf.Dict{"Type": pdf.Name("Page"), "Parent": d.parent, "MediaBox": box, "TrimBox": box, "Contents": content,
		"Resources": pdf.Dict{"XObject": ink.pictures, "Font": ink.fonts, "ColorSpace": pdf.Dict{sRGB: d.srgb}}})
	d.leaves = append(d.leaves, leaf)
	return d.w.Err()
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
	info := d.w.Add(pdf.Dict{"Title": pdf.Text(d.about.Title), "Producer": pdf.Text("Pairwall"), "CreationDate": made, "ModDate": made})
	root := d.w.Add(pdf.Dict{"Type": pdf.Name("Catalog"), "Pages": d.parent,
		"ViewerPreferences": pdf.Dict{"DisplayDocTitle": true, "PrintScaling": pdf.Name("None")}})
	if err := d.w.Close(root, info); err != nil {
		return &sequence.Error{Code: sequence.Unreadable, Message: "The PDF could not be written to its end.",
			Hint: "See whether the disk has room, and try again.", Err: err}
	}
	return nil
}

// Source opens the picture of a photo as a JPEG file, upright.
type Source func(sequence.PhotoID) (io.ReadCloser, error)

// Picture is a picture in the file; it can be shown any number of times.
type Picture struct {
	ref           pdf.Ref
	name          pdf.Name
	Width, Height int // pixels
}

// JPEG puts a JPEG file into the document as it is, without what was written
// into it beside the picture, and in its own colour profile. The key names it:
// the same key is written once.
//
// Error: Damaged for what is no JPEG; what open returns.
func (d *Document) JPEG(key string, open func() (io.ReadCloser, error)) (Picture, error) {
	if known, ok := d.shown[key]; ok {
		return known, nil
	}
	file, err := open()
	if err != nil {
		return Picture{}, err
	}
	defer file.Close()
	j, err := pdf.OpenJPEG(file)
	if err != nil {
		return Picture{}, &sequence.Error{Code: sequence.Damaged, Message: fmt.Sprintf("The picture of %s cannot be printed.", key),
			Hint: "Look whether its original can still be opened.", Err: err}
	}
	dict := pdf.Dict{"Type": pdf.Name("XObject"), "Subtype": pdf.Name("Image"), "Width": j.Width, "Height": j.Height,
		"BitsPerComponent": j.Bits, "Filter": pdf.Name("DCTDecode"), "ColorSpace": d.spaceOf(j)}
	if j.Components == 4 && j.Inverted {
		dict["Decode"] = pdf.Numbers(1, 0, 1, 0, 1, 0, 1, 0)
	}
	picture := Picture{ref: d.w.Reserve(), Width: j.Width, Height: j.Height}
	picture.name = pdf.Name(fmt.Sprintf("P%d", picture.ref))
	d.w.PipeStream(picture.ref, dict, j.Pour)
	d.shown[key] = picture
	return picture, nil
}

// spaceOf is the colour space of a JPEG: its own profile, when that is of as
// many components; sRGB for colours without one, and for greys the tone curve
// nearest to it.
func (d *Document) spaceOf(j *pdf.JPEG) pdf.Value {
	switch {
	case len(j.Profile) >= 128 && componentsOf(j.Profile) == j.Components:
		return d.space(j.Profile, j.Components)
	case j.Components == 3:
		return d.srgb
	case j.Components == 1:
		return pdf.Array{pdf.Name("CalGray"), pdf.Dict{"WhitePoint": pdf.Numbers(0.9642, 1, 0.8249), "Gamma": 2.2}}
	}
	return pdf.Name("DeviceCMYK")
}

// componentsOf reads the colour space of a profile's header (ICC.1:2022, 7.2.6).
func componentsOf(profile []byte) int {
	switch string(profile[16:20]) {
	case "GRAY":
		return 1
	case "RGB ", "Lab ", "XYZ ", "YCbr":
		return 3
	case "CMYK":
		return 4
	}
	return 0
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

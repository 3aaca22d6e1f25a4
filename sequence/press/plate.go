package press

import (
	"bytes"
	"fmt"
	"io"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/press/pdf"
)

// Plate is a picture as somebody else opens it for the press.
type Plate struct {
	File     io.ReadCloser // a JPEG file that goes as it is, or samples
	Turn     int           // EXIF's orientation, 1..8: how to lay it upright
	AdobeRGB bool          // a JPEG without profile whose colours are those of Adobe RGB (1998)

	// Of samples: 8 bits each, channels side by side, line after line from the
	// top. All are zero for a JPEG file.
	Width, Height, Channels int
	Profile                 []byte // nil: the inks of the document's intent
}

// Plates opens the picture of a photo for the press.
type Plates func(sequence.PhotoID) (Plate, error)

// Upright makes plates of JPEG files that are upright already.
func (s Source) Upright() Plates {
	return func(id sequence.PhotoID) (Plate, error) {
		file, err := s(id)
		return Plate{File: file, Turn: 1}, err
	}
}

// Plate puts a picture into the document. The key names it: the same key is
// written once.
//
// Errors: Damaged for what is no JPEG; what open returns.
func (d *Document) Plate(key string, open func() (Plate, error)) (Picture, error) {
	if known, ok := d.shown[key]; ok {
		return known, nil
	}
	plate, err := open()
	if err != nil {
		return Picture{}, err
	}
	defer plate.File.Close()
	dict, pour, err := d.plate(plate)
	if err != nil {
		return Picture{}, &sequence.Error{Code: sequence.Damaged, Message: fmt.Sprintf("The picture of %s cannot be printed.", key),
			Hint: "Look whether its original can still be opened.", Err: err}
	}
	picture := Picture{ref: d.w.Reserve(), turn: plate.Turn}
	picture.name = pdf.Name(fmt.Sprintf("P%d", picture.ref))
	d.w.PipeStream(picture.ref, dict, pour)
	d.shown[key] = picture
	return picture, unwritten(d.w.Err())
}

// plate tells how a picture is written: its dictionary, and what writes it.
func (d *Document) plate(p Plate) (pdf.Dict, func(io.Writer) error, error) {
	if p.Channels > 0 {
		samples := pdf.Samples{Width: p.Width, Height: p.Height, Channels: p.Channels, From: p.File}
		dict := samples.Entries()
		dict["ColorSpace"] = pdf.Value(pdf.Name("DeviceCMYK"))
		if p.Profile != nil {
			dict["ColorSpace"] = d.spaceOf(p.Profile, p.Channels)
		}
		return dict, samples.Pour, nil
	}
	j, err := pdf.OpenJPEG(p.File)
	if err != nil {
		return nil, nil, err
	}
	dict := pdf.Dict{"Type": pdf.Name("XObject"), "Subtype": pdf.Name("Image"), "Width": j.Width, "Height": j.Height,
		"BitsPerComponent": j.Bits, "Filter": pdf.Name("DCTDecode"), "ColorSpace": d.spaceOf(j.Profile, j.Components)}
	if p.AdobeRGB && j.Components == 3 && len(j.Profile) == 0 {
		dict["ColorSpace"] = adobeRGB
	}
	if j.Components == 4 && j.Inverted {
		dict["Decode"] = pdf.Numbers(1, 0, 1, 0, 1, 0, 1, 0)
	}
	return dict, j.Pour, nil
}

// adobeRGB is Adobe RGB (1998) Color Image Encoding, 2005, 4.3.5: white D65, a
// power of 563/256 and the matrix of 4.3.5.3 to CIE XYZ, here by columns.
var adobeRGB = pdf.Array{pdf.Name("CalRGB"), pdf.Dict{"WhitePoint": pdf.Numbers(0.9505, 1, 1.0891),
	"Gamma":  pdf.Numbers(2.19921875, 2.19921875, 2.19921875),
	"Matrix": pdf.Numbers(0.57667, 0.29734, 0.02703, 0.18556, 0.62736, 0.07069, 0.18823, 0.07529, 0.99134)}}

// spaceOf is the colour space of a picture: its own profile, when that is of as
// many components; the curve of sRGB for what has none. Inks that say nothing,
// or that they are those of the press, are the device's own.
func (d *Document) spaceOf(profile []byte, components int) pdf.Value {
	fits := len(profile) >= 128 && componentsOf(profile) == components
	switch {
	case fits && components == 4 && d.about.Intent != nil && bytes.Equal(profile, d.about.Intent.Profile):
		return pdf.Name("DeviceCMYK") // as PDF/X-4 has it
	case fits:
		return d.space(profile, components)
	case components == 3:
		return d.srgb
	case components == 1:
		return d.space(colour.GreyProfile(), 1)
	}
	return pdf.Name("DeviceCMYK")
}

// componentsOf reads the colour space of a profile's header (ICC.1:2022, 7.2.6).
func componentsOf(profile []byte) int {
	switch string(profile[16:20]) {
	case "GRAY":
		return 1
	case "RGB ":
		return 3
	case "CMYK":
		return 4
	}
	return 0
}

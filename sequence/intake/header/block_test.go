package header

import (
	"bytes"
	"encoding/binary"
	"io"
	"io/fs"
	"math"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
)

// blockOf reads the EXIF of a JPEG whether or not there is a picture in it.
func blockOf(data []byte) *block {
	from, at := bytes.NewReader(data), int64(2)
	for {
		marker, start, length, err := nextSegment(from, at, int64(len(data)))
		if err != nil {
			return nil
		}
		if marker == markerAPP1 {
			if b := exifSegment(io.NewSectionReader(from, start, length)); b != nil {
				return b
			}
		}
		at = start + length
	}
}

func TestHostileEXIFIsReadAsFarAsItIsSound(t *testing.T) {
	looping := listen(blockOf(photo(t, "exif-header-only/infinite_loop_exif.jpg")))
	software, _ := exifTool(t)["exif-header-only/infinite_loop_exif.jpg"]["IFD0:Software"].(string)
	if software == "" || looping.Software != software || looping.Changed != "2007:05:10 19:04:16" {
		t.Errorf("directories in a circle: %+v", looping)
	}
	for _, name := range []string{"huge_tag_exif.jpg", "max_uint32_exif.jpg"} {
		s := listen(blockOf(photo(t, "exif-header-only/"+name)))
		if s.Make != "HTC" || s.Model != "ADR6400L" || s.Original != "" ||
			s.Position == nil || math.Abs(s.Position.Lat-38.8832639) > 1e-6 || math.Abs(s.Position.Lng+104.8714333) > 1e-6 {
			t.Errorf("%s: %+v", name, s)
		}
	}
}

// dateInName reads the date that the makers of the header-only files put into
// their names, as EXIF writes it.
func dateInName(name string) string {
	date, _, found := strings.Cut(name, "-sep-")
	parts := strings.Split(date, "-")
	if !found || len(parts) != 6 {
		return ""
	}
	return strings.Join(parts[:3], ":") + " " + strings.Join(parts[3:], ":")
}

func TestCutOffFilesStillTellTheirDate(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(photosFolder(t), "exif-header-only", "*-sep-*.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	told := 0
	for _, file := range files {
		name := filepath.Base(file)
		want := dateInName(name)
		if want == "" {
			continue
		}
		s := listen(blockOf(photo(t, "exif-header-only/"+name)))
		if s.Original != want && s.Changed != want && s.Digitized != want {
			t.Errorf("%s: %q, %q, %q", name, s.Original, s.Digitized, s.Changed)
			continue
		}
		told++
	}
	if told < 40 {
		t.Errorf("only %d told their date", told)
	}
}

func TestEXIFAgreesWithExifTool(t *testing.T) {
	readings := exifTool(t)
	compared := 0
	err := filepath.WalkDir(photosFolder(t), func(path string, d fs.DirEntry, err error) error {
		name, _ := filepath.Rel(photosFolder(t), path)
		reading, there := readings[name]
		if err != nil || d.IsDir() || !there || !strings.HasSuffix(name, ".jpg") {
			return err
		}
		s := listen(blockOf(photo(t, name)))
		compared++
		for tag, got := range map[string]string{
			"IFD0:Make": s.Make, "IFD0:Model": s.Model, "IFD0:ModifyDate": s.Changed,
			"ExifIFD:DateTimeOriginal": s.Original, "ExifIFD:CreateDate": s.Digitized,
			"ExifIFD:OffsetTimeOriginal": s.OriginalOffset, "ExifIFD:OffsetTimeDigitized": s.DigitizedOffset,
		} {
			want, _ := reading[tag].(string)
			if strings.TrimSpace(want) != strings.TrimSpace(got) && !hiddenFromExifTool(reading) {
				t.Errorf("%s: %s is %q, ExifTool %q", name, tag, got, want)
			}
		}
		if want, said := reading["IFD0:Orientation"].(float64); said && int(want) != s.Orientation {
			t.Errorf("%s: orientation %d, ExifTool %v", name, s.Orientation, want)
		}
		return nil
	})
	if err != nil || compared < 100 {
		t.Errorf("%d files compared: %v", compared, err)
	}
}

// hiddenFromExifTool is true of files cut off within their EXIF, which ExifTool
// gave up at once: it names not even their size.
func hiddenFromExifTool(reading map[string]any) bool {
	_, sized := reading["Composite:ImageSize"]
	return !sized
}

// made writes a block of our own, for cases no real file shows.
func made(order binary.ByteOrder, change func(b *block)) []byte {
	b := &block{order: order}
	b.main = []entry{{tagMake, kindText, 4, []byte("Abc\x00")}}
	change(b)
	return b.bytes()
}

// degrees writes ratios of one.
func degrees(order binary.ByteOrder, values ...uint32) []byte {
	var out []byte
	for _, v := range values {
		out = order.(binary.AppendByteOrder).AppendUint32(out, v)
	}
	return out
}

func TestAPositionIsOnlyWhatItCanBe(t *testing.T) {
	type gps struct {
		ns, ew   string
		lat, lng []uint32
	}
	cases := []struct {
		name     string
		gps      gps
		lat, lng float64
		there    bool
		why      string
	}{
		{"Trieste", gps{"N", "E", []uint32{45, 1, 39, 1, 0, 1}, []uint32{13, 1, 46, 1, 30, 1}}, 45.65, 13.775, true, ""},
		{"south and west", gps{"S", "W", []uint32{34, 1, 36, 1, 0, 1}, []uint32{58, 1, 22, 1, 48, 1}}, -34.6, -58.38, true, ""},
		{"degrees only", gps{"N", "E", []uint32{456500, 10000}, []uint32{137750, 10000}}, 45.65, 13.775, true, ""},
		{"seconds not given as 0/0", gps{"N", "E", []uint32{45, 1, 3900, 100, 0, 0}, []uint32{13, 1, 4650, 100, 0, 0}}, 45.65, 13.775, true, ""},
		{"the equator, off Gabon", gps{"N", "E", []uint32{0, 1, 0, 1, 0, 1}, []uint32{8, 1, 0, 1, 0, 1}}, 0, 8, true, ""},
		{"0,0", gps{"N", "E", []uint32{0, 1, 0, 1, 0, 1}, []uint32{0, 1, 0, 1, 0, 1}}, 0, 0, false, ""},
		{"0/0 throughout", gps{"N", "E", []uint32{0, 0, 0, 0, 0, 0}, []uint32{0, 0, 0, 0, 0, 0}}, 0, 0, false, ""},
		{"beyond the pole", gps{"N", "E", []uint32{91, 1, 0, 1, 0, 1}, []uint32{13, 1, 0, 1, 0, 1}}, 0, 0, false, "no such position"},
		{"divided by zero", gps{"N", "E", []uint32{45, 0, 0, 1, 0, 1}, []uint32{13, 1, 0, 1, 0, 1}}, 0, 0, false, "no such position"},
		{"no hemisphere", gps{"", "E", []uint32{45, 1, 0, 1, 0, 1}, []uint32{13, 1, 0, 1, 0, 1}}, 0, 0, false, "which side"},
		{"an odd hemisphere", gps{"N", "e", []uint32{45, 1, 0, 1, 0, 1}, []uint32{13, 1, 0, 1, 0, 1}}, 0, 0, false, "which side"},
	}
	for _, c := range cases {
		for _, order := range []binary.ByteOrder{binary.LittleEndian, binary.BigEndian} {
			data := made(order, func(b *block) {
				b.gps = []entry{
					{tagLatitudeRef, kindText, 2, append([]byte(c.gps.ns), 0, 0)[:2]},
					{tagLatitude, kindRational, uint32(len(c.gps.lat) / 2), degrees(order, c.gps.lat...)},
					{tagLongitudeRef, kindText, 2, append([]byte(c.gps.ew), 0, 0)[:2]},
					{tagLongitude, kindRational, uint32(len(c.gps.lng) / 2), degrees(order, c.gps.lng...)},
				}
			})
			s := listen(readBlock(bytes.NewReader(data), int64(len(data))))
			if (s.Position != nil) != c.there || (s.NoPosition == "") != (c.why == "") || !strings.Contains(s.NoPosition, c.why) {
				t.Errorf("%s: %v, %q", c.name, s.Position, s.NoPosition)
				continue
			}
			if c.there && (math.Abs(s.Position.Lat-c.lat) > 1e-9 || math.Abs(s.Position.Lng-c.lng) > 1e-9) {
				t.Errorf("%s: %v", c.name, *s.Position)
			}
			if s.Make != "Abc" {
				t.Errorf("%s: make %q", c.name, s.Make)
			}
		}
	}
}

func TestABlockWrittenAnewReadsTheSame(t *testing.T) {
	for _, name := range []string{"edge/Apple iPhone 5.jpg", "photos-cc0/oakland-zoo-otters.jpg", "phone-p3-offset/012mp-bus.jpg", "scans/FujiFilm SP-2500.jpg"} {
		first := blockOf(photo(t, name))
		data := first.bytes()
		second := readBlock(bytes.NewReader(data), int64(len(data)))
		if !reflect.DeepEqual(listen(first), listen(second)) || !bytes.Equal(data, second.bytes()) {
			t.Errorf("%s changed by being written anew", name)
		}
	}
}

func TestAdobeRGBIsToldByEXIFAlone(t *testing.T) {
	short := func(order binary.ByteOrder, v uint16) []byte {
		return order.(binary.AppendByteOrder).AppendUint16(nil, v)
	}
	cases := []struct {
		space uint16
		index string
		adobe bool
	}{{1, "R98", false}, {0xFFFF, "R03", true}, {0xFFFF, "R98", false}, {0xFFFF, "", false}, {2, "", true}, {1, "R03", false}}
	for _, c := range cases {
		order := binary.BigEndian
		data := made(order, func(b *block) {
			b.exif = []entry{{tagColourSpace, kindShort, 1, short(order, c.space)}}
			b.interop = []entry{{tagInteropIndex, kindText, 4, append([]byte(c.index), 0, 0, 0, 0)[:4]}}
		})
		if s := listen(readBlock(bytes.NewReader(data), int64(len(data)))); s.AdobeRGB != c.adobe {
			t.Errorf("%d %q: %v", c.space, c.index, s.AdobeRGB)
		}
	}
}

func TestACaptionIsWhatAPersonWrote(t *testing.T) {
	cases := []struct{ maker, description, caption string }{
		{"", "Ferry leaving Zadar", "Ferry leaving Zadar"},
		{"Somemaker", "SOMEMAKER DIGITAL CAMERA", ""},
		{"Somemaker Ltd", "Somemaker digital camera", ""},
		{"", "DCIM\\100", ""},
		{"", "   ", ""},
	}
	for _, c := range cases {
		if got := (Said{Make: c.maker, Description: c.description}).Caption(); got != c.caption {
			t.Errorf("%q: %q", c.description, got)
		}
	}
}

func TestACameraIsNamedOnce(t *testing.T) {
	cases := []struct{ maker, model, camera string }{
		{"Abc", "Abc 100", "Abc 100"}, {"ABC Corp.", "X-1", "ABC Corp. X-1"}, {"", "X-1", "X-1"}, {"Abc", "", "Abc"}, {"", "", ""},
	}
	for _, c := range cases {
		if got := (Said{Make: c.maker, Model: c.model}).Camera(); got != c.camera {
			t.Errorf("%q %q: %q", c.maker, c.model, got)
		}
	}
}

// FuzzBlock walks anything as EXIF: it must come to an end, stay small, and
// give a block that the EXIF decoder reads without a fault.
func FuzzBlock(f *testing.F) {
	for _, name := range []string{"edge/Apple iPhone 5.jpg", "exif-header-only/infinite_loop_exif.jpg",
		"exif-header-only/huge_tag_exif.jpg", "exif-header-only/max_uint32_exif.jpg", "exif-header-only/geodegrees_as_string.jpg"} {
		if b := blockOf(photo(f, name)); b != nil {
			f.Add(b.bytes())
		}
		data := photo(f, name)
		f.Add(data[12:min(len(data), 4096)])
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		b := readBlock(bytes.NewReader(data), int64(len(data)))
		if b == nil {
			return
		}
		written := b.bytes()
		if most := 8 + 40*12 + 40*(maxValue+1); len(written) > most {
			t.Fatalf("%d bytes became %d", len(data), len(written))
		}
		if _, err := decodeBlock(b); err != nil {
			t.Fatalf("the decoder does not read what was written for it: %v", err)
		}
		s := listen(b)
		if p := s.Position; p != nil && !p.Valid() {
			t.Fatalf("position %v", *p)
		}
	})
}

// FuzzRead reads anything as any kind of picture.
func FuzzRead(f *testing.F) {
	for _, name := range []string{"edge/Nikon E885.jpg", "icc/paris_icc_exif_xmp.png", "tiff/strike.tif", "tiff/tiled-rgb-u8.tif"} {
		data := photo(f, name)
		f.Add(data[:min(len(data), 8192)])
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		kind := Kind(data[:min(len(data), HeadLength)])
		h, err := Read(kind, bytes.NewReader(data), int64(len(data)))
		if err == nil && (h.Width <= 0 || h.Height <= 0) {
			t.Fatalf("%d × %d", h.Width, h.Height)
		}
		preview, h, err := Preview(kind, bytes.NewReader(data), int64(len(data)))
		if err == nil && (len(preview) > maxPreview || h.Turn < 0) {
			t.Fatalf("%d bytes, turned %d", len(preview), h.Turn)
		}
		if turned := Turned(data, 6); len(turned) > len(data)+100 {
			t.Fatalf("%d bytes became %d", len(data), len(turned))
		}
	})
}

package pixels

import (
	"bytes"
	"image"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"golang.org/x/image/tiff"

	"pairwall/sequence/intake/header"
)

// Every TIFF of the photographs folder that has several bands, and can be read at
// all, read both ways.
func TestBandByBandATIFFIsTheSamePicture(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(photosFolder(t), "tiff", "*.tif"))
	if err != nil {
		t.Fatal(err)
	}
	compared := 0
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		h, err := header.Read("tiff", bytes.NewReader(data), int64(len(data)))
		if err != nil || h.Bands == nil || h.Bands.Count < 2 {
			continue
		}
		whole, err := tiff.Decode(bytes.NewReader(data))
		if err != nil {
			continue
		}
		parts, err := decodeBands(h)
		if err != nil {
			t.Errorf("%s: %v", filepath.Base(file), err)
			continue
		}
		compared++
		for y := range h.Height {
			if !slices.Equal(lineOf(whole, y), lineOf(parts, y)) {
				t.Errorf("%s: line %d of %d differs (bands of %d)", filepath.Base(file), y, h.Height, h.Bands.Rows)
				break
			}
		}
	}
	t.Logf("%d files compared", compared)
	if compared < 5 {
		t.Errorf("only %d files have several bands", compared)
	}
}

func lineOf(img image.Image, y int) []uint16 {
	line := make([]uint16, 0, 4*img.Bounds().Dx())
	for x := range img.Bounds().Dx() {
		r, g, b, a := img.At(x, y).RGBA()
		line = append(line, uint16(r), uint16(g), uint16(b), uint16(a))
	}
	return line
}

// FuzzBands reads anything as a TIFF in bands.
func FuzzBands(f *testing.F) {
	for _, name := range []string{"tiff/strike.tif", "tiff/tiled-rgb-u8.tif"} {
		data, err := os.ReadFile(filepath.Join(photosFolder(f), name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data[:min(len(data), 8192)])
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		h, err := header.Read("tiff", bytes.NewReader(data), int64(len(data)))
		if err != nil || h.Bands == nil || h.Memory > 16<<20 {
			return
		}
		img, err := decodeBands(h)
		if err == nil {
			_, err = Develop(img, h, 64)
		}
		_ = err // refused or read, but never a crash
	})
}

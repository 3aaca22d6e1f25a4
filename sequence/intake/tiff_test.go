package intake

import (
	_ "embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/intake/header"
)

// tiffWords are what libtiff says of the TIFFs of the test photographs, by
// testdata/tiffs.sh.
//
//go:embed testdata/tiffs.tsv
var tiffWords string

// Every TIFF of the test photographs: read, or named in its refusal by these words.
var tiffOutcomes = map[string][]string{
	"read": {"cramps.tif", "issue_69_lzw.tiff", "issue_69_packbits.tiff", "jello.tif", "jim___ah.tif", "jim___cg.tif", "jim___dg.tif",
		"jim___gg.tif", "ladoga.tif", "minisblack-1c-16b.tiff", "minisblack-1c-8b.tiff", "miniswhite-1c-1b.tiff", "palette-1c-1b.tiff",
		"palette-1c-8b.tiff", "poppies.tif", "rgb-3c-16b.tiff", "rgb-3c-8b.tiff", "strike.tif", "tiled-gray-i1.tif",
		"tiled-rect-rgb-u8.tif", "tiled-rgb-u8.tif"},
	"is compressed with the fax method":                             {"big_g4.tif", "fax2d.tif", "fax4.tiff", "g3test.tif", "imagemagick_group4.tiff"},
	"is compressed with JPEG":                                       {"quad-jpeg.tif", "quad-tile.jpg.tiff", "tiled-jpeg-rgb-u8.tif", "tiled-jpeg-ycbcr.tif"},
	"is compressed with JPEG (an old kind)":                         {"smallliz.tif", "zackthecat.tif"},
	"is compressed with LogLuv":                                     {"logluv-3c-16b.tiff", "off_l16.tif", "off_luv24.tif", "off_luv32.tif"},
	"is compressed with ThunderScan":                                {"text.tif"},
	"is compressed with Zstandard":                                  {"int16_zstd.tif"},
	"is compressed with LZW in the way given up in the 1990s":       {"quad-lzw-compat.tiff", "quad-lzw.tif"},
	"lists its tiles in an unusual way":                             {"quad-tile.tif"},
	"holds printing inks (CMYK) instead of RGB":                     {"cmyk-3c-16b.tiff", "cmyk-3c-8b.tiff", "cmyk-4c-8b.tiff"},
	"holds brightness and colour difference (YCbCr) instead of RGB": {"dscf0013.tif", "ycbcr-cat.tif"},
	"holds floating-point numbers": {"caspian.tif", "cmyk-3c-32b-float.tiff", "gradient-1c-32b-float.tiff", "gradient-1c-64b-float.tiff",
		"gradient-3c-32b-float.tiff", "predictor-3-gray-f32.tif", "predictor-3-rgb-f32.tif", "random-fp16-pred2.tiff",
		"random-fp16-pred3.tiff", "random-fp16.tiff", "single-black-fp16.tiff", "white-fp16-pred2.tiff", "white-fp16-pred3.tiff", "white-fp16.tiff"},
	"holds signed numbers, as measuring instruments write them": {"int16.tif", "int16_rgb.tif", "int8.tif", "int8_rgb.tif",
		"minisblack-1c-i16b.tiff", "minisblack-1c-i8b.tiff", "tiled-cmyk-i8.tif", "tiled-oversize-gray-i8.tif"},
	"has 3 bits a channel":                          {"minisblack-1c-3b.tiff", "miniswhite-1c-3b.tiff"},
	"has 4 bits a channel":                          {"palette-1c-4b.tiff"},
	"has 5 bits a channel":                          {"minisblack-1c-5b.tiff"},
	"has 6 bits a channel":                          {"miniswhite-1c-6b.tiff"},
	"has 7 bits a channel":                          {"minisblack-1c-7b.tiff"},
	"has 12 bits a channel":                         {"12bit.cropped.rgb.tiff", "12bit.cropped.tiff", "hpredict-1c-12b.tiff", "miniswhite-1c-12b.tiff"},
	"has 32 bits a channel":                         {"gradient-1c-32b.tiff", "gradient-3c-32b.tiff"},
	"has 64 bits a channel":                         {"gradient-1c-64b.tiff", "gradient-3c-64b.tiff"},
	"keeps its colours in separate planes (planar)": {"minisblack-2c-8b-alpha.tiff", "oxford.tif", "planar-rgb-u8.tif"},
	"has a further channel beside its colours":      {"extra_bits_gray_8b.tiff", "extra_bits_rgb_8b.tiff"},
}

// tiffReasons are what can be in the way of reading a TIFF, as libtiff and as we
// say it. $1 is what the brackets found.
var tiffReasons = []struct{ libtiff, ours string }{
	{`Compression Scheme: CCITT`, "is compressed with the fax method"},
	{`Compression Scheme: JPEG;`, "is compressed with JPEG"},
	{`Compression Scheme: Old-style JPEG`, "is compressed with JPEG (an old kind)"},
	{`Compression Scheme: SGILog`, "is compressed with LogLuv"},
	{`Compression Scheme: ThunderScan`, "is compressed with ThunderScan"},
	{`Compression Scheme: ZSTD`, "is compressed with Zstandard"},
	{`Old-style LZW codes`, "is compressed with LZW in the way given up in the 1990s"},
	{`tiles in StripOffsets`, "lists its tiles in an unusual way"},
	{`Photometric Interpretation: separated`, "holds printing inks (CMYK) instead of RGB"},
	{`Photometric Interpretation: YCbCr`, "holds brightness and colour difference (YCbCr) instead of RGB"},
	{`Photometric Interpretation: CIE Log2`, "holds LogLuv instead of RGB"},
	{`Sample Format: IEEE floating point`, "holds floating-point numbers"},
	{`Sample Format: signed integer`, "holds signed numbers, as measuring instruments write them"},
	{`Bits/Sample: ([2-7]|9|1[0-5]|1[7-9]|[2-9]\d);`, "has $1 bits a channel"},
	{`Planar Configuration: separate image planes`, "keeps its colours in separate planes (planar)"},
	{`(?:black|white|separated); Extra Samples|Extra Samples: 1<unspecified>`, "has a further channel beside its colours"},
}

// inTheWay are all reasons why a TIFF is not read, by libtiff's words.
func inTheWay(words string) (reasons []string) {
	for _, r := range tiffReasons {
		form := regexp.MustCompile(r.libtiff)
		if at := form.FindStringSubmatchIndex(words); at != nil {
			reasons = append(reasons, string(form.ExpandString(nil, r.ours, words, at)))
		}
	}
	return reasons
}

func TestEveryTIFFIsReadOrItsKindIsNamed(t *testing.T) {
	root := photosFolder(t)
	outcome := map[string]string{}
	for kind, names := range tiffOutcomes {
		for _, name := range names {
			if outcome["tiff/"+name] != "" {
				t.Errorf("%s stands in the table twice", name)
			}
			outcome["tiff/"+name] = kind
		}
	}
	judged := map[string]bool{}
	for line := range strings.Lines(tiffWords) {
		name, words, _ := strings.Cut(strings.TrimSpace(line), "\t")
		judged[name] = true
		want, reasons := outcome[name], inTheWay(words)
		if (want == "read") != (len(reasons) == 0) || want != "read" && !slices.Contains(reasons, want) {
			t.Errorf("%s: %q in the table, but libtiff says %q", name, want, words)
		}
		photo, err := Read(t.Context(), filepath.Join(root, name), t.TempDir())
		if want != "read" {
			var refusal *sequence.Error
			said := "This TIFF file " + want + ", which Pairwall does not read."
			if !errors.As(err, &refusal) || refusal.Code != sequence.Unsupported || refusal.Message != said || refusal.Hint != header.TIFFHint {
				t.Errorf("%s: %v, want %q", name, err, said)
			}
			continue
		}
		var wide, high int
		if _, scan := fmt.Sscanf(words, "Image Width: %d Image Length: %d", &wide, &high); scan != nil {
			t.Fatalf("%s: %v", name, scan)
		}
		// One lies on its side, which the table need not say.
		if err != nil || len(photo.Findings) > 0 || min(photo.Width, photo.Height) != min(wide, high) || max(photo.Width, photo.Height) != max(wide, high) {
			t.Errorf("%s: %d × %d, %v, %v", name, photo.Width, photo.Height, photo.Findings, err)
		}
	}
	if len(judged) != len(outcome) {
		t.Errorf("%d files in the table, %d judged", len(outcome), len(judged))
	}
	for _, name := range tiffsBelow(t, root) {
		if !judged[name] {
			t.Errorf("%s is a TIFF and not in the table", name)
		}
	}
}

// tiffsBelow are the files below a folder that are TIFFs by their content.
func tiffsBelow(t *testing.T, root string) (names []string) {
	t.Helper()
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		file, err := os.Open(path)
		if err != nil {
			return err
		}
		defer file.Close()
		head := make([]byte, header.HeadLength)
		n, err := file.ReadAt(head, 0)
		if err != nil && !errors.Is(err, io.EOF) {
			return err
		}
		name, err := filepath.Rel(root, path)
		if kind := Kind(head[:n]); kind == "tiff" || kind == "BigTIFF" {
			names = append(names, filepath.ToSlash(name))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

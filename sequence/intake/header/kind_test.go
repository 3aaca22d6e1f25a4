package header

import (
	"testing"

	"pairwall/sequence"
)

func TestAKindIsToldByContent(t *testing.T) {
	cases := []struct{ kind, head string }{
		{"jpeg", "\xff\xd8\xff\xe1\x32\x4cExif"},
		{"png", "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"},
		{"tiff", "II*\x00\x08\x00\x00\x00"},
		{"tiff", "MM\x00*\x00\x00\x00\x08"},
		{"BigTIFF", "II+\x00\x08\x00\x00\x00"},
		{"camera raw", "II*\x00\x10\x00\x00\x00CR\x02\x00"},
		{"camera raw", "\x00\x00\x00\x18ftypcrx \x00\x00\x00\x01"},
		{"heic", "\x00\x00\x00\x18ftypheic\x00\x00\x00\x00"},
		{"heic", "\x00\x00\x00\x18ftypmif1\x00\x00\x00\x00"},
		{"avif", "\x00\x00\x00\x18ftypavif\x00\x00\x00\x00"},
		{"video", "\x00\x00\x00\x18ftypqt  \x00\x00\x00\x00"},
		{"webp", "RIFF\x10\x00\x00\x00WEBPVP8L"},
		{"sound", "RIFF\x10\x00\x00\x00WAVEfmt "},
		{"GIF", "GIF89a\x01\x00"},
		{"JPEG XL", "\xff\x0a\xfa\x7f"},
		{"JPEG 2000", "\x00\x00\x00\x0cjP  \r\n\x87\n"},
		{"PDF", "%PDF-1.4\n"},
		{"archive", "PK\x03\x04\x14"},
		{"SVG", "<?xml version=\"1.0\"?>\n<svg xmlns="},
		{"text", "Trieste, Ορμος, Zadar\r\n"},
		{"text", "Caf\xc3"}, // a letter cut in two
		{"", "\x00\x00\x00\x00\x00\x00\x00\x00"},
		{"", "\x01\x02\x03\x04"},
		{"", "\xff\xfe\x00"},
	}
	for _, c := range cases {
		if got := Kind([]byte(c.head)); got != c.kind {
			t.Errorf("%q: %q, want %q", c.head, got, c.kind)
		}
	}
	if got := Kind(photo(t, "heic/iphone.heic")[:HeadLength]); got != "heic" {
		t.Errorf("a phone's HEIC: %q", got)
	}
}

func TestEveryKindWeDoNotReadHasASentenceAndAWayOut(t *testing.T) {
	kinds := map[string]bool{"": true, "text": true, "video": true}
	for _, s := range signs {
		kinds[s.kind] = true
	}
	for _, kind := range brands {
		kinds[kind] = true
	}
	for kind := range kinds {
		switch kind {
		case "jpeg", "png", "tiff", "webp", "heic", "avif":
			continue
		}
		if _, known := kindWords[kind]; !known {
			t.Errorf("%q has no words of its own", kind)
		}
		if err := Refuse(kind); sequence.CodeOf(err) != sequence.Unsupported {
			t.Errorf("%q: %v", kind, err)
		}
	}
}

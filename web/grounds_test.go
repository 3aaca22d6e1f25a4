package web

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// colourWritten finds every colour a style sheet can write: by digits, by a
// function, or by a name of CSS Color 4 that is not a system colour.
var (
	hexColour  = regexp.MustCompile(`#[0-9a-fA-F]{3,8}\b`)
	rgbColour  = regexp.MustCompile(`\brgba?\(\s*(\d+)[\s,]+(\d+)[\s,]+(\d+)`)
	otherKinds = regexp.MustCompile(`\b(hsla?|hwb|lab|lch|oklab|oklch|color)\(`)
	named      = regexp.MustCompile(`(?i)[:\s,(](red|green|blue|yellow|orange|pink|purple|brown|navy|teal|cyan|magenta|gold|beige|ivory|linen|snow|wheat|tan|salmon|coral|khaki|crimson|indigo|violet|maroon|olive|lime|aqua|fuchsia)\b[^-a-z]`)
	comment    = regexp.MustCompile(`(?s)/\*.*?\*/`)
)

// TestNoGroundOrInkIsTinted reads every style sheet of the page: red, green and
// blue of each colour are equal, because a tinted ground tints every judgement
// of a photograph on it.
func TestNoGroundOrInkIsTinted(t *testing.T) {
	sheets, err := filepath.Glob("styles/*.css")
	if err != nil || len(sheets) < 5 {
		t.Fatalf("only %d style sheets: %v", len(sheets), err)
	}
	colours := 0
	for _, sheet := range sheets {
		text, err := os.ReadFile(sheet)
		if err != nil {
			t.Fatal(err)
		}
		style := comment.ReplaceAllString(string(text), "")
		for _, hex := range hexColour.FindAllString(style, -1) {
			colours++
			if !greyHex(hex) {
				t.Errorf("%s: %s is tinted", sheet, hex)
			}
		}
		for _, rgb := range rgbColour.FindAllStringSubmatch(style, -1) {
			colours++
			if rgb[1] != rgb[2] || rgb[2] != rgb[3] {
				t.Errorf("%s: %s is tinted", sheet, rgb[0])
			}
		}
		for _, found := range append(otherKinds.FindAllString(style, -1), named.FindAllString(style, -1)...) {
			t.Errorf("%s: %s is not written so that one sees it is grey", sheet, strings.TrimSpace(found))
		}
	}
	if colours < 30 {
		t.Errorf("only %d colours were found", colours)
	}
}

func greyHex(hex string) bool {
	digits := strings.ToLower(hex[1:])
	switch len(digits) {
	case 3, 4:
		return digits[0] == digits[1] && digits[1] == digits[2]
	case 6, 8:
		return digits[0:2] == digits[2:4] && digits[2:4] == digits[4:6]
	}
	return false
}

func TestGreyIsToldFromTinted(t *testing.T) {
	for hex, grey := range map[string]bool{"#fff": true, "#ececec": true, "#ececed": false, "#123": false, "#141414cc": true, "#1414": false, "#4444": true} {
		if greyHex(hex) != grey {
			t.Errorf("%s: grey is %v", hex, !grey)
		}
	}
}

package colour

import (
	"image/color"
	"math"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/image/colornames"
)

// CSS Color Module Level 4 names 148 colours, golang.org/x/image/colornames
// carries them. Their poetry is not ours, so each is only held to its family.
func TestNamesAgreeWithTheFamilyOfCSSNames(t *testing.T) {
	for pattern, names := range map[string]string{
		"near black":                         "black",
		"^white":                             "white snow",
		"white$":                             "whitesmoke linen aliceblue seashell floralwhite mintcream ghostwhite azure ivory",
		"grey":                               "silver gainsboro gray darkgray dimgray lightgray",
		"slate":                              "slategray lightslategray darkslategray",
		"red":                                "red crimson firebrick brown darkred maroon indianred",
		"coral|salmon|peach|clay|terracotta": "coral salmon lightcoral lightsalmon darksalmon",
		"vermilion|red|orange":               "tomato orangered",
		"orange|amber|copper":                "orange darkorange sandybrown",
		"brown|rust|chestnut|copper":         "saddlebrown sienna chocolate rosybrown",
		"tan|sand":                           "tan burlywood",
		"cream|ivory|gold|apricot|warm":      "oldlace cornsilk papayawhip antiquewhite wheat moccasin blanchedalmond beige",
		"ochre|amber|gold|yellow":            "goldenrod darkgoldenrod gold yellow",
		"straw|yellow|khaki":                 "khaki darkkhaki palegoldenrod lemonchiffon",
		"olive":                              "olive darkolivegreen",
		"lime":                               "chartreuse lawngreen greenyellow yellowgreen",
		"green":                              "green darkgreen lime limegreen forestgreen seagreen palegreen springgreen darkseagreen mediumaquamarine",
		"teal|turquoise|aqua":                "teal darkcyan turquoise aqua cyan paleturquoise darkturquoise lightseagreen cadetblue",
		"blue":                               "skyblue deepskyblue lightblue lightskyblue dodgerblue royalblue blue cornflowerblue mediumslateblue",
		"steel blue":                         "steelblue",
		"navy|indigo":                        "navy midnightblue darkblue mediumblue darkslateblue",
		"lavender|periwinkle":                "lavender mediumpurple",
		"violet|purple":                      "purple indigo darkviolet blueviolet darkorchid mediumorchid darkmagenta",
		"orchid|mauve|lilac|plum":            "orchid plum thistle violet",
		"magenta":                            "magenta fuchsia",
		"pink|rose|raspberry":                "pink lightpink hotpink deeppink palevioletred mediumvioletred",
	} {
		for _, css := range strings.Fields(names) {
			c, known := colornames.Map[css]
			if !known {
				t.Fatalf("%s is no CSS name", css)
			}
			if got := nameOf(c); !regexp.MustCompile(pattern).MatchString(got) {
				t.Errorf("CSS %s is called %q, want /%s/", css, got, pattern)
			}
		}
	}
}

func nameOf(c color.RGBA) string { return FromSRGB(c.R, c.G, c.B).Name() }

// The 24-patch target's own names for its patches (colour-science data set).
func TestNamesAgreeWithThePatchesOfTheTarget(t *testing.T) {
	families := map[string]string{
		"dark skin": "brown", "light skin": "tan|clay|sand", "blue sky": "blue|slate", "foliage": "olive|green",
		"blue flower": "lavender|periwinkle", "bluish green": "green|turquoise|teal", "orange": "orange|copper",
		"purplish blue": "blue", "moderate red": "red", "purple": "violet|purple|plum|aubergine",
		"yellow green": "lime|leaf|green", "orange yellow": "ochre|amber|gold", "blue": "blue|navy", "green": "green",
		"red": "red", "yellow": "yellow", "magenta": "magenta|pink|raspberry", "cyan": "blue|teal",
		"white 9.5": "white", "neutral 8": "grey", "neutral 6.5": "grey", "neutral 5": "grey", "neutral 3.5": "dark grey",
		"black 2": "charcoal|black",
	}
	_, rows := table(t, "target24_lab_d50.csv")
	if len(rows) != 24 {
		t.Fatalf("%d patches", len(rows))
	}
	for _, row := range rows {
		pattern := families[row[1]]
		got := FromSRGB(pixel(t, row, 9)).Name()
		if pattern == "" || !regexp.MustCompile(pattern).MatchString(got) {
			t.Errorf("%s is called %q, want /%s/", row[1], got, pattern)
		}
	}
}

func TestEveryColourHasOneToThreePlainWords(t *testing.T) {
	plain := regexp.MustCompile(`^[a-z]+( [a-z]+){0,2}$`)
	seen := map[string]bool{}
	check := func(c Lab) {
		name := c.Name()
		if !seen[name] && !plain.MatchString(name) {
			t.Errorf("%+v is called %q", c, name)
		}
		seen[name] = true
	}
	for r := 0; r < 256; r += 5 {
		for g := 0; g < 256; g += 5 {
			for b := 0; b < 256; b += 5 {
				check(FromSRGB(uint8(r), uint8(g), uint8(b)))
			}
		}
	}
	for _, word := range []string{"rust", "pale sand", "slate blue", "near black", "white", "mid grey", "sky blue"} {
		if !seen[word] {
			t.Errorf("no sRGB colour is called %q", word)
		}
	}
	// Out of any gamut, where a swatch typed in by hand may lie.
	for _, c := range []Lab{{-5, 0, 0}, {120, 0, 0}, {120, 300, -300}, {0, 200, 200}, {50, -300, 10}, {math.NaN(), math.NaN(), 0}} {
		check(c)
	}
}

package colour

// Name gives c in plain English, one to three lower-case words: "rust", "pale
// sand", "slate blue", "near black". The words are for a maker to recognise a
// colour by, not a measure; two colours of one name can differ visibly.
//
// The rule table is our own. A chroma below 8 makes a grey, tinted from 3.5 on;
// everything else is looked up by hue (15 families), chroma (muted, soft,
// strong, vivid) and lightness (deep, dark, middle, light, pale).
func (c Lab) Name() string {
	chroma := c.Chroma()
	switch {
	case c.L < nearBlack && chroma < 20 || c.L < blackest:
		return "near black"
	case chroma < tinted:
		return step(c.L, greys)
	case chroma < coloured:
		return step(c.L, tints[tintOf(c.Hue())])
	}
	return hueFamily(c.Hue())[tier(chroma, 20, 42, 68)][tier(c.L, 26, 46, 68, 88)]
}

const (
	nearBlack = 9 // darker than this, weak colour is not seen
	blackest  = 4 // and here none at all
	tinted    = 3.5
	coloured  = 8
)

// shade is a word for lightness up to a bound.
type shade struct {
	until float64
	word  string
}

var greys = []shade{
	{26, "charcoal"}, {44, "dark grey"}, {62, "mid grey"}, {80, "light grey"},
	{93, "pale grey"}, {98.5, "near white"}, {1e9, "white"},
}

var tints = [4][]shade{
	{{26, "brown black"}, {44, "dark warm grey"}, {62, "warm grey"}, {80, "light warm grey"}, {93, "pale warm grey"}, {1e9, "warm white"}},
	{{26, "green black"}, {44, "dark green grey"}, {62, "green grey"}, {80, "light green grey"}, {93, "pale green grey"}, {1e9, "greenish white"}},
	{{26, "blue black"}, {44, "dark blue grey"}, {62, "blue grey"}, {80, "light blue grey"}, {93, "pale blue grey"}, {1e9, "bluish white"}},
	{{26, "plum black"}, {44, "dark mauve grey"}, {62, "mauve grey"}, {80, "light mauve grey"}, {93, "pale mauve grey"}, {1e9, "pinkish white"}},
}

func tintOf(hue float64) int {
	switch {
	case hue >= 15 && hue < 112:
		return 0
	case hue >= 112 && hue < 190:
		return 1
	case hue >= 190 && hue < 295:
		return 2
	}
	return 3
}

func step(lightness float64, shades []shade) string {
	i := 0
	for lightness >= shades[i].until {
		i++
	}
	return shades[i].word
}

// tier counts the bounds v has reached.
func tier(v float64, bounds ...float64) (n int) {
	for _, bound := range bounds {
		if v >= bound {
			n++
		}
	}
	return n
}

// words of one hue family: rows by chroma, muted to vivid; columns by
// lightness, deep to pale.
type words [4][5]string

func hueFamily(hue float64) *words {
	for i := range families {
		if hue < families[i].until {
			return &families[i].words
		}
	}
	return &families[0].words // the roses lie on both sides of 0°
}

var families = [...]struct {
	until float64
	words words
}{
	{14, words{
		{"dark maroon", "dusky rose", "dusty rose", "dusty pink", "blush"},
		{"wine", "rosewood", "old rose", "rose pink", "pale pink"},
		{"wine red", "raspberry", "rose pink", "pink", "pale pink"},
		{"deep crimson", "raspberry", "hot pink", "bright pink", "pale pink"}}},
	{42, words{
		{"dark maroon", "red brown", "rosy brown", "dusty pink", "blush"},
		{"maroon", "brick brown", "faded red", "salmon pink", "pale pink"},
		{"dark red", "brick red", "coral red", "coral", "pale coral"},
		{"deep red", "deep red", "red", "coral", "pale coral"}}},
	{55, words{
		{"dark brown", "red brown", "dusty clay", "pale clay", "pale peach"},
		{"dark russet", "russet", "clay", "pale terracotta", "pale peach"},
		{"dark red", "rust", "terracotta", "salmon", "peach"},
		{"dark red", "rust", "vermilion", "bright coral", "peach"}}},
	{72, words{
		{"dark brown", "brown", "dusty tan", "pale clay", "pale peach"},
		{"dark brown", "chestnut", "light brown", "apricot", "pale peach"},
		{"dark rust", "rust", "copper", "light orange", "peach"},
		{"dark orange", "burnt orange", "orange", "bright orange", "light orange"}}},
	{88, words{
		{"dark umber", "umber", "taupe", "pale sand", "cream"},
		{"dark umber", "brown", "tan", "sand", "pale apricot"},
		{"dark ochre", "dark ochre", "ochre", "golden yellow", "pale gold"},
		{"dark ochre", "dark ochre", "ochre", "amber", "golden yellow"}}},
	{108, words{
		{"dark olive brown", "olive brown", "khaki grey", "pale straw", "ivory"},
		{"dark olive brown", "olive brown", "khaki", "straw", "pale straw"},
		{"dark olive", "olive", "olive yellow", "soft yellow", "pale yellow"},
		{"dark mustard", "mustard", "mustard", "yellow", "bright yellow"}}},
	{130, words{
		{"dark olive green", "olive grey", "grey green", "pale lichen", "ivory"},
		{"dark olive green", "olive green", "moss green", "pale moss green", "pale lime"},
		{"dark moss green", "olive green", "leaf green", "light lime", "pale lime"},
		{"dark green", "leaf green", "leaf green", "lime green", "bright lime"}}},
	{155, words{
		{"dark forest green", "forest green", "sage green", "pale sage", "pale mint"},
		{"dark forest green", "forest green", "fern green", "light sage green", "pale green"},
		{"dark green", "deep green", "green", "light green", "pale green"},
		{"dark green", "deep green", "green", "bright green", "bright green"}}},
	{180, words{
		{"dark pine green", "pine green", "sea grey", "pale sea green", "pale mint"},
		{"dark pine green", "pine green", "sea green", "light sea green", "mint green"},
		{"dark emerald green", "emerald green", "emerald green", "aquamarine green", "aquamarine green"},
		{"dark emerald green", "emerald green", "emerald green", "bright green", "bright green"}}},
	{212, words{
		{"dark teal", "dark slate", "grey teal", "pale teal", "pale aqua"},
		{"dark teal", "teal", "soft teal", "turquoise", "pale aqua"},
		{"dark teal", "teal", "turquoise", "turquoise", "aqua"},
		{"dark teal", "teal", "turquoise", "turquoise", "aqua"}}},
	{255, words{
		{"dark petrol blue", "slate", "grey blue", "pale blue", "ice blue"},
		{"dark petrol blue", "petrol blue", "sea blue", "sky blue", "pale sky blue"},
		{"dark petrol blue", "petrol blue", "cerulean blue", "sky blue", "pale sky blue"},
		{"dark petrol blue", "cerulean blue", "cerulean blue", "bright sky blue", "pale sky blue"}}},
	{285, words{
		{"dark slate blue", "slate blue", "slate blue", "hazy blue", "ice blue"},
		{"navy", "dark steel blue", "steel blue", "pale blue", "ice blue"},
		{"navy", "deep blue", "azure blue", "light blue", "pale blue"},
		{"navy", "deep blue", "bright blue", "light blue", "pale blue"}}},
	{308, words{
		{"dark slate blue", "slate blue", "lavender grey", "pale lavender", "pale lavender"},
		{"dark indigo blue", "indigo blue", "dusty lavender", "lavender", "pale lavender"},
		{"navy", "indigo blue", "periwinkle blue", "lavender blue", "pale lavender"},
		{"navy blue", "ultramarine blue", "bright violet blue", "lavender blue", "pale lavender"}}},
	{325, words{
		{"dark aubergine", "aubergine", "dusty mauve", "pale lilac", "pale lilac"},
		{"dark violet", "dusty violet", "soft violet", "lilac", "pale lilac"},
		{"dark violet", "violet", "light violet", "lilac", "pale lilac"},
		{"dark violet", "violet", "bright violet", "lilac", "pale lilac"}}},
	{340, words{
		{"dark plum", "plum", "mauve", "pale mauve", "pale mauve"},
		{"dark plum", "plum", "orchid mauve", "pale orchid", "pale orchid"},
		{"dark purple", "purple", "orchid", "light orchid", "pale orchid"},
		{"dark purple", "purple", "magenta", "bright magenta", "pale orchid"}}},
}

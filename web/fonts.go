package web

import _ "embed"

// The typeface that is printed with, unchanged (vendor/noto, vendor/noto-jp): Latin, Greek
// and Cyrillic first, then what it lacks of the scripts of Europe, then Japanese.
var (
	//go:embed vendor/noto/NotoSans-Regular.ttf
	notoSans []byte
	//go:embed vendor/noto/NotoSansArmenian-Regular.ttf
	notoArmenian []byte
	//go:embed vendor/noto/NotoSansGeorgian-Regular.ttf
	notoGeorgian []byte
	//go:embed vendor/noto-jp/NotoSansJP_400Regular.ttf
	notoJapanese []byte
)

// Fonts are TrueType files to print with: a character is taken from the first
// that has it. They are not among Files: the page shows text in the browser's
// own.
var Fonts = [][]byte{notoSans, notoArmenian, notoGeorgian, notoJapanese}

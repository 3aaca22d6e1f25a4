package press

import (
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"

	"pairwall/sequence/pages"
)

// Tidied returns a line as it is printed: composed (Unicode NFC), so that a letter
// and its accent are one character of the typeface, and without what has no shape
// of its own (marks of direction, joiners, breaks). Selectors of a variant go as
// well: a name is then printed in the common form of its character.
func Tidied(line string) string {
	kept := strings.Map(func(r rune) rune {
		switch {
		case unicode.IsControl(r), r == '\u2028', r == '\u2029':
			return ' '
		case unicode.Is(unicode.Cf, r), unicode.Is(unicode.Variation_Selector, r):
			return -1
		case unicode.IsSpace(r):
			return ' '
		}
		return r
	}, line)
	return norm.NFC.String(strings.Join(strings.Fields(kept), " "))
}

// Unset says in one sentence why a line cannot be printed as it is written; ""
// when it can. Characters are set one after the other from left to right, each as
// the typeface draws it alone: nothing turns a script round (Hebrew, Arabic),
// joins letters (Arabic, the scripts of India) or places a mark that Unicode has
// no composed letter for.
func (l Letters) Unset(line string) string {
	line = Tidied(line)
	var turned, marked []rune
	for _, r := range line {
		class, _ := bidi.LookupRune(r)
		switch c := class.Class(); {
		case c == bidi.R || c == bidi.AL || c == bidi.AN:
			turned = once(turned, r)
		case unicode.IsMark(r):
			marked = once(marked, r)
		}
	}
	switch missing := l.Missing(line); {
	case len(turned) > 0:
		return "It is written from right to left (" + listed(turned) + "), which is not set here."
	case len(missing) > 0:
		return "The typeface has no " + listed(missing) + "."
	case len(marked) > 0:
		return "It has marks that would not stand right: " + listed(marked) + "."
	}
	return ""
}

func once(all []rune, r rune) []rune {
	for _, known := range all {
		if known == r {
			return all
		}
	}
	return append(all, r)
}

// listed names characters; of many only the first.
func listed(runes []rune) string {
	const most = 8
	words := make([]string, 0, most)
	for _, r := range runes[:min(len(runes), most)] {
		word := string(r)
		if unicode.IsMark(r) {
			word = "◌" + word
		}
		words = append(words, fmt.Sprintf("%s (U+%04X)", word, r))
	}
	if len(runes) > most {
		words = append(words, fmt.Sprintf("%d more", len(runes)-most))
	}
	return strings.Join(words, ", ")
}

// fitted is text broken into lines of one size.
type fitted struct {
	lines []string
	of    []int // which of the lines given each is from
	size  pages.Length
}

// leading is the distance of baselines, in parts of the size; common practice.
const leading = 1.22

// fit finds the largest size between most and least in which lines fit a room: if
// it can, without breaking any; otherwise broken, but with nothing left out.
func (l Letters) fit(lines []string, room pages.Size, most, least pages.Length) (fitted, bool) {
	widest := pages.Length(0)
	for _, line := range lines {
		widest = max(widest, l.Width(line, 1))
	}
	const step, unbroken = 0.1, 0.72 // below that part of the size a broken line reads better than a small one
	for size := most; size >= max(least, most*unbroken)-1e-9; size -= step {
		if widest*size <= room.Width && l.height(len(lines), size) <= room.Height {
			return fitted{lines, counted(len(lines)), size}, true
		}
	}
	for size := most * unbroken; size >= least-1e-9; size -= step {
		f := fitted{size: size}
		for i, line := range lines {
			for _, part := range l.wrap(line, size, room.Width) {
				f.lines, f.of = append(f.lines, part), append(f.of, i)
			}
		}
		if l.height(len(f.lines), size) <= room.Height {
			return f, true
		}
	}
	return fitted{}, false
}

func (l Letters) height(lines int, size pages.Length) pages.Length {
	if lines == 0 {
		return 0
	}
	return size * (leading*pages.Length(lines-1) + 1)
}

func counted(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

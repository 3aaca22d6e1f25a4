package press

import (
	"strings"
	"unicode"

	"pairwall/sequence/pages"
	"pairwall/sequence/press/pdf"
)

// Letters is what text is printed with: some faces, of which the first that has
// a character gives it.
type Letters []*pdf.Face

// ReadLetters reads TrueType files.
func ReadLetters(files [][]byte) (Letters, error) {
	letters := make(Letters, len(files))
	for i, file := range files {
		face, err := pdf.ReadFace(file)
		if err != nil {
			return nil, err
		}
		letters[i] = face
	}
	return letters, nil
}

// stretch is a run of text in one face.
type stretch struct {
	face int
	text string
}

// part divides text by the face it is printed in. A character that no face has
// is left to the first, which shows its sign for a missing one.
func (l Letters) part(text string) []stretch {
	var parts []stretch
	for _, r := range text {
		face := l.faceOf(r)
		if face < 0 {
			face = 0
		}
		if n := len(parts); n > 0 && (parts[n-1].face == face || r == ' ') {
			parts[n-1].text += string(r)
			continue
		}
		parts = append(parts, stretch{face, string(r)})
	}
	return parts
}

func (l Letters) faceOf(r rune) int {
	for i, face := range l {
		if face.Has(r) {
			return i
		}
	}
	return -1
}

// Missing lists the characters of a text that cannot be printed, each once, in
// the order they come.
func (l Letters) Missing(text string) []rune {
	var missing []rune
	for _, r := range text {
		if !unicode.IsControl(r) && l.faceOf(r) < 0 && !strings.ContainsRune(string(missing), r) {
			missing = append(missing, r)
		}
	}
	return missing
}

// Width is how far a text runs when its letters have the given size.
func (l Letters) Width(text string, size pages.Length) pages.Length {
	var width float64
	for _, s := range l.part(text) {
		width += l[s.face].Width(s.text)
	}
	return pages.Length(width) * size
}

// Break divides a text into at most most lines that run no further than room,
// between words where it can. What does not fit ends in an ellipsis.
func (l Letters) Break(text string, size, room pages.Length, most int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && l.Width(longer, size) > room {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	if line != "" {
		lines = append(lines, line)
	}
	cut := len(lines) > most
	if cut {
		lines = lines[:most]
	}
	for i := range lines {
		lines[i] = l.shorten(lines[i], size, room, cut && i == len(lines)-1)
	}
	return lines
}

// shorten cuts a line to its room and marks that something is gone.
func (l Letters) shorten(line string, size, room pages.Length, marked bool) string {
	runes := []rune(line)
	ending := ""
	if marked {
		ending = "…"
	}
	for len(runes) > 0 && l.Width(string(runes)+ending, size) > room {
		runes, ending = runes[:len(runes)-1], "…"
	}
	return strings.TrimRight(string(runes), " ") + ending
}

// Sizes of letters in millimetres; 1 mm is 2.83 points.
const (
	captionSize pages.Length = 2.3
	lineSize    pages.Length = 2.6
)

// hair is the width of lines that are cut along or measured by.
const hair pages.Length = 0.1

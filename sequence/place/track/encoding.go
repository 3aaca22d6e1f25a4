package track

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
	"unicode"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	utf "golang.org/x/text/encoding/unicode"
	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
)

// sniffed bytes are enough for any XML declaration; it must come first.
const sniffed = 1024

var (
	anyDeclaration = regexp.MustCompile(`^\s*<\?xml\s[^>]*\?>`)
	declaration    = regexp.MustCompile(`^\s*<\?xml[^>]*?\sencoding\s*=\s*["']([^"']*)["']`)
	byteMarks      = []struct {
		mark string
		read encoding.Encoding
	}{
		{"\xEF\xBB\xBF", utf.UTF8BOM},
		{"\xFE\xFF", utf.UTF16(utf.BigEndian, utf.ExpectBOM)},
		{"\xFF\xFE", utf.UTF16(utf.LittleEndian, utf.ExpectBOM)},
		{"\x00<\x00", utf.UTF16(utf.BigEndian, utf.IgnoreBOM)},
		{"<\x00", utf.UTF16(utf.LittleEndian, utf.IgnoreBOM)},
	}
)

// inUTF8 turns whatever a GPX file is written in into clean UTF-8: the bytes at
// its start decide first, then its declaration, then UTF-8. Bytes that are no
// text in that encoding, and characters that XML forbids, become U+FFFD, because
// they sit in names and comments and must not cost the maker the points.
func inUTF8(r io.Reader) (io.Reader, error) {
	buffered := bufio.NewReaderSize(r, 1<<16)
	head, err := buffered.Peek(sniffed)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	from, err := encodingOf(head)
	if err != nil {
		return nil, err
	}
	text := bufio.NewReader(transform.NewReader(buffered, transform.Chain(from.NewDecoder(), runes.Map(allowed))))
	return text, dropDeclaration(text)
}

// dropDeclaration reads past the XML declaration. It has said what it had to
// say, and of another version than 1.0, or of an encoding that no longer holds,
// the parser would refuse the file. A failing disk shows on the next read.
func dropDeclaration(text *bufio.Reader) error {
	head, _ := text.Peek(sniffed)
	_, err := text.Discard(len(anyDeclaration.Find(head)))
	return err
}

func encodingOf(head []byte) (encoding.Encoding, error) {
	for _, m := range byteMarks {
		if bytes.HasPrefix(head, []byte(m.mark)) {
			return m.read, nil
		}
	}
	found := declaration.FindSubmatch(head)
	if found == nil {
		return encoding.Nop, nil
	}
	label := plain(string(found[1]))
	switch {
	case label == "utf8", label == "usascii", label == "ascii", label == "":
		return encoding.Nop, nil
	case strings.HasPrefix(label, "utf16"):
		// The declaration itself could be read, so it is wrong.
		return encoding.Nop, nil
	case label == "iso88591", label == "latin1":
		// What calls itself Latin-1 is Windows-1252 often enough that browsers
		// read it so (WHATWG, Encoding Standard, section 4.2).
		return charmap.Windows1252, nil
	case strings.HasPrefix(label, "cp125"):
		label = "windows" + label[len("cp"):]
	}
	for _, known := range charmap.All {
		if plain(fmt.Sprint(known)) == label {
			return known, nil
		}
	}
	return nil, fmt.Errorf("%w: %q", ErrEncoding, shortened(string(found[1])))
}

// plain keeps letters and digits, lower-case: "ISO_8859-15" is "iso885915".
func plain(label string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, label)
}

// allowed keeps the characters that may stand in XML 1.0 (section 2.2).
func allowed(r rune) rune {
	switch {
	case r == '\t', r == '\n', r == '\r', r >= 0x20 && r < 0xFFFE, r > 0xFFFF:
		return r
	}
	return unicode.ReplacementChar
}

// shortened keeps a hostile string from filling a message.
func shortened(s string) string {
	const enough = 60
	if short := []rune(s); len(short) > enough {
		return string(short[:enough]) + "…"
	}
	return s
}

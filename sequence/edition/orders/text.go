package orders

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/unicode"

	"pairwall/sequence"
)

// Encoding is how a table's letters are written as bytes, by the name the
// internet gives it (IANA character sets, in small letters).
type Encoding string

// The encodings that shops' tables come in. AnyEncoding is found by looking.
const (
	AnyEncoding Encoding = ""
	UTF8        Encoding = "utf-8"
	UTF16LE     Encoding = "utf-16le"
	UTF16BE     Encoding = "utf-16be"
	Western     Encoding = "windows-1252"
)

// encodings are what can be chosen; the first are found by themselves.
var encodings = []struct {
	name    Encoding
	decoder encoding.Encoding
}{
	{UTF8, unicode.UTF8}, {UTF16LE, unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM)}, {UTF16BE, unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM)},
	{Western, charmap.Windows1252}, {"windows-1250", charmap.Windows1250}, {"windows-1251", charmap.Windows1251}, {"windows-1253", charmap.Windows1253},
	{"windows-1254", charmap.Windows1254}, {"windows-1257", charmap.Windows1257}, {"iso-8859-2", charmap.ISO8859_2}, {"iso-8859-15", charmap.ISO8859_15},
	{"macintosh", charmap.Macintosh}, {"shift_jis", japanese.ShiftJIS}, {"euc-jp", japanese.EUCJP},
}

// Encodings lists those that can be chosen.
func Encodings() []Encoding {
	all := make([]Encoding, len(encodings))
	for i, e := range encodings {
		all[i] = e.name
	}
	return all
}

// Decode turns a table's bytes into text, in the encoding named or, for
// AnyEncoding, in the one they look like: a byte order mark says it; zeros in
// every other place are UTF-16; what is sound UTF-8 is that; Japanese kana are
// looked for; the rest is taken for Windows-1252, which every byte makes sense
// in. It returns the encoding taken.
//
// Errors: Invalid for an encoding there is not; Damaged for bytes that are no
// text in the one that was named.
func Decode(data []byte, as Encoding) (string, Encoding, error) {
	found := as
	if as == AnyEncoding {
		found = looksLike(data)
	}
	for _, e := range encodings {
		if e.name != found {
			continue
		}
		text, err := e.decoder.NewDecoder().Bytes(data)
		if err != nil || (found == UTF8 && !utf8.Valid(data)) {
			return "", found, &sequence.Error{Code: sequence.Damaged, Message: fmt.Sprintf("The file is not written in %s.", found),
				Hint: "Let the encoding be found, or choose another one.", Err: err}
		}
		return strings.TrimPrefix(string(text), "\uFEFF"), found, nil
	}
	return "", found, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("There is no encoding called %q here.", as),
		Hint: fmt.Sprintf("There is %v.", Encodings())}
}

func looksLike(data []byte) Encoding {
	switch {
	case bytes.HasPrefix(data, []byte{0xEF, 0xBB, 0xBF}):
		return UTF8
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}):
		return UTF16LE
	case bytes.HasPrefix(data, []byte{0xFE, 0xFF}):
		return UTF16BE
	}
	if wide := zeros(data); wide != AnyEncoding {
		return wide
	}
	if utf8.Valid(data) {
		return UTF8
	}
	if kana(data) {
		return "shift_jis"
	}
	return Western
}

// zeros finds UTF-16 without a mark: line ends, separators and digits make a
// good part of any table, and half of each is zero.
func zeros(data []byte) Encoding {
	some := data[:min(len(data), 4096)]
	var at [2]int
	for i, b := range some {
		if b == 0 {
			at[i%2]++
		}
	}
	switch least := len(some) / 10; {
	case len(some) < 4 || max(at[0], at[1]) <= least:
		return AnyEncoding
	case at[1] > 4*at[0]:
		return UTF16LE
	case at[0] > 4*at[1]:
		return UTF16BE
	}
	return AnyEncoding
}

// kana reports whether the bytes read well as Shift JIS and hold kana, whose
// lead bytes hardly ever stand in a western table.
func kana(data []byte) bool {
	text, err := japanese.ShiftJIS.NewDecoder().String(string(data))
	if err != nil || strings.ContainsRune(text, utf8.RuneError) {
		return false
	}
	wide, syllables := 0, 0
	for _, r := range text {
		if r > 0x2E80 {
			wide++
		}
		if r >= 0x3041 && r <= 0x30FE {
			syllables++
		}
	}
	return syllables > 1 && syllables*8 > wide
}

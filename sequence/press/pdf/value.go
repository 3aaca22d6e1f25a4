package pdf

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"unicode/utf16"
)

// A Value is one of bool, int, int64, float64, Name, Text, Bytes, Ref, Array,
// Dict or Raw (ISO 32000-1, 7.3).
type Value any

// Name is a name object, written without its slash.
type Name string

// Text is a text string: anything Unicode, written as PDFDocEncoding where it is
// ASCII and as UTF-16BE with a byte order mark otherwise (7.9.2.2).
type Text string

// Bytes is a byte string, written in hexadecimal.
type Bytes []byte

// Ref is an indirect reference; its number is that of the object.
type Ref int

// Array is an array object.
type Array []Value

// Dict is a dictionary; its entries are written in the order of their names, so
// that the same dictionary always makes the same bytes.
type Dict map[Name]Value

// Raw is written as it stands.
type Raw string

// Numbers makes an array of numbers.
func Numbers(values ...float64) Array {
	array := make(Array, len(values))
	for i, v := range values {
		array[i] = v
	}
	return array
}

// appendValue writes a value behind b. It panics on a value of another type:
// only our own code makes them.
func appendValue(b []byte, v Value) []byte {
	switch v := v.(type) {
	case bool:
		return strconv.AppendBool(b, v)
	case int:
		return strconv.AppendInt(b, int64(v), 10)
	case int64:
		return strconv.AppendInt(b, v, 10)
	case float64:
		return AppendNumber(b, v)
	case Name:
		return appendName(b, v)
	case Text:
		return appendText(b, string(v))
	case Bytes:
		return fmt.Appendf(b, "<%X>", []byte(v))
	case Ref:
		return append(strconv.AppendInt(b, int64(v), 10), " 0 R"...)
	case Raw:
		return append(b, v...)
	case Array:
		b = append(b, '[')
		for i, item := range v {
			if i > 0 {
				b = append(b, ' ')
			}
			b = appendValue(b, item)
		}
		return append(b, ']')
	case Dict:
		b = append(b, "<<"...)
		for _, key := range slices.Sorted(maps.Keys(v)) {
			b = appendName(b, key)
			b = append(b, ' ')
			b = appendValue(b, v[key])
		}
		return append(b, ">>"...)
	}
	panic(fmt.Sprintf("pdf: %T is no value of the format", v))
}

// AppendNumber writes a number behind b with at most four decimals, a
// thirty-thousandth of an inch in the end, and never in scientific notation,
// which the format does not know. What is no number is written as 0.
func AppendNumber(b []byte, v float64) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return append(b, '0')
	}
	v = math.Round(v*10000) / 10000
	if v == 0 {
		v = 0 // no "-0"
	}
	return strconv.AppendFloat(b, v, 'f', -1, 64)
}

// appendName writes a name, with # and two digits for all but regular characters
// (7.3.5).
func appendName(b []byte, n Name) []byte {
	b = append(b, '/')
	for _, c := range []byte(n) {
		if c <= ' ' || c >= 127 || slices.Contains([]byte("()<>[]{}/%#"), c) {
			b = fmt.Appendf(b, "#%02X", c)
		} else {
			b = append(b, c)
		}
	}
	return b
}

func appendText(b []byte, s string) []byte {
	plain := true
	for _, r := range s {
		plain = plain && r >= ' ' && r < 127
	}
	if !plain {
		b = append(b, "<FEFF"...)
		for _, unit := range utf16.Encode([]rune(s)) {
			b = fmt.Appendf(b, "%04X", unit)
		}
		return append(b, '>')
	}
	b = append(b, '(')
	for _, c := range []byte(s) {
		if c == '(' || c == ')' || c == '\\' {
			b = append(b, '\\')
		}
		b = append(b, c)
	}
	return append(b, ')')
}

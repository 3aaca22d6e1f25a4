package preflight

import (
	"bytes"
	"strconv"
)

// kind of a token of a content stream (ISO 32000-1, 7.8.2).
type kind int

const (
	number kind = iota
	name
	text   // a string; its bytes are not kept
	opened // [ or <<
	closed // ] or >>
	operator
	ended
)

type token struct {
	kind  kind
	value float64
	word  string // of a name or an operator
}

// tokens reads a content stream one token after the other. It never fails: what
// makes no sense is an operator nobody knows.
type tokens struct {
	b  []byte
	at int
}

func space(c byte) bool { return c == 0 || c == 9 || c == 10 || c == 12 || c == 13 || c == 32 }

func delimiter(c byte) bool { return bytes.IndexByte([]byte("()<>[]{}/%"), c) >= 0 }

func (t *tokens) next() token {
	t.skip()
	if t.at >= len(t.b) {
		return token{kind: ended}
	}
	c := t.b[t.at]
	switch {
	case c == '/':
		t.at++
		return token{kind: name, word: unescaped(t.regular())}
	case c == '(':
		t.literal()
		return token{kind: text}
	case c == '<' && t.peek(1) == '<', c == '>' && t.peek(1) == '>':
		t.at += 2
		if c == '<' {
			return token{kind: opened}
		}
		return token{kind: closed}
	case c == '<':
		if end := bytes.IndexByte(t.b[t.at:], '>'); end >= 0 {
			t.at += end + 1
		} else {
			t.at = len(t.b)
		}
		return token{kind: text}
	case c == '[' || c == '{':
		t.at++
		return token{kind: opened}
	case c == ']' || c == '}':
		t.at++
		return token{kind: closed}
	case delimiter(c): // a stray ) or >
		t.at++
		return token{kind: operator, word: string(c)}
	}
	word := t.regular()
	if v, ok := numeral(word); ok {
		return token{kind: number, value: v}
	}
	return token{kind: operator, word: string(word)}
}

func (t *tokens) peek(n int) byte {
	if t.at+n < len(t.b) {
		return t.b[t.at+n]
	}
	return 0
}

// skip passes over white space and comments.
func (t *tokens) skip() {
	for t.at < len(t.b) {
		switch c := t.b[t.at]; {
		case space(c):
			t.at++
		case c == '%':
			for t.at < len(t.b) && t.b[t.at] != '\n' && t.b[t.at] != '\r' {
				t.at++
			}
		default:
			return
		}
	}
}

func (t *tokens) regular() []byte {
	from := t.at
	for t.at < len(t.b) && !space(t.b[t.at]) && !delimiter(t.b[t.at]) {
		t.at++
	}
	return t.b[from:t.at]
}

// literal passes over a string in parentheses, which may hold others.
func (t *tokens) literal() {
	depth := 0
	for t.at < len(t.b) {
		c := t.b[t.at]
		t.at++
		switch c {
		case '\\':
			t.at++
		case '(':
			depth++
		case ')':
			depth--
			if depth == 0 {
				return
			}
		}
	}
	t.at = len(t.b)
}

// numeral reads a number as the format writes it: no exponent.
func numeral(word []byte) (float64, bool) {
	if len(word) == 0 || len(word) > 40 || bytes.ContainsAny(word, "eExXpPnNiI_") {
		return 0, false
	}
	v, err := strconv.ParseFloat(string(word), 64)
	return v, err == nil
}

// unescaped reads the #xx of a name.
func unescaped(word []byte) string {
	if bytes.IndexByte(word, '#') < 0 {
		return string(word)
	}
	var out []byte
	for i := 0; i < len(word); i++ {
		if word[i] == '#' && i+2 < len(word) {
			if v, err := strconv.ParseUint(string(word[i+1:i+3]), 16, 8); err == nil {
				out = append(out, byte(v))
				i += 2
				continue
			}
		}
		out = append(out, word[i])
	}
	return string(out)
}

// inline passes over the bytes of an inline image, which begin behind the white
// space after ID, to behind its EI.
func (t *tokens) inline() {
	for t.at+2 < len(t.b) {
		i := bytes.Index(t.b[t.at+1:], []byte("EI"))
		if i < 0 {
			break
		}
		at := t.at + 1 + i
		t.at = at + 1
		if space(t.b[at-1]) && (at+2 >= len(t.b) || space(t.b[at+2])) {
			t.at = at + 2
			return
		}
	}
	t.at = len(t.b)
}

package place

import "fmt"

// Precision says how closely a time is known.
type Precision string

// The precisions there are. Unknown is the zero value, so that a When nobody
// filled in is unknown; String and JSON write it as "unknown". A Precision that
// is none of these behaves as unknown too: ask When.Known, do not compare.
const (
	PrecisionUnknown Precision = ""
	PrecisionInstant Precision = "instant"
	PrecisionDay     Precision = "day"
	PrecisionSpan    Precision = "span"
)

const unknownWord = "unknown"

func (p Precision) known() bool {
	return p == PrecisionInstant || p == PrecisionDay || p == PrecisionSpan
}

// String gives "unknown", "instant", "day" or "span".
func (p Precision) String() string {
	if p == PrecisionUnknown {
		return unknownWord
	}
	return string(p)
}

// MarshalText writes the word that String gives, and refuses any other.
func (p Precision) MarshalText() ([]byte, error) {
	var q Precision
	if err := q.UnmarshalText([]byte(p)); err != nil {
		return nil, err
	}
	return []byte(q.String()), nil
}

// UnmarshalText takes the four words, and "" for unknown; others are an error.
func (p *Precision) UnmarshalText(text []byte) error {
	read := Precision(text)
	if read == unknownWord {
		read = PrecisionUnknown
	}
	if read != PrecisionUnknown && !read.known() {
		return fmt.Errorf("place: no such precision of time: %q", shortened(string(text)))
	}
	*p = read
	return nil
}

// shortened keeps a hostile string from filling a message.
func shortened(s string) string {
	const enough = 40
	if len(s) > enough {
		return s[:enough] + "…"
	}
	return s
}

package sequence_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
)

// upTo is a title with the photos 1 to n.
func upTo(n int) map[sequence.PhotoID]bool {
	known := make(map[sequence.PhotoID]bool)
	for i := range n {
		known[sequence.PhotoID(i+1)] = true
	}
	return known
}

func pair(left, right sequence.PhotoID) sequence.Facing {
	return sequence.Facing{Left: left, Right: right}
}

func across(photo sequence.PhotoID) sequence.Facing {
	return sequence.Facing{Left: photo, Across: true}
}

func hanging(opening sequence.PhotoID, closing sequence.PhotoID, spreads ...sequence.Facing) sequence.Hanging {
	return sequence.Hanging{Opening: opening, Spreads: append([]sequence.Facing{}, spreads...), Closing: closing}
}

func TestAWallIsReadAsOneReadsItOff(t *testing.T) {
	for text, want := range map[string]sequence.Hanging{
		"":                                   hanging(0, 0),
		" \n\t/ ":                            hanging(0, 0),
		"12+47 / 3+19 / 8":                   hanging(0, 8, pair(12, 47), pair(3, 19)),
		"5 / 12+47 / 3+ / +19 / 21+21 / 8":   hanging(5, 8, pair(12, 47), pair(3, 0), pair(0, 19), across(21)),
		"5":                                  hanging(5, 0),
		"_ / 8":                              hanging(0, 8),
		"5 / 8":                              hanging(5, 8),
		"_/12+47/_":                          hanging(0, 0, pair(12, 47)),
		"12+_ / _+47 / _+_ / +":              hanging(0, 0, pair(12, 0), pair(0, 47), pair(0, 0), pair(0, 0)),
		"12+47\n3+19\n\n8\n":                 hanging(0, 8, pair(12, 47), pair(3, 19)),
		"12+47 /\r\n3+19 /\r\n8":             hanging(0, 8, pair(12, 47), pair(3, 19)),
		"12+47\n/ 3+19\n/ 8":                 hanging(0, 8, pair(12, 47), pair(3, 19)),
		"/12+47/3+19/":                       hanging(0, 0, pair(12, 47), pair(3, 19)),
		"#5 \\ 12 – 47 | 3—19; 21&21, #8":    hanging(5, 8, pair(12, 47), pair(3, 19), across(21)),
		"12 + 47 ⁄ 3 − 19 ∕ 007":             hanging(0, 7, pair(12, 47), pair(3, 19)),
		"\ufeff12+47\u00a0/\u20093+19\u2028": hanging(0, 0, pair(12, 47), pair(3, 19)),
	} {
		got, slips := sequence.ReadHanging(text, upTo(57))
		if len(slips) > 0 {
			t.Errorf("%q: %+v", text, slips)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%q:\n%s", text, diff)
		}
	}
}

// Each slip is drawn as the maker sees it: its line, the place underlined (a ^
// where something is missing), the sentence.
func TestASlipPointsAtItsPlaceInPlainWords(t *testing.T) {
	for _, c := range []struct {
		text string
		want []string
	}{
		{"12+470 / 3+19", []string{"12+470 / 3+19\n   ~~~\nThere is no photo 470 in this title."}},
		{"12+47\n3+12 / 47", []string{
			"3+12 / 47\n  ~~\nPhoto 12 stands here twice: it was named before, in line 1 at place 1.",
			"3+12 / 47\n       ~~\nPhoto 47 stands here twice: it was named before, in line 1 at place 4."}},
		{"12+47 / / 3+19", []string{"12+47 / / 3+19\n       ^\nA number is missing between these two slashes."}},
		{"12++47", []string{"12++47\n   ^\nA number is missing between these two signs."}},
		{"12+47+3", []string{"12+47+3\n     ~\nA spread has two pages; here a third begins."}},
		{"12 47 / 3+19", []string{"12 47 / 3+19\n   ~~\nBetween 12 and 47 a sign is missing."}},
		{"12+47 / 8 / 3+19", []string{"12+47 / 8 / 3+19\n        ~\n8 stands alone in the middle; only the first and the last page do."}},
		{"12+47 / _ / 3+19", []string{"12+47 / _ / 3+19\n        ~\nA blank page alone can be the first or the last only."}},
		{"12+47 / drei+19", []string{"12+47 / drei+19\n        ~~~~\n“drei” says nothing here."}},
		{"12+47 / é é+19", []string{"12+47 / é é+19\n        ~\n“é” says nothing here.", "12+47 / é é+19\n          ~\n“é” says nothing here."}},
		{"0+12", []string{"0+12\n~\nThere is no photo 0 in this title."}},
		{"12+99999999999999999999", []string{"12+99999999999999999999\n   ~~~~~~~~~~~~~~~~~~~~\nThere is no photo 99999999999999999999 in this title."}},
	} {
		_, slips := sequence.ReadHanging(c.text, upTo(57))
		var got []string
		for _, s := range slips {
			got = append(got, underlined(t, c.text, s))
			if s.Hint == "" {
				t.Errorf("%q: no way out of %q", c.text, s.Words)
			}
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%q:\n%s", c.text, diff)
		}
	}
}

func underlined(t *testing.T, text string, s sequence.Slip) string {
	t.Helper()
	line := strings.Split(text, "\n")[s.Line-1]
	under := strings.Repeat("~", s.Length)
	if s.Length == 0 {
		under = "^"
	}
	before := []rune(text)[:s.From]
	if at := strings.LastIndex(string(before), "\n"); len([]rune(string(before)[at+1:])) != s.Column-1 {
		t.Errorf("%q: column %d is not %d runes from the beginning", text, s.Column, s.From)
	}
	return fmt.Sprintf("%s\n%s%s\n%s", line, strings.Repeat(" ", s.Column-1), under, s.Words)
}

func TestWhatIsFarTooLongToBeAWallIsRefused(t *testing.T) {
	_, slips := sequence.ReadHanging(strings.Repeat("1+2/", 100_000), upTo(2))
	if len(slips) != 1 {
		t.Errorf("%d slips", len(slips))
	}
	if _, slips = sequence.ReadHanging(strings.Repeat("x ", 1000), upTo(2)); len(slips) > 20 {
		t.Errorf("%d slips at once", len(slips))
	}
}

// written is any wall that keeps the rules, of photos 1 to 3n.
func written(chance *rand.Rand, n int) sequence.Hanging {
	order := chance.Perm(3*n + 2)
	next := func() (id sequence.PhotoID) {
		id, order = sequence.PhotoID(order[0]+1), order[1:]
		return id
	}
	h := sequence.Hanging{Spreads: []sequence.Facing{}}
	if chance.IntN(2) == 0 {
		h.Opening = next()
	}
	for range n {
		switch chance.IntN(6) {
		case 0:
			h.Spreads = append(h.Spreads, across(next()))
		case 1:
			h.Spreads = append(h.Spreads, pair(next(), 0))
		case 2:
			h.Spreads = append(h.Spreads, pair(0, next()))
		case 3:
			h.Spreads = append(h.Spreads, pair(0, 0))
		default:
			h.Spreads = append(h.Spreads, pair(next(), next()))
		}
	}
	if chance.IntN(2) == 0 {
		h.Closing = next()
	}
	return h
}

func TestWhatIsWrittenIsReadBackTheSame(t *testing.T) {
	for seed := range uint64(400) {
		chance := rand.New(rand.NewPCG(seed, 6))
		n := chance.IntN(12)
		want := written(chance, n)
		got, slips := sequence.ReadHanging(want.String(), upTo(3*n+2))
		if diff := cmp.Diff(want, got); diff != "" || len(slips) > 0 {
			t.Fatalf("%q: %v\n%s", want, slips, diff)
		}
	}
}

func FuzzReadHanging(f *testing.F) {
	for _, text := range []string{"12+47 / 3+19 / 8", "5 / 12+_ / +\r\n21+21\n8", "1 2++3 / / 4+5+6", "é–１ #\x00"} {
		f.Add(text)
	}
	known := upTo(57)
	f.Fuzz(func(t *testing.T, text string) {
		read, slips := sequence.ReadHanging(text, known)
		runes := len([]rune(text))
		for _, s := range slips {
			if s.From < 0 || s.From+s.Length > runes || s.Line < 1 || s.Column < 1 || s.Words == "" {
				t.Errorf("%q: %+v lies outside", text, s)
			}
		}
		if len(slips) > 0 {
			return
		}
		if err := (sequence.Sequence{}).Hung(read).Check(); err != nil {
			t.Errorf("%q was read as a wall that cannot be: %v", text, err)
		}
		again, slips := sequence.ReadHanging(read.String(), known)
		if diff := cmp.Diff(read, again); diff != "" || len(slips) > 0 {
			t.Errorf("%q was written %q: %v\n%s", text, read, slips, diff)
		}
	})
}

package sequence

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// ReverseRoll states the frames of a roll in the opposite order, as a change on
// the wall's revision: a lab that scans a film from its tail numbers the last
// picture first. The numbers stay those the lab gave; scans that share one go on
// sharing one. A roll reversed twice is as it was.
//
// Errors: NotFound when no photo is of that roll; Invalid when fewer than two
// frames of it are known, so that there is no order to reverse.
func ReverseRoll(photos []Photo, roll string, revision int64) (Change, error) {
	var of []Photo
	var frames []string
	for _, p := range photos {
		if p.Roll != roll || roll == "" {
			continue
		}
		of = append(of, p)
		if p.Frame != "" {
			frames = append(frames, p.Frame)
		}
	}
	if len(of) == 0 {
		return Change{}, &Error{Code: NotFound, Message: fmt.Sprintf("No photo is of a roll %q.", roll), Hint: "Reload the page to see the rolls there are."}
	}
	slices.SortFunc(frames, CompareFrames)
	frames = slices.Compact(frames)
	if len(frames) < 2 {
		return Change{}, &Error{Code: Invalid, Message: fmt.Sprintf("Fewer than two frames of roll %s are numbered, so they have no order to reverse.", roll),
			Hint: "Say which frames they are first."}
	}
	change := Change{Revision: revision, Act: "reverse roll " + roll, Steps: []Step{}}
	for _, p := range of {
		i, found := slices.BinarySearchFunc(frames, p.Frame, CompareFrames)
		if !found || i == len(frames)-1-i {
			continue
		}
		change.Says = append(change.Says, Statement{Photo: p.Number, Fact: FrameFact,
			Was: p.Fact(FrameFact), Now: Value{Text: frames[len(frames)-1-i]}})
	}
	return change, nil
}

// CompareFrames orders frame numbers as they run along a film: 00, 0, 0A, 1, 1A,
// 2 … 10, and behind them what begins with no number. Film edges count from 00
// or 0 (common practice); the A of a half step follows its number.
func CompareFrames(a, b string) int {
	x, y := parseFrame(a), parseFrame(b)
	return cmp.Or(
		cmp.Compare(x.wordy, y.wordy),
		cmp.Compare(len(x.number), len(y.number)), cmp.Compare(x.number, y.number),
		cmp.Compare(len(y.zeros), len(x.zeros)),
		cmp.Compare(x.step, y.step), cmp.Compare(a, b))
}

// frame is a frame's number taken apart: "007A" is two zeros, 7 and A.
type frame struct {
	wordy               int // 1 when it begins with no digit
	zeros, number, step string
}

func parseFrame(text string) frame {
	number := text[:len(text)-len(strings.TrimLeft(text, "0123456789"))]
	f := frame{number: strings.TrimLeft(number, "0"), step: strings.ToUpper(text[len(number):])}
	f.zeros = number[:len(number)-len(f.number)]
	if number == "" {
		f.wordy = 1
	}
	return f
}

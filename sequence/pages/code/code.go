package code

import (
	"fmt"
	"image/color"

	"github.com/boombuler/barcode/qr"

	"pairwall/sequence"
)

// Side is the width and height of a code in modules, without its quiet zone.
const Side = 21

// MostNumber is the largest photo number that a code can hold: 20 bits.
const MostNumber sequence.PhotoID = 1<<20 - 1

// Code is the code on one small print. Its characters are, in this order, two
// for the title's tag, four for the photo's number and four to check them by.
// Ten characters are what version 1 holds at level H in alphanumeric mode, the
// level of which three modules in ten may be lost.
type Code struct {
	text string
}

// Of returns the code of a photo of the title with that tag.
//
// Error: Invalid when the number is not within 1..MostNumber or the tag is
// none.
func Of(tag Tag, number sequence.PhotoID) (Code, error) {
	if number < 1 || number > MostNumber {
		return Code{}, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("No code can hold the photo number %d.", number),
			Hint: fmt.Sprintf("Numbers go from 1 to %d.", MostNumber)}
	}
	if tag > mostTag {
		return Code{}, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("No code can hold the title tag %d.", tag)}
	}
	word := make([]byte, 0, length)
	word = spread(word, int(tag), tagLength)
	word = spread(word, int(number), numberLength)
	word = append(word, checks(word)...)
	for i, symbol := range word {
		word[i] = alphabet[symbol]
	}
	return Code{string(word)}, nil
}

// String returns the ten characters.
func (c Code) String() string { return c.text }

// Modules returns the code as it is printed, true for dark, row by row from the
// top, without the quiet zone of four light modules it needs all around. Of the
// eight masks it has the one that the standard's rules prefer. c must come from
// Of.
func (c Code) Modules() [Side][Side]bool {
	symbol, err := qr.Encode(c.text, qr.H, qr.AlphaNumeric)
	if err != nil || symbol.Bounds().Dx() != Side {
		panic(fmt.Sprintf("code: %q is no code of version 1: %v", c.text, err)) // a fault of this file: Of makes only such as fit
	}
	var modules [Side][Side]bool
	for y := range modules {
		for x := range modules[y] {
			modules[y][x] = color.GrayModel.Convert(symbol.At(x, y)).(color.Gray).Y < 128
		}
	}
	return modules
}

// Parse reads the ten characters of a code. It refuses every code in which up
// to four of them are wrong, and of anything else all but one in a million.
//
// Errors: Unsupported when this is the code of something else, Damaged when the
// check does not agree.
func Parse(text string) (Tag, sequence.PhotoID, error) {
	foreign := &sequence.Error{Code: sequence.Unsupported, Message: "This code is not one of a small print."}
	if len(text) != length {
		return 0, 0, foreign
	}
	word := make([]byte, length)
	for i := range word {
		symbol := symbols[text[i]]
		if symbol == none {
			return 0, 0, foreign
		}
		word[i] = symbol
	}
	tag, number := gathered(word[:tagLength]), gathered(word[tagLength:tagLength+numberLength])
	if string(checks(word[:tagLength+numberLength])) != string(word[tagLength+numberLength:]) || number == 0 {
		return 0, 0, &sequence.Error{Code: sequence.Damaged, Message: "This code was not read rightly: its check does not agree.",
			Hint: "Read the number beside it and type it."}
	}
	return Tag(tag), sequence.PhotoID(number), nil
}

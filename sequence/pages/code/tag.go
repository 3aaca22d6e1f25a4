package code

import (
	"crypto/sha256"
	"encoding/binary"

	"pairwall/sequence"
)

// Tag tells the prints of one title from those of another: 10 bits, so that of
// two titles one in 1,024 times both have the same.
type Tag uint16

const mostTag Tag = 1<<(tagLength*bitsEach) - 1

// TagOf returns the tag of a title, the same as long as the title lives: the
// first 10 bits of the SHA-256 of its creation, in milliseconds since 1970 as
// eight bytes, the highest first.
//
// The creation alone, because prints hang for weeks and must be known again: a
// name may be changed, and a title opened on another machine may get another
// id there, where its own may be taken.
func TagOf(title sequence.Title) Tag {
	var created [8]byte
	binary.BigEndian.PutUint64(created[:], uint64(title.Created.UnixMilli()))
	sum := sha256.Sum256(created[:])
	return Tag(binary.BigEndian.Uint16(sum[:]) >> (16 - tagLength*bitsEach))
}

// String writes the tag as it stands in a code.
func (t Tag) String() string {
	word := spread(nil, int(t), tagLength)
	for i, symbol := range word {
		word[i] = alphabet[symbol]
	}
	return string(word)
}

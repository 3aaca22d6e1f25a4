// Package inks asks the colour profile of a printer's inks (ICC.1:2010) what
// they can do: which inks a colour takes, which colour inks make on that paper,
// and so which colours are out of reach.
//
// In come the bytes of a profile, colours in CIELAB and shares of ink; out come
// shares of ink and colours. The package must never know of pictures, files or
// pages.
package inks

import (
	"bytes"
	"encoding/binary"
	"errors"
	"strings"

	"github.com/kovidgoyal/imaging/prism/meta/icc"

	"pairwall/sequence/colour"
)

// What Read can say of bytes that are no printer's profile.
var (
	ErrTorn = errors.New("no colour profile, or one that is damaged")
	ErrKind = errors.New("no profile of a printer's four inks (CMYK)")
)

// Inks are shares of cyan, magenta, yellow and black, 0..1 each.
type Inks [4]float64

// Sum is the total of ink, 0..4: 3.2 is 320 per cent, as limits are given.
func (k Inks) Sum() float64 { return k[0] + k[1] + k[2] + k[3] }

// Profile is a printer's profile. Its methods may be called from several
// goroutines.
type Profile struct {
	name       string
	from, onto *icc.Pipeline // Lab -> inks, inks -> Lab
}

// Read reads a profile. Its bytes are not trusted.
//
// Errors: ErrTorn, ErrKind.
func Read(data []byte) (p *Profile, err error) {
	defer func() {
		if recover() != nil {
			p, err = nil, ErrTorn
		}
	}()
	if !Sound(data) {
		return nil, ErrTorn
	}
	read, err := icc.DecodeProfile(bytes.NewReader(data))
	if err != nil {
		return nil, ErrTorn
	}
	if read.Header.DataColorSpace != icc.ColorSpaceCMYK || read.Header.ProfileConnectionSpace != icc.ColorSpaceLab {
		return nil, ErrKind
	}
	const blackPoint, optimize = true, true
	p = &Profile{name: "unnamed profile"}
	if name, err := read.Description(); err == nil && strings.Trim(name, "\x00 ") != "" {
		p.name = strings.Trim(name, "\x00 ")
	}
	if p.from, err = read.CreateTransformerToDevice(icc.RelativeColorimetricRenderingIntent, blackPoint, optimize); err != nil {
		return nil, ErrKind
	}
	if p.onto, err = read.CreateTransformerToPCS(icc.RelativeColorimetricRenderingIntent, 4, optimize); err != nil {
		return nil, ErrKind
	}
	p.Lab(p.Of(colour.Lab{L: 50})) // a profile that cannot do it panics here and not at the print
	return p, nil
}

// Name is what the profile calls itself.
func (p *Profile) Name() string { return p.name }

// Of is what inks a colour takes: relative colorimetric with black point
// compensation, as printing programs commonly do. c is CIELAB under D50.
func (p *Profile) Of(c colour.Lab) (k Inks) {
	var in, out [8]float64
	in[0], in[1], in[2] = c.L, c.A, c.B
	p.from.TransformGeneral(out[:], in[:])
	for i := range k {
		k[i] = min(max(out[i], 0), 1)
	}
	return k
}

// Lab is the colour that inks make, CIELAB under D50, the paper being white.
func (p *Profile) Lab(k Inks) colour.Lab {
	var in, out [8]float64
	copy(in[:], k[:])
	p.onto.TransformGeneral(out[:], in[:])
	return colour.Lab{L: out[0], A: out[1], B: out[2]}
}

// Sound checks what the profile reader takes on trust: it sets room aside for
// as many tags as a profile claims, for tags wherever they claim to lie, and
// for curves as long as they claim to be. Source: ICC.1:2010, 7.2, 7.3 and 10.5.
func Sound(data []byte) bool {
	const head, entrySize, maxTags = 132, 12, 256
	if len(data) < head {
		return false
	}
	count := int(binary.BigEndian.Uint32(data[128:]))
	if count > maxTags || head+entrySize*count > len(data) {
		return false
	}
	for i := range count {
		tag := data[head+entrySize*i:]
		at, length := int64(binary.BigEndian.Uint32(tag[4:])), int64(binary.BigEndian.Uint32(tag[8:]))
		if at < int64(head+entrySize*count) || at+length > int64(len(data)) {
			return false
		}
	}
	for rest := data; ; {
		_, after, found := bytes.Cut(rest, []byte("curv\x00\x00\x00\x00"))
		if !found {
			return true
		}
		if len(after) < 4 || int64(binary.BigEndian.Uint32(after))*2 > int64(len(after)-4) {
			return false
		}
		rest = after
	}
}

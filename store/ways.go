package store

import (
	"bufio"
	"bytes"
	"compress/flate"
	"encoding/binary"
	"errors"
	"io"
	"math"
	"time"

	"pairwall/sequence/place"
	"pairwall/sequence/place/track"
)

// The points of a track lie packed in one column. Each number is a variable-
// length integer (encoding/binary) and, within a segment, the difference from
// the point before; the whole is deflated (RFC 1951):
//
//	form 1, number of tracks
//	for each: name, file's name (length and bytes), number of segments
//	for each segment: number of points
//	for each point: marks, latitude and longitude in 1e-7 degree,
//	    with mark 1 the time in microseconds since 1970, with mark 2 the
//	    elevation in centimetres
//
// 1e-7 degree is a centimetre; receivers are good to metres.
const (
	waysForm      = 1
	knowsTime     = 1
	knowsHeight   = 2
	perDegree     = 1e7
	perMetre      = 100
	longestString = 1 << 16 // bytes of a name
)

var errWays = errors.New("store: the points of a track cannot be read")

// last is the point that the next is written against.
type last struct{ lat, lng, at, height int64 }

// packWays writes tracks down, not yet deflated. A point without a position, or
// an elevation that is no number, is left out.
func packWays(tracks []track.Track) []byte {
	data := binary.AppendUvarint([]byte{waysForm}, uint64(len(tracks)))
	for _, t := range tracks {
		for _, text := range []string{t.Name, t.From} {
			text = text[:min(len(text), longestString)]
			data = append(binary.AppendUvarint(data, uint64(len(text))), text...)
		}
		data = binary.AppendUvarint(data, uint64(len(t.Segments)))
		for _, s := range t.Segments {
			data = packSegment(data, s)
		}
	}
	return data
}

func packSegment(data []byte, s track.Segment) []byte {
	sound := 0
	for _, p := range s {
		if p.Valid() {
			sound++
		}
	}
	data = binary.AppendUvarint(data, uint64(sound))
	var before last
	for _, p := range s {
		if p.Valid() {
			data = packPoint(data, p, &before)
		}
	}
	return data
}

func packPoint(data []byte, p track.Point, before *last) []byte {
	lat, lng := int64(math.Round(p.Lat*perDegree)), int64(math.Round(p.Lng*perDegree))
	const highest = 1e6 // metres; beyond, it is no elevation
	high := p.Elevation != nil && math.Abs(*p.Elevation) < highest
	marks := byte(0)
	if !p.At.IsZero() {
		marks |= knowsTime
	}
	if high {
		marks |= knowsHeight
	}
	data = append(data, marks)
	data = binary.AppendVarint(data, lat-before.lat)
	data = binary.AppendVarint(data, lng-before.lng)
	before.lat, before.lng = lat, lng
	if !p.At.IsZero() {
		at := p.At.UnixMicro()
		data = binary.AppendVarint(data, at-before.at)
		before.at = at
	}
	if high {
		height := int64(math.Round(*p.Elevation * perMetre))
		data = binary.AppendVarint(data, height-before.height)
		before.height = height
	}
	return data
}

func deflated(data []byte) ([]byte, error) {
	var packed bytes.Buffer
	w, err := flate.NewWriter(&packed, flate.DefaultCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	err = w.Close()
	return packed.Bytes(), err
}

// unpackWays reads what packWays wrote and deflated packed.
func unpackWays(packed []byte) ([]track.Track, error) {
	r := &unpacker{from: bufio.NewReader(flate.NewReader(bytes.NewReader(packed)))}
	if form := r.byte(); r.err == nil && form != waysForm {
		return nil, errWays
	}
	var tracks []track.Track
	for n := r.count(); n > 0 && r.err == nil; n-- {
		t := track.Track{Name: r.string(), From: r.string()}
		for segments := r.count(); segments > 0 && r.err == nil; segments-- {
			t.Segments = append(t.Segments, r.segment())
		}
		tracks = append(tracks, t)
	}
	if r.err != nil {
		return nil, errors.Join(errWays, r.err)
	}
	return tracks, nil
}

// unpacker reads numbers until one is not there; after that all are zero.
type unpacker struct {
	from *bufio.Reader
	err  error
}

func (r *unpacker) byte() byte {
	if r.err != nil {
		return 0
	}
	b, err := r.from.ReadByte()
	r.err = err
	return b
}

func (r *unpacker) count() uint64 {
	if r.err != nil {
		return 0
	}
	n, err := binary.ReadUvarint(r.from)
	r.err = err
	return n
}

func (r *unpacker) number() int64 {
	if r.err != nil {
		return 0
	}
	n, err := binary.ReadVarint(r.from)
	r.err = err
	return n
}

func (r *unpacker) string() string {
	n := r.count()
	if n > longestString {
		r.err = errWays
	}
	if r.err != nil {
		return ""
	}
	text := make([]byte, n)
	_, r.err = io.ReadFull(r.from, text)
	return string(text)
}

func (r *unpacker) segment() track.Segment {
	var s track.Segment
	var before last
	for n := r.count(); n > 0 && r.err == nil; n-- { // not made at once: a broken count must not take all memory
		marks := r.byte()
		before.lat += r.number()
		before.lng += r.number()
		p := track.Point{LatLng: place.LatLng{Lat: float64(before.lat) / perDegree, Lng: float64(before.lng) / perDegree}}
		if marks&knowsTime != 0 {
			before.at += r.number()
			p.At = time.UnixMicro(before.at).UTC()
		}
		if marks&knowsHeight != 0 {
			before.height += r.number()
			height := float64(before.height) / perMetre
			p.Elevation = &height
		}
		if r.err == nil {
			s = append(s, p)
		}
	}
	return s
}

package track

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// Why Read refuses a file; test with errors.Is. An error that is none of these
// is the disk's.
var (
	ErrNotGPX   = errors.New("this is not a GPX file")
	ErrEncoding = errors.New("the file is written in characters that cannot be read here")
	ErrTooLarge = errors.New("the file is larger than any track")
	ErrDamaged  = errors.New("the file is damaged before its first point")
)

// Bounds on one file. Eleven days at a point a second, twelve hours a day, make
// 475,000 points and about 100 MB with everything receivers add to a point.
const (
	maxDepth = 64
	maxName  = 200 // runes
)

type limits struct {
	bytes  int64
	points int
}

var mostOfAFile = limits{bytes: 128 << 20, points: 1_000_000}

// Read takes the tracks from a GPX file, version 1.0 or 1.1, in any of the
// encodings and with any of the oddities real files have; from is the file's
// name, kept with each track. What is odd comes back as findings and never costs
// more than the points it concerns. A file that breaks off keeps what came
// before. An error means that nothing could be read.
//
// Routes are left aside: they say where to go, not where anybody was. So are
// waypoints that have company: their time is when they were written down or
// edited (GPX 1.1 schema, wptType), which need not be when anybody stood there.
// Only when the file has no track point with a time do its waypoints with times
// count, as a track named "waypoints" of one segment each.
//
// Entities are never expanded and nothing outside the file is ever opened.
func Read(r io.Reader, from string) ([]Track, []Finding, error) {
	return read(r, from, mostOfAFile)
}

func read(r io.Reader, from string, most limits) ([]Track, []Finding, error) {
	source := &bounded{r: r, left: most.bytes}
	text, err := inUTF8(source)
	if err != nil {
		return nil, nil, err
	}
	g := reader{from: from, most: most.points, tokens: xml.NewDecoder(text)}
	g.tokens.Strict = false
	g.tokens.CharsetReader = func(_ string, input io.Reader) (io.Reader, error) { return input, nil }
	err = g.file()
	switch {
	case err == nil:
	case source.failed != nil:
		return nil, nil, source.failed
	case errors.Is(err, ErrNotGPX) || errors.Is(err, ErrTooLarge):
		return nil, nil, err
	case g.points == 0:
		return nil, nil, fmt.Errorf("%w: %w", ErrDamaged, err)
	default:
		g.odd.brokenAt = g.points
	}
	g.takeWaypoints()
	g.odd.look(g.tracks)
	return g.tracks, g.odd.findings(), nil
}

// bounded refuses a file that goes on for ever, where io.LimitReader would
// silently end it, and remembers what failed, to tell the disk from the file.
type bounded struct {
	r      io.Reader
	left   int64
	failed error
}

func (b *bounded) Read(p []byte) (int, error) {
	if b.left <= 0 {
		b.failed = ErrTooLarge
		return 0, b.failed
	}
	n, err := b.r.Read(p[:min(int64(len(p)), b.left)])
	b.left -= int64(n)
	if err != nil && !errors.Is(err, io.EOF) {
		b.failed = err
	}
	return n, err
}

// What can be wrong in a file whose every token is sound.
var (
	errOverlap = errors.New("elements overlap")
	errDeep    = errors.New("elements are nested too deep")
)

// reader walks down one file. Each method consumes one whole element, whose
// start has been read.
type reader struct {
	from      string
	tokens    *xml.Decoder
	open      []xml.Name
	points    int
	most      int
	tracks    []Track
	waypoints []Point
	odd       oddities
}

// next is the next token; it keeps count of what is open, which RawToken leaves
// to its caller. Raw tokens are taken because namespaces in real files are
// missing or undeclared as often as right: prefixes are compared instead.
func (g *reader) next() (xml.Token, error) {
	token, err := g.tokens.RawToken()
	if err != nil {
		return nil, err
	}
	switch t := token.(type) {
	case xml.StartElement:
		if len(g.open) == maxDepth {
			return nil, errDeep
		}
		g.open = append(g.open, t.Name)
	case xml.EndElement:
		last := len(g.open) - 1
		if last < 0 || g.open[last] != t.Name {
			return nil, errOverlap
		}
		g.open = g.open[:last]
	}
	return token, nil
}

// children hands every child with the parent's own prefix to take, which
// consumes it and says so or leaves it to be skipped. Extensions have prefixes
// of their own or sit in an element of their own, so they never get further.
func (g *reader) children(take func(xml.StartElement) (bool, error)) error {
	depth := len(g.open)
	prefix := g.open[depth-1].Space
	for {
		token, err := g.next()
		if err != nil {
			return err
		}
		switch t := token.(type) {
		case xml.EndElement:
			return nil
		case xml.StartElement:
			taken := false
			if t.Name.Space == prefix {
				taken, err = take(t)
			}
			if err == nil && !taken {
				err = g.skip()
			}
			if err != nil {
				return err
			}
		}
	}
}

// skip reads on to the end of the element that was opened last.
func (g *reader) skip() error {
	for depth := len(g.open); len(g.open) >= depth; {
		if _, err := g.next(); err != nil {
			return err
		}
	}
	return nil
}

// text is the character data directly inside the element opened last.
func (g *reader) text() (string, error) {
	var all strings.Builder
	for depth := len(g.open); len(g.open) >= depth; {
		token, err := g.next()
		if err != nil {
			return "", err
		}
		if data, ok := token.(xml.CharData); ok && len(g.open) == depth {
			all.Write(data)
		}
	}
	return strings.TrimSpace(all.String()), nil
}

// file reads up to the root element and then the root. Whatever cannot be read
// even so far is a file of another kind.
func (g *reader) file() error {
	for {
		token, err := g.next()
		if err != nil {
			return ErrNotGPX
		}
		if root, ok := token.(xml.StartElement); ok {
			if !strings.EqualFold(root.Name.Local, "gpx") {
				return ErrNotGPX
			}
			return g.children(g.top)
		}
	}
}

func (g *reader) top(e xml.StartElement) (bool, error) {
	switch e.Name.Local {
	case "trk":
		return true, g.track()
	case "rte":
		return true, g.children(func(e xml.StartElement) (bool, error) {
			if e.Name.Local == "rtept" {
				g.odd.route++
			}
			return false, nil
		})
	case "wpt":
		p, ok, err := g.point(e)
		if ok && !p.At.IsZero() {
			g.waypoints = append(g.waypoints, p)
		}
		return true, err
	}
	return false, nil
}

func (g *reader) track() error {
	g.tracks = append(g.tracks, Track{From: g.from})
	t := &g.tracks[len(g.tracks)-1]
	return g.children(func(e xml.StartElement) (bool, error) {
		var err error
		switch e.Name.Local {
		case "name":
			t.Name, err = g.text()
			t.Name = clipped(t.Name)
			return true, err
		case "trkseg":
			t.Segments = append(t.Segments, nil)
			return true, g.segment(&t.Segments[len(t.Segments)-1])
		}
		return false, nil
	})
}

// clipped holds a name to a length that a list can show.
func clipped(name string) string {
	if short := []rune(name); len(short) > maxName {
		return string(short[:maxName])
	}
	return name
}

func (g *reader) segment(s *Segment) error {
	return g.children(func(e xml.StartElement) (bool, error) {
		if e.Name.Local != "trkpt" {
			return false, nil
		}
		p, ok, err := g.point(e)
		if ok {
			*s = append(*s, p)
		}
		return true, err
	})
}

// point reads a trkpt or wpt. ok is false when it has no usable position; a
// point that breaks off in the middle is not taken, its time may be cut short.
func (g *reader) point(e xml.StartElement) (p Point, ok bool, err error) {
	if g.points++; g.points > g.most {
		return p, false, ErrTooLarge
	}
	ok = g.position(&p, e)
	err = g.children(func(e xml.StartElement) (bool, error) {
		switch e.Name.Local {
		case "ele":
			text, err := g.text()
			p.Elevation = elevation(text)
			return true, err
		case "time":
			text, err := g.text()
			if err == nil {
				g.stamp(&p, text)
			}
			return true, err
		}
		return false, nil
	})
	return p, ok && err == nil, err
}

func (g *reader) position(p *Point, e xml.StartElement) bool {
	lat, lng := math.NaN(), math.NaN()
	for _, a := range e.Attr {
		switch a.Name.Local {
		case "lat":
			lat = decimal(a.Value)
		case "lon":
			lng = decimal(a.Value)
		}
	}
	p.Lat, p.Lng = lat, lng
	switch {
	case math.IsNaN(lat) || math.IsNaN(lng):
		g.odd.noPosition++
	case lat == 0 && lng == 0:
		g.odd.nowhere++
	case !p.Valid():
		g.odd.outside++
	default:
		return true
	}
	return false
}

func (g *reader) stamp(p *Point, text string) {
	if text == "" {
		return
	}
	at, read := parseStamp(text)
	p.At = at
	switch read {
	case stampZoneless:
		g.odd.zoneless++
	case stampAbsurd:
		g.odd.absurd++
	case stampUnreadable:
		g.odd.unreadable++
	}
}

// decimal is NaN for anything but a plain decimal number: Go would also take
// hexadecimal and "Inf".
func decimal(text string) float64 {
	text = strings.TrimSpace(text)
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || strings.Trim(text, "+-.0123456789eE") != "" {
		return math.NaN()
	}
	return v
}

func elevation(text string) *float64 {
	if v := decimal(text); !math.IsNaN(v) {
		return &v
	}
	return nil
}

// takeWaypoints makes a track of the waypoints when nothing better is there.
func (g *reader) takeWaypoints() {
	for _, t := range g.tracks {
		for _, s := range t.Segments {
			for _, p := range s {
				if !p.At.IsZero() {
					g.odd.waypoints = len(g.waypoints)
					return
				}
			}
		}
	}
	if len(g.waypoints) == 0 {
		return
	}
	t := Track{Name: "waypoints", From: g.from}
	for _, p := range g.waypoints {
		t.Segments = append(t.Segments, Segment{p})
	}
	g.tracks = append(g.tracks, t)
}

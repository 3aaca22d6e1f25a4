package preflight

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

// MostBytes is how large a cover's file may be: 20 times what an A4 case has in
// pixels at 300 to the inch, uncompressed, would never be sent.
const MostBytes = 256 << 20

// Bounds on what is looked at of one file. No cover comes near them.
const (
	mostPages    = 8
	mostDecoded  = 64 << 20  // bytes of one content stream
	mostSteps    = 4_000_000 // operators in all
	mostDepth    = 12        // forms in forms
	mostListed   = 400       // fonts, colours, pictures
	mostBoxSide  = 5_000_000 // points; the format ends at 14,400
	longestWords = 200       // bytes of a name from the file
)

// The library would otherwise write its settings into the maker's home.
func init() { model.ConfigPath = "disable" }

// Look reads a file. Alone is the picture of its first page as a JPEG file when
// that page is nothing but this picture, so that it can be shown without being
// drawn; nil otherwise.
//
// Errors: Damaged for what cannot be read as PDF; Unsupported for a file under a
// password; Cancelled when ctx ends.
func Look(ctx context.Context, file io.ReadSeeker) (facts Facts, alone []byte, err error) {
	defer func() {
		if cause := recover(); cause != nil {
			facts, alone, err = Facts{}, nil, damaged(fmt.Errorf("panic: %v", cause))
		}
	}()
	conf := model.NewDefaultConfiguration()
	conf.Offline, conf.ValidationMode = true, model.ValidationRelaxed
	conf.Limits.MaxStreamBytes, conf.Limits.MaxDecodeBytes = MostBytes, mostDecoded
	conf.Limits.MaxObjectCount, conf.Limits.MaxXRefEntries = 500_000, 500_000
	read, err := pdfcpu.ReadWithContext(ctx, file, conf)
	if err == nil {
		err = read.EnsurePageCount()
	}
	if err != nil {
		return Facts{}, nil, refused(ctx, err)
	}
	l := &look{ctx: ctx, table: read.XRefTable, seen: map[any]bool{}}
	l.facts = Facts{Version: read.VersionString(), Count: read.PageCount,
		Pages: []Page{}, Fonts: []Font{}, Pictures: []Picture{}, Colours: []Colour{}, Unread: []string{}}
	l.document()
	for n := 1; n <= min(read.PageCount, mostPages) && ctx.Err() == nil; n++ {
		l.page(n)
	}
	if ctx.Err() != nil {
		return Facts{}, nil, refused(ctx, ctx.Err())
	}
	if len(l.facts.Pages) == 0 {
		return Facts{}, nil, damaged(errors.New("no page can be read"))
	}
	return l.facts, l.alone, nil
}

func damaged(err error) error {
	return &sequence.Error{Code: sequence.Damaged, Message: "This file cannot be read as a PDF; it is probably damaged.",
		Hint: "Ask for it again, exported anew.", Err: err}
}

func refused(ctx context.Context, err error) error {
	switch {
	case ctx.Err() != nil:
		return &sequence.Error{Code: sequence.Cancelled, Message: "Looking at this file was stopped.", Err: err}
	case errors.Is(err, pdfcpu.ErrWrongPassword), strings.Contains(err.Error(), "password"), strings.Contains(err.Error(), "ncrypt"):
		return &sequence.Error{Code: sequence.Unsupported, Message: "This PDF is locked with a password.",
			Hint: "A printer cannot open it either: ask for it without security.", Err: err}
	}
	return damaged(err)
}

// look is one reading of one file.
type look struct {
	ctx    context.Context
	table  *model.XRefTable
	facts  Facts
	seen   map[any]bool // what is listed already
	alone  []byte
	number int // of the page being read
	steps  int
	sheet  sheet
}

// sheet turns points of a page into lengths from its MediaBox's top left corner.
type sheet struct {
	left, top float64
	unit      float64 // points
}

func (s sheet) rect(x1, y1, x2, y2 float64) pages.Rect {
	mm := func(v float64) pages.Length { return pages.Length(v*s.unit/72) * pages.Inch }
	x1, x2, y1, y2 = min(x1, x2), max(x1, x2), min(y1, y2), max(y1, y2)
	return pages.Rect{X: mm(x1 - s.left), Y: mm(s.top - y2), Size: pages.Size{Width: mm(x2 - x1), Height: mm(y2 - y1)}}
}

// unread notes once that something could not be looked at.
func (l *look) unread(words string) {
	if !l.seen[words] && len(l.facts.Unread) < 20 {
		l.seen[words] = true
		l.facts.Unread = append(l.facts.Unread, words)
	}
}

// document reads what the file says of itself.
func (l *look) document() {
	root, err := l.table.Catalog()
	if err != nil {
		return
	}
	if intents := l.array(root["OutputIntents"]); len(intents) > 0 {
		d := l.dict(intents[0])
		l.facts.Intent = &Intent{Name: l.words(d["OutputConditionIdentifier"])}
		if l.facts.Intent.Name == "" {
			l.facts.Intent.Name = l.words(d["OutputCondition"])
		}
		if profile := l.stream(d["DestOutputProfile"]); profile != nil {
			l.facts.Intent.Components = int(l.num(profile.Dict["N"], 0))
		}
	}
	if l.table.Info != nil {
		l.facts.Standard = l.words(l.dict(*l.table.Info)["GTS_PDFXVersion"])
	}
	if meta := l.stream(root["Metadata"]); meta != nil {
		if b := l.decoded(meta); b != nil {
			if said := between(string(b), "GTS_PDFXVersion"); said != "" {
				l.facts.Standard = said
			}
		}
	}
}

// between reads a property of XMP, written as an element or as an attribute.
func between(xmp, property string) string {
	_, after, found := strings.Cut(xmp, property)
	if !found {
		return ""
	}
	after = strings.TrimLeft(after, "= \t\r\n")
	ends := "<"
	if after != "" && (after[0] == '"' || after[0] == '\'') {
		ends = after[:1]
	}
	value, _, found := strings.Cut(strings.TrimLeft(after, `>"'`), ends)
	if !found || len(value) > 40 {
		return ""
	}
	return strings.TrimSpace(value)
}

// page reads one page.
func (l *look) page(n int) {
	d, _, inherited, err := l.table.PageDict(n, false)
	if err != nil || d == nil || inherited == nil || inherited.MediaBox == nil {
		l.unread(fmt.Sprintf("Page %d cannot be read.", n))
		return
	}
	unit := l.num(d["UserUnit"], 1)
	if !(unit > 0 && unit < 1000) {
		unit = 1
	}
	media := inherited.MediaBox
	for _, v := range []float64{media.LL.X, media.LL.Y, media.UR.X, media.UR.Y} {
		if math.IsNaN(v) || math.Abs(v) > mostBoxSide {
			l.unread(fmt.Sprintf("The size of page %d makes no sense.", n))
			return
		}
	}
	l.number, l.sheet = n, sheet{left: min(media.LL.X, media.UR.X), top: max(media.LL.Y, media.UR.Y), unit: unit}
	p := Page{Media: l.sheet.rect(media.LL.X, media.LL.Y, media.UR.X, media.UR.Y), Turned: ((inherited.Rotate%360 + 360) % 360) / 90 * 90,
		Bleed: l.box(d["BleedBox"]), Trim: l.box(d["TrimBox"]), Remarks: len(l.array(d["Annots"]))}
	if c := inherited.CropBox; c != nil {
		box := l.sheet.rect(c.LL.X, c.LL.Y, c.UR.X, c.UR.Y)
		p.Crop = &box
	}
	l.facts.Pages = append(l.facts.Pages, p)
	content, err := l.table.PageContent(d, n)
	if err != nil && !errors.Is(err, model.ErrNoContent) {
		l.unread(fmt.Sprintf("What is drawn on page %d cannot be read.", n))
		return
	}
	resources := inherited.Resources
	if own := l.dict(d["Resources"]); own != nil {
		resources = own
	}
	w := &walk{look: l, plain: true, visible: p.Media}
	w.run(content, resources, unitState(), 0)
	if n == 1 {
		l.alone = w.single(p)
	}
}

// box reads a page's box; nil when there is none that makes sense.
func (l *look) box(o types.Object) *pages.Rect {
	a := l.array(o)
	if len(a) != 4 {
		return nil
	}
	var v [4]float64
	for i := range v {
		v[i] = l.num(a[i], math.NaN())
		if math.IsNaN(v[i]) || math.Abs(v[i]) > mostBoxSide {
			return nil
		}
	}
	r := l.sheet.rect(v[0], v[1], v[2], v[3])
	return &r
}

// The rest takes what is there of the kind wanted, and nothing for anything else.

func (l *look) object(o types.Object) types.Object {
	v, err := l.table.Dereference(o)
	if err != nil {
		return nil
	}
	return v
}

func (l *look) dict(o types.Object) types.Dict {
	switch v := l.object(o).(type) {
	case types.Dict:
		return v
	case types.StreamDict:
		return v.Dict
	case *types.StreamDict:
		return v.Dict
	}
	return nil
}

func (l *look) array(o types.Object) types.Array {
	a, _ := l.object(o).(types.Array)
	return a
}

func (l *look) name(o types.Object) string {
	n, _ := l.object(o).(types.Name)
	return unescaped([]byte(clipped(string(n))))
}

func (l *look) num(o types.Object, otherwise float64) float64 {
	switch v := l.object(o).(type) {
	case types.Integer:
		return float64(v)
	case types.Float:
		return float64(v)
	}
	return otherwise
}

func (l *look) words(o types.Object) string {
	if o == nil {
		return ""
	}
	if n := l.name(o); n != "" {
		return n
	}
	s, err := l.table.DereferenceText(o)
	if err != nil {
		return ""
	}
	return strings.TrimSpace(strings.ToValidUTF8(clipped(s), ""))
}

func clipped(s string) string { return s[:min(len(s), longestWords)] }

func (l *look) stream(o types.Object) *types.StreamDict {
	if o == nil {
		return nil
	}
	s, _, err := l.table.DereferenceStreamDict(o)
	if err != nil {
		return nil
	}
	return s
}

// decoded is what a stream holds; nil when it cannot be unpacked or is too much.
func (l *look) decoded(s *types.StreamDict) []byte {
	if err := s.DecodeWithLimit(mostDecoded); err != nil {
		l.unread("A part of the file cannot be unpacked.")
		return nil
	}
	return s.Content
}

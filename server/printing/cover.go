package printing

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/intake"
	"pairwall/sequence/pages"
	"pairwall/sequence/press"
	"pairwall/sequence/press/preflight"
	"pairwall/store"
	"pairwall/web"
)

// CoverShown is a cover as it is to be, with its figures, and as the designer
// made it.
type CoverShown struct {
	Revision int64             `json:"revision"`
	Plan     pages.CoverPlan   `json:"plan"`
	Pages    int               `json:"pages"` // of the block
	Format   string            `json:"format"`
	Unit     pages.Unit        `json:"unit"`
	Binding  pages.Binding     `json:"binding"`
	Spine    pages.CoverSpine  `json:"spine"`
	Rule     string            `json:"rule"` // how the spine was computed, as a sentence; "" where there is none
	Flat     pages.FlatCover   `json:"flat"`
	Closed   pages.Size        `json:"closed"` // the closed copy from the front
	Own      pages.OwnLaid     `json:"own"`
	Lines    []pages.CoverLine `json:"lines"`
	Doubts   []string          `json:"doubts"` // what was supposed, what finds no room
	Brief    string            `json:"brief"`  // to send to whoever designs it
	Brought  *CoverBrought     `json:"brought,omitempty"`
	View     int64             `json:"view"` // changes when the picture of the flat cover does; 0: there is none
}

// CoverBrought is a designer's file and what was found in it.
type CoverBrought struct {
	Name       string                `json:"name"`
	Bytes      int64                 `json:"bytes"`
	Shown      bool                  `json:"shown"` // its picture was taken out of the file itself
	Pages      int                   `json:"pages"`
	Standard   string                `json:"standard"`
	Fonts      int                   `json:"fonts"`
	Pictures   int                   `json:"pictures"`
	Objections []preflight.Objection `json:"objections"` // the worst first
}

// coverOf lays the cover of a title out.
func (m Matter) coverOf() (pages.CoverPlan, pages.CoverSpine, pages.FlatCover, []string) {
	plan := m.Cover.Plan
	if plan.Own.Title == "" {
		plan.Own.Title = m.Title.Name
	}
	built := edition.Build{Pages: len(m.Book().Pages), Format: m.Format}.Copy()
	width := pages.Length(math.Round(float64(built.Spine)*100) / 100) // printers give hundredths, and cut to tenths
	spine := pages.CoverSpine{Width: width, Computed: width}
	if plan.Spine > 0 {
		spine.Width, spine.Printers = plan.Spine, true
	}
	spine.Least, spine.Most = spine.Width*(1-edition.Tolerance), spine.Width*(1+edition.Tolerance)
	flat := pages.LayCover(m.Format, plan, spine)
	doubts := flat.Doubts
	if m.spined() && !spine.Printers && m.Format.Text.Thickness() == 0 {
		doubts = append(doubts, fmt.Sprintf("The text paper's caliper is not known; a bulk of %g is taken.", edition.SupposedBulk))
	}
	return plan, spine, flat, doubts
}

// spined tells whether the cover goes round a block.
func (m Matter) spined() bool {
	return m.Format.Binding == pages.PerfectBound || m.Format.Binding == pages.HardCase
}

// ShowCover shows the cover of a title.
//
// Error: Damaged when what is kept of the designer's file cannot be read.
func (p *Press) ShowCover(m Matter) (CoverShown, error) {
	letters, err := p.letters()
	if err != nil {
		return CoverShown{}, err
	}
	plan, spine, flat, doubts := m.coverOf()
	shown := CoverShown{Revision: m.Cover.Revision, Plan: m.Cover.Plan, Pages: len(m.Book().Pages), Format: m.Format.Measures(), Unit: m.Format.Unit, Binding: m.Format.Binding,
		Spine: spine, Flat: flat, Closed: flat.Front.Size, Doubts: doubts}
	if m.spined() {
		shown.Rule = m.rule(spine)
	}
	shown.Own, shown.Lines, doubts = m.own(plan, spine, flat, letters)
	shown.Doubts = append(shown.Doubts, doubts...)
	shown.Brief = m.brief(plan, spine, flat, shown.Rule)
	if m.Cover.View > 0 {
		shown.View = m.Cover.Revision
	}
	if m.Cover.Brought != nil {
		shown.Brought, err = judged(*m.Cover.Brought, flat, spine)
	}
	return shown, err
}

// rule says how thick the block is and why.
func (m Matter) rule(spine pages.CoverSpine) string {
	leaves := (len(m.Book().Pages) + 1) / 2
	text := fmt.Sprintf("%d leaves × %.3g mm = %s: leaves times the thickness of one, paper varying by 5 %% either way.", leaves, float64(spine.Computed)/float64(max(leaves, 1)), spine.Computed)
	if spine.Printers {
		return fmt.Sprintf("The printer's own figure, %s, counts. Computed: %s", spine.Width, text)
	}
	return text
}

func (m Matter) own(plan pages.CoverPlan, spine pages.CoverSpine, flat pages.FlatCover, letters press.Letters) (pages.OwnLaid, []pages.CoverLine, []string) {
	var photo *sequence.Photo
	if known, ok := m.known()[plan.Own.Photo]; ok {
		photo = &known
	}
	laid := flat.LayOwn(m.Format, plan, spine.Least, photo)
	lines, left := laid.Lines(letters, plan.Own)
	var doubts []string
	switch {
	case m.spined() && laid.Spine == nil:
		doubts = append(doubts, fmt.Sprintf("The spine, %s at the least, is too thin for words: they take %s, 6-point letters and 1 mm on either side for a fold that lies off.", spine.Least, pages.LeastLetteredSpine))
	case left != "":
		doubts = append(doubts, "Title and name are too long for the spine: at 6 points they do not find room on it.")
	}
	if lacking := letters.Missing(plan.Own.Title + plan.Own.Name); len(lacking) > 0 {
		doubts = append(doubts, fmt.Sprintf("The typeface lacks %s; a sign for a missing letter will stand there.", strings.Join(strings.Split(string(lacking), ""), ", ")))
	}
	if s := laid.Picture; s != nil && s.PPI(photo.Width) < pages.LeastPPI {
		doubts = append(doubts, fmt.Sprintf("Photo %d has %.0f pixels to the inch on the cover; below %d a print looks soft.", s.Photo, s.PPI(photo.Width), pages.LeastPPI))
	}
	return laid, lines, doubts
}

func judged(b store.BroughtCover, flat pages.FlatCover, spine pages.CoverSpine) (*CoverBrought, error) {
	var facts preflight.Facts
	if err := json.Unmarshal(b.Facts, &facts); err != nil {
		return nil, &sequence.Error{Code: sequence.Damaged, Message: "What was kept of the cover's file cannot be read.", Hint: "Bring the file in again.", Err: err}
	}
	return &CoverBrought{Name: b.Name, Bytes: b.Bytes, Shown: b.Shown, Pages: facts.Count, Standard: facts.Standard, Fonts: len(facts.Fonts), Pictures: len(facts.Pictures),
		Objections: preflight.Judge(facts, flat, spine)}, nil
}

// cover prints the simple cover.
func (p *Press) cover(ctx context.Context, d *press.Document, m Matter, o Order, letters press.Letters) error {
	plan, spine, flat, _ := m.coverOf()
	laid, lines, _ := m.own(plan, spine, flat, letters)
	open, done, err := p.plates(ctx, m, o.Press)
	if err != nil {
		return err
	}
	defer done()
	return d.Cover(press.Cover{Flat: flat, Own: plan.Own, Laid: laid, Lines: lines, Open: open}, true)
}

// coverMade is when the cover became what it is.
func (m Matter) coverMade() time.Time {
	if m.Cover.Changed.After(m.Made) {
		return m.Cover.Changed
	}
	return m.Made
}

// CoverTemplate writes the template of a cover as a PDF.
//
// Error: Unreadable when out fails.
func (p *Press) CoverTemplate(out io.Writer, m Matter) error {
	letters, err := p.letters()
	if err != nil {
		return err
	}
	_, _, flat, _ := m.coverOf()
	d := press.Begin(out, press.About{Title: m.Title.Name, Made: m.coverMade()}, letters)
	if err := d.CoverTemplate(flat, m.Title.Name); err != nil {
		return err
	}
	return d.End()
}

// CoverTemplatePicture writes the same as a picture, with ppi pixels to the inch.
//
// Errors: those of press.TemplatePicture.
func (p *Press) CoverTemplatePicture(out io.Writer, m Matter, ppi int) error {
	letters, err := p.letters()
	if err != nil {
		return err
	}
	_, _, flat, _ := m.coverOf()
	return press.TemplatePicture(out, flat, ppi, letters, web.Fonts[0])
}

// coverReader is the reader of designers' files by its name in workers.
const coverReader = "cover"

// aloneName is where the reader leaves the picture that is all there is on a
// cover.
const aloneName = "alone.jpg"

// Readers are what workers must be given to read files for printing.
func Readers() []intake.Reader {
	return []intake.Reader{{Name: coverReader, Read: func(ctx context.Context, path, scratch string) (any, error) {
		file, err := os.Open(path)
		if err != nil {
			return nil, &sequence.Error{Code: sequence.Unreadable, Message: "The file cannot be opened.", Hint: "Choose it again.", Err: err}
		}
		defer file.Close()
		facts, alone, err := preflight.Look(ctx, file)
		if err == nil && alone != nil {
			err = os.WriteFile(filepath.Join(scratch, aloneName), alone, 0o600)
		}
		return facts, err
	}}}
}

// LookAtCover has a worker look into a designer's PDF. view is a picture of the
// cover, JPEG, when the file is nothing else; nil otherwise. The folder scratch,
// which must exist, is used on the way.
//
// Errors: those of preflight.Look and of workers.
func LookAtCover(ctx context.Context, pool *intake.Pool, path, scratch string) (facts json.RawMessage, view []byte, err error) {
	var told preflight.Facts // what a worker says is held against its form before it is kept
	if err := pool.Tell(ctx, coverReader, path, scratch, &told); err != nil {
		return nil, nil, err
	}
	if facts, err = json.Marshal(told); err != nil {
		return nil, nil, err
	}
	alone := filepath.Join(scratch, aloneName)
	if _, missing := os.Stat(alone); missing == nil {
		if shot, unread := pool.Shot(ctx, alone, scratch); unread == nil { // if not, the file was judged all the same
			view = shot.View
		}
	}
	return facts, view, ctx.Err()
}

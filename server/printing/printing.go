package printing

import (
	"context"
	"fmt"
	"io"
	"slices"
	"sync"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/sequence/pages"
	"pairwall/sequence/pages/code"
	"pairwall/sequence/press"
	"pairwall/server/bringing"
	"pairwall/store"
	"pairwall/web"
)

// Kind is what is printed.
type Kind string

// The kinds.
const (
	Cards   Kind = "cards"   // small prints for a real wall
	Contact Kind = "contact" // a contact sheet
	Pages   Kind = "pages"   // the printer's PDF: single pages
	Spreads Kind = "spreads" // the book as a reader sees it, to look at
	Dummy   Kind = "dummy"   // the book to be folded or cut at home
	Cover   Kind = "cover"   // the simple cover, as a printer takes it
	Test    Kind = "test"    // a few pages at their true size
	Strip   Kind = "strip"   // even patches to measure a proof by
)

// Kinds lists them all.
var Kinds = []Kind{Cards, Contact, Pages, Spreads, Cover, Dummy, Test, Strip}

// Which says of which photos small prints or contact sheets are made.
type Which string

// The choices: what hangs, what lies on the table, both, or the photos named.
const (
	Wall   Which = "wall"
	Table  Which = "table"
	All    Which = "all" // but the box
	Chosen Which = "chosen"
)

// Order is what is wanted.
type Order struct {
	Kind   Kind
	Which  Which
	Photos []sequence.PhotoID // for Chosen
	Style  pages.PrintStyle   // for Cards; its sheet also for Contact and Test
	Press  PressStyle         // for Pages and Test
	Dummy  pages.DummyStyle   // for Dummy
	Chosen []int              // pages by number, for Test
}

// Matter is a title as it is when it is printed.
type Matter struct {
	Title  sequence.Title
	Photos []sequence.Photo
	Wall   sequence.Sequence
	Format pages.Format
	Plan   pages.Plan
	Cover  store.Cover

	Profile *store.PrinterProfile // of the printer's inks; nil when none is known
	Made    time.Time             // stands in the file: the moment wall, format and plan became what they are
}

// Book lays the wall out on its pages.
func (m Matter) Book() pages.Book { return pages.Lay(m.Format, m.Plan, m.Wall, m.known()) }

// Gather reads a title as it is now.
//
// Error: NotFound.
func Gather(ctx context.Context, from *store.Store, title sequence.TitleID) (m Matter, err error) {
	if m.Title, err = from.Title(ctx, title); err != nil {
		return m, err
	}
	// The wall comes before the photos, so that it names none that is not there.
	wall, err := from.Wall(ctx, title)
	if err != nil {
		return m, err
	}
	kept, err := from.Pages(ctx, title)
	if err != nil {
		return m, err
	}
	m.Wall, m.Format, m.Plan = wall.Sequence, kept.Format, kept.Plan
	if m.Profile, err = from.PrinterProfile(ctx, title); err != nil {
		return m, err
	}
	if m.Photos, err = from.Photos(ctx, title); err != nil {
		return m, err
	}
	if m.Cover, err = from.Cover(ctx, title); err != nil {
		return m, err
	}
	m.Made, err = from.Reached(ctx, title)
	if kept.Reached.After(m.Made) {
		m.Made = kept.Reached
	}
	return m, err
}

// photos are those an order is about: in reading order first, then as they came.
func (m Matter) photos(o Order) ([]sequence.Photo, error) {
	all := make([]sequence.PhotoID, len(m.Photos))
	known := m.known()
	for i, p := range m.Photos {
		all[i] = p.Number
	}
	var wanted []sequence.PhotoID
	switch o.Which {
	case Wall, "":
		wanted = m.Wall.Wall()
	case Table:
		wanted = m.Wall.Table(all)
	case All:
		wanted = append(m.Wall.Wall(), m.Wall.Table(all)...)
	case Chosen:
		wanted = slices.Compact(slices.Sorted(slices.Values(o.Photos)))
	default:
		return nil, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("%q names no photos to print.", o.Which),
			Hint: "Say wall, table, all or chosen."}
	}
	photos := make([]sequence.Photo, 0, len(wanted))
	for _, id := range wanted {
		photo, ok := known[id]
		if !ok {
			return nil, &sequence.Error{Code: sequence.NotFound, Message: fmt.Sprintf("There is no photo %d in this title.", id)}
		}
		photos = append(photos, photo)
	}
	if len(photos) == 0 {
		return nil, &sequence.Error{Code: sequence.Invalid, Message: "There is no photo to print.",
			Hint: "Hang photos on the wall first, or print those on the table."}
	}
	return photos, nil
}

func (m Matter) known() map[sequence.PhotoID]sequence.Photo {
	known := make(map[sequence.PhotoID]sequence.Photo, len(m.Photos))
	for _, p := range m.Photos {
		known[p.Number] = p
	}
	return known
}

func proportions(photos []sequence.Photo) []pages.Proportion {
	list := make([]pages.Proportion, len(photos))
	for i, p := range photos {
		list[i] = pages.Proportion{Photo: p.Number, Width: float64(p.Width), Height: float64(p.Height)}
	}
	return list
}

// Lay lays small prints out, so that the maker sees the sheets before any is
// made. Unprintable are characters of captions that the typeface lacks.
//
// Errors: those of choosing photos and of pages.PrintStyle.LayPrints.
func (p *Press) Lay(m Matter, o Order) (sheets []pages.PrintSheet, unprintable string, err error) {
	photos, err := m.photos(o)
	if err != nil {
		return nil, "", err
	}
	letters, err := p.letters()
	if err != nil {
		return nil, "", err
	}
	sheets, err = o.Style.LayPrints(proportions(photos))
	text := m.Title.Name
	for _, photo := range photos {
		if o.Style.Caption {
			text += photo.Caption
		}
	}
	return sheets, string(letters.Missing(text)), err
}

// Press prints.
type Press struct {
	cards   *bringing.Cards
	pool    *intake.Pool
	scratch string                        // a folder for what is on its way to the press
	letters func() (press.Letters, error) // read when first wanted: most days nothing is printed
}

// New makes a press that takes card images from cards and has originals decoded
// by pool. The data directory holds what is on its way.
func New(cards *bringing.Cards, pool *intake.Pool, data string) *Press {
	return &Press{cards, pool, scratchIn(data), sync.OnceValues(func() (press.Letters, error) { return press.ReadLetters(web.Fonts) })}
}

// Write makes the file. It ends early when ctx does. told, which may be nil, is
// called as pages of a book are done.
//
// Errors: those of Lay; of opening a picture, naming its page; Unreadable when
// out fails.
func (p *Press) Write(ctx context.Context, out io.Writer, m Matter, o Order, told func(done, of int)) error {
	letters, err := p.letters()
	if err != nil {
		return err
	}
	about := press.About{Title: m.Title.Name, Made: m.Made}
	if o.Kind == Pages {
		about.Intent = m.Intent(o.Press)
	}
	if o.Kind == Cover {
		about.Made, about.Intent = m.coverMade(), m.Intent(o.Press)
	}
	d := press.Begin(out, about, letters)
	switch o.Kind {
	case Cards:
		err = p.smallPrints(ctx, d, m, o)
	case Contact:
		err = p.contacts(ctx, d, m, o)
	case Pages, Spreads, Dummy, Test:
		err = p.book(ctx, d, m, o, told)
	case Strip:
		err = d.Strip(m.Title.Name, code.TagOf(m.Title), m.strip())
	case Cover:
		err = p.cover(ctx, d, m, o, letters)
	default:
		err = &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("%q is nothing that can be printed.", o.Kind),
			Hint: fmt.Sprintf("It can be one of %v.", Kinds)}
	}
	if err != nil {
		return err
	}
	return d.End()
}

// source opens card images of one size until ctx ends.
func (p *Press) source(ctx context.Context, known map[sequence.PhotoID]sequence.Photo, size int) press.Source {
	return func(id sequence.PhotoID) (io.ReadCloser, error) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		return p.cards.Open(ctx, known[id], size)
	}
}

// The size of card images that serve: 70 mm want 827 pixels at 300 to the inch,
// a contact 410.
const (
	largeCard = 1600
	smallCard = 400
)

func (p *Press) smallPrints(ctx context.Context, d *press.Document, m Matter, o Order) error {
	sheets, _, err := p.Lay(m, o)
	if err != nil {
		return err
	}
	known := m.known()
	return d.SmallPrints(press.SmallPrints{Title: m.Title.Name, Tag: code.TagOf(m.Title), Style: o.Style, Sheets: sheets,
		Photos: known, Open: p.source(ctx, known, largeCard)})
}

func (p *Press) contacts(ctx context.Context, d *press.Document, m Matter, o Order) error {
	photos, err := m.photos(o)
	if err != nil {
		return err
	}
	style, known := pages.FirstContactStyle, m.known()
	style.Sheet = o.Style.Sheet
	return d.Contacts(m.Title.Name, style, style.LayContacts(proportions(photos)), known, p.source(ctx, known, smallCard))
}

func (p *Press) book(ctx context.Context, d *press.Document, m Matter, o Order, told func(done, of int)) error {
	if len(m.Wall.Wall()) == 0 && len(m.Plan.Front)+len(m.Plan.Back) == 0 {
		return &sequence.Error{Code: sequence.Invalid, Message: "Nothing hangs on the wall yet.", Hint: "Hang photos on the wall first."}
	}
	b := press.Bound{Book: m.Book()}
	b.Told = func(page int) {
		if told != nil {
			told(page, len(b.Book.Pages))
		}
	}
	b.Open = p.source(ctx, m.known(), largeCard).Upright()
	if o.Kind == Pages || o.Kind == Test {
		plates, done, err := p.plates(ctx, m, o.Press)
		if err != nil {
			return err
		}
		defer done()
		b.Open = plates
	}
	switch o.Kind {
	case Pages:
		return d.SinglePages(b, o.Press.Marks)
	case Spreads:
		return d.Spreads(b)
	case Dummy:
		return d.Dummy(b, o.Dummy)
	}
	return d.TestSheet(b, o.Style.Sheet, o.Chosen)
}

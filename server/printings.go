package server

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/http"
	"net/url"
	"os"
	"slices"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/server/printing"
	"pairwall/server/route"
	"pairwall/store"
)

// printingWish is a PDF to be made in the background.
type printingWish struct {
	Kind   printing.Kind       `json:"kind"`
	Press  printing.PressStyle `json:"press"`           // for pages and test
	Sheet  string              `json:"sheet"`           // for dummy and test: A4, A3 or Letter
	Duplex pages.Duplex        `json:"duplex"`          // for dummy
	Creep  pages.Creep         `json:"creep"`           // for dummy
	Fit    bool                `json:"fit"`             // for dummy: pages are made smaller where two do not fit
	Pages  []int               `json:"pages,omitempty"` // for test: by number
}

func (w printingWish) order() (printing.Order, error) {
	o := printing.Order{Kind: w.Kind, Press: w.Press, Style: pages.FirstPrintStyle, Chosen: w.Pages}
	if !slices.Contains([]printing.Kind{printing.Pages, printing.Spreads, printing.Dummy, printing.Test}, w.Kind) {
		return o, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("%q is nothing that is made in the background.", w.Kind),
			Hint: "Say pages, spreads, dummy or test."}
	}
	if w.Kind == printing.Dummy || w.Kind == printing.Test {
		sheet, err := pages.SheetNamed(w.Sheet)
		if err != nil {
			return o, err
		}
		o.Style.Sheet, o.Dummy = sheet, pages.DummyStyle{Sheet: sheet, Duplex: w.Duplex, Creep: w.Creep, Fit: w.Fit}
	}
	return o, w.Press.Check()
}

// printingShown is how far a PDF is.
type printingShown struct {
	ID    int64         `json:"id"`
	Kind  printing.Kind `json:"kind"`
	State string        `json:"state"` // as that of a bring
	Done  int           `json:"done"`  // pages
	Of    int           `json:"of"`    // pages; 0 before the first is done
	Words string        `json:"words"`
	Hint  string        `json:"hint,omitempty"` // when it failed: the way out
	Bytes int64         `json:"bytes"`          // of the file, once made
	Unmet []string      `json:"unmet"`          // what PDF/X-4 asks and this file cannot meet
}

type printingList struct {
	Printings []printingShown `json:"printings"`
}

// printingRun is a PDF in the making, or made and waiting to be fetched.
type printingRun struct {
	printingShown
	stop context.CancelCauseFunc
	file string // once made
	name string // for the maker
}

// printTerms are what can be said before anything is made.
type printTerms struct {
	Pages   int              `json:"pages"`
	Blank   int              `json:"blank"`  // pages that fill up a dummy's last sheet
	Scales  []scaleTold      `json:"scales"` // of a dummy's pages, where they must be made smaller
	Folded  bool             `json:"folded"` // a dummy is folded and stapled; otherwise cut
	Creeps  []creepTold      `json:"creeps"`
	Profile string           `json:"profile"` // name of the printer's profile; "" when there is none
	Unmet   []string         `json:"unmet"`   // what PDF/X-4 asks and cannot be met, with the profile there is
	Unfit   []printing.Unfit `json:"unfit"`   // pages whose originals cannot be printed
}

// scaleTold is a sheet on which two pages do not fit as large as they are.
type scaleTold struct {
	Sheet string  `json:"sheet"`
	Scale float64 `json:"scale"` // that makes them fit, less than 1
}

type creepTold struct {
	Name   pages.Creep  `json:"name"`
	Words  string       `json:"words"`
	Amount pages.Length `json:"amount"` // of the innermost sheet, millimetres
}

func (s *Server) showPrintTerms(r *http.Request) (t printTerms, err error) {
	m, err := s.matter(r)
	if err != nil {
		return t, err
	}
	book := m.Book()
	t = printTerms{Pages: len(book.Pages), Blank: book.Blank(), Folded: book.Folded(), Unfit: m.Unfit(r.Context()), Scales: []scaleTold{},
		Unmet: append([]string{}, m.Intent(printing.PressStyle{}).Unmet()...)}
	if m.Profile != nil {
		t.Profile = m.Profile.Name
	}
	for _, sheet := range pages.Sheets {
		scale, err := book.Scale(pages.DummyStyle{Sheet: sheet, Fit: true})
		if err != nil {
			return t, err
		}
		if scale < 1 {
			t.Scales = append(t.Scales, scaleTold{sheet.Name, scale})
		}
	}
	for _, c := range pages.Creeps {
		amount, err := book.Creep(c)
		if err != nil {
			return t, err
		}
		t.Creeps = append(t.Creeps, creepTold{c, c.Words(), amount})
	}
	return t, nil
}

// startPrinting begins a PDF; its events tell how far it is.
func (s *Server) startPrinting(r *http.Request, in printingWish) (printingShown, error) {
	order, err := in.order()
	if err != nil {
		return printingShown{}, err
	}
	m, err := s.matter(r)
	if err != nil {
		return printingShown{}, err
	}
	d := s.desk(m.Title.ID)
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, run := range d.printings {
		if run.State == store.Running {
			return run.printingShown, &sequence.Error{Code: sequence.Conflict, Message: "A PDF of this title is being made already.", Hint: "Wait for it, or stop it."}
		}
	}
	d.printed++
	run := &printingRun{name: fileName(m.Title.Name, string(order.Kind), "pdf"),
		printingShown: printingShown{ID: d.printed, Kind: order.Kind, State: store.Running, Words: "Beginning.", Unmet: []string{}}}
	if order.Kind == printing.Pages {
		run.Unmet = append(run.Unmet, m.Intent(order.Press).Unmet()...)
	}
	ctx, cancel := context.WithCancelCause(s.ctx)
	run.stop = cancel
	err = s.background(func(context.Context) {
		defer cancel(nil)
		s.print(ctx, d, run, m, order)
	})
	if err != nil {
		cancel(nil)
		return printingShown{}, err
	}
	d.forgetPrintings(mostPrintings - 1)
	d.printings = append(d.printings, run)
	return run.printingShown, nil
}

// mostPrintings is how many finished files of a title are kept for fetching.
const mostPrintings = 4

// forgetPrintings keeps the newest. The caller holds d.mu.
func (d *desk) forgetPrintings(keep int) {
	for len(d.printings) > keep {
		d.printings[0].discard()
		d.printings = d.printings[1:]
	}
}

func (p *printingRun) discard() {
	if p.file != "" {
		os.Remove(p.file)
	}
}

// print makes one PDF.
func (s *Server) print(ctx context.Context, d *desk, run *printingRun, m printing.Matter, order printing.Order) {
	told := time.Time{}
	file, err := s.press.Make(ctx, m, order, func(done, of int) {
		d.mu.Lock()
		run.Done, run.Of, run.Words = done, of, fmt.Sprintf("Page %d of %d.", done, of)
		now := run.printingShown
		d.mu.Unlock()
		if time.Since(told) > 100*time.Millisecond {
			told = time.Now()
			d.hub.Publish("printing", now)
		}
	})
	if err != nil && ctx.Err() == nil {
		s.log.Error("printing failed", slog.Any("error", err))
	}
	d.mu.Lock()
	run.end(file, err, ctx.Err() != nil)
	now := run.printingShown
	d.mu.Unlock()
	d.hub.Publish("printing", now)
}

// end writes down how a PDF ended.
func (p *printingRun) end(file string, err error, stopped bool) {
	var coded *sequence.Error
	switch {
	case err == nil:
		p.State, p.file, p.Done, p.Words = store.Done, file, p.Of, "It is made."
		if info, err := os.Stat(file); err == nil {
			p.Bytes = info.Size()
		}
	case stopped:
		p.State, p.Words = store.Cancelled, "It was stopped; nothing is kept of it."
	case errors.As(err, &coded):
		p.State, p.Words, p.Hint = store.Failed, coded.Message, coded.Hint
	default:
		p.State, p.Words = store.Failed, "Something went wrong while the PDF was made."
	}
}

// listPrintings tells of the PDFs that are being made and wait to be fetched,
// the oldest first.
func (s *Server) listPrintings(r *http.Request) (list printingList, err error) {
	title, err := s.title(r)
	if err != nil {
		return list, err
	}
	d := s.desk(title.ID)
	d.mu.Lock()
	defer d.mu.Unlock()
	list.Printings = []printingShown{}
	for _, run := range d.printings {
		list.Printings = append(list.Printings, run.printingShown)
	}
	return list, nil
}

// stopPrinting stops a PDF that is being made, and throws one away that is.
func (s *Server) stopPrinting(r *http.Request) (nothing, error) {
	d, run, err := s.printing(r)
	if err != nil {
		return nothing{}, err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if run.State == store.Running {
		run.stop(errStopped)
		return nothing{}, nil
	}
	run.discard()
	d.printings = slices.DeleteFunc(d.printings, func(p *printingRun) bool { return p == run })
	return nothing{}, nil
}

func (s *Server) printing(r *http.Request) (*desk, *printingRun, error) {
	title, err := s.title(r)
	if err != nil {
		return nil, nil, err
	}
	id, err := route.Number(r, "printing")
	if err != nil {
		return nil, nil, err
	}
	d := s.desk(title.ID)
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, run := range d.printings {
		if run.ID == id {
			return d, run, nil
		}
	}
	return d, nil, route.NoSuch("PDF")
}

// madePrinting sends a PDF that is made.
func (s *Server) madePrinting(w http.ResponseWriter, r *http.Request) error {
	d, run, err := s.printing(r)
	if err != nil {
		return err
	}
	d.mu.Lock()
	name, state, as := run.file, run.State, run.name
	d.mu.Unlock()
	if state != store.Done {
		return &sequence.Error{Code: sequence.Conflict, Message: "This PDF is not made yet."}
	}
	file, err := os.Open(name)
	if err != nil {
		return &sequence.Error{Code: sequence.NotFound, Message: "This PDF is not there any more.", Hint: "Have it made again.", Err: err}
	}
	defer file.Close()
	w.Header().Set("Content-Type", "application/pdf")
	w.Header().Set("Content-Disposition", "attachment; filename*=UTF-8''"+url.PathEscape(as))
	w.Header().Set("Cache-Control", "no-store")
	http.ServeContent(w, r, "", time.Time{}, file)
	return nil
}

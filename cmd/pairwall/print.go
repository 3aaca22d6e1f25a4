package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/server/bringing"
	"pairwall/server/printing"
	"pairwall/store"
)

type printCommand struct {
	Title   string             `required:"" help:"The title to print." placeholder:"NAME"`
	Kind    printing.Kind      `required:"" enum:"pages,spreads,cover,dummy,test,strip,cards,contact" help:"pages (for the printer), spreads (the book to look at), cover (the simple one, for the printer), dummy (to fold or cut at home), test (a few pages at true size), strip (even patches to measure a proof by), cards (small prints for a real wall) or contact (a contact sheet)."`
	Out     string             `required:"" help:"The PDF to make; it is not written over." placeholder:"FILE" type:"path"`
	Of      printing.Which     `enum:"wall,table,all,chosen" default:"wall" help:"Which photos, for cards and contact: wall, table, all or chosen."`
	Photo   []sequence.PhotoID `help:"With chosen: the photo's number; may be given more than once."`
	Sheet   string             `default:"A4" help:"A4, A3 or Letter."`
	Long    float64            `default:"70" help:"Longer side of a small print in millimetres."`
	Backs   bool               `help:"Print the numbers on the back of small prints as well."`
	Palette bool               `help:"Print each photo's colours below it."`
	Plain   bool               `help:"Leave captions out."`

	Marks   bool         `help:"With pages: crop and registration marks outside the bleed."`
	Most    int          `help:"With pages: make pictures smaller that have more pixels per inch than this; never, when left out." placeholder:"PPI"`
	Screen  bool         `help:"With pages: for sRGB although the title has its printer's profile."`
	Convert bool         `help:"With pages: convert pictures to the inks of the printer's profile."`
	Instead bool         `help:"With pages and test: print the card image where an original is missing or damaged."`
	Duplex  pages.Duplex `enum:"short,long" default:"short" help:"With dummy: the edge the printer turns the sheet over on, short or long."`
	Creep   pages.Creep  `enum:"none,sheets,gaps,arc,trimming" default:"gaps" help:"With dummy: how creep is reckoned: none, sheets (one thickness of paper for each sheet), gaps (for each but the outermost), arc (the way round the fold, with a fifth to spare), trimming (as much as the book is thick)."`
	Fit     bool         `help:"With dummy: make pages smaller where two do not fit on the sheet."`
	Page    []int        `help:"With test: a page's number; may be given more than once."`
}

func (c *printCommand) Run(h *house) error {
	sheet, err := pages.SheetNamed(c.Sheet)
	if err != nil {
		return err
	}
	order := printing.Order{Kind: c.Kind, Which: c.Of, Photos: c.Photo, Style: pages.FirstPrintStyle}
	order.Style.Sheet, order.Style.Long = sheet, pages.Length(c.Long)
	order.Style.Backs, order.Style.Palette, order.Style.Caption = c.Backs, c.Palette, !c.Plain
	order.Press = printing.PressStyle{Marks: c.Marks, Most: c.Most, Screen: c.Screen, Convert: c.Convert, Cards: c.Instead}
	order.Dummy, order.Chosen = pages.DummyStyle{Sheet: sheet, Duplex: c.Duplex, Creep: c.Creep, Fit: c.Fit}, c.Page
	return asked{Title: c.Title}.atPress(h, func(press *printing.Press, matter printing.Matter) error {
		line := h.progressLine("Printing")
		defer line.end()
		err := intoFile(c.Out, func(out io.Writer) error {
			return printing.Buffered(out, func(out io.Writer) error { return press.Write(h.ctx, out, matter, order, line.show) })
		})
		if err == nil {
			fmt.Fprintf(h.say, "%s is made.\n", c.Out)
			if c.Kind == printing.Pages {
				for _, unmet := range matter.Intent(order.Press).Unmet() {
					fmt.Fprintln(h.say, unmet)
				}
			}
		}
		return err
	})
}

// atPress hands a press to what is asked, and the title as it is now.
func (a asked) atPress(h *house, with func(*printing.Press, printing.Matter) error) error {
	return a.answer(h, func(st *store.Store, title sequence.Title, _ []sequence.Photo, _ sequence.Sequence) error {
		matter, err := printing.Gather(h.ctx, st, title.ID)
		if err != nil {
			return err
		}
		pool, err := h.pool(readers())
		if err != nil {
			return err
		}
		defer pool.Close()
		return with(printing.New(bringing.NewCards(h.ctx, pool, h.data), pool, h.data), matter)
	})
}

// intoFile has write fill a file of that name, which appears whole or not at
// all and is never written over.
//
// Errors: Conflict when there is such a file; Unreadable when it cannot be
// made; those of write.
func intoFile(name string, write func(io.Writer) error) error {
	if _, err := os.Stat(name); err == nil {
		return &sequence.Error{Code: sequence.Conflict, Message: name + " is there already.", Hint: "Choose another name, or move that file away first."}
	}
	file, err := os.CreateTemp(filepath.Dir(name), ".pairwall-*")
	if err != nil {
		return &sequence.Error{Code: sequence.Unreadable, Message: fmt.Sprintf("Nothing can be written in %s.", filepath.Dir(name)),
			Hint: "Choose another folder with --out.", Err: err}
	}
	defer os.Remove(file.Name())
	defer file.Close()
	if err := write(file); err != nil {
		return err
	}
	if err := file.Close(); err != nil {
		return &sequence.Error{Code: sequence.Unreadable, Message: "The file could not be written to its end.", Hint: "See whether the disk is full.", Err: err}
	}
	return os.Rename(file.Name(), name)
}

package main

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"pairwall/sequence"
	"pairwall/sequence/pairing"
	"pairwall/store"
)

// asked is what the questions about one title have in common.
type asked struct {
	Title string `required:"" help:"The title to ask about." placeholder:"NAME"`
	JSON  bool   `name:"json" help:"Print as JSON."`
}

// answer opens the data, finds the title with its photos and wall, and hands
// them on.
func (a asked) answer(h *house, with func(*store.Store, sequence.Title, []sequence.Photo, sequence.Sequence) error) error {
	st, err := h.open()
	if err != nil {
		return err
	}
	defer st.Close()
	title, err := st.TitleNamed(h.ctx, a.Title)
	if err != nil {
		return err
	}
	photos, err := st.Photos(h.ctx, title.ID)
	if err != nil {
		return err
	}
	wall, err := st.Wall(h.ctx, title.ID)
	if err != nil {
		return err
	}
	return with(st, title, photos, wall.Sequence)
}

type photosCommand struct{ asked }

func (c *photosCommand) Run(h *house) error {
	return c.answer(h, func(_ *store.Store, _ sequence.Title, photos []sequence.Photo, _ sequence.Sequence) error {
		if c.JSON {
			return printJSON(h, photos)
		}
		table := tabwriter.NewWriter(h.out, 0, 4, 2, ' ', 0)
		for _, p := range photos {
			fmt.Fprintf(table, "%d\t%s\t%d × %d\t%s\n", p.Number, p.Name, p.Width, p.Height, p.Taken.Words())
		}
		return table.Flush()
	})
}

type partnersCommand struct {
	asked
	Photo sequence.PhotoID `arg:"" help:"The photo's number."`
	N     int              `short:"n" default:"10" help:"How many to propose."`
}

func (c *partnersCommand) Run(h *house) error {
	return c.answer(h, func(_ *store.Store, title sequence.Title, photos []sequence.Photo, seq sequence.Sequence) error {
		partners, _, err := pairing.New(photos).Partners(c.Photo, outsideBox(photos, seq), title.Weights, c.N)
		if err != nil {
			return err
		}
		if c.JSON {
			return printJSON(h, partners)
		}
		table := tabwriter.NewWriter(h.out, 0, 4, 2, ' ', 0)
		for _, p := range partners {
			fmt.Fprintf(table, "%d\t%.2f\t%s\n", p.Photo, p.Score, reasons(p.Judgement))
		}
		return table.Flush()
	})
}

// outsideBox lists the photos not set aside.
func outsideBox(photos []sequence.Photo, seq sequence.Sequence) []sequence.PhotoID {
	all := numbers(photos)
	return append(seq.Table(all), seq.Wall()...)
}

func numbers(photos []sequence.Photo) []sequence.PhotoID {
	list := make([]sequence.PhotoID, len(photos))
	for i, p := range photos {
		list[i] = p.Number
	}
	return list
}

type arrangeCommand struct {
	asked
	Everything bool `help:"Arrange the spreads that are not pinned anew as well."`
	Accept     bool `help:"Hang it so; otherwise it is only shown."`
}

func (c *arrangeCommand) Run(h *house) error {
	scope := pairing.Table
	if c.Everything {
		scope = pairing.Wall
	}
	return c.answer(h, func(st *store.Store, title sequence.Title, photos []sequence.Photo, seq sequence.Sequence) error {
		proposal, err := pairing.New(photos).Propose(seq, pairing.Plan{Scope: scope, Table: seq.Table(numbers(photos)), Balance: title.Weights, Chapters: pairing.ChaptersOf(seq)})
		if err != nil {
			return err
		}
		if c.Accept {
			if _, _, err := st.Apply(h.ctx, title.ID, proposal.Change, "terminal"); err != nil {
				return err
			}
		}
		if c.JSON {
			return printJSON(h, proposal)
		}
		return c.show(h, proposal)
	})
}

func (c *arrangeCommand) show(h *house, p pairing.Proposal) error {
	fmt.Fprintln(h.out, p.Rule)
	table := tabwriter.NewWriter(h.out, 0, 4, 2, ' ', 0)
	for _, s := range p.Spreads {
		spread := p.Sequence.Spreads[p.Sequence.Index(s.Spread)]
		page := p.Sequence.PageNumber(sequence.Page{Spread: s.Spread, Side: sequence.Left})
		if s.Alone {
			fmt.Fprintf(table, "pages %d–%d\t%d alone\t\t%s\n", page, page+1, max(spread.Left, spread.Right), s.Reasons)
			continue
		}
		fmt.Fprintf(table, "pages %d–%d\t%d + %d\t%.2f\t%s\n", page, page+1, spread.Left, spread.Right, s.Score, reasons(s.Judgement))
	}
	if err := table.Flush(); err != nil {
		return err
	}
	for _, left := range p.Left {
		fmt.Fprintf(h.out, "%d stays on the table: %s.\n", left.Photo, left.Why)
	}
	if c.Accept {
		fmt.Fprintln(h.out, "It hangs so now; undo takes it back.")
	} else {
		fmt.Fprintln(h.out, "Nothing was changed; --accept hangs it so.")
	}
	return nil
}

// reasons says why two photos could face each other, and quietly what is not known.
func reasons(j pairing.Judgement) string {
	if j.Missing == "" {
		return j.Reasons
	}
	return strings.TrimSpace(j.Reasons + " (" + j.Missing + ")")
}

package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/ledger"
	"pairwall/sequence/pages"
	"pairwall/server/printing"
	"pairwall/store"
)

type labelsCommand struct {
	asked
	Out   string  `help:"The PDF to make; it is not written over. Left out, only what there will be is told." placeholder:"FILE" type:"path"`
	Kind  string  `enum:"labels,label-test,packing-list,thanks" default:"labels" help:"labels, label-test (to hold against a sheet of labels), packing-list (in shelf order) or thanks (slips)."`
	Sheet string  `help:"The sheet of labels, by the beginning of its name, such as \"A4, 3 × 7\" or \"Single labels, 100\"; otherwise the one chosen in the app." placeholder:"NAME"`
	First int     `help:"The first label of the first sheet that is still there, from 1; otherwise as in the app." placeholder:"N"`
	Order []int64 `help:"Only for this order, by its id, packed or not; may be given more than once."`
}

// labelled is what the command prints as JSON.
type labelled struct {
	Labels  int                  `json:"labels"`
	Sheet   pages.LabelSheet     `json:"sheet"`
	Parcels any                  `json:"parcels"`
	Held    any                  `json:"held"`
	ByHand  []printing.HandLabel `json:"byHand"`
}

func (c *labelsCommand) Run(h *house) error {
	return c.answer(h, func(st *store.Store, title sequence.Title, _ []sequence.Photo, _ sequence.Sequence) error {
		matter, err := printing.Gather(h.ctx, st, title.ID)
		if err != nil {
			return err
		}
		counter, err := printing.GatherCounter(h.ctx, st, matter)
		if err != nil {
			return err
		}
		style, err := c.style(counter.Post.Labels)
		if err != nil {
			return err
		}
		table := counter.Table()
		batch := printing.Batch{Title: title.Name, Made: st.Now(), Sender: counter.Post.Sender, Parcels: table.Waiting}
		if len(c.Order) > 0 {
			if batch.Parcels, err = counter.Only(c.Order); err != nil {
				return err
			}
		}
		press := printing.New(nil, nil, h.data)
		hand, err := press.ByHand(batch, style)
		if err != nil {
			return err
		}
		if c.Out != "" {
			if err := c.make(press, batch, style, counter.Post.Thanks); err != nil {
				return err
			}
			fmt.Fprintf(h.say, "%s is made.\n", c.Out)
		}
		labels, _ := batch.Labelled(style)
		if c.JSON {
			return printJSON(h, labelled{len(labels), style.Sheet, batch.Parcels, table.Held, hand})
		}
		fmt.Fprintf(h.out, "%d labels on %s.\n", len(labels), style.Sheet.Name)
		for _, one := range table.Held {
			fmt.Fprintf(h.say, "Order %s is held up: %s\n", one.Number, one.Why)
		}
		for _, one := range hand {
			fmt.Fprintf(h.say, "Order %s has to be finished by hand: %s\n", one.Number, strings.Join(one.Why, " "))
		}
		return nil
	})
}

func (c *labelsCommand) make(press *printing.Press, batch printing.Batch, style pages.LabelStyle, thanks string) error {
	if len(batch.Parcels) == 0 && c.Kind != "label-test" {
		return &sequence.Error{Code: sequence.Invalid, Message: "No parcel is waiting to be packed.", Hint: "Read orders first, or name those to print again with --order."}
	}
	return intoFile(c.Out, func(out io.Writer) error {
		switch c.Kind {
		case "label-test":
			return press.LabelTest(out, batch, style)
		case "packing-list":
			return press.PackingList(out, batch)
		case "thanks":
			return press.Thanks(out, batch, thanks)
		}
		return press.Labels(out, batch, style)
	})
}

// style is the maker's own with what was asked for.
func (c *labelsCommand) style(style pages.LabelStyle) (pages.LabelStyle, error) {
	if c.Sheet != "" {
		at := slices.IndexFunc(pages.LabelSheets, func(s pages.LabelSheet) bool {
			return strings.HasPrefix(strings.ToLower(s.Name), strings.ToLower(c.Sheet))
		})
		if at < 0 {
			names := make([]string, len(pages.LabelSheets))
			for i, s := range pages.LabelSheets {
				names[i] = s.Name
			}
			return style, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("No sheet of labels is called %q.", c.Sheet), Hint: "There are: " + strings.Join(names, "; ") + ". Others are described in the app."}
		}
		style.Sheet, style.First = pages.LabelSheets[at], 1
	}
	if c.First > 0 {
		style.First = c.First
	}
	return style, style.Check()
}

type moneyCommand struct {
	asked
	Out string `help:"A table (CSV) of every row to make, for the tax adviser; it is not written over." placeholder:"FILE" type:"path"`
}

func (c *moneyCommand) Run(h *house) error {
	return c.answer(h, func(st *store.Store, title sequence.Title, _ []sequence.Photo, _ sequence.Sequence) error {
		book, err := st.Cashbook(h.ctx, title.ID)
		if err != nil {
			return err
		}
		list, err := st.Orders(h.ctx, title.ID)
		if err != nil {
			return err
		}
		packed, err := st.Parcels(h.ctx, title.ID)
		if err != nil {
			return err
		}
		account, err := book.Book.Draw(list, packed)
		if err != nil {
			return err
		}
		if c.Out != "" {
			if err := intoFile(c.Out, account.WriteCSV); err != nil {
				return err
			}
			fmt.Fprintf(h.say, "%s is made.\n", c.Out)
		}
		if c.JSON {
			return printJSON(h, account)
		}
		return h.tellMoney(account, book.Book.In)
	})
}

func (h *house) tellMoney(a ledger.Account, in edition.Currency) error {
	table := tabwriter.NewWriter(h.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(table, "\tin\tout\tleft\t\n")
	for _, s := range append(slices.Clone(a.Kinds), ledger.Sum{Name: "all of it", In: a.Total.In, Out: a.Total.Out, Left: a.Total.Left}) {
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\t\n", s.Name, s.In.Number(), s.Out.Number(), s.Left.Number())
	}
	if err := table.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(h.out, "In %s; %d copies paid for.\n", in, a.Sold)
	for _, c := range a.Lacking {
		fmt.Fprintf(h.say, "Amounts in %s are in no sum: enter what it is worth in the app.\n", c)
	}
	return nil
}

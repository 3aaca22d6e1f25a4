package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"text/tabwriter"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
	"pairwall/store"
)

type ordersCommand struct {
	Read readOrdersCommand `cmd:"" help:"Read a table of orders (CSV); all rows that can be read are kept, or none."`
	List listOrdersCommand `cmd:"" help:"List a title's orders."`
}

type readOrdersCommand struct {
	asked
	File      string            `arg:"" help:"The table, as the shop exports it." type:"existingfile"`
	Channel   string            `help:"Where these were sold; the same orders are known by it and their number." placeholder:"NAME"`
	Currency  string            `help:"Of prices that do not say theirs." placeholder:"EUR"`
	Item      string            `help:"Only rows whose item holds these words." placeholder:"WORDS"`
	Columns   map[string]string `help:"What columns mean, as FIELD=COLUMN with the column's name or its number from 1; otherwise as remembered, or found." placeholder:"FIELD=COLUMN"`
	Encoding  orders.Encoding   `help:"Such as utf-8, utf-16le or windows-1252; otherwise found." placeholder:"NAME"`
	Separator string            `help:"What parts columns; otherwise found." placeholder:"SIGN"`
	Days      orders.DayOrder   `help:"dmy or mdy, for days like 3/4/2026; otherwise found." placeholder:"ORDER"`
	Strict    bool              `help:"Keep nothing when a row cannot be read."`
	Check     bool              `help:"Only tell what the table holds; nothing is kept."`
}

func (c *readOrdersCommand) Run(h *house) error {
	data, err := os.ReadFile(c.File)
	if err != nil {
		return &sequence.Error{Code: sequence.Unreadable, Message: c.File + " cannot be read.", Hint: "Look at its rights.", Err: err}
	}
	return c.answer(h, func(st *store.Store, title sequence.Title, _ []sequence.Photo, _ sequence.Sequence) error {
		known, err := st.Readings(h.ctx, title.ID)
		if err != nil {
			return err
		}
		table, err := c.read(data, known)
		if err != nil {
			return err
		}
		h.tellBad(table)
		if c.Strict && len(table.Bad) > 0 {
			return &sequence.Error{Code: sequence.Invalid, Message: "Nothing was kept.", Hint: "Put these rows right, or read without --strict."}
		}
		var took *store.TakenIn
		if !c.Check {
			now, err := st.TakeOrders(h.ctx, title.ID, filepath.Base(c.File), table)
			if err != nil {
				return err
			}
			took = &now
		}
		if c.JSON {
			return printJSON(h, readOrders{table, took})
		}
		h.tellTaken(table, took)
		return nil
	})
}

// readOrders is what the command prints as JSON.
type readOrders struct {
	Table orders.Table   `json:"table"`
	Took  *store.TakenIn `json:"took,omitempty"` // left out when nothing was to be kept
}

// read reads the table as a table like it was read before, and as was asked.
func (c *readOrdersCommand) read(data []byte, known orders.Readings) (orders.Table, error) {
	how := orders.Reading{Encoding: c.Encoding, Separator: c.Separator}
	table, err := orders.Read(data, how)
	if err != nil {
		return table, err
	}
	if before, ok := known[orders.Signature(table.Header)]; ok {
		how = before
		how.Encoding = c.Encoding
	}
	for _, said := range []struct{ is, into *string }{{&c.Channel, &how.Channel}, {&c.Item, &how.Item}, {&c.Separator, &how.Separator}, {(*string)(&c.Days), (*string)(&how.Days)}} {
		if *said.is != "" {
			*said.into = *said.is
		}
	}
	if c.Currency != "" {
		if how.Currency, err = edition.ParseCurrency(c.Currency); err != nil {
			return table, err
		}
	}
	if len(c.Columns) > 0 {
		if how.Columns == nil {
			how.Columns = table.Columns
		}
		for field, column := range c.Columns {
			at, err := columnNamed(table.Header, column)
			if err != nil {
				return table, err
			}
			for other, taken := range how.Columns {
				if taken == at {
					delete(how.Columns, other)
				}
			}
			how.Columns[orders.Field(field)] = at
		}
	}
	return orders.Read(data, how)
}

func columnNamed(header []string, name string) (int, error) {
	for i, word := range header {
		if strings.EqualFold(strings.TrimSpace(word), strings.TrimSpace(name)) {
			return i, nil
		}
	}
	if n, err := strconv.Atoi(name); err == nil && n >= 1 && n <= len(header) {
		return n - 1, nil
	}
	return 0, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("The table has no column %q.", name), Hint: "It has " + strings.Join(header, ", ") + "."}
}

func (h *house) tellBad(table orders.Table) {
	for _, bad := range table.Bad {
		number := ""
		if bad.Number != "" {
			number = ", order " + bad.Number
		}
		fmt.Fprintf(h.say, "Line %d%s: %s\n", bad.Line, number, bad.Why)
	}
}

func (h *house) tellTaken(table orders.Table, took *store.TakenIn) {
	sign := map[string]string{"\t": "tabs"}[table.Separator]
	if sign == "" {
		sign = table.Separator
	}
	fmt.Fprintf(h.out, "%d rows in %s, parted by %s: %d orders, %d rows that cannot be read, %d of other goods.\n",
		table.Rows, table.Encoding, sign, len(table.Orders), len(table.Bad), table.Other)
	if took == nil {
		return
	}
	fmt.Fprintf(h.out, "%d orders are new and kept, %d were known already.\n", took.List.Orders, len(took.Known))
	if took.Waiting > 0 {
		fmt.Fprintf(h.out, "%d copies are ordered beyond those there are; those orders wait.\n", took.Waiting)
	}
}

type listOrdersCommand struct {
	asked
	CSV bool `name:"csv" help:"Print as CSV."`
}

func (c *listOrdersCommand) Run(h *house) error {
	return c.answer(h, func(st *store.Store, title sequence.Title, _ []sequence.Photo, _ sequence.Sequence) error {
		list, err := st.Orders(h.ctx, title.ID)
		switch {
		case err != nil:
			return err
		case c.JSON:
			return printJSON(h, list)
		case c.CSV:
			return orders.WriteCSV(h.out, list)
		}
		table := tabwriter.NewWriter(h.out, 0, 4, 2, ' ', 0)
		for _, o := range list {
			name := o.To.Name
			if o.Erased {
				name = "(erased)"
			}
			fmt.Fprintf(table, "%s\t%s\t%s\t%d\t%s\t%s\t%s\n", o.Number, o.Channel, o.Day, o.Copies, name, o.To.Country, o.State)
		}
		return table.Flush()
	})
}

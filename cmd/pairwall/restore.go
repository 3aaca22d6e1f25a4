package main

import (
	"fmt"
	"text/tabwriter"

	"pairwall/store"
)

type restoreCommand struct {
	Backup string `arg:"" optional:"" help:"The backup to put in the data's place, by its name; without one the backups are listed."`
	JSON   bool   `name:"json" help:"List as JSON."`
}

func (c *restoreCommand) Run(h *house) error {
	if c.Backup == "" {
		return c.list(h)
	}
	replaced, err := store.Restore(h.ctx, h.data, c.Backup)
	if err != nil {
		return err
	}
	fmt.Fprintf(h.out, "%s is the data now.\n", c.Backup)
	if replaced != "" {
		fmt.Fprintf(h.out, "What it replaced is kept as %s.\n", replaced)
	}
	return nil
}

func (c *restoreCommand) list(h *house) error {
	backups, err := store.Backups(h.data)
	if err != nil {
		return err
	}
	if c.JSON {
		return printJSON(h, append([]store.Backup{}, backups...))
	}
	if len(backups) == 0 {
		fmt.Fprintf(h.say, "There are no backups in %s yet. One is taken on each day Pairwall is used.\n", h.data)
		return nil
	}
	table := tabwriter.NewWriter(h.out, 0, 4, 2, ' ', 0)
	for _, b := range backups {
		fmt.Fprintf(table, "%s\t%s\t%.1f MB\n", b.Name, b.At.Local().Format("Monday, 2 January 2006, 15:04"), float64(b.Bytes)/1e6)
	}
	return table.Flush()
}

package main

import (
	"fmt"
	"io"

	"pairwall/server/printing"
)

type checkCommand struct{ asked }

// Run tells what was found and does no more: whether it matters is the maker's.
func (c *checkCommand) Run(h *house) error {
	return c.atPress(h, func(press *printing.Press, matter printing.Matter) error {
		checked, err := press.Check(h.ctx, matter)
		if err != nil {
			return err
		}
		if c.JSON {
			return printJSON(h, checked)
		}
		tellChecked(h.out, checked)
		return nil
	})
}

func tellChecked(out io.Writer, checked printing.Checked) {
	fmt.Fprintf(out, "%d pages, %d photos on them.\n", checked.Pages, checked.Pictures)
	if checked.Inks == "" {
		fmt.Fprintln(out, "No printer's profile is known, so colours are judged by no inks.")
	} else {
		fmt.Fprintf(out, "Colours are judged by %s.\n", checked.Inks)
	}
	if len(checked.Found) == 0 {
		fmt.Fprintln(out, "Nothing was found that does not fit.")
	}
	for _, m := range checked.Found {
		fmt.Fprintf(out, "\n%s\n", m.Words)
		if m.Hint != "" {
			fmt.Fprintf(out, "  %s\n", m.Hint)
		}
	}
}

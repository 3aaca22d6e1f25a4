package main

import (
	"fmt"
	"io"
	"os"

	"pairwall/sequence"
	"pairwall/server/bringing"
	"pairwall/server/packing"
	"pairwall/store"
)

type packCommand struct {
	Title     string `required:"" help:"The title to pack." placeholder:"NAME"`
	Out       string `required:"" help:"The file to make; it is not written over." placeholder:"FILE" type:"path"`
	Places    bool   `help:"Pack positions, tracks, folder names, orders and prices too: for a machine of your own, not for others."`
	Originals bool   `help:"Pack the original files too; needs --places, since they hold their own."`
}

func (c *packCommand) Run(h *house) error {
	return asked{Title: c.Title}.answer(h, func(st *store.Store, title sequence.Title, _ []sequence.Photo, _ sequence.Sequence) error {
		return h.packing(st, "Packing", func(p packing.Packer, told func(done, of int)) error {
			return intoFile(c.Out, func(out io.Writer) error {
				made, err := p.Pack(h.ctx, out, title.ID, packing.Wish{Places: c.Places, Originals: c.Originals}, told)
				for _, name := range made.Missing {
					fmt.Fprintf(h.say, "\n%s could not be read and is not in the pack.", name)
				}
				return err
			})
		})
	})
}

type unpackCommand struct {
	File string `arg:"" help:"A packed title." type:"existingfile"`
}

func (c *unpackCommand) Run(h *house) error {
	st, err := h.open()
	if err != nil {
		return err
	}
	defer st.Close()
	file, err := os.Open(c.File)
	if err != nil {
		return &sequence.Error{Code: sequence.Unreadable, Message: c.File + " cannot be opened.", Hint: "Look at its rights.", Err: err}
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return err
	}
	var title sequence.Title
	err = h.packing(st, "Unpacking", func(p packing.Packer, told func(done, of int)) error {
		title, err = p.Unpack(h.ctx, file, info.Size(), told)
		return err
	})
	if err == nil {
		fmt.Fprintf(h.out, "%s is there now.\n", title.Name)
	}
	return err
}

// packing hands a packer on, with a line of progress.
func (h *house) packing(st *store.Store, what string, do func(packing.Packer, func(done, of int)) error) error {
	pool, err := h.pool(readers())
	if err != nil {
		return err
	}
	defer pool.Close()
	line := h.progressLine(what)
	defer line.end()
	return do(packing.Packer{Store: st, Cards: bringing.NewCards(h.ctx, pool, h.data), Data: h.data}, line.show)
}

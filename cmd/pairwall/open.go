package main

import (
	"fmt"
	"log/slog"

	"github.com/pkg/browser"

	"pairwall/server"
)

type openCommand struct{}

func (openCommand) Run(h *house) error { return h.serve() }

// serve opens the app and stays until the maker stops it.
func (h *house) serve() error {
	st, err := h.open()
	if err != nil {
		return err
	}
	defer st.Close()
	pool, err := h.pool(readersBeside())
	if err != nil {
		return err
	}
	defer pool.Close()
	listener, err := server.Listen(h.listen)
	if err != nil {
		return err
	}
	app := server.New(server.Config{Store: st, Pool: pool, Data: h.data, Version: version,
		Log: slog.New(slog.NewTextHandler(h.say, nil))})
	address := "http://" + listener.Addr().String() + "/"
	fmt.Fprintf(h.out, "Pairwall is open at %s\nIt listens to this machine only. Ctrl-C closes it; everything is kept.\n", address)
	if h.browse {
		if err := browser.OpenURL(address); err != nil {
			fmt.Fprintln(h.say, "The browser did not open by itself; open the address above.")
		}
	}
	return app.Serve(h.ctx, listener)
}

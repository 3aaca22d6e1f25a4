package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"time"

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
	if err := errors.Join(st.BreakOffBrings(h.ctx), st.CloseSittings(h.ctx)); err != nil {
		return err
	}
	pool, err := h.pool()
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
	return h.listenUntilStopped(listener, app)
}

// listenUntilStopped serves until the context ends, then gives open requests a
// moment: the event streams end when the app closes.
func (h *house) listenUntilStopped(listener net.Listener, app *server.Server) error {
	web := &http.Server{Handler: app.Handler(), ReadHeaderTimeout: 10 * time.Second}
	failed := make(chan error, 1)
	go func() { failed <- web.Serve(listener) }()
	select {
	case err := <-failed:
		return errors.Join(err, app.Close())
	case <-h.ctx.Done():
	}
	closing := app.Close()
	grace, cancel := context.WithTimeout(context.Background(), 5*time.Second)
	defer cancel()
	return errors.Join(closing, web.Shutdown(grace))
}

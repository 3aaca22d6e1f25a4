package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"pairwall/cmd/pairwall/demo"
)

// demoTitle is the one title of the demo's own data folder.
const demoTitle = "Round the Adriatic"

type demoCommand struct{}

// Run draws what is missing, brings in what is new and hangs the wall if
// nobody has touched it: running the demo again goes on where one left it.
func (demoCommand) Run(h *house) error {
	if h.data == defaultData() { // the maker's own titles stay their own
		h.data = filepath.Join(h.data, "demo")
	}
	if err := h.prepareDemo(); err != nil {
		return err
	}
	return h.serve()
}

func (h *house) prepareDemo() error {
	st, err := h.open()
	if err != nil {
		return err
	}
	defer st.Close()
	pictures := h.data + "-pictures" // beside the data: what lies inside belongs to the program and is not brought in
	if err := h.drawDemo(pictures); err != nil {
		return err
	}
	title, err := titleOrNew(h, st, demoTitle)
	if err != nil {
		return err
	}
	summary, err := h.bring(st, title.ID, []string{pictures})
	if err != nil {
		return err
	}
	h.tell(title, summary)
	return h.hangDemo(st, title.ID)
}

func (h *house) drawDemo(dir string) error {
	line := h.progressLine("Drawing the demo's invented pictures")
	defer line.end()
	err := demo.Draw(h.ctx, dir, func(done, total int, _ string) {
		line.show(done, total)
	})
	if err != nil {
		return fmt.Errorf("drawing the demo's pictures: %w", err)
	}
	return nil
}

// stem is a picture's name in the story: its file's name without the ending.
func stem(file string) string {
	return strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
}

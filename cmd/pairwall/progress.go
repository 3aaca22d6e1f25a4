package main

import (
	"fmt"
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// progressLine tells of long work on the side channel, so that standard output
// stays clean for what was asked for. On a terminal it is one line redrawn; in
// a file or a pipe a plain line now and then.
type progressLine struct {
	words string
	say   io.Writer
	bar   *progressbar.ProgressBar // nil when say is no terminal
	told  time.Time
}

const tellEvery = 5 * time.Second

func (h *house) progressLine(words string) *progressLine {
	line := &progressLine{words: words, say: h.say}
	if file, ok := h.say.(*os.File); ok && term.IsTerminal(int(file.Fd())) {
		line.bar = progressbar.NewOptions(1, progressbar.OptionSetWriter(h.say), progressbar.OptionSetDescription(words),
			progressbar.OptionShowCount(), progressbar.OptionSetWidth(30), progressbar.OptionClearOnFinish())
	}
	return line
}

func (p *progressLine) show(done, total int) {
	if p.bar != nil {
		p.bar.ChangeMax(total)
		_ = p.bar.Set(done) // a line that cannot be drawn must not stop the work
		return
	}
	if now := time.Now(); now.Sub(p.told) >= tellEvery {
		fmt.Fprintf(p.say, "%s: %d of %d\n", p.words, done, total)
		p.told = now
	}
}

func (p *progressLine) end() {
	if p.bar != nil {
		_ = p.bar.Clear()
	}
}

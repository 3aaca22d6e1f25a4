package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"slices"

	"pairwall/sequence"
	"pairwall/server/bringing"
	"pairwall/store"
)

type bringCommand struct {
	Folders []string `arg:"" name:"dir" help:"Folders or files to bring in." type:"path"`
	Title   string   `required:"" help:"The title to bring them into; made when it is not there." placeholder:"NAME"`
	JSON    bool     `name:"json" help:"Print the summary as JSON."`
}

func (c *bringCommand) Run(h *house) error {
	st, err := h.open()
	if err != nil {
		return err
	}
	defer st.Close()
	title, err := titleOrNew(h, st, c.Title)
	if err != nil {
		return err
	}
	summary, bringErr := h.bring(st, title.ID, c.Folders)
	if summary.Bring.ID == 0 { // it never began
		return bringErr
	}
	if c.JSON {
		return errors.Join(bringErr, printJSON(h, summary))
	}
	h.tell(title, summary)
	return bringErr
}

func titleOrNew(h *house, st *store.Store, name string) (sequence.Title, error) {
	title, err := st.TitleNamed(h.ctx, name)
	if sequence.CodeOf(err) == sequence.NotFound {
		return st.CreateTitle(h.ctx, name)
	}
	return title, err
}

// bring reads the folders into the title with a progress line.
func (h *house) bring(st *store.Store, title sequence.TitleID, folders []string) (bringing.Summary, error) {
	for i, folder := range folders {
		absolute, err := filepath.Abs(folder)
		if err != nil {
			return bringing.Summary{}, err
		}
		folders[i] = absolute
	}
	pool, err := h.pool(readers())
	if err != nil {
		return bringing.Summary{}, err
	}
	defer pool.Close()
	job, err := st.StartBring(h.ctx, title, folders)
	if err != nil {
		return bringing.Summary{}, err
	}
	line := h.progressLine("Bringing in")
	defer line.end()
	return bringing.Run(h.ctx, st, pool, h.data, job, func(p bringing.Progress, _ *sequence.Photo) {
		line.show(p.Done, p.Found)
	})
}

func (h *house) tell(title sequence.Title, s bringing.Summary) {
	fmt.Fprintf(h.out, "%s: %d photographs came in, %d were there already, %d could not be read. %.1f s.\n",
		title.Name, s.Bring.Read, s.Bring.Known, s.Bring.Refused, s.Seconds)
	if len(s.Refused) == 0 {
		return
	}
	byReason := make(map[string][]store.Refusal)
	for _, r := range s.Refused {
		byReason[r.Words] = append(byReason[r.Words], r)
	}
	reasons := make([]string, 0, len(byReason))
	for reason := range byReason {
		reasons = append(reasons, reason)
	}
	slices.Sort(reasons)
	fmt.Fprintln(h.out, "Not brought in, and why:")
	for _, reason := range reasons {
		fmt.Fprintf(h.out, "  %s %s\n", reason, byReason[reason][0].Hint)
		for _, r := range byReason[reason] {
			fmt.Fprintf(h.out, "    %s\n", r.Path)
		}
	}
}

func printJSON(h *house, value any) error {
	encoder := json.NewEncoder(h.out)
	encoder.SetIndent("", "  ")
	return encoder.Encode(value)
}

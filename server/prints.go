package server

import (
	"fmt"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/server/printing"
	"pairwall/server/route"
)

// printPlan is what small prints will look like before any is made.
type printPlan struct {
	Prints      int                `json:"prints"`
	Sheets      []pages.PrintSheet `json:"sheets"`
	Unprintable string             `json:"unprintable,omitempty"` // characters of captions that the typeface lacks
}

func printQuery() []route.Parameter {
	return []route.Parameter{
		{Name: "of", Kind: "string", Doc: "Which photos: wall (when left out), table, all or chosen."},
		{Name: "photos", Kind: "string", Doc: "With chosen: their numbers, with commas between."},
		{Name: "sheet", Kind: "string", Doc: "A4 (when left out), A3 or Letter."},
		{Name: "long", Kind: "number", Doc: "The longer side of a small print in millimetres; 70 when left out."},
		{Name: "caption", Kind: "integer", Doc: "0: without captions; 1 when left out."},
		{Name: "palette", Kind: "integer", Doc: "1: with a strip of the photo's colours; 0 when left out."},
		{Name: "backs", Kind: "integer", Doc: "1: with the numbers on the back as well; 0 when left out."},
	}
}

func readOrder(asked url.Values) (printing.Order, error) {
	order := printing.Order{Which: printing.Which(asked.Get("of")), Style: pages.FirstPrintStyle}
	if asked.Has("sheet") {
		sheet, err := pages.SheetNamed(asked.Get("sheet"))
		if err != nil {
			return order, err
		}
		order.Style.Sheet = sheet
	}
	if asked.Has("long") {
		long, _ := strconv.ParseFloat(asked.Get("long"), 64) // the route has looked that it is a number
		order.Style.Long = pages.Length(long)
	}
	for name, on := range map[string]*bool{"caption": &order.Style.Caption, "palette": &order.Style.Palette, "backs": &order.Style.Backs} {
		if !asked.Has(name) {
			continue
		}
		var err error
		if *on, err = flagged(asked, name); err != nil {
			return order, err
		}
	}
	for _, number := range strings.FieldsFunc(asked.Get("photos"), func(r rune) bool { return r == ',' }) {
		id, err := strconv.Atoi(number)
		if err != nil {
			return order, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("%q is no photo's number.", number)}
		}
		order.Photos = append(order.Photos, sequence.PhotoID(id))
	}
	return order, nil
}

// matter gathers a title as it is now.
func (s *Server) matter(r *http.Request) (printing.Matter, error) {
	title, err := s.title(r)
	if err != nil {
		return printing.Matter{}, err
	}
	return printing.Gather(r.Context(), s.store, title.ID)
}

// planPrints lays small prints out.
func (s *Server) planPrints(r *http.Request) (plan printPlan, err error) {
	order, err := readOrder(r.URL.Query())
	if err != nil {
		return plan, err
	}
	m, err := s.matter(r)
	if err != nil {
		return plan, err
	}
	plan.Sheets, plan.Unprintable, err = s.press.Lay(m, order)
	for _, sheet := range plan.Sheets {
		plan.Prints += len(sheet.Prints)
	}
	return plan, err
}

// printed sends a PDF.
func (s *Server) printed(w http.ResponseWriter, r *http.Request) error {
	order, err := readOrder(r.URL.Query())
	if err != nil {
		return err
	}
	order.Kind = printing.Kind(chi.URLParam(r, "kind"))
	m, err := s.matter(r)
	if err != nil {
		return err
	}
	return s.sendMade(w, r, "application/pdf", fileName(m.Title.Name, string(order.Kind), "pdf"), func(out io.Writer) error {
		return s.press.Write(r.Context(), out, m, order, nil)
	})
}

// fileName is a title's name as every file system takes it.
func fileName(title, kind, ending string) string {
	safe := strings.Map(func(r rune) rune {
		if r < ' ' || strings.ContainsRune(`/\:*?"<>|`, r) {
			return '-'
		}
		return r
	}, title)
	return strings.Trim(safe, " .") + ", " + kind + "." + ending
}

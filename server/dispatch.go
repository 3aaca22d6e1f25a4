package server

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"strconv"
	"strings"

	"github.com/go-chi/chi/v5"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/dispatch"
	"pairwall/sequence/pages"
	"pairwall/server/printing"
	"pairwall/server/route"
)

// tableShown is the packing table as it lies now.
type tableShown struct {
	dispatch.Table
	Undo  string   `json:"undo"`  // number of the order that taking back would be about; "" when there is nothing
	Lacks []string `json:"lacks"` // what must be entered before parcels can be made, as sentences
}

func (s *Server) showTable(r *http.Request) (shown tableShown, err error) {
	c, err := s.counter(r)
	if err != nil {
		return shown, err
	}
	last, err := s.store.LastParcelOrder(r.Context(), c.title.ID)
	if err != nil {
		return shown, err
	}
	shown = tableShown{Table: c.Table(), Lacks: c.lacks()}
	for _, o := range c.List {
		if o.ID == last {
			shown.Undo = o.Number
		}
	}
	return shown, nil
}

// parcelSaid is a parcel on the packing table.
type parcelSaid struct {
	Order    int64             `json:"order"`
	Copies   []edition.CopyRef `json:"copies"`
	Mass     string            `json:"mass"` // as typed, in grams when it says no unit; "" when it was not weighed
	Tracking string            `json:"tracking"`
}

// onTable finds the parcel that is meant among those still to be packed.
func (s *Server) onTable(r *http.Request, in parcelSaid) (room dispatch.Room, p dispatch.ToPack, mass edition.Mass, err error) {
	c, err := s.counter(r)
	if err != nil {
		return room, p, 0, err
	}
	if mass, err = weighed(in.Mass); err != nil {
		return room, p, mass, err
	}
	for _, p := range c.Table().Waiting {
		if p.Order == in.Order && sameCopies(p.Copies, in.Copies) {
			return c.Room(), p, mass, nil
		}
	}
	return room, p, mass, &sequence.Error{Code: sequence.Conflict, Message: "This parcel no longer lies on the table as you see it.", Hint: "It was packed or changed in another window. Look at the table as it is now."}
}

func sameCopies(a, b []edition.CopyRef) bool {
	a, b = dispatch.Packed{Copies: a}.Tidied().Copies, dispatch.Packed{Copies: b}.Tidied().Copies
	return fmt.Sprint(a) == fmt.Sprint(b)
}

// weighed reads what was typed as a weight; nothing is 0.
func weighed(typed string) (edition.Mass, error) {
	if strings.TrimSpace(typed) == "" {
		return 0, nil
	}
	return edition.ParseMass(typed)
}

// weighParcel tells what a scale's figure means; nothing is kept.
func (s *Server) weighParcel(r *http.Request, in parcelSaid) (dispatch.Weighed, error) {
	room, p, mass, err := s.onTable(r, in)
	if err != nil {
		return dispatch.Weighed{}, err
	}
	return room.Weigh(p, mass), nil
}

// packParcel keeps a parcel that was packed. It goes as the scale says; one that
// was not weighed as was reckoned.
func (s *Server) packParcel(r *http.Request, in parcelSaid) (shown tableShown, err error) {
	room, p, mass, err := s.onTable(r, in)
	if err != nil {
		return shown, err
	}
	packed := dispatch.Packed{Order: p.Order, Copies: p.Copies, Mass: mass, Tracking: in.Tracking}
	if p.Posted != nil {
		choice := &p.Posted.Choice
		if mass > 0 {
			choice = room.Weigh(p, mass).Choice
		}
		if choice != nil {
			packed.Service, packed.Postage = choice.Service, choice.Price
		}
	}
	err = s.copiesChange(r, func(ctx context.Context, title sequence.TitleID) error {
		_, err := s.store.PackParcel(ctx, title, packed)
		return err
	})
	if err != nil {
		return shown, err
	}
	return s.showTable(r)
}

// parcelChanged is what can be put right of a packed parcel.
type parcelChanged struct {
	Mass     string        `json:"mass"`
	Service  string        `json:"service"`
	Postage  edition.Money `json:"postage"`
	Tracking string        `json:"tracking"`
}

func (s *Server) changeParcel(r *http.Request, in parcelChanged) (shown tableShown, err error) {
	id, err := route.Number(r, "parcel")
	if err != nil {
		return shown, err
	}
	mass, err := weighed(in.Mass)
	if err != nil {
		return shown, err
	}
	err = s.copiesChange(r, func(ctx context.Context, title sequence.TitleID) error {
		return s.store.ChangeParcel(ctx, title, dispatch.Packed{ID: id, Mass: mass, Service: strings.TrimSpace(in.Service), Postage: in.Postage, Tracking: in.Tracking})
	})
	if err != nil {
		return shown, err
	}
	return s.showTable(r)
}

func (s *Server) unpackParcel(r *http.Request) (shown tableShown, err error) {
	id, err := route.Number(r, "parcel")
	if err != nil {
		return shown, err
	}
	if err := s.copiesChange(r, func(ctx context.Context, title sequence.TitleID) error { return s.store.UnpackParcel(ctx, title, id) }); err != nil {
		return shown, err
	}
	return s.showTable(r)
}

func (s *Server) undoParcel(r *http.Request) (shown tableShown, err error) {
	err = s.copiesChange(r, func(ctx context.Context, title sequence.TitleID) error {
		_, err := s.store.UndoParcel(ctx, title)
		return err
	})
	if err != nil {
		return shown, err
	}
	return s.showTable(r)
}

// labelPlan is what labels will be made of before any is.
type labelPlan struct {
	Labels  int                  `json:"labels"`
	Sheets  int                  `json:"sheets"`
	Next    int                  `json:"next"` // the first label that is left afterwards, from 1
	ByHand  []printing.HandLabel `json:"byHand"`
	Customs int                  `json:"customs"` // parcels that need a declaration
	Doubt   string               `json:"doubt"`   // about the sheet's measures
	Presets []pages.LabelSheet   `json:"presets"`
}

func batchQuery() []route.Parameter {
	return []route.Parameter{{Name: "orders", Kind: "string", Doc: "Only for these orders, by their ids with commas between, whether packed or not; otherwise for all that is still to be packed."}}
}

// batch gathers the parcels something is to be printed for.
func (s *Server) batch(r *http.Request) (c counter, b printing.Batch, err error) {
	if c, err = s.counter(r); err != nil {
		return c, b, err
	}
	b = printing.Batch{Title: c.title.Name, Made: s.store.Now(), Sender: c.Post.Sender}
	asked := r.URL.Query()
	if !asked.Has("orders") {
		b.Parcels = c.Table().Waiting
		return c, b, nil
	}
	var ids []int64
	for _, word := range strings.FieldsFunc(asked.Get("orders"), func(r rune) bool { return r == ',' }) {
		id, err := strconv.ParseInt(word, 10, 64)
		if err != nil {
			return c, b, &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("%q is no order's id.", word)}
		}
		ids = append(ids, id)
	}
	b.Parcels, err = c.Only(ids)
	return c, b, err
}

func (s *Server) planLabels(r *http.Request) (plan labelPlan, err error) {
	c, b, err := s.batch(r)
	if err != nil {
		return plan, err
	}
	style := c.Post.Labels
	labels, _ := b.Labelled(style)
	plan = labelPlan{Labels: len(labels), Doubt: style.Sheet.Doubt(), Presets: pages.LabelSheets}
	plan.Sheets = (style.First - 1 + len(labels) + style.Sheet.Count() - 1) / style.Sheet.Count()
	plan.Next = (style.First-1+len(labels))%style.Sheet.Count() + 1
	if plan.ByHand, err = s.press.ByHand(b, style); err != nil {
		return plan, err
	}
	declared, err := c.declared(b, s)
	plan.Customs = len(declared)
	return plan, err
}

// declared are the declarations of the parcels that need one.
func (c counter) declared(b printing.Batch, s *Server) ([]printing.Declared, error) {
	var all []printing.Declared
	for _, p := range b.Parcels {
		if p.Part > 1 || p.InPerson() { // the order's parcels come together
			continue
		}
		for _, o := range c.List {
			if o.ID != p.Order {
				continue
			}
			list, err := c.declare(o, s)
			if err != nil {
				return nil, err
			}
			for _, d := range list.Declarations {
				if d.Need.Needed {
					all = append(all, printing.Declared{Number: p.Number, To: p.Label, Declaration: d})
				}
			}
		}
	}
	return all, nil
}

// sendParcelPrint makes a PDF for parcels.
func (s *Server) sendParcelPrint(w http.ResponseWriter, r *http.Request) error {
	c, b, err := s.batch(r)
	if err != nil {
		return err
	}
	prints := map[string]func(io.Writer) error{
		"labels":       func(out io.Writer) error { return s.press.Labels(out, b, c.Post.Labels) },
		"label-test":   func(out io.Writer) error { return s.press.LabelTest(out, b, c.Post.Labels) },
		"packing-list": func(out io.Writer) error { return s.press.PackingList(out, b) },
		"thanks":       func(out io.Writer) error { return s.press.Thanks(out, b, c.Post.Thanks) },
		"customs": func(out io.Writer) error {
			list, err := c.declared(b, s)
			if err != nil {
				return err
			}
			if len(list) == 0 {
				return &sequence.Error{Code: sequence.Invalid, Message: "No parcel needs a declaration.", Hint: "Within a customs union none is asked for; your post office knows."}
			}
			return s.press.Customs(out, b, list)
		},
	}
	kind := chi.URLParam(r, "kind")
	print, ok := prints[kind]
	if !ok {
		return route.NoSuch("print for parcels")
	}
	if len(b.Parcels) == 0 && kind != "label-test" {
		return &sequence.Error{Code: sequence.Invalid, Message: "No parcel is waiting to be packed.", Hint: "Enter orders, or name those to print again."}
	}
	return s.sendMade(w, r, "application/pdf", fileName(b.Title, kind, "pdf"), print)
}

package server

import (
	"context"
	"encoding/json"
	"io"
	"mime/multipart"
	"net/http"

	"github.com/go-chi/chi/v5"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
	"pairwall/server/bringing"
	"pairwall/server/route"
	"pairwall/store"
)

// orderShown is an order with its address as a label has it.
type orderShown struct {
	Order  orders.Order   `json:"order"`
	Marks  []string       `json:"marks"`  // of its copies: "7/100"
	Label  []string       `json:"label"`  // the lines, the first first
	Doubts []orders.Doubt `json:"doubts"` // about the address
}

type ordersShown struct {
	Orders []orderShown      `json:"orders"`
	Lists  []store.OrderList `json:"lists"` // tables they were read from, newest first
}

// orderSaid is an order as it is entered or changed.
type orderSaid struct {
	Order  orders.Order       `json:"order"`
	Copies *[]edition.CopyRef `json:"copies,omitempty"` // exactly those it shall have; left out, the first free ones
	Wait   bool               `json:"wait"`             // it may wait when too few copies are left
}

func (in orderSaid) wanted() []edition.CopyRef {
	if in.Copies == nil {
		return nil
	}
	return append([]edition.CopyRef{}, *in.Copies...) // none is not the same as nothing said
}

func (s *Server) listOrders(r *http.Request) (shown ordersShown, err error) {
	title, err := s.title(r)
	if err != nil {
		return shown, err
	}
	list, err := s.store.Orders(r.Context(), title.ID)
	if err != nil {
		return shown, err
	}
	if shown.Lists, err = s.store.OrderLists(r.Context(), title.ID); err != nil {
		return shown, err
	}
	shown.Orders, err = s.showOrders(r.Context(), title.ID, list)
	return shown, err
}

func (s *Server) showOrders(ctx context.Context, title sequence.TitleID, list []orders.Order) ([]orderShown, error) {
	state, err := s.store.Edition(ctx, title)
	if err != nil {
		return nil, err
	}
	post, err := s.store.Post(ctx, title)
	if err != nil {
		return nil, err
	}
	all := make([]orderShown, len(list))
	for i, o := range list {
		all[i] = orderShown{o, []string{}, o.To.Label(post.Post.Sender.Country), o.To.Doubts(post.Post.Sender.Country)}
		for _, ref := range o.Allotted {
			all[i].Marks = append(all[i].Marks, state.Edition.Mark(ref))
		}
	}
	return all, nil
}

func (s *Server) enterOrder(r *http.Request, in orderSaid) (orderShown, error) {
	return s.keepOrder(r, func(ctx context.Context, title sequence.TitleID) (orders.Order, error) {
		return s.store.EnterOrder(ctx, title, in.Order, in.wanted(), in.Wait)
	})
}

func (s *Server) changeOrder(r *http.Request, in orderSaid) (orderShown, error) {
	id, err := route.Number(r, "order")
	if err != nil {
		return orderShown{}, err
	}
	in.Order.ID = id
	return s.keepOrder(r, func(ctx context.Context, title sequence.TitleID) (orders.Order, error) {
		return s.store.ChangeOrder(ctx, title, in.Order, in.wanted(), in.Wait)
	})
}

func (s *Server) keepOrder(r *http.Request, keep func(context.Context, sequence.TitleID) (orders.Order, error)) (shown orderShown, err error) {
	err = s.copiesChange(r, func(ctx context.Context, title sequence.TitleID) error {
		kept, err := keep(ctx, title)
		if err != nil {
			return err
		}
		all, err := s.showOrders(ctx, title, []orders.Order{kept})
		if err == nil {
			shown = all[0]
		}
		return err
	})
	return shown, err
}

// orderTable is what a table of orders holds, and what became of it.
type orderTable struct {
	Table     orders.Table      `json:"table"`
	Known     []string          `json:"known"`   // numbers of orders that were kept before
	Matched   bool              `json:"matched"` // a table like it was read before, and is read the same way
	Took      *store.TakenIn    `json:"took,omitempty"`
	Encodings []orders.Encoding `json:"encodings"` // that can be chosen
	Fields    []orders.Field    `json:"fields"`    // that columns can be matched with
}

// readOrders reads a table of orders and, when it is to be taken, keeps them.
func (s *Server) readOrders(r *http.Request) (shown orderTable, err error) {
	title, err := s.title(r)
	if err != nil {
		return shown, err
	}
	take, err := flagged(r.URL.Query(), "take")
	if err != nil {
		return shown, err
	}
	how, err := readingAsked(r.URL.Query().Get("reading"))
	if err != nil {
		return shown, err
	}
	name, data, err := s.oneFile(r, orders.MostBytes)
	if err != nil {
		return shown, err
	}
	if shown, err = s.understood(r.Context(), title.ID, data, how); err != nil || !take {
		return shown, err
	}
	err = s.copiesChange(r, func(ctx context.Context, title sequence.TitleID) error {
		took, err := s.store.TakeOrders(ctx, title, name, shown.Table)
		shown.Took = &took
		return err
	})
	return shown, err
}

func readingAsked(text string) (how *orders.Reading, err error) {
	if text == "" {
		return nil, nil
	}
	how = &orders.Reading{}
	if err := json.Unmarshal([]byte(text), how); err != nil {
		return nil, &sequence.Error{Code: sequence.Invalid, Message: "We cannot read how the table is to be read.", Hint: "Reload the page; it may be older than the program.", Err: err}
	}
	return how, nil
}

// understood reads a table as asked or, when nothing was asked, as a table like it
// was read before.
func (s *Server) understood(ctx context.Context, title sequence.TitleID, data []byte, how *orders.Reading) (shown orderTable, err error) {
	shown = orderTable{Known: []string{}, Encodings: orders.Encodings(), Fields: orders.Fields()}
	if how != nil {
		shown.Table, err = orders.Read(data, *how)
	} else {
		var known orders.Readings
		if known, err = s.store.Readings(ctx, title); err == nil {
			shown.Table, shown.Matched, err = known.Read(data)
		}
	}
	if err != nil {
		return shown, err
	}
	kept, err := s.store.Orders(ctx, title)
	if err != nil {
		return shown, err
	}
	numbers := map[[2]string]bool{}
	for _, o := range kept {
		numbers[[2]string{o.Channel, o.Number}] = true
	}
	for _, o := range shown.Table.Orders {
		if numbers[[2]string{o.Channel, o.Number}] {
			shown.Known = append(shown.Known, o.Number)
		}
	}
	return shown, nil
}

// oneFile reads the one file of an upload.
func (s *Server) oneFile(r *http.Request, most int) (name string, data []byte, err error) {
	parts, err := uploaded(r)
	if err != nil {
		return "", nil, err
	}
	err = eachFile(r.Context(), parts, func(part *multipart.Part) error {
		if data != nil {
			return &sequence.Error{Code: sequence.Invalid, Message: "One table at a time, please."}
		}
		name = part.FileName()
		if data, err = io.ReadAll(io.LimitReader(part, int64(most)+1)); err != nil {
			return bringing.BrokenUpload(r.Context(), err)
		}
		if len(data) > most {
			return &sequence.Error{Code: sequence.TooLarge, Message: "The table is larger than we take.", Hint: "Split it."}
		}
		return nil
	})
	if err == nil && data == nil {
		err = &sequence.Error{Code: sequence.Invalid, Message: "No table was sent."}
	}
	return name, data, err
}

func (s *Server) takeBackOrders(r *http.Request) (ordersShown, error) {
	id, err := route.Number(r, "list")
	if err != nil {
		return ordersShown{}, err
	}
	err = s.copiesChange(r, func(ctx context.Context, title sequence.TitleID) error { return s.store.TakeBack(ctx, title, id) })
	if err != nil {
		return ordersShown{}, err
	}
	return s.listOrders(r)
}

func (s *Server) showPerson(r *http.Request) (store.PersonOrders, error) {
	title, err := s.title(r)
	if err != nil {
		return store.PersonOrders{}, err
	}
	id, err := route.Number(r, "order")
	if err != nil {
		return store.PersonOrders{}, err
	}
	return s.store.Person(r.Context(), title.ID, id)
}

type erasing struct {
	Days int `json:"days"` // backups younger than this are left as they are; 0 spares none
}

func (s *Server) erasePerson(r *http.Request, in erasing) (done store.Erased, err error) {
	id, err := route.Number(r, "order")
	if err != nil {
		return done, err
	}
	if in.Days < 0 || in.Days > 3650 {
		return done, &sequence.Error{Code: sequence.Invalid, Message: "Say for how many days backups are spared: 0 to 3650."}
	}
	err = s.copiesChange(r, func(ctx context.Context, title sequence.TitleID) error {
		done, err = s.store.ErasePerson(ctx, title, id, in.Days)
		return err
	})
	return done, err
}

// sendOrders sends the orders as a table or as JSON.
func (s *Server) sendOrders(w http.ResponseWriter, r *http.Request) error {
	title, err := s.title(r)
	if err != nil {
		return err
	}
	list, err := s.store.Orders(r.Context(), title.ID)
	if err != nil {
		return err
	}
	switch chi.URLParam(r, "form") {
	case "csv":
		return s.sendMade(w, r, "text/csv; charset=utf-8", fileName(title.Name, "orders", "csv"), func(out io.Writer) error { return orders.WriteCSV(out, list) })
	case "json":
		return s.sendMade(w, r, "application/json", fileName(title.Name, "orders", "json"), func(out io.Writer) error {
			text := json.NewEncoder(out)
			text.SetIndent("", "  ")
			return text.Encode(list)
		})
	}
	return route.NoSuch("form of the orders")
}

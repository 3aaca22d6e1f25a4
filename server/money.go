package server

import (
	"context"
	"encoding/json"
	"io"
	"net/http"

	"github.com/go-chi/chi/v5"

	"pairwall/sequence"
	"pairwall/sequence/edition/ledger"
	"pairwall/server/route"
	"pairwall/store"
)

// moneyShown is the book and what it comes to.
type moneyShown struct {
	store.CashbookState
	Account ledger.Account `json:"account"`
}

type cashbookSaid struct {
	Revision int             `json:"revision"` // of the book the maker sees
	Book     ledger.Cashbook `json:"book"`
}

func (s *Server) showMoney(r *http.Request) (shown moneyShown, err error) {
	title, err := s.title(r)
	if err != nil {
		return shown, err
	}
	if shown.CashbookState, err = s.store.Cashbook(r.Context(), title.ID); err != nil {
		return shown, err
	}
	list, err := s.store.Orders(r.Context(), title.ID)
	if err != nil {
		return shown, err
	}
	packed, err := s.store.Parcels(r.Context(), title.ID)
	if err != nil {
		return shown, err
	}
	shown.Account, err = shown.Book.Draw(list, packed)
	return shown, err
}

func (s *Server) saveBook(r *http.Request, in cashbookSaid) (shown moneyShown, err error) {
	err = s.copiesChange(r, func(ctx context.Context, title sequence.TitleID) error {
		return s.store.SetCashbook(ctx, title, in.Revision, in.Book)
	})
	if err != nil {
		return shown, err
	}
	return s.showMoney(r)
}

// sendMoney sends every row as a table, or all of it as JSON.
func (s *Server) sendMoney(w http.ResponseWriter, r *http.Request) error {
	title, err := s.title(r)
	if err != nil {
		return err
	}
	shown, err := s.showMoney(r)
	if err != nil {
		return err
	}
	switch chi.URLParam(r, "form") {
	case "csv":
		return s.sendMade(w, r, "text/csv; charset=utf-8", fileName(title.Name, "money", "csv"), shown.Account.WriteCSV)
	case "json":
		return s.sendMade(w, r, "application/json", fileName(title.Name, "money", "json"), func(out io.Writer) error {
			text := json.NewEncoder(out)
			text.SetIndent("", "  ")
			return text.Encode(shown)
		})
	}
	return route.NoSuch("form of the money")
}

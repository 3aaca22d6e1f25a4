package server

import (
	"context"
	"io"
	"net/http"
	"slices"
	"strconv"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/quotes"
	"pairwall/sequence/proof"
	"pairwall/server/printing"
	"pairwall/server/route"
	"pairwall/store"
)

// inquiryShown is everything a title has with printers, worked out. An act is
// the one that made an entry what it is; whoever changes the entry sends it back.
type inquiryShown struct {
	Today         quotes.Day         `json:"today"`
	Specification specificationShown `json:"specification"`
	Terms         termsShown         `json:"terms"`
	Printers      []printerShown     `json:"printers"`
	Quotes        []quoteShown       `json:"quotes"`
	Comparison    quotes.SideBySide  `json:"comparison"`
	Price         priceShown         `json:"price"`
	TakenOut      []store.TakenOut   `json:"takenOut"`
	Undo          *store.InquiryAct  `json:"undo,omitempty"`
	Redo          *store.InquiryAct  `json:"redo,omitempty"`
	Currencies    []currencyShown    `json:"currencies"`
}

type specificationShown struct {
	Act          int64                      `json:"act"`
	Is           quotes.Wishes              `json:"is"`
	Lines        []quotes.SpecificationLine `json:"lines"`
	Missing      []string                   `json:"missing"`
	Doubts       []string                   `json:"doubts"`
	Letter       string                     `json:"letter"` // to no printer in particular
	FirstWording string                     `json:"firstWording"`
	Placeholders []string                   `json:"placeholders"` // what may stand in braces in a wording
	Unprintable  string                     `json:"unprintable"`  // characters that the typeface of the PDF lacks
	Sure         []sureOf                   `json:"sure"`         // of each quantity, when as many are missing as the maker accepts
}

// sureOf is how many to order to be sure of so many good copies.
type sureOf struct {
	Good  int `json:"good"`
	Order int `json:"order"`
}

type termsShown struct {
	Act int64        `json:"act"`
	Is  quotes.Terms `json:"is"`
}

type printerShown struct {
	Number int            `json:"number"`
	Act    int64          `json:"act"`
	Is     quotes.Printer `json:"is"`
	Letter string         `json:"letter"`
	Moved  bool           `json:"moved"`  // what is asked for now is not what this printer was asked for last
	Proofs []proofFrom    `json:"proofs"` // rounds of proofs that bear its name, the earliest first
}

// proofFrom is what became of a round of proofs.
type proofFrom struct {
	Round   int           `json:"round"`
	Date    string        `json:"date"` // the day it came
	Verdict proof.Verdict `json:"verdict"`
}

type quoteShown struct {
	Number int          `json:"number"`
	Act    int64        `json:"act"`
	At     time.Time    `json:"at"` // when it was typed or changed
	Is     quotes.Quote `json:"is"`
}

type priceShown struct {
	Act       int64             `json:"act"`
	Is        quotes.PricePlan  `json:"is"`
	Reckoning *quotes.Reckoning `json:"reckoning,omitempty"` // none as long as Trouble says why
	Trouble   string            `json:"trouble"`
	Sold      []int64           `json:"sold"` // per cent of the copies for sale, of each column of the table of what-if
}

type currencyShown struct {
	Code     edition.Currency `json:"code"`
	Decimals int              `json:"decimals"`
}

// What is told of one entry: Seen is the act the maker saw it after, 0 for a new
// one.
type (
	wishesTold struct {
		Seen int64         `json:"seen"`
		Is   quotes.Wishes `json:"is"`
	}
	termsTold struct {
		Seen int64        `json:"seen"`
		Is   quotes.Terms `json:"is"`
	}
	printerTold struct {
		Seen int64          `json:"seen"`
		Is   quotes.Printer `json:"is"`
	}
	quoteTold struct {
		Seen int64        `json:"seen"`
		Is   quotes.Quote `json:"is"`
	}
	priceTold struct {
		Seen int64            `json:"seen"`
		Is   quotes.PricePlan `json:"is"`
	}
	backTold struct {
		Kind   store.InquiryKind `json:"kind"`
		Number int               `json:"number"`
	}
)

func (s *Server) showInquiry(r *http.Request) (inquiryShown, error) {
	m, err := s.matter(r)
	if err != nil {
		return inquiryShown{}, err
	}
	in, err := s.store.Inquiry(r.Context(), m.Title.ID)
	if err != nil {
		return inquiryShown{}, err
	}
	rounds, err := s.store.Proofs(r.Context(), m.Title.ID)
	if err != nil {
		return inquiryShown{}, err
	}
	return s.workOut(m, in, rounds)
}

// workOut is the one place where an inquiry is shown.
func (s *Server) workOut(m printing.Matter, in store.Inquiry, rounds []store.ProofRound) (inquiryShown, error) {
	spec := quotes.Specification{Facts: m.Facts(), Wishes: in.Specification.Is}
	letter := quotes.Text(spec.Letter(""))
	shown := inquiryShown{Today: quotes.Day(s.store.Now().Format(time.DateOnly)), TakenOut: in.TakenOut, Undo: in.Undo, Redo: in.Redo,
		Specification: specificationShown{Act: in.Specification.Act, Is: in.Specification.Is, Lines: spec.Lines(), Missing: spec.Missing(), Doubts: spec.Doubts(),
			Letter: letter, FirstWording: quotes.FirstWording, Placeholders: quotes.Placeholders(), Sure: []sureOf{}},
		Terms: termsShown{in.Terms.Act, in.Terms.Is}, Printers: []printerShown{}, Quotes: []quoteShown{}, Currencies: currencies()}
	for _, n := range in.Specification.Is.Quantities {
		shown.Specification.Sure = append(shown.Specification.Sure, sureOf{n, quotes.ToOrder(n, in.Specification.Is.Unders)})
	}
	for _, p := range in.Printers {
		one := printerShown{Number: p.Number, Act: p.Act, Is: p.Is, Letter: quotes.Text(spec.Letter(p.Is.Name)), Proofs: []proofFrom{}}
		for _, r := range rounds {
			if !r.TakenOut && r.Round.From(p.Is.Name) {
				one.Proofs = append(one.Proofs, proofFrom{r.Number, r.Round.Date, r.Round.Verdict})
			}
		}
		if n := len(p.Is.Asked); n > 0 {
			one.Moved = p.Is.Asked[n-1].Letter != one.Letter
		}
		letter += one.Letter
		shown.Printers = append(shown.Printers, one)
	}
	var all []quotes.Numbered
	for _, q := range in.Quotes {
		shown.Quotes = append(shown.Quotes, quoteShown{q.Number, q.Act, q.At, q.Is})
		all = append(all, quotes.Numbered{Number: q.Number, Quote: q.Is})
	}
	shown.Comparison = quotes.Compare(all, in.Specification.Is, in.Terms.Is, shown.Today)
	shown.Price = priceOf(in, shown.Today)
	var err error
	shown.Specification.Unprintable, err = s.press.Unprintable(letter)
	return shown, err
}

// priceOf reckons the price by the quote that was chosen.
func priceOf(in store.Inquiry, today quotes.Day) priceShown {
	plan, terms := in.Price.Is, in.Terms.Is
	shown := priceShown{Act: in.Price.Act, Is: plan, Sold: quotes.WhatIfSold}
	var landed *quotes.Landed
	var expired quotes.Day
	var err error
	for _, q := range in.Quotes {
		if q.Number == plan.Quote {
			var l quotes.Landed
			l, err = q.Is.Land(terms.Copies, in.Specification.Is, terms)
			landed = &l
			if at := q.Is.Expires(); at != "" && at < today {
				expired = at
			}
		}
	}
	if err == nil {
		err = plan.Check(terms) // the currency may be another since
	}
	if err == nil {
		var reckoning quotes.Reckoning
		if reckoning, err = plan.Reckon(landed, terms); err == nil {
			if expired != "" {
				reckoning.Doubts = append(reckoning.Doubts, "The quote held until "+expired.Words()+": ask whether it still does.")
			}
			shown.Reckoning = &reckoning
		}
	}
	if err != nil {
		shown.Trouble = err.Error()
	}
	return shown
}

// currencies lists every currency with its decimals, by code.
func currencies() []currencyShown {
	var list []currencyShown
	for _, code := range edition.Currencies() {
		list = append(list, currencyShown{code, code.Decimals()})
	}
	return list
}

// dealt does something with printers, tells every window, and answers with what
// it has come to.
func (s *Server) dealt(r *http.Request, do func(context.Context, sequence.TitleID) error) (inquiryShown, error) {
	title, err := s.title(r)
	if err != nil {
		return inquiryShown{}, err
	}
	if err := do(r.Context(), title.ID); err != nil {
		return inquiryShown{}, err
	}
	s.desk(title.ID).hub.Publish("inquiry", nothing{})
	return s.showInquiry(r)
}

func (s *Server) keepWishes(r *http.Request, in wishesTold) (inquiryShown, error) {
	return s.dealt(r, func(ctx context.Context, title sequence.TitleID) error {
		return s.store.KeepWishes(ctx, title, in.Seen, in.Is)
	})
}

func (s *Server) keepTerms(r *http.Request, in termsTold) (inquiryShown, error) {
	return s.dealt(r, func(ctx context.Context, title sequence.TitleID) error {
		return s.store.KeepTerms(ctx, title, in.Seen, in.Is)
	})
}

func (s *Server) keepPrice(r *http.Request, in priceTold) (inquiryShown, error) {
	return s.dealt(r, func(ctx context.Context, title sequence.TitleID) error {
		return s.store.KeepPrice(ctx, title, in.Seen, in.Is)
	})
}

func (s *Server) addPrinter(r *http.Request, in printerTold) (inquiryShown, error) {
	return s.dealt(r, func(ctx context.Context, title sequence.TitleID) error {
		return s.store.KeepPrinter(ctx, title, 0, 0, in.Is)
	})
}

func (s *Server) changePrinter(r *http.Request, in printerTold) (inquiryShown, error) {
	return s.numbered(r, "printer", func(ctx context.Context, title sequence.TitleID, number int) error {
		return s.store.KeepPrinter(ctx, title, number, in.Seen, in.Is)
	})
}

func (s *Server) addQuote(r *http.Request, in quoteTold) (inquiryShown, error) {
	return s.dealt(r, func(ctx context.Context, title sequence.TitleID) error {
		return s.store.KeepQuote(ctx, title, 0, 0, in.Is)
	})
}

func (s *Server) changeQuote(r *http.Request, in quoteTold) (inquiryShown, error) {
	return s.numbered(r, "quote", func(ctx context.Context, title sequence.TitleID, number int) error {
		return s.store.KeepQuote(ctx, title, number, in.Seen, in.Is)
	})
}

// numbered is dealt for an entry that the address names.
func (s *Server) numbered(r *http.Request, what string, do func(context.Context, sequence.TitleID, int) error) (inquiryShown, error) {
	number, err := route.Number(r, what)
	if err == nil && number == 0 {
		err = route.NoSuch(what)
	}
	if err != nil {
		return inquiryShown{}, err
	}
	return s.dealt(r, func(ctx context.Context, title sequence.TitleID) error { return do(ctx, title, int(number)) })
}

func (s *Server) takeOutPrinter(r *http.Request) (inquiryShown, error) {
	return s.takeOut(r, store.PrinterEntry)
}

func (s *Server) takeOutQuote(r *http.Request) (inquiryShown, error) {
	return s.takeOut(r, store.QuoteEntry)
}

func (s *Server) takeOut(r *http.Request, kind store.InquiryKind) (inquiryShown, error) {
	return s.numbered(r, string(kind), func(ctx context.Context, title sequence.TitleID, number int) error {
		seen, _ := strconv.ParseInt(r.URL.Query().Get("seen"), 10, 64) // the route has looked that it is a number
		return s.store.TakeOutEntry(ctx, title, kind, number, seen)
	})
}

func (s *Server) putBackDealing(r *http.Request, in backTold) (inquiryShown, error) {
	return s.dealt(r, func(ctx context.Context, title sequence.TitleID) error {
		return s.store.PutBackEntry(ctx, title, in.Kind, in.Number)
	})
}

func (s *Server) undoInquiry(r *http.Request) (inquiryShown, error) {
	return s.dealt(r, s.store.UndoInquiry)
}

func (s *Server) redoInquiry(r *http.Request) (inquiryShown, error) {
	return s.dealt(r, s.store.RedoInquiry)
}

// specified sends the letter as a PDF.
func (s *Server) specified(w http.ResponseWriter, r *http.Request) error {
	m, err := s.matter(r)
	if err != nil {
		return err
	}
	in, err := s.store.Inquiry(r.Context(), m.Title.ID)
	if err != nil {
		return err
	}
	to := ""
	if r.URL.Query().Has("printer") {
		number, _ := strconv.Atoi(r.URL.Query().Get("printer")) // as above
		at := slices.IndexFunc(in.Printers, func(p store.Entry[quotes.Printer]) bool { return p.Number == number })
		if at < 0 {
			return route.NoSuch("printer")
		}
		to = in.Printers[at].Is.Name
	}
	made := m.Made
	if in.Specification.At.After(made) {
		made = in.Specification.At
	}
	letter := quotes.Specification{Facts: m.Facts(), Wishes: in.Specification.Is}.Letter(to)
	return s.sendMade(w, r, "application/pdf", fileName(m.Title.Name, "specification", "pdf"), func(out io.Writer) error {
		return s.press.Letter(out, m.Title.Name, made, letter)
	})
}

package store

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/quotes"
)

func inquiryOf(t testing.TB, s *Store, title sequence.TitleID) Inquiry {
	t.Helper()
	in, err := s.Inquiry(ctx, title)
	if err != nil {
		t.Fatal(err)
	}
	return in
}

func quoteOf(printer int, minor int64) quotes.Quote {
	return quotes.Quote{Printer: printer, Currency: "EUR", Steps: []quotes.PriceStep{{Copies: 100, Amount: edition.Money{Minor: minor, Currency: "EUR"}}}}.Tidied()
}

func TestInquiryBeginsWithWhatEveryTitleAsks(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adriatic", 0)
	in := inquiryOf(t, s, title)
	if diff := cmp.Diff(in.Specification.Is, quotes.FirstWishes()); diff != "" || in.Undo != nil || in.Redo != nil || in.Specification.Act != 0 {
		t.Errorf("%+v %s", in, diff)
	}
	if _, err := s.Inquiry(ctx, title+1); sequence.CodeOf(err) != sequence.NotFound {
		t.Errorf("no such title: %v", err)
	}
	w := quotes.FirstWishes()
	w.Quantities, w.Own = []int{80}, nil
	if err := s.KeepWishes(ctx, title, 0, w); err != nil {
		t.Fatal(err)
	}
	in = inquiryOf(t, s, title)
	if !slices.Equal(in.Specification.Is.Quantities, []int{80}) || in.Specification.Is.Own == nil || in.Undo == nil || in.Undo.Kind != SpecificationEntry {
		t.Errorf("%+v", in)
	}
	if err := s.KeepWishes(ctx, title, 0, w); sequence.CodeOf(err) != sequence.Stale {
		t.Errorf("made on what it no longer is: %v", err)
	}
	if err := s.KeepWishes(ctx, title, in.Specification.Act, w); err != nil || inquiryOf(t, s, title).Specification.Act != in.Specification.Act {
		t.Errorf("nothing was changed, and it became an act: %v", err)
	}
}

func TestQuotesAreKeptTakenOutAndPutBack(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adriatic", 0)
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := s.KeepQuote(ctx, title, 0, 0, quoteOf(1, 70000)); sequence.CodeOf(err) != sequence.NotFound {
		t.Errorf("a quote of nobody: %v", err)
	}
	must(s.KeepPrinter(ctx, title, 0, 0, quotes.Printer{Name: "Tipografia Immaginaria"}))
	must(s.KeepPrinter(ctx, title, 0, 0, quotes.Printer{Name: "Izmišljena tiskara"}))
	must(s.KeepQuote(ctx, title, 0, 0, quoteOf(2, 70000)))
	in := inquiryOf(t, s, title)
	if len(in.Printers) != 2 || in.Printers[1].Number != 2 || len(in.Quotes) != 1 || in.Quotes[0].Is.Steps[0].Amount.Minor != 70000 {
		t.Fatalf("%+v", in)
	}
	if err := s.TakeOutEntry(ctx, title, PrinterEntry, 2, in.Printers[1].Act); sequence.CodeOf(err) != sequence.Conflict {
		t.Errorf("a printer with quotes: %v", err)
	}
	must(s.TakeOutEntry(ctx, title, QuoteEntry, 1, in.Quotes[0].Act))
	must(s.TakeOutEntry(ctx, title, PrinterEntry, 2, in.Printers[1].Act))
	in = inquiryOf(t, s, title)
	if len(in.TakenOut) != 2 || in.TakenOut[0].Printer != "Izmišljena tiskara" || in.TakenOut[1].Kind != QuoteEntry {
		t.Fatalf("%+v", in.TakenOut)
	}
	if err := s.PutBackEntry(ctx, title, QuoteEntry, 1); sequence.CodeOf(err) != sequence.NotFound {
		t.Errorf("a quote without its printer: %v", err)
	}
	must(s.PutBackEntry(ctx, title, PrinterEntry, 2))
	must(s.PutBackEntry(ctx, title, QuoteEntry, 1))
	if err := s.PutBackEntry(ctx, title, QuoteEntry, 1); sequence.CodeOf(err) != sequence.Conflict {
		t.Errorf("put back twice: %v", err)
	}
	if err := s.PutBackEntry(ctx, title, QuoteEntry, 7); sequence.CodeOf(err) != sequence.NotFound {
		t.Errorf("never there: %v", err)
	}
	must(s.TakeOutEntry(ctx, title, QuoteEntry, 1, inquiryOf(t, s, title).Quotes[0].Act))
	must(s.KeepQuote(ctx, title, 0, 0, quoteOf(1, 60000)))
	if in = inquiryOf(t, s, title); len(in.Quotes) != 1 || in.Quotes[0].Number != 2 {
		t.Errorf("a number was given twice: %+v", in.Quotes)
	}
}

// content is what undo and redo must bring back: everything but which act made it.
func content(in Inquiry) string {
	text := fmt.Sprintf("%v %v %v", in.Specification.Is, in.Terms.Is, in.Price.Is)
	for _, p := range in.Printers {
		text += fmt.Sprintf(" printer %d %v", p.Number, p.Is)
	}
	for _, q := range in.Quotes {
		text += fmt.Sprintf(" quote %d %v", q.Number, q.Is)
	}
	return text
}

func TestUndoAndRedoGoThroughEveryStateInOrder(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adriatic", 0)
	random := rand.New(rand.NewPCG(8, 1))
	past, future := []string{content(inquiryOf(t, s, title))}, []string{}
	for step := range 400 {
		in := inquiryOf(t, s, title)
		var err error
		switch choice := random.IntN(8); {
		case choice < 2 && len(past) > 1:
			if in.Undo == nil {
				t.Fatalf("step %d: undo says there is nothing", step)
			}
			future = append(future, past[len(past)-1])
			past = past[:len(past)-1]
			err = s.UndoInquiry(ctx, title)
		case choice == 2 && len(future) > 0:
			if in.Redo == nil {
				t.Fatalf("step %d: redo says there is nothing", step)
			}
			past = append(past, future[len(future)-1])
			future = future[:len(future)-1]
			err = s.RedoInquiry(ctx, title)
		case choice == 3 && len(in.Printers) > 0:
			p := in.Printers[random.IntN(len(in.Printers))]
			p.Is.Note = fmt.Sprint(step)
			err = s.KeepPrinter(ctx, title, p.Number, p.Act, p.Is)
			past, future = append(past, ""), nil
		case choice == 4 && len(in.Quotes) > 0:
			q := in.Quotes[random.IntN(len(in.Quotes))]
			err = s.TakeOutEntry(ctx, title, QuoteEntry, q.Number, q.Act)
			past, future = append(past, ""), nil
		case choice == 5 && len(in.Printers) > 0:
			err = s.KeepQuote(ctx, title, 0, 0, quoteOf(in.Printers[0].Number, int64(step)))
			past, future = append(past, ""), nil
		case choice == 6:
			w := in.Specification.Is
			w.Packing = fmt.Sprint(step)
			err = s.KeepWishes(ctx, title, in.Specification.Act, w)
			past, future = append(past, ""), nil
		default:
			err = s.KeepPrinter(ctx, title, 0, 0, quotes.Printer{Name: fmt.Sprint("printer ", step)})
			past, future = append(past, ""), nil
		}
		if err != nil {
			t.Fatalf("step %d: %v", step, err)
		}
		now := content(inquiryOf(t, s, title))
		if past[len(past)-1] == "" {
			past[len(past)-1] = now
		}
		if now != past[len(past)-1] {
			t.Fatalf("step %d: it is\n%s\nand should be\n%s", step, now, past[len(past)-1])
		}
	}
	for range past[1:] {
		if err := s.UndoInquiry(ctx, title); err != nil {
			t.Fatal(err)
		}
	}
	if in := inquiryOf(t, s, title); content(in) != past[0] || in.Undo != nil {
		t.Errorf("all undone it is %s", content(in))
	}
	if err := s.UndoInquiry(ctx, title); sequence.CodeOf(err) != sequence.Conflict {
		t.Errorf("undone beyond the first: %v", err)
	}
}

func TestWhatPrintersAskForStaysAtHome(t *testing.T) {
	here, _ := newStore(t)
	title := packable(t, here)
	if err := here.KeepPrinter(ctx, title, 0, 0, quotes.Printer{Name: "Tipografia Immaginaria"}); err != nil {
		t.Fatal(err)
	}
	if err := here.KeepQuote(ctx, title, 0, 0, quoteOf(1, 70000)); err != nil {
		t.Fatal(err)
	}
	for _, mine := range []bool{true, false} {
		there, _ := newStore(t)
		newTitle(t, there, "Lagoon", 0)
		got, err := there.Unpack(ctx, packed(t, here, title, mine), nowhere)
		if err != nil {
			t.Fatal(err)
		}
		in := inquiryOf(t, there, got.ID)
		if mine && (len(in.Quotes) != 1 || content(in) != content(inquiryOf(t, here, title))) {
			t.Errorf("on the maker's other machine: %+v", in)
		}
		if !mine && (len(in.Printers) != 0 || in.Undo != nil || len(in.TakenOut) != 0) {
			t.Errorf("with somebody else: %+v", in)
		}
	}
}

package store

import (
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
)

// withEdition is a title with so many numbered copies.
func withEdition(t testing.TB, s *Store, size int) sequence.TitleID {
	t.Helper()
	title := newTitle(t, s, "Round the Adriatic", 0)
	e := edition.FirstEdition
	e.Size, e.Proofs, e.Outside = size, 2, 1
	if err := s.SetEdition(ctx, title, 0, e); err != nil {
		t.Fatal(err)
	}
	return title
}

func orderOf(name string, copies int) orders.Order {
	return orders.Order{Channel: "the harbour shop", Copies: copies, Price: edition.Money{Minor: 2200, Currency: "EUR"},
		To: orders.Addressee{Name: name, Lines: []string{"Obala 5"}, Postcode: "6330", Town: "Piran", Country: "SI", Email: strings.ToLower(name) + "@example.org"}, Wish: "for " + name}
}

func ordered(t testing.TB, s *Store, title sequence.TitleID, o orders.Order) orders.Order {
	t.Helper()
	kept, err := s.EnterOrder(ctx, title, o, nil, false)
	if err != nil {
		t.Fatal(err)
	}
	return kept
}

func editionOf(t testing.TB, s *Store, title sequence.TitleID) EditionState {
	t.Helper()
	state, err := s.Edition(ctx, title)
	if err != nil {
		t.Fatal(err)
	}
	return state
}

func TestAnOrderGetsTheFirstCopiesThatAreFree(t *testing.T) {
	s, _ := newStore(t)
	title := withEdition(t, s, 4)
	one, two := ordered(t, s, title, orderOf("Nives", 1)), ordered(t, s, title, orderOf("Ada", 2))
	if one.Number != "1" || two.Number != "2" || len(two.Allotted) != 2 || two.Allotted[0].Number != 2 {
		t.Errorf("%+v %+v", one, two)
	}
	state := editionOf(t, s, title)
	if state.Tally.Free != 1 || state.Tally.By[edition.Sold] != 3 || state.Copies[0].Order != one.ID || state.Copies[0].Mark != "1/4" || len(state.Copies) != 7 {
		t.Errorf("%+v", state)
	}
	if _, err := s.EnterOrder(ctx, title, orderOf("Rina", 2), nil, false); sequence.CodeOf(err) != sequence.Conflict || !strings.Contains(err.Error(), "Only 1 copy is left") {
		t.Errorf("more than there are: %v", err)
	}
	if list, _ := s.Orders(ctx, title); len(list) != 2 {
		t.Errorf("half of a refused order is kept: %d", len(list))
	}
	last, err := s.EnterOrder(ctx, title, orderOf("Rina", 2), nil, true)
	if err != nil || len(last.Allotted) != 1 || last.Waits() != 1 {
		t.Errorf("one that may wait: %+v %v", last, err)
	}
	one.State = orders.Cancelled
	if _, err := s.ChangeOrder(ctx, title, one, nil, false); err != nil {
		t.Fatal(err)
	}
	if last, _ = s.Order(ctx, title, last.ID); len(last.Allotted) != 2 {
		t.Errorf("a copy that came back goes to whoever waits: %+v", last)
	}
	one, _ = s.Order(ctx, title, one.ID)
	one.State = orders.Open
	if _, err := s.ChangeOrder(ctx, title, one, nil, false); sequence.CodeOf(err) != sequence.Conflict {
		t.Errorf("taken up again with none left: %v", err)
	}
}

func TestTwoWindowsSellTheLastCopyAndOneIsTold(t *testing.T) {
	dir := t.TempDir()
	s, other := openStore(t, dir), openStore(t, dir)
	title := withEdition(t, s, 1)
	done := make(chan error)
	for i, st := range []*Store{s, other} {
		go func() {
			o := orderOf(fmt.Sprintf("Buyer%d", i), 1)
			o.Number = fmt.Sprint(i + 1)
			_, err := st.EnterOrder(ctx, title, o, nil, false)
			done <- err
		}()
	}
	first, second := <-done, <-done
	if (first == nil) == (second == nil) {
		t.Fatalf("%v, %v", first, second)
	}
	if err := errors.Join(first, second); sequence.CodeOf(err) != sequence.Conflict || !strings.Contains(err.Error(), "another window") {
		t.Error(err)
	}
	state := editionOf(t, s, title)
	if list, _ := s.Orders(ctx, title); len(list) != 1 || state.Tally.Free != 0 || state.Copies[0].Order != list[0].ID {
		t.Errorf("%+v %+v", list, state)
	}
	seven := []edition.CopyRef{{Series: edition.Numbered, Number: 1}}
	if _, err := s.EnterOrder(ctx, title, orderOf("Late", 1), seven, false); sequence.CodeOf(err) != sequence.Conflict || !strings.Contains(err.Error(), "Copy 1/1 is gone to order") {
		t.Errorf("that very copy: %v", err)
	}
}

func TestTheDataFileItselfSellsNothingTwice(t *testing.T) {
	s, _ := newStore(t)
	title := withEdition(t, s, 3)
	one, two := ordered(t, s, title, orderOf("Nives", 1)), ordered(t, s, title, orderOf("Ada", 1))
	for name, statement := range map[string]string{
		"sold again":             fmt.Sprintf(`UPDATE copies SET order_id = %d WHERE order_id = %d`, two.ID, one.ID),
		"more than ordered":      fmt.Sprintf(`UPDATE copies SET order_id = %d, place = 'sold' WHERE number = 3 AND series = 'edition'`, one.ID),
		"sold to nobody":         `UPDATE copies SET place = 'sold' WHERE number = 3 AND series = 'edition'`,
		"here and ordered":       `UPDATE copies SET place = 'here' WHERE number = 1 AND series = 'edition'`,
		"in a shop of no name":   `UPDATE copies SET place = 'shop' WHERE number = 3 AND series = 'edition'`,
		"order goes, copy stays": fmt.Sprintf(`DELETE FROM orders WHERE id = %d`, one.ID),
	} {
		if err := s.write(ctx, func(tx *sql.Tx) error { _, err := tx.Exec(statement); return err }); err == nil {
			t.Errorf("%s: the file takes it", name)
		}
	}
}

func TestAnOrderIsChangedAndItsCopiesFollow(t *testing.T) {
	s, _ := newStore(t)
	title := withEdition(t, s, 5)
	o := ordered(t, s, title, orderOf("Nives", 2))
	o.Copies = 1
	o, err := s.ChangeOrder(ctx, title, o, nil, false)
	if err != nil || len(o.Allotted) != 1 || o.Allotted[0].Number != 1 || o.Revision != 2 {
		t.Fatalf("%+v %v", o, err)
	}
	want := []edition.CopyRef{{Series: edition.Numbered, Number: 5}}
	if o, err = s.ChangeOrder(ctx, title, o, want, false); err != nil || len(o.Allotted) != 1 || o.Allotted[0] != want[0] {
		t.Fatalf("exactly that copy: %+v %v", o, err)
	}
	stale := o
	stale.Revision--
	if _, err := s.ChangeOrder(ctx, title, stale, nil, false); sequence.CodeOf(err) != sequence.Stale {
		t.Errorf("changed in two windows: %v", err)
	}
	o.For = edition.ForPress
	if o, err = s.ChangeOrder(ctx, title, o, nil, false); err != nil || editionOf(t, s, title).Tally.By[edition.Given] != 1 || o.Allotted[0] != want[0] {
		t.Fatalf("given, not sold: %+v %v", o, err)
	}
	again := ordered(t, s, title, orderOf("Ada", 1))
	again.Number = o.Number
	if _, err := s.ChangeOrder(ctx, title, again, nil, false); sequence.CodeOf(err) != sequence.Conflict {
		t.Errorf("another's number: %v", err)
	}
	if _, err := s.EnterOrder(ctx, title, again, nil, false); sequence.CodeOf(err) != sequence.Conflict {
		t.Errorf("entered twice: %v", err)
	}
}

func TestCopiesOnConsignmentAreSoldFromTheShop(t *testing.T) {
	s, _ := newStore(t)
	title := withEdition(t, s, 5)
	to := orderOf("Shop", 3)
	to.For = edition.ForShop
	ordered(t, s, title, to)
	state := editionOf(t, s, title)
	if state.Tally.By[edition.InShop] != 3 || state.Copies[0].Shop != "the harbour shop" {
		t.Fatalf("%+v", state)
	}
	sale := orders.Order{Channel: "the harbour shop", Copies: 1, To: orders.Addressee{Name: "over the counter"}}
	sold, err := s.EnterOrder(ctx, title, sale, []edition.CopyRef{{Series: edition.Numbered, Number: 2}}, false)
	if err != nil || sold.Allotted[0].Number != 2 {
		t.Fatalf("%+v %v", sold, err)
	}
	if state := editionOf(t, s, title); state.Tally.By[edition.InShop] != 2 || state.Tally.By[edition.Sold] != 1 {
		t.Errorf("%+v", state.Tally)
	}
}

func TestCopiesAreMovedAllOrNone(t *testing.T) {
	s, _ := newStore(t)
	title := withEdition(t, s, 3)
	o := ordered(t, s, title, orderOf("Nives", 1))
	note := "corner bent"
	first, third := edition.CopyRef{Series: edition.Numbered, Number: 1}, edition.CopyRef{Series: edition.Numbered, Number: 3}
	if err := s.MoveCopies(ctx, title, edition.Move{Copies: []edition.CopyRef{third, first}, Place: edition.Given}); sequence.CodeOf(err) != sequence.Conflict {
		t.Errorf("a sold one: %v", err)
	}
	if state := editionOf(t, s, title); state.Tally.By[edition.Given] != 0 {
		t.Error("half was moved")
	}
	if err := s.MoveCopies(ctx, title, edition.Move{Copies: []edition.CopyRef{first}, Place: edition.Damaged, Note: &note}); err != nil {
		t.Fatal(err)
	}
	state := editionOf(t, s, title)
	if o, _ = s.Order(ctx, title, o.ID); len(o.Allotted) != 1 || o.Allotted[0].Number != 2 || state.Copies[0].Note != note || state.Copies[0].Place != edition.Damaged {
		t.Errorf("a damaged copy is replaced: %+v %+v", o, state.Copies[0])
	}
	if err := s.MoveCopies(ctx, title, edition.Move{Copies: []edition.CopyRef{{Series: edition.Numbered, Number: 9}}, Place: edition.Given}); sequence.CodeOf(err) != sequence.NotFound {
		t.Error(err)
	}
	small := state.Edition
	small.Size = 0
	if err := s.SetEdition(ctx, title, state.Revision, small); sequence.CodeOf(err) != sequence.Conflict || !strings.Contains(err.Error(), "1/3, 2/3") {
		t.Errorf("an edition that shrinks over what was done: %v", err)
	}
	small.Size = 2
	if err := s.SetEdition(ctx, title, state.Revision, small); err != nil {
		t.Error(err)
	}
	if err := s.SetEdition(ctx, title, state.Revision, small); sequence.CodeOf(err) != sequence.Stale {
		t.Error(err)
	}
}

func TestOrdersBeforeTheEditionWaitForIt(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Round the Adriatic", 0)
	one := ordered(t, s, title, orderOf("Nives", 2))
	e := edition.FirstEdition
	e.Size = 1
	if err := s.SetEdition(ctx, title, 0, e); err != nil {
		t.Fatal(err)
	}
	if state := editionOf(t, s, title); state.Tally.Waiting != 1 {
		t.Errorf("%+v", state.Tally)
	}
	e.Size = 10
	if err := s.SetEdition(ctx, title, 1, e); err != nil {
		t.Fatal(err)
	}
	if one, _ = s.Order(ctx, title, one.ID); len(one.Allotted) != 2 {
		t.Errorf("%+v", one)
	}
}

func TestAnotherTitleLendsItsPostUntilThisOneHasItsOwn(t *testing.T) {
	s, _ := newStore(t)
	one, two := newTitle(t, s, "One", 0), newTitle(t, s, "Two", 0)
	p := firstPost()
	p.Sender.Country = "IT"
	if err := s.SetPost(ctx, one, 0, p); err != nil {
		t.Fatal(err)
	}
	got, err := s.Post(ctx, two)
	if err != nil || got.Revision != 0 || got.Post.Sender.Country != "IT" || len(got.Post.Limits) != 3 {
		t.Fatalf("%+v %v", got, err)
	}
	p.Sender.Country = "HR"
	if err := s.SetPost(ctx, two, 0, p); err != nil {
		t.Fatal(err)
	}
	if got, _ := s.Post(ctx, one); got.Post.Sender.Country != "IT" || got.Revision != 1 {
		t.Errorf("%+v", got)
	}
	if err := s.SetPost(ctx, one, 0, p); sequence.CodeOf(err) != sequence.Stale {
		t.Error(err)
	}
	p.Sender.Country = "ZZ"
	if err := s.SetPost(ctx, one, 1, p); sequence.CodeOf(err) != sequence.Invalid {
		t.Error(err)
	}
	if _, err := s.Post(ctx, 99); sequence.CodeOf(err) != sequence.NotFound {
		t.Error(err)
	}
}

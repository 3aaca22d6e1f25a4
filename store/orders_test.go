package store

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
)

// tableOf is a table of n orders of one copy.
func tableOf(n int) orders.Table {
	t := orders.Table{Reading: orders.Reading{Channel: "the shop", Columns: orders.Columns{orders.NumberField: 0}}, Header: []string{"Order", "Name"}}
	for i := 1; i <= n; i++ {
		o := orderOf(fmt.Sprintf("Buyer%d", i), 1).Tidy()
		o.Number, o.Channel = fmt.Sprint(i), "the shop"
		t.Orders = append(t.Orders, o)
	}
	return t
}

func TestATableOfOrdersIsTakenOnce(t *testing.T) {
	s, _ := newStore(t)
	title := withEdition(t, s, 5)
	took, err := s.TakeOrders(ctx, title, "november.csv", tableOf(4))
	if err != nil || took.List.Orders != 4 || len(took.Known) != 0 || took.Waiting != 0 {
		t.Fatalf("%+v %v", took, err)
	}
	again, err := s.TakeOrders(ctx, title, "december.csv", tableOf(6))
	if err != nil || again.List.Orders != 2 || !slices.Equal(again.Known, []string{"1", "2", "3", "4"}) || again.Waiting != 1 {
		t.Fatalf("%+v %v", again, err)
	}
	if third, err := s.TakeOrders(ctx, title, "december.csv", tableOf(6)); err != nil || third.List.ID != 0 || third.List.Orders != 0 {
		t.Fatalf("%+v %v", third, err)
	}
	lists, err := s.OrderLists(ctx, title)
	if err != nil || len(lists) != 2 || lists[0].Name != "december.csv" || lists[0].Orders != 2 {
		t.Fatalf("%+v %v", lists, err)
	}
	known, err := s.Readings(ctx, title)
	if err != nil || known[orders.Signature([]string{"ORDER", " name"})].Channel != "the shop" {
		t.Errorf("how it was read is not remembered: %+v %v", known, err)
	}
	if err := s.TakeBack(ctx, title, lists[0].ID); err != nil {
		t.Fatal(err)
	}
	if state := editionOf(t, s, title); state.Tally.Free != 1 || state.Tally.Waiting != 0 {
		t.Errorf("%+v", state.Tally)
	}
	one, _ := s.Orders(ctx, title)
	if _, err := s.db.Exec(`INSERT INTO parcel_acts (title_id, order_id) VALUES (?, ?)`, title, one[0].ID); err != nil {
		t.Fatal(err)
	}
	if err := s.TakeBack(ctx, title, lists[1].ID); sequence.CodeOf(err) != sequence.Conflict {
		t.Errorf("one of it is packed: %v", err)
	}
	one[0].Note = "called"
	if _, err := s.ChangeOrder(ctx, title, one[0], nil, false); err != nil {
		t.Fatal(err)
	}
	if err := s.TakeBack(ctx, title, lists[1].ID); sequence.CodeOf(err) != sequence.Conflict {
		t.Errorf("something was done with it: %v", err)
	}
	if err := s.TakeBack(ctx, title, 99); sequence.CodeOf(err) != sequence.NotFound {
		t.Error(err)
	}
	bad := tableOf(8)
	bad.Orders[7].Copies = 0
	if _, err := s.TakeOrders(ctx, title, "bad.csv", bad); sequence.CodeOf(err) != sequence.Invalid {
		t.Errorf("one bad order: %v", err)
	}
	if list, _ := s.Orders(ctx, title); len(list) != 4 {
		t.Errorf("half of it was taken: %d orders", len(list))
	}
}

// readForEver takes one table after another, and says how many are confirmed.
func readForEver(s *Store) error {
	title, err := s.TitleNamed(ctx, "Round the Adriatic")
	if err != nil {
		return err
	}
	for n := 1; ; n++ {
		table := tableOf(400)
		for i := range table.Orders {
			table.Orders[i].Channel = fmt.Sprintf("channel %d", n)
		}
		if _, err := s.TakeOrders(ctx, title.ID, "orders.csv", table); err != nil {
			return err
		}
		fmt.Println(n)
	}
}

func TestAKillInTheMiddleOfReadingOrdersLeavesAllOrNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(2026, 9))
	for round := range 12 {
		dir := t.TempDir()
		s := openStore(t, dir)
		title := withEdition(t, s, 1000)
		s.Close()
		child := cast(t, "read orders for ever", dir, round)
		out, err := child.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := child.Start(); err != nil {
			t.Fatal(err)
		}
		heard := bufio.NewReader(out)
		var first string
		if round%3 > 0 {
			first, _ = heard.ReadString('\n')
		}
		time.Sleep(time.Duration(r.IntN(150_000)) * time.Microsecond)
		if err := child.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		rest, _ := io.ReadAll(heard)
		child.Wait()
		confirmed := lastConfirmed(t, first+string(rest))

		s = openStore(t, dir)
		list, err := s.Orders(ctx, title)
		if err != nil || len(list)%400 != 0 {
			t.Fatalf("round %d: %d orders, %v", round, len(list), err)
		}
		if n := len(list) / 400; n < confirmed || n > confirmed+1 {
			t.Errorf("round %d: %d tables were confirmed, %d are there", round, confirmed, n)
		}
		held := 0
		for _, o := range list {
			held += len(o.Allotted)
		}
		state := editionOf(t, s, title)
		if held != state.Tally.By[edition.Sold] || held != min(len(list), 1000) || state.Tally.Waiting != len(list)-held {
			t.Errorf("round %d: orders hold %d copies, %+v", round, held, state.Tally)
		}
		s.Close()
	}
}

// hostileTexts are of the kinds that package orders is tried with; here what
// matters is the way through the data file.
func hostileTexts(r *rand.Rand) string {
	signs := []rune("aZ äß ŁĄ Ωб שלום مرحبا 山田花子 カナ 한글 🙂👩‍👩‍👧 \u202E\u202C\u0301 '\"`;,\\\n\t=+-@<&>%s$1?:@x")
	length := r.IntN(40)
	if r.IntN(8) == 0 {
		length = 300
	}
	text := make([]rune, length)
	for i := range text {
		text[i] = signs[r.IntN(len(signs))]
	}
	return strings.TrimSpace(string(text))
}

func TestTenThousandHostileOrdersAreKeptAsTheyCame(t *testing.T) {
	s, _ := newStore(t)
	title := withEdition(t, s, 100)
	r := rand.New(rand.NewPCG(9, 2026))
	countries := orders.Countries()
	table := orders.Table{Header: []string{"Order"}}
	for i := range 10_000 {
		text := func() string { return hostileTexts(r) }
		table.Orders = append(table.Orders, orders.Order{Number: text() + fmt.Sprint(i), Channel: "the shop", Copies: 1 + r.IntN(3), Wish: text(), Note: text(),
			To: orders.Addressee{Name: text(), Company: text(), Lines: []string{text(), text()}, Postcode: text(), Town: text(), Region: text(), Country: countries[r.IntN(len(countries))].Code, Email: text(), Phone: text()}}.Tidy())
	}
	if _, err := s.TakeOrders(ctx, title, "hostile.csv", table); err != nil {
		t.Fatal(err)
	}
	got, err := s.Orders(ctx, title)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(table.Orders, got, cmpopts.IgnoreFields(orders.Order{}, "ID", "Revision", "List", "Allotted")); diff != "" {
		t.Error(diff[:min(len(diff), 2000)])
	}
}

// holds reports which files of a data folder hold a text, in UTF-8 or UTF-16.
func holds(t *testing.T, dir, text string) []string {
	t.Helper()
	var names []string
	err := filepath.Walk(dir, func(path string, info os.FileInfo, err error) error {
		if err != nil || info.IsDir() {
			return err
		}
		content, err := os.ReadFile(path)
		if bytes.Contains(content, []byte(text)) {
			names = append(names, filepath.Base(path))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

func TestAnErasedPersonIsInNoFileAnyMore(t *testing.T) {
	dir := t.TempDir()
	s, c := openStore(t, dir), newClock()
	s.Now = c.now
	title := withEdition(t, s, 50)
	other := newTitle(t, s, "The other one", 0)
	secret := orderOf("Quillaia", 1)
	secret.To.Lines = []string{"Zwetschgenweg 17"}
	first := ordered(t, s, title, secret)
	for n := range 200 { // so that pages are written over and set free
		ordered(t, s, title, orders.Order{Channel: "many", Number: fmt.Sprint(n), Copies: 1, To: orders.Addressee{Name: strings.Repeat("x", n)}, State: orders.Cancelled})
	}
	secret.To.Email = " QUILLAIA@example.org" // the same person by another spelling
	ordered(t, s, other, secret)
	first.Wish = "with love from Quillaia"
	if _, err := s.ChangeOrder(ctx, title, first, nil, false); err != nil {
		t.Fatal(err)
	}
	for range 3 {
		if _, err := s.BackUpToday(ctx); err != nil {
			t.Fatal(err)
		}
		c.forward(72 * time.Hour)
	}
	if got := holds(t, dir, "Zwetschgenweg"); len(got) < 4 {
		t.Fatalf("the test looks in the wrong places: %v", got)
	}
	person, err := s.Person(ctx, title, first.ID)
	if err != nil || len(person.Orders) != 2 {
		t.Fatalf("%+v %v", person, err)
	}
	done, err := s.ErasePerson(ctx, title, first.ID, 5)
	if err != nil || done.Orders != 2 || done.Backups != 2 || len(done.Kept) != 1 || !done.Settled || len(done.LeftOver) != 0 {
		t.Fatalf("%+v %v", done, err)
	}
	for _, word := range []string{"Zwetschgenweg", "Quillaia", "quillaia@", "QUILLAIA"} {
		if got := holds(t, dir, word); !slices.Equal(got, done.Kept) {
			t.Errorf("%s is still in %v, kept were %v", word, got, done.Kept)
		}
	}
	o, err := s.Order(ctx, title, first.ID)
	if err != nil || !o.Erased || o.To.Country != "SI" || o.Price.Minor != 2200 || len(o.Allotted) != 1 || o.To.Name != "" {
		t.Errorf("what the tax adviser needs: %+v %v", o, err)
	}
	if _, err := s.Person(ctx, title, first.ID); sequence.CodeOf(err) != sequence.Conflict {
		t.Error(err)
	}
	o.To.Name = "Quillaia"
	if _, err := s.ChangeOrder(ctx, title, o, nil, false); sequence.CodeOf(err) != sequence.Conflict {
		t.Errorf("written in again: %v", err)
	}
	o.To.Name, o.State = "", orders.Sent
	if _, err := s.ChangeOrder(ctx, title, o, nil, false); err != nil {
		t.Errorf("an erased order goes on: %v", err)
	}
	if took, err := s.TakeOrders(ctx, title, "again.csv", orders.Table{Header: []string{"Order"}, Orders: []orders.Order{{Number: first.Number, Channel: first.Channel, Copies: 1, To: secret.To}}}); err != nil || len(took.Known) != 1 {
		t.Errorf("a table read again brings nobody back: %+v %v", took, err)
	}
	for _, b := range done.Kept {
		if _, err := Restore(ctx, dir, b); sequence.CodeOf(err) != sequence.Conflict { // it is open
			t.Error(err)
		}
	}
	list, err := Backups(dir)
	if err != nil {
		t.Fatal(err)
	}
	s.Close()
	if _, err := Restore(ctx, dir, list[len(list)-1].Name); err != nil {
		t.Fatalf("a backup from which somebody was erased is whole: %v", err)
	}
	s = openStore(t, dir)
	if all, err := s.Orders(ctx, title); err != nil || len(all) != 201 || !all[0].Erased {
		t.Errorf("%d orders, %v", len(all), err)
	}
}

// whileReading does something in the middle of reading orders.
func whileReading(t *testing.T, s *Store, do func()) {
	t.Helper()
	rows, err := s.db.Query(`SELECT personal FROM orders`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	for rows.Next() {
		do()
	}
	if err := rows.Err(); err != nil {
		t.Fatal(err)
	}
}

func TestErasingIsFinishedAtTheNextStartWhenSomebodyReads(t *testing.T) {
	dir := t.TempDir()
	set := hasty()
	s, err := open(ctx, dir, set)
	if err != nil {
		t.Fatal(err)
	}
	title := withEdition(t, s, 5)
	o := ordered(t, s, title, orderOf("Quillaia", 1))
	reader := openStore(t, dir)
	whileReading(t, reader, func() {
		done, err := s.ErasePerson(ctx, title, o.ID, 0)
		if err != nil || done.Settled || done.Orders != 1 {
			t.Fatalf("%+v %v", done, err)
		}
	})
	reader.Close()
	s.Close()
	s = openStore(t, dir)
	defer s.Close()
	if got := holds(t, dir, "Quillaia"); len(got) > 0 {
		t.Errorf("still in %v", got)
	}
}

func TestATitlePackedForOthersSaysNothingOfItsBuyers(t *testing.T) {
	s, _ := newStore(t)
	title := withEdition(t, s, 5)
	ordered(t, s, title, orderOf("Quillaia", 2))
	p := firstPost()
	p.Sender = orders.Addressee{Name: "Sender Secretive", Lines: []string{"Hidden Lane 1"}, Town: "Trieste", Country: "IT"}
	if err := s.SetPost(ctx, title, 0, p); err != nil {
		t.Fatal(err)
	}
	for own, want := range map[bool]bool{true: true, false: false} {
		path := packed(t, s, title, own)
		content, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, word := range []string{"Quillaia", "Hidden Lane"} {
			if bytes.Contains(content, []byte(word)) != want {
				t.Errorf("for the maker's own machine %v: %s is told: %v", own, word, !want)
			}
		}
		there, _ := newStore(t)
		got, err := there.Unpack(ctx, path, nowhere)
		if err != nil {
			t.Fatal(err)
		}
		list, err := there.Orders(ctx, got.ID)
		if err != nil || (len(list) == 1) != want || want && (len(list[0].Allotted) != 2 || editionOf(t, there, got.ID).Tally.By[edition.Sold] != 2) {
			t.Errorf("%+v %v", list, err)
		}
	}
}

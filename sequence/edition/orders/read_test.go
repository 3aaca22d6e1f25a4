package orders

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/unicode"

	"pairwall/sequence"
	"pairwall/sequence/edition"
)

const plain = `Order number,Date,Shipping Name,Shipping Address 1,Shipping Zip,Shipping City,Shipping Country,Email,Quantity,Item total,Currency,Note
1001,2026-11-02,Zoë Müller,Straße 1,10115,Berlin,Germany,zoe@example.org,2,44.00,EUR,for my sister
1002,2026-11-03,Ada Bianchi,Via del Molo 3,34121,Trieste,Italia,ada@example.org,1,22.00,EUR,
`

func readAll(t *testing.T, data []byte, how Reading) Table {
	t.Helper()
	table, err := Read(data, how)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

func encoded(t *testing.T, as encoding.Encoding, text string) []byte {
	t.Helper()
	data, err := as.NewEncoder().Bytes([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func TestATableIsReadInWhateverEncodingItCame(t *testing.T) {
	japanese1 := strings.Replace(plain, "Zoë Müller,Straße 1", "やまだ はなこ,まるのうち", 1)
	for name, c := range map[string]struct {
		data  []byte
		found Encoding
	}{
		"UTF-8":                      {[]byte(plain), UTF8},
		"UTF-8 with a mark":          {append([]byte("\xEF\xBB\xBF"), plain...), UTF8},
		"UTF-16 with a mark":         {encoded(t, unicode.UTF16(unicode.LittleEndian, unicode.UseBOM), plain), UTF16LE},
		"UTF-16 the other way":       {encoded(t, unicode.UTF16(unicode.BigEndian, unicode.UseBOM), plain), UTF16BE},
		"UTF-16 without a mark":      {encoded(t, unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM), plain), UTF16LE},
		"UTF-16 BE without a mark":   {encoded(t, unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM), plain), UTF16BE},
		"Windows-1252":               {encoded(t, charmap.Windows1252, plain), Western},
		"Shift JIS":                  {encoded(t, japanese.ShiftJIS, japanese1), "shift_jis"},
		"lines ended by a return":    {[]byte(strings.ReplaceAll(plain, "\n", "\r\n")), UTF8},
		"UTF-16 of Japanese, no BOM": {encoded(t, unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM), japanese1), UTF16LE},
	} {
		got := readAll(t, c.data, Reading{Channel: "shop"})
		if got.Encoding != c.found || len(got.Orders) != 2 || len(got.Bad) != 0 {
			t.Errorf("%s: read as %s, %d orders, %+v", name, got.Encoding, len(got.Orders), got.Bad)
			continue
		}
		want := "Zoë Müller"
		if strings.Contains(name, "J") {
			want = "やまだ はなこ"
		}
		if got.Orders[0].To.Name != want {
			t.Errorf("%s: %q", name, got.Orders[0].To.Name)
		}
	}
	polish := encoded(t, charmap.Windows1250, strings.Replace(plain, "Zoë Müller,Straße", "Łukasz Żak,Łąka", 1))
	if got := readAll(t, polish, Reading{Encoding: "windows-1250"}); got.Orders[0].To.Name != "Łukasz Żak" {
		t.Errorf("chosen by the maker: %q", got.Orders[0].To.Name)
	}
	if _, err := Read(polish, Reading{Encoding: UTF8}); sequence.CodeOf(err) != sequence.Damaged {
		t.Error(err)
	}
	if _, err := Read(polish, Reading{Encoding: "klingon"}); sequence.CodeOf(err) != sequence.Invalid {
		t.Error(err)
	}
}

func TestWhatSeparatesColumnsIsFound(t *testing.T) {
	for _, sign := range []string{",", ";", "\t", "|"} {
		data := strings.ReplaceAll(plain, ",", sign)
		if got := readAll(t, []byte(data), Reading{}); got.Separator != sign || len(got.Orders) != 2 {
			t.Errorf("%q: %q, %d orders", sign, got.Separator, len(got.Orders))
		}
	}
	// Commas within cells of a table separated by semicolons.
	data := "Order;Name;Address;Qty;Price\n1;A;\"Row 1, back, left\";1;22,00\n2;B;Row 2, front, right;1;1.022,00\n"
	got := readAll(t, []byte(data), Reading{Currency: "EUR"})
	if got.Separator != ";" || len(got.Orders) != 2 || got.Orders[0].To.Lines[0] != "Row 1, back, left" || got.Orders[1].Price.Minor != 102_200 {
		t.Errorf("%q %+v %+v", got.Separator, got.Orders, got.Bad)
	}
	if got := readAll(t, []byte("sep=|\nOrder|Name\n1|A;B,C\n"), Reading{}); got.Orders[0].To.Name != "A;B,C" {
		t.Errorf("announced: %+v", got)
	}
}

func TestColumnsAreGuessedInSeveralLanguages(t *testing.T) {
	for _, header := range []string{
		"Order Number;Name;Address 1;Postcode;City;Country;Quantity;Price",
		"Bestellnummer;Empfänger;Straße;PLZ;Ort;Land;Menge;Preis",
		"Numero ordine;Destinatario;Indirizzo;CAP;Città;Paese;Quantità;Prezzo",
		"Numéro de commande;Nom;Rue;Code postal;Ville;Pays;Quantité;Prix",
		"注文番号;氏名;住所;郵便番号;市区町村;国;数量;価格",
	} {
		got := Guess(strings.Split(header, ";"))
		for i, field := range []Field{NumberField, NameField, Line1Field, PostcodeField, TownField, CountryField, CopiesField, PriceField} {
			if at, ok := got[field]; !ok || at != i {
				t.Errorf("%s: %s stands in %d, %v", header, field, at, ok)
			}
		}
	}
	if got := Guess([]string{"Billing Name", "Shipping Name", "Order ID"}); got[NameField] != 1 {
		t.Errorf("the address of delivery counts: %v", got)
	}
}

func TestRowsOfOneOrderAreOneOrder(t *testing.T) {
	data := "Order,Name,Postcode,Qty,Price,Currency,Item\n1,A,100,1,22,EUR,Zine\n1,,,2,44,EUR,Zine signed\n2,B,200,1,22,EUR,Zine\n2,B,200,1,5,EUR,Postcard\n3,C,300,1,22,EUR,Zine\n3,D,300,1,22,EUR,Zine\n2,B,200,1,22,EUR,Zine\n"
	got := readAll(t, []byte(data), Reading{Item: "zine"})
	if len(got.Orders) != 2 || got.Orders[0].Copies != 3 || got.Orders[0].Price.Minor != 6600 || got.Other != 1 {
		t.Errorf("%+v", got.Orders)
	}
	if len(got.Bad) != 3 {
		t.Fatalf("%+v", got.Bad)
	}
	for i, want := range []string{"Another row of this order", "another person", "same as line 4"} {
		if !strings.Contains(got.Bad[i].Why, want) {
			t.Errorf("line %d: %s, want %q", got.Bad[i].Line, got.Bad[i].Why, want)
		}
	}
}

func TestABadRowIsToldWithItsLineAndItsReason(t *testing.T) {
	head := "Order,Name,Country,Qty,Price,Currency,Date\n"
	for row, want := range map[string]string{
		",A,IT,1,22,EUR,":                                 "no order number",
		"1,A,Atlantis,1,22,EUR,":                          "no country",
		"1,A,IT,two,22,EUR,":                              "no number of copies",
		"1,A,IT,1.5,22,EUR,":                              "no number of copies",
		"1,A,IT,0,22,EUR,":                                "0 copies",
		"1,A,IT,-3,22,EUR,":                               "-3 copies",
		"1,A,IT,99999999999999999999,22,EUR,":             "no number of copies",
		"1,A,IT,1,twelve,EUR,":                            "amount",
		"1,A,IT,1,22,XXQ,":                                "currency",
		"1,A,IT,1,22,,":                                   "currency",
		"1,A,IT,1,-22,EUR,":                               "below nothing",
		"1,,IT,1,22,EUR,":                                 "names nobody",
		"1,A,IT,1,22,EUR,yesterday":                       "no day",
		"1,A,IT,1,22,EUR,03/04/2026":                      "two different days",
		"1,A\x00B,IT,1,22,EUR,":                           "cannot be read",
		"1," + strings.Repeat("A", 501) + ",IT,1,22,EUR,": "longer than 500",
	} {
		got := readAll(t, []byte(head+"\n0,Good,IT,1,22,EUR,\n"+row+"\n"), Reading{})
		if len(got.Orders) != 1 || len(got.Bad) != 1 || got.Bad[0].Line != 4 || !strings.Contains(got.Bad[0].Why, want) {
			t.Errorf("%.60q: %d orders, %+v; want %q", row, len(got.Orders), got.Bad, want)
		}
	}
	if got := readAll(t, []byte(head+"1,A,IT,1,22,EUR,\n2,\"B,IT,1,22,EUR,\n"), Reading{}); len(got.Orders) != 1 || len(got.Bad) != 1 {
		t.Errorf("a quotation that does not close: %+v", got)
	}
}

func TestQuotationMarksThatDoNotFitCostOneRowOnly(t *testing.T) {
	head := "Order,Name,Item,Qty\n"
	got := readAll(t, []byte(head+"1,A,5\" × 7\",1\n\n2,\"B,1\n3,\"C\nD\",x,1\n4,E,\"x\"y,1\n5,F,x,1\n"), Reading{})
	var names []string
	for _, o := range got.Orders {
		names = append(names, o.To.Name)
	}
	if !slices.Equal(names, []string{"A", "C\nD", "F"}) || len(got.Bad) != 2 || got.Bad[0].Line != 4 || got.Bad[1].Line != 7 {
		t.Errorf("%q %+v", names, got.Bad)
	}
	if got := readAll(t, []byte(strings.ReplaceAll(plain, "\n", "\r")), Reading{}); len(got.Orders) != 2 {
		t.Errorf("lines ended by a return alone: %+v", got)
	}
}

func TestADayWithSlashesIsReadAsItsTableShows(t *testing.T) {
	for rows, want := range map[string]string{"03/04/2026|25/12/2026": "2026-04-03", "03/04/2026|12/25/2026": "2026-03-04"} {
		one, other, _ := strings.Cut(rows, "|")
		got := readAll(t, []byte("Order,Name,Date\n1,A,"+one+" 10:00\n2,B,"+other+"\n"), Reading{})
		if len(got.Orders) != 2 || got.Orders[0].Day != want {
			t.Errorf("%s: %+v %+v", rows, got.Orders, got.Bad)
		}
	}
	if got := readAll(t, []byte("Order,Name,Date\n1,A,03/04/2026\n"), Reading{Days: MonthFirst}); got.Orders[0].Day != "2026-03-04" {
		t.Errorf("said by the maker: %+v", got.Orders)
	}
}

func TestWhatIsNoTableIsRefused(t *testing.T) {
	for name, c := range map[string]struct {
		data []byte
		how  Reading
		code sequence.Code
	}{
		"nothing":           {nil, Reading{}, sequence.Damaged},
		"too much":          {make([]byte, MostBytes+1), Reading{}, sequence.TooLarge},
		"no such separator": {[]byte(plain), Reading{Separator: "x"}, sequence.Invalid},
		"no such column":    {[]byte(plain), Reading{Columns: Columns{NumberField: 99}}, sequence.Invalid},
		"no number matched": {[]byte(plain), Reading{Columns: Columns{NameField: 0}}, sequence.Invalid},
		"one column twice":  {[]byte(plain), Reading{Columns: Columns{NumberField: 0, NameField: 0}}, sequence.Invalid},
		"no such field":     {[]byte(plain), Reading{Columns: Columns{NumberField: 0, "shoe size": 1}}, sequence.Invalid},
	} {
		if _, err := Read(c.data, c.how); sequence.CodeOf(err) != c.code {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// hostile makes texts of many scripts, in both directions, of up to 300 letters,
// with signs that tables, spreadsheets and markup take for their own.
func hostile(r *rand.Rand) string {
	alphabets := []string{"abc XYZ", "äöüßéñçø", "ŁąćžšđČ", "αβγΩ", "абвЖЯ", "שלום", "مرحبا", "山田花子", "ひらがなカナ", "한국어", "ไทย", "🙂👩‍👩‍👧", "\u202Eabc\u202C\u200F", "\u0301\u0308", "'\"`", ",;|\t", "=+-@", "<b>&amp;</b>", "\\n%s${}", "--;DROP TABLE orders", "'=1", "＝＠"}
	length := r.IntN(30)
	if r.IntN(10) == 0 {
		length = 300
	}
	var text strings.Builder
	for n := 0; n < length; n++ {
		letters := []rune(alphabets[r.IntN(len(alphabets))])
		text.WriteRune(letters[r.IntN(len(letters))])
	}
	return strings.TrimSpace(text.String())
}

// HostileOrders makes n orders of such texts.
func hostileOrders(n int) []Order {
	r := rand.New(rand.NewPCG(2026, 9))
	countries := Countries()
	list := make([]Order, n)
	for i := range list {
		o := Order{Number: fmt.Sprintf("%s%d", hostile(r), i), Channel: "the shop", Day: fmt.Sprintf("2026-%02d-%02d", 1+r.IntN(12), 1+r.IntN(28)), Copies: 1 + r.IntN(3),
			To: Addressee{Name: "n" + hostile(r), Company: hostile(r), Lines: []string{hostile(r), hostile(r), hostile(r), hostile(r)}, Postcode: hostile(r), Town: hostile(r),
				Region: hostile(r), Country: countries[r.IntN(len(countries))].Code, Email: hostile(r), Phone: hostile(r)}, Wish: hostile(r) + "\n" + hostile(r), Note: hostile(r)}
		if i%3 != 0 {
			o.Price = edition.Money{Minor: r.Int64N(1_000_000), Currency: []edition.Currency{"EUR", "JPY", "TND"}[r.IntN(3)]}
		}
		list[i] = o.Tidy()
	}
	return list
}

func TestTenThousandHostileOrdersComeThroughWhole(t *testing.T) {
	want := hostileOrders(10_000)
	var data bytes.Buffer
	if err := WriteCSV(&data, want); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(data.String(), "\uFEFF"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for i, row := range rows {
		for _, cell := range row {
			if cell != "" && strings.ContainsRune(formula, []rune(cell)[0]) {
				t.Fatalf("row %d: a spreadsheet takes %q for a formula", i, cell)
			}
		}
	}
	for name, data := range map[string][]byte{"UTF-8": data.Bytes(), "UTF-16": encoded(t, unicode.UTF16(unicode.BigEndian, unicode.UseBOM), strings.TrimPrefix(data.String(), "\uFEFF"))} {
		got := readAll(t, data, Reading{Channel: "the shop"})
		if len(got.Bad) > 0 || len(got.Orders) != len(want) {
			t.Fatalf("%s: %d orders, bad: %+v", name, len(got.Orders), got.Bad[:min(3, len(got.Bad))])
		}
		for i := range want {
			if diff := cmp.Diff(want[i], got.Orders[i]); diff != "" {
				t.Fatalf("%s, order %d: %s", name, i, diff)
			}
		}
	}
}

func TestAGuardIsTakenAwayAgainAndNothingElse(t *testing.T) {
	for cell, want := range map[string]string{"=1+1": "'=1+1", "+39 040": "'+39 040", "'s-Gravenhage": "'s-Gravenhage", "'=x": "''=x", "": "", "'": "'", "''": "''", "－5": "'－5", "a=b": "a=b"} {
		if got := Guarded(cell); got != want || unguarded(got) != cell {
			t.Errorf("%q: %q, back %q", cell, got, unguarded(got))
		}
	}
}

func TestOrdersOfOnePersonAreKnown(t *testing.T) {
	a := Addressee{Name: "Zoë Müller", Email: " ZOE@example.org", Postcode: "1"}
	if b := (Addressee{Name: "Z. M.", Email: "zoe@example.org"}); a.Person() != b.Person() {
		t.Error("one e-mail address, two persons")
	}
	a.Email = ""
	if b := (Addressee{Name: "ZOE  MULLER", Postcode: "1"}); a.Person() != b.Person() {
		t.Error("one name and postcode, two persons")
	}
	if b := (Addressee{Name: "Zoë Müller", Postcode: "2"}); a.Person() == b.Person() {
		t.Error("two postcodes, one person")
	}
	if (Addressee{Country: "IT"}).Person() != "" {
		t.Error("nobody is somebody")
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(plain))
	f.Add([]byte("sep=;\nOrder;Name\n1;\"A"))
	f.Add([]byte("\xFF\xFEO\x00\n\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		table, err := Read(data, Reading{Currency: "EUR"})
		if err != nil {
			if sequence.CodeOf(err) == sequence.Internal {
				t.Fatal(err)
			}
			return
		}
		for _, o := range table.Orders {
			if err := o.Check(); err != nil {
				t.Fatal(err)
			}
			o.To.Label("IT")
			o.To.Doubts("IT")
		}
		if !slices.IsSortedFunc(table.Bad, func(a, b Bad) int { return a.Line - b.Line }) {
			t.Fatal("bad rows are out of order")
		}
	})
}

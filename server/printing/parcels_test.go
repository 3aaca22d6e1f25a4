package printing

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pairwall/sequence/edition"
	"pairwall/sequence/edition/dispatch"
	"pairwall/sequence/edition/orders"
	"pairwall/sequence/edition/post"
	"pairwall/sequence/pages"
)

// Persons, services and prices in these tests are invented.

var someday = time.Date(2026, 11, 26, 9, 0, 0, 0, time.UTC)

func eur(cents int64) edition.Money { return edition.Money{Minor: cents, Currency: "EUR"} }

// buyers are from several countries, with names and wishes that people and
// attackers write.
var buyers = []orders.Addressee{
	{Name: "Nives Prelog", Lines: []string{"Obala 5"}, Postcode: "6330", Town: "Piran", Country: "SI"},
	{Name: "山田 花子", Lines: []string{"波止場町2-2"}, Postcode: "650-0042", Town: "神戸市", Region: "兵庫県", Country: "JP"},
	{Name: "Ελένη Παπαδοπούλου", Lines: []string{"Οδός Κέρκυρας 12"}, Postcode: "491 00", Town: "Κέρκυρα", Country: "GR"},
	{Name: "M. Kern", Company: "Seebuchhandlung", Lines: []string{"Seeweg 2"}, Postcode: "8001", Town: "Zürich", Country: "CH"},
	{Name: "=HYPERLINK(\"http://x\") @SUM", Lines: []string{"<b>Harbour</b> 1"}, Postcode: "97205", Town: "Portland", Region: "OR", Country: "US"},
	{Name: "محمد علي", Lines: []string{"Via Sparano 1"}, Postcode: "70121", Town: "Bari", Country: "IT"},
	{Name: "Maximiliana Theodora Wolkenstein-Immaginaria von und zu den Sieben Fähren", Company: "Verein der Freundinnen langsamer Züge am Meer", Lines: []string{"Hinterhaus, dritter Aufgang, vierter Stock links", "Donaudampfschifffahrtsstraße 117–119"}, Postcode: "10115", Town: "Berlin", Country: "DE"},
	{Name: "Ђорђе Живковић", Lines: []string{"Његошева 3"}, Postcode: "85330", Town: "Котор", Country: "ME"},
	{Name: "Łucja Żółć", Lines: []string{"Łódzka 5/7"}, Postcode: "90-001", Town: "Łódź", Country: "PL"},
	{Name: "🚂 Rider", Lines: []string{"9 Slow Lane"}, Postcode: "EC1A 1BB", Town: "London", Country: "GB"},
	{Name: "at the fair"},
	{Name: "Jose\u0301 Mun\u0303oz", Lines: []string{"Calle 1"}, Postcode: "28001", Town: "Madrid", Country: "ES"},
}

// anAfternoon is what those buyers ordered, packed: the later orders have the
// lower numbers, and every fourth has two copies.
func anAfternoon(t *testing.T) (Batch, []Declared) {
	t.Helper()
	e := edition.FirstEdition
	e.Size, e.Weighed, e.Origin, e.Price = 40, 180*edition.Gram, "IT", eur(2200)
	maker := orders.Addressee{Name: "Vera Immaginaria", Lines: []string{"Via del Molo 3"}, Postcode: "34121", Town: "Trieste", Country: "IT"}
	price := func(zone string, grams edition.Mass, cents int64) post.Price {
		return post.Price{Service: "Quiet letter", Class: post.Letter, Zone: zone, UpTo: grams * edition.Gram, Price: eur(cents)}
	}
	room := dispatch.Room{Edition: e, From: "IT", Desk: post.Desk{
		Rules: post.Rules{From: "IT", Limits: post.FirstLimits(), Tariff: post.Tariff{Zones: []post.Zone{{Name: "home", Countries: []orders.Country{"IT"}}, {Name: "abroad", Rest: true}},
			Prices: []post.Price{price("home", 2000, 700), price("abroad", 500, 860), price("abroad", 2000, 1400)}}},
		Copy: edition.Copied{Mass: 180 * edition.Gram, Size: pages.Size{Width: 148, Height: 210}, Thickness: 4},
		Shelf: []post.Material{{Name: "board mailer with a long name for narrow columns", Kind: post.Mailer, Mass: 60 * edition.Gram, Inside: pages.Size{Width: 250, Height: 330}, Deepest: 20,
			Outside: pages.Size{Width: 260, Height: 345}, Wall: 2}},
	}}
	var list []orders.Order
	next := e.Size
	for i, to := range buyers {
		o := orders.Order{ID: int64(i + 1), Number: fmt.Sprintf("A-%d", i+1), For: edition.ForSale, Copies: 1, State: orders.Open, To: to}
		if i%4 == 3 {
			o.Copies = 2
		}
		if i == 0 {
			o.Wish = "for Ada, who took the night ferry with us and slept through Ancona; please sign it in pencil, and leave the wrapper off if it can be helped"
		}
		for range o.Copies {
			o.Allotted = append(o.Allotted, edition.CopyRef{Series: edition.Numbered, Number: next})
			next--
		}
		o.Price = eur(2200 * int64(o.Copies))
		list = append(list, o)
	}
	table := room.Lay(list, nil)
	if len(table.Waiting) != len(buyers) || len(table.Held) != 0 {
		t.Fatalf("%d parcels, held up %+v", len(table.Waiting), table.Held)
	}
	var all []Declared
	for _, p := range table.Waiting {
		if p.Posted == nil {
			continue
		}
		n := len(p.Copies)
		d := post.Declare(post.Consignment{From: post.Spot{Country: "IT", Postcode: "34121"}, To: post.Spot{Country: p.To}, For: p.For, Copies: n, Net: edition.Mass(n) * room.Desk.Copy.Mass,
			Gross: p.Posted.Parcel.Mass, Value: eur(2200 * int64(n)), Goods: e.Goods, Origin: "IT", Today: someday}, []post.SDRRate{{Currency: "EUR", Worth: "1.25", Day: "2026-11-20", Source: "invented"}})
		if d.Need.Needed {
			all = append(all, Declared{p.Number, p.Label, d})
		}
	}
	return Batch{Title: "Eleven days – Адріатика", Made: someday, Sender: maker, Parcels: table.Waiting}, all
}

// printed makes a PDF and reads its text, a blank between words.
func printed(t *testing.T, name string, draw func(*bytes.Buffer) error) string {
	t.Helper()
	var out bytes.Buffer
	if err := draw(&out); err != nil {
		t.Fatal(err)
	}
	dir := os.Getenv("PAIRWALL_SHOTS") // to be looked at
	if dir == "" {
		dir = t.TempDir()
	}
	file := filepath.Join(dir, name+".pdf")
	if err := os.WriteFile(file, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	text, err := exec.CommandContext(t.Context(), "pdftotext", "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func joined(text string) string { return strings.Join(strings.Fields(text), " ") }

func wants(t *testing.T, text string, words ...string) {
	t.Helper()
	for _, w := range words {
		if !strings.Contains(joined(text), w) {
			t.Errorf("%q is missing in\n%s", w, text)
		}
	}
}

func TestThePackingListHasEveryParcelInShelfOrder(t *testing.T) {
	b, _ := anAfternoon(t)
	text := printed(t, "packing-list", func(out *bytes.Buffer) error { return New(nil, nil, t.TempDir()).PackingList(out, b) })
	last := -1
	for n := 26; n <= 40; n++ {
		here := strings.Index(text, fmt.Sprintf("%d/40", n))
		if here < last || here < 0 {
			t.Errorf("copy %d/40 stands at %d, after %d\n%s", n, here, last, text)
		}
		last = here
	}
	wants(t, text, "Packing list: Eleven days – Адріатика", "Nives Prelog", "山田 花子", "Παπαδοπούλου", "=HYPERLINK", "Живковић", "Łucja", "José Muñoz", "handed over", "240 g", "420 g", "Quiet letter", "A-12", "night ferry")
	if strings.Contains(text, "محمد") {
		t.Error("a name that runs from right to left was set from left to right")
	}
}

func TestThankYouSlipsNameTheirReaderAndCopies(t *testing.T) {
	b, _ := anAfternoon(t)
	words := "Thank you for taking this journey home.\n\nEleven days by local train and ferry, and a hundred copies of them; yours is one. Write to me where you read it."
	text := printed(t, "thanks", func(out *bytes.Buffer) error { return New(nil, nil, t.TempDir()).Thanks(out, b, words) })
	wants(t, text, "Nives Prelog,", "山田 花子,", "Ελένη Παπαδοπούλου,", "Łucja Żółć,", "40/40", "36/40, 37/40")
	// A long name is broken and stays on its slip.
	wants(t, text, "Maximiliana Theodora", "den Sieben Fähren,")
	if n := strings.Count(text, "Thank you for taking"); n != len(buyers) {
		t.Errorf("%d slips for %d parcels", n, len(buyers))
	}
}

func TestTheCustomsSheetSaysWhatTheFormAsks(t *testing.T) {
	b, list := anAfternoon(t)
	var numbers []string
	for _, d := range list {
		numbers = append(numbers, d.Number)
	}
	// From Italy: not within the Union (Greece, Germany, Poland, Slovenia, Spain).
	if got := strings.Join(numbers, " "); got != "A-10 A-8 A-5 A-4 A-2" {
		t.Fatalf("declared are %s", got)
	}
	text := printed(t, "customs", func(out *bytes.Buffer) error { return New(nil, nil, t.TempDir()).Customs(out, b, list) })
	sheets := strings.Split(strings.TrimSuffix(text, "\f"), "\f")
	if len(sheets) != len(list) {
		t.Fatalf("%d sheets for %d parcels", len(sheets), len(list))
	}
	for _, sheet := range sheets {
		wants(t, sheet, "CN 22", "Vera Immaginaria", "ITALY", "sale of goods", "Printed photobook", "4901.99", "Country of origin Italy", "In SDR", "at 1.25 EUR for one, 2026-11-20", "Date and signature", joined(post.Caution))
	}
	wants(t, sheets[3], "Order A-4", "SWITZERLAND", "Quantity 2", "Net weight 360 g", "Total weight 420 g", "EUR 44.00", "35.20")
	wants(t, sheets[4], "Order A-2", "JAPAN", "山田 花子", "Quantity 1", "EUR 22.00", "17.60")

	dear := list[:1]
	dear[0].Declaration = post.Declare(post.Consignment{From: post.Spot{Country: "IT"}, To: post.Spot{Country: "CH"}, For: edition.ForSale, Copies: 1, Net: 180 * edition.Gram, Gross: 240 * edition.Gram,
		Value: eur(50000), Goods: edition.LoosePictures, Today: someday}, []post.SDRRate{{Currency: "EUR", Worth: "1.25", Day: "2026-01-20"}})
	text = printed(t, "customs-dear", func(out *bytes.Buffer) error { return New(nil, nil, t.TempDir()).Customs(out, b, dear) })
	wants(t, text, "CN 23", "Printed pictures, loose", "4911.91", "EUR 500.00", "400.00", "not said yet", "look it up anew")
	if strings.Contains(text, "()") {
		t.Error("a source that was not said leaves its brackets")
	}
}

func TestLabelsNameEveryParcelThatIsPosted(t *testing.T) {
	b, _ := anAfternoon(t)
	press := New(nil, nil, t.TempDir())
	for _, n := range []int{0, 8} {
		style := pages.FirstLabelStyle
		style.Sheet = pages.LabelSheets[n]
		text := printed(t, fmt.Sprint("labels-", n), func(out *bytes.Buffer) error { return press.Labels(out, b, style) })
		wants(t, text, "Nives Prelog", "SLOVENIA", "神戸市", "JAPAN", "Παπαδοπούλου", "GREECE", "Seebuchhandlung", "SWITZERLAND", "OR 97205", "Живковић", "MONTENEGRO", "José Muñoz", "A-12 · 26/40")
		if strings.Contains(text, "at the fair") {
			t.Error("what is handed over has a label")
		}
		hand, err := press.ByHand(b, style)
		if err != nil || len(hand) != 2 || hand[0].Number != "A-10" || hand[1].Number != "A-6" {
			t.Errorf("by hand are %+v, %v", hand, err)
		}
	}
}

package quotes

import (
	"math/big"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/pages"
)

func eur(minor int64) edition.Money   { return edition.Money{Minor: minor, Currency: "EUR"} }
func eurp(minor int64) *edition.Money { m := eur(minor); return &m }
func days(n int) *int                 { return &n }
func yes() *bool                      { b := true; return &b }

// complete is a quote that says everything: 300.00 and 4.00 a copy, printed by an
// invented press.
func complete() Quote {
	return Quote{Printer: 1, Day: "2026-03-02", Valid: days(30), Currency: "EUR", Tax: &Tax{Included: true, Percent: "22"},
		SetUp: eurp(30000), RunOn: &UnitPrice{eur(400), 1}, Proof: &Charge{Included: true}, Finishing: &Charge{Included: true},
		Delivery: &Charge{Included: true}, Tolerance: &Tolerance{Overs: "0", Unders: "0"}}
}

// To be sure of 100 copies order 112 at 10 % and 106 at 5 % (SOURCES.md, computed
// there).
func TestOrderingEnoughToBeSure(t *testing.T) {
	for _, c := range []struct {
		good   int
		unders edition.Decimal
		want   int
	}{{100, "10", 112}, {100, "5", 106}, {100, "0", 100}, {100, "", 100}, {90, "10", 100}, {1, "10", 2}, {95, "5", 100}, {100, "2.5", 103}} {
		if got := ToOrder(c.good, c.unders); got != c.want {
			t.Errorf("%d at %s %%: order %d, want %d", c.good, c.unders, got, c.want)
		}
	}
}

func TestOrderingIsTheLeastThatIsSure(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 112))
	for range 2000 {
		good, unders := 1+random.IntN(5000), random.IntN(100)
		n := ToOrder(good, edition.Decimal(big.NewInt(int64(unders)).String()))
		if n*(100-unders) < good*100 || (n-1)*(100-unders) >= good*100 {
			t.Fatalf("%d at %d %%: %d", good, unders, n)
		}
	}
}

func TestLandedCostAddsUpToTheLastCent(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 22))
	money := func() *edition.Money { return eurp(random.Int64N(100000)) }
	for range 3000 {
		q := complete()
		q.Tax = &Tax{Included: random.IntN(2) == 0, Percent: edition.Decimal(big.NewInt(random.Int64N(30)).String())}
		q.RunOn = &UnitPrice{*money(), 1 + random.IntN(300)}
		q.Delivery = &Charge{Amount: money(), Per: random.IntN(3) * 7}
		q.Proof = &Charge{Amount: money()}
		q.Tolerance.Unders = "10"
		terms := FirstTerms()
		terms.Reclaims = random.IntN(2) == 0
		l, err := q.Land(100, FirstWishes(), terms)
		if err != nil {
			t.Fatal(err)
		}
		sum := int64(0)
		for _, item := range l.Items {
			if item.Amount != nil {
				sum += item.Amount.Minor
			}
		}
		switch {
		case q.Tax.Included && terms.Reclaims:
			sum -= l.Tax.Minor
		case !q.Tax.Included && !terms.Reclaims:
			sum += l.Tax.Minor
		}
		if sum != l.Total.Minor {
			t.Fatalf("%+v: items and tax come to %d, the total to %d", l, sum, l.Total.Minor)
		}
	}
}

func TestLandedCostGrowsWithWhatIsWantedAndWhatMayBeMissing(t *testing.T) {
	q, w, terms := complete(), FirstWishes(), FirstTerms()
	before := int64(0)
	for good := 1; good < 400; good++ {
		l, err := q.Land(good, w, terms)
		if err != nil || l.Home.Minor < before {
			t.Fatalf("%d copies cost %v after %d: %v", good, l.Home, before, err)
		}
		before = l.Home.Minor
	}
	before = 0
	for unders := range 60 {
		q.Tolerance.Unders = edition.Decimal(big.NewInt(int64(unders)).String())
		l, err := q.Land(100, w, terms)
		if err != nil || l.Home.Minor < before {
			t.Fatalf("at %d %% unders it costs %v after %d: %v", unders, l.Home, before, err)
		}
		before = l.Home.Minor
	}
}

// 112 × 4.00 + 300.00 = 748.00, of 100 good copies 7.48 each; with 10 % overs
// charged 11 more come to 44.00.
func TestLandedCostOfAWorkedQuote(t *testing.T) {
	q := complete()
	q.Tolerance = &Tolerance{Overs: "10", Unders: "10", Charged: yes()}
	l, err := q.Land(100, FirstWishes(), FirstTerms())
	if err != nil {
		t.Fatal(err)
	}
	if l.Ordered != 112 || *l.Home != eur(74800) || *l.Unit != eur(748) || *l.Most != eur(79200) || !l.Complete || len(l.Doubts) != 0 {
		t.Errorf("%+v: home %v, unit %v, most %v", l, l.Home, l.Unit, l.Most)
	}
	if *l.Tax != eur(13489) { // 748 × 22 ÷ 122 = 134.885…
		t.Errorf("tax in it: %v", l.Tax)
	}
	q.Currency, q.SetUp, q.RunOn = "CZK", &edition.Money{Minor: 750000, Currency: "CZK"}, &UnitPrice{edition.Money{Minor: 10000, Currency: "CZK"}, 1}
	if l, err = q.Land(100, FirstWishes(), FirstTerms()); err != nil || l.Home != nil || l.Complete {
		t.Errorf("without a rate: %+v, %v", l, err)
	}
	q.Rate = &edition.Rate{From: "CZK", To: "EUR", Value: "0.04", Day: "2026-03-02"}
	if l, err = q.Land(100, FirstWishes(), FirstTerms()); err != nil || *l.Home != eur(74800) {
		t.Errorf("with a rate: %+v, %v", l, err)
	}
}

func TestWhatWasNotSaidIsMissingAndNeverZero(t *testing.T) {
	q := Quote{Currency: "EUR", Steps: []PriceStep{{Copies: 100, Amount: eur(70000)}}}
	w := FirstWishes()
	w.Finishing = "matt lamination outside"
	want := []string{"a price for 50 copies", "a price for 200 copies", "proof", "finishing", "delivery", "whether tax is in it", "its date", "how long it holds", "overs and unders"}
	if got := q.LeavesOut(w); !slices.Equal(got, want) {
		t.Errorf("left out: %q", got)
	}
	l, err := q.Land(90, w, FirstTerms()) // 90 good at 10 % is the one number priced
	if err != nil || l.Complete || *l.Home != eur(70000) {
		t.Fatalf("%+v, %v", l, err)
	}
	for _, item := range l.Items[1:] {
		if item.State != Missing || item.Amount != nil {
			t.Errorf("%+v", item)
		}
	}
	if l, err = q.Land(100, w, FirstTerms()); err != nil || l.Home != nil || l.Total != nil || l.Items[0].State != Missing {
		t.Errorf("a number without a price: %+v, %v", l, err)
	}
	if left := complete().LeavesOut(w); len(left) != 0 {
		t.Errorf("a quote that says everything leaves out %q", left)
	}
}

// Least squares of (100, 700), (200, 1000), (300, 1500) is 266.67 + 4.00 n, by
// hand: mean 200 and 1066.67, Σdxdy = 80000, Σdx² = 20000.
func TestFitIsLeastSquaresTwoPricesOrAsQuoted(t *testing.T) {
	terms := FirstTerms()
	q := Quote{Currency: "EUR", Steps: []PriceStep{{100, eur(70000), false}, {200, eur(100000), false}, {300, eur(150000), false}}}
	f, err := q.fit(terms, []int{100})
	if err != nil || f.SetUp != eur(26667) || f.RunOn.Amount != eur(40000) || f.Method != "least squares of 3 prices" {
		t.Errorf("%+v, %v", f, err)
	}
	if f.Off != eur(6667) { // 1000 against 1066.67
		t.Errorf("off by %v", f.Off)
	}
	// python3 -c "import statistics; print(statistics.linear_regression([50,100,200,300,500],[42000,51000,68000,90000,131000]))"
	// gives slope=198.75, intercept=30687.5.
	five := Quote{Currency: "EUR", Steps: []PriceStep{{50, eur(42000), false}, {100, eur(51000), false}, {200, eur(68000), false}, {300, eur(90000), false}, {500, eur(131000), false}}}
	if g, err := five.fit(terms, nil); err != nil || g.SetUp != eur(30688) || g.RunOn.Amount != eur(19875) {
		t.Errorf("%+v, %v", g, err)
	}
	q.Steps = q.Steps[:2]
	if f, err = q.fit(terms, []int{100}); err != nil || f.SetUp != eur(40000) || f.RunOn.Amount != eur(30000) || f.Off != eur(0) || f.Method != "through two prices" {
		t.Errorf("%+v, %v", f, err)
	}
	if f, err = complete().fit(terms, []int{50, 100}); err != nil || f.SetUp != eur(30000) || f.RunOn.Amount != eur(40000) || f.Method != "as quoted" {
		t.Errorf("%+v, %v", f, err)
	}
	q.Steps = q.Steps[:1]
	if f, err = q.fit(terms, []int{100}); f != nil || err != nil {
		t.Errorf("one price makes no line: %+v, %v", f, err)
	}
}

// At the break-even, and not one copy before, the other is cheaper.
func TestBreakEvenIsTheFirstNumberAtWhichTheOtherIsCheaper(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 143))
	crossed := 0
	for range 3000 {
		quote := func(number int) Numbered {
			q := complete()
			q.SetUp, q.RunOn = eurp(random.Int64N(100000)), &UnitPrice{eur(random.Int64N(1000)), 1}
			return Numbered{number, q}
		}
		all := []Numbered{quote(1), quote(2)}
		c := Compare(all, FirstWishes(), FirstTerms(), "2026-03-03")
		cost := func(number, n int) *big.Rat { cost, _ := all[number-1].printing(n); return cost }
		if len(c.Breaks) == 0 {
			continue
		}
		b := c.Breaks[0]
		other := 3 - b.From
		if cost(b.From, b.Copies).Cmp(cost(other, b.Copies)) >= 0 {
			t.Fatalf("%+v: at the break-even it is not cheaper", b)
		}
		if b.Copies > 1 {
			crossed++
			if cost(b.From, b.Copies-1).Cmp(cost(b.Below, b.Copies-1)) < 0 {
				t.Fatalf("%+v: one copy before it was cheaper already", b)
			}
		}
	}
	if crossed < 300 {
		t.Errorf("only %d pairs crossed", crossed)
	}
}

func TestCheapestIsCompleteAndHolds(t *testing.T) {
	dear, cheap, old, bare := complete(), complete(), complete(), complete()
	cheap.SetUp, old.SetUp, bare.SetUp = eurp(20000), eurp(100), eurp(0)
	old.Day, bare.Delivery = "2026-01-02", nil
	all := []Numbered{{1, dear}, {2, cheap}, {3, old}, {4, bare}}
	c := Compare(all, FirstWishes(), FirstTerms(), "2026-04-01")
	if !slices.Equal(c.Copies, []int{50, 100, 200}) || !slices.Equal(c.Cheapest, []int{2, 2, 2}) {
		t.Fatalf("%v %v", c.Copies, c.Cheapest)
	}
	if c.Rows[0].Holding != Holds || c.Rows[2].Holding != Expired || c.Rows[2].Expires != "2026-02-01" {
		t.Errorf("%+v", c.Rows)
	}
	if c = Compare(all, FirstWishes(), FirstTerms(), "2026-04-02"); c.Rows[0].Holding != Expired {
		t.Errorf("a day later: %v", c.Rows[0].Holding)
	}
}

func TestContradictionsAreRefused(t *testing.T) {
	for name, spoil := range map[string]func(*Quote){
		"another currency":      func(q *Quote) { q.SetUp = &edition.Money{Minor: 1, Currency: "USD"} },
		"no currency":           func(q *Quote) { q.Currency = "" },
		"below zero":            func(q *Quote) { q.SetUp = eurp(-1) },
		"included and amounted": func(q *Quote) { q.Proof = &Charge{Included: true, Amount: eurp(1)} },
		"neither":               func(q *Quote) { q.Proof = &Charge{} },
		"steps that fall":       func(q *Quote) { q.Steps = []PriceStep{{200, eur(1), false}, {100, eur(1), false}} },
		"unders of everything":  func(q *Quote) { q.Tolerance.Unders = "100" },
		"no day":                func(q *Quote) { q.Day = "2026-02-30" },
		"a rate without a day":  func(q *Quote) { q.Rate = &edition.Rate{From: "EUR", To: "USD", Value: "1.1"} },
		"a rate of nothing":     func(q *Quote) { q.Rate = &edition.Rate{From: "EUR", To: "USD", Value: "0", Day: "2026-01-01"} },
		"a price for no copy":   func(q *Quote) { q.RunOn.Per = 0 },
	} {
		q := complete()
		spoil(&q)
		if err := q.Check(); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := complete().Check(); err != nil {
		t.Error(err)
	}
}

func spec() Specification {
	f := pages.FirstFormat
	f.Trim, f.Text.Name = pages.Size{Width: 170, Height: 240}, "Invented Silk"
	w := FirstWishes()
	w.DeliverTo, w.DeliverBy, w.ReplyBy = "Molo 3\nTrieste", "2026-06-01", "2026-03-20"
	return Specification{Facts{"Trieste to Bari", f.Bound(pages.PerfectBound), 48, 5, ""}, w}
}

func TestLetterSaysWhatTheTitleKnowsAndWhatIsOpen(t *testing.T) {
	s := spec()
	text := Text(s.Letter("Tipografia Immaginaria"))
	for _, want := range []string{"Dear Tipografia Immaginaria,", "Quantities: 50 / 100 / 200 copies\n", "Trim size: 170 × 240 mm (width × height), portrait",
		"Pages: 48 text pages, 5 of them blank; each side of a leaf is one page; the cover is not counted (4 pages more)",
		"Text paper: Invented Silk, silk, 150 g/m²", "Cover paper: silk, 250 g/m²", "Colours: inside 4/4, cover 4/4", "Binding: perfect binding",
		"Spine: about 3.2 mm", // 3.24 mm: SOURCES.md, 48 pages, 150 g/m², bulk 0.9
		"Proof: digital, calibrated; 1 round", "Files supplied: PDF/X-4, single pages, 3 mm bleed on every side",
		"Overs and unders accepted: up to 10 % overs, up to 10 % unders", "Packing: to be agreed", "Delivery to: Molo 3, Trieste",
		"Delivery by: 1 June 2026", "Reply by: 20 March 2026"} {
		if !strings.Contains(text, want) {
			t.Errorf("the letter lacks %q:\n%s", want, text)
		}
	}
	if got, want := s.Missing(), []string{"Cover stiffness", "Finishing", "Packing"}; !slices.Equal(got, want) {
		t.Errorf("missing: %q", got)
	}
}

func TestLetterInTheMakersWording(t *testing.T) {
	s := spec()
	s.Wishes.Wording = "Gentile {printer},\n\nPagine: {page-count}, di cui {blank-count} bianche; formato {size}; carta {text-grammage} g; colori {inside-colours}.\n{packing}"
	s.Wishes.Own = []OwnLine{{"Grain", "parallel to the spine"}}
	if got, want := Text(s.Letter("")), "Gentile printer,\n\nPagine: 48, di cui 5 bianche; formato 170 × 240 mm; carta 150 g; colori 4/4.\nto be agreed\n"; got != want {
		t.Errorf("%q", got)
	}
	s.Wishes.Wording = ""
	if text := Text(s.Letter("")); !strings.Contains(text, "Grain: parallel to the spine\n") {
		t.Error(text)
	}
	s.Facts.Profile = "an invented press on silk"
	if text := Text(s.Letter("")); !strings.Contains(text, "3 mm bleed on every side, colours for an invented press on silk\n") {
		t.Error(text)
	}
	for _, wording := range []string{"{nothing}", "{lines} and more", "{}"} {
		s.Wishes.Wording = wording
		if err := s.Wishes.Check(); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%q: %v", wording, err)
		}
	}
	if err := FirstWishes().Check(); err != nil {
		t.Error(err)
	}
}

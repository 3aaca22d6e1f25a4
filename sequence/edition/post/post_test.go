package post

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/orders"
	"pairwall/sequence/pages"
)

// All prices, services and materials in these tests are invented.

func shelf() []Material {
	return []Material{
		{Name: "large mailer", Kind: Mailer, Mass: 60_000, Inside: pages.Size{Width: 240, Height: 330}, Deepest: 50, Outside: pages.Size{Width: 250, Height: 345}, Wall: 2},
		{Name: "small mailer", Kind: Mailer, Mass: 30_000, Inside: pages.Size{Width: 165, Height: 235}, Deepest: 10, Outside: pages.Size{Width: 175, Height: 250}, Wall: 2},
		{Name: "board", Kind: Board, Mass: 22_000, Wall: 1, Each: 1},
		{Name: "card", Kind: Card, Mass: 4_000, Wall: 0.3, Each: 1},
		{Name: "sleeve", Kind: Sleeve, Mass: 2_000, Each: 1},
		{Name: "sticker", Kind: Sticker, Mass: 500},
	}
}

// zine is a copy of 180 g, A5, 4 mm thick.
func zine(mass edition.Mass) edition.Copied {
	return edition.Copied{Mass: mass, Least: mass * 95 / 100, Most: mass * 105 / 100, Thickness: 4, Size: pages.Size{Width: 148, Height: 210}}
}

func TestAParcelIsPackedFlatInTheSmallestThatHoldsIt(t *testing.T) {
	one, err := Pack(1, zine(180_000), shelf())
	if err != nil {
		t.Fatal(err)
	}
	// 180 + 22 + 4 + 2 + 30 g; 4 + 1 + 0.3 + 2 mm: by hand.
	if one.Mailer != "small mailer" || one.Mass != 238_000 || one.Most != 247_000 || one.Length != 250 || one.Width != 175 || one.Thickness != 7.3 {
		t.Errorf("%+v", one)
	}
	three, err := Pack(3, zine(180_000), shelf())
	if err != nil || three.Mailer != "large mailer" || three.Mass != (3*180+22+4+3*2+60)*edition.Gram {
		t.Errorf("%+v %v", three, err)
	}
	if !strings.Contains(three.Why, "13.3 mm thick; 1 smaller does not") {
		t.Error(three.Why)
	}
	_, err = Pack(13, zine(180_000), shelf())
	if sequence.CodeOf(err) != sequence.TooLarge || !strings.Contains(err.Error(), "holds 12 copies") {
		t.Error(err)
	}
	if _, err := Pack(1, zine(180_000), shelf()[2:]); sequence.CodeOf(err) != sequence.Invalid {
		t.Error(err)
	}
	turned := shelf()
	turned[1].Inside, turned[1].Outside = turned[1].Inside.Turned(), turned[1].Outside.Turned()
	if p, err := Pack(1, zine(180_000), turned); err != nil || p.Mailer != "small mailer" || p.Length != 250 {
		t.Errorf("a mailer that lies: %+v %v", p, err)
	}
}

func tariff() Tariff {
	eur := func(minor int64) edition.Money { return edition.Money{Minor: minor, Currency: "EUR"} }
	t := Tariff{Zones: []Zone{{Name: "home", Countries: []orders.Country{"IT"}}, {Name: "Europe", Countries: []orders.Country{"SI", "HR", "DE"}}, {Name: "abroad", Rest: true}}}
	for _, p := range []struct {
		service string
		class   Class
		tracked bool
		zone    string
		grams   edition.Mass
		minor   int64
	}{
		{"Quiet letter", Letter, false, "home", 250, 200}, {"Quiet letter", Letter, false, "home", 1000, 420},
		{"Quiet letter", Letter, false, "abroad", 250, 620}, {"Quiet letter", Letter, false, "abroad", 1000, 860}, {"Quiet letter", Letter, false, "abroad", 2000, 1400},
		{"Books", PrintedMatter, false, "abroad", 250, 500}, {"Books", PrintedMatter, false, "abroad", 5000, 1300},
		{"Counted packet", SmallPacket, true, "abroad", 250, 620}, {"Counted packet", SmallPacket, true, "abroad", 2000, 1400},
	} {
		t.Prices = append(t.Prices, Price{Service: p.service, Class: p.class, Tracked: p.tracked, Zone: p.zone, UpTo: p.grams * edition.Gram, Price: eur(p.minor)})
	}
	return t
}

func desk(mass edition.Mass) Desk {
	return Desk{Rules: Rules{From: "IT", Tariff: tariff(), Limits: FirstLimits()}, Copy: zine(mass), Shelf: shelf()}
}

func TestTheCheapestThatMayCarryItIsChosen(t *testing.T) {
	parcel := Parcel{Copies: 1, Mass: 238_000, Most: 240_000, Length: 250, Width: 175, Thickness: 7}
	for name, c := range map[string]struct {
		change func(*Parcel, *Rules)
		to     orders.Country
		want   string
		minor  int64
		says   string
	}{
		"printed matter is cheapest":     {func(*Parcel, *Rules) {}, "JP", "Books", 500, ""},
		"a message may not go so":        {func(p *Parcel, _ *Rules) { p.Letter = true }, "JP", "Counted packet", 620, "personal message"},
		"tracked before untracked alike": {func(p *Parcel, _ *Rules) { p.Letter = true }, "JP", "Counted packet", 620, ""},
		"at home":                        {func(*Parcel, *Rules) {}, "IT", "Quiet letter", 200, ""},
		"the step is inclusive":          {func(p *Parcel, _ *Rules) { p.Mass = 250_000 }, "IT", "Quiet letter", 200, ""},
		"and not beyond":                 {func(p *Parcel, _ *Rules) { p.Mass = 250_001 }, "IT", "Quiet letter", 420, ""},
		"only tracked":                   {func(_ *Parcel, r *Rules) { r.Tracked = true }, "US", "Counted packet", 620, "not tracked"},
		"too long for a service": {func(_ *Parcel, r *Rules) {
			for i := range r.Tariff.Prices {
				if r.Tariff.Prices[i].Service == "Books" {
					r.Tariff.Prices[i].Longest = 245
				}
			}
		}, "JP", "Counted packet", 620, "is long 250 mm, at most 245 mm"},
	} {
		p, d := parcel, desk(0)
		c.change(&p, &d.Rules)
		got, err := d.Choose(p, c.to)
		if err != nil || got.Service != c.want || got.Price.Minor != c.minor {
			t.Errorf("%s: %+v, %v", name, got, err)
			continue
		}
		if c.says != "" && !strings.Contains(sentences(got.Refused), c.says) {
			t.Errorf("%s: refused %+v", name, got.Refused)
		}
	}
	if _, err := desk(0).Choose(Parcel{Mass: 9_000_000, Length: 200, Width: 100}, "JP"); sequence.CodeOf(err) != sequence.NotFound {
		t.Error(err)
	}
	none := desk(0)
	none.Tariff.Zones[2].Rest = false
	if _, err := none.Choose(parcel, "JP"); sequence.CodeOf(err) != sequence.NotFound || !strings.Contains(err.Error(), "Japan") {
		t.Error(err)
	}
}

// The published limits of letter-post items: length, width and thickness together
// 900 mm, the longest side 600 mm, the face at least 90 × 140 mm; a letter and a
// small packet 2 kg, printed matter 5 kg (reference, SOURCES.md).
func TestTheInternationalLimitsHold(t *testing.T) {
	good := Parcel{Mass: 2 * edition.Kilogram, Length: 600, Width: 200, Thickness: 100}
	for name, c := range map[string]struct {
		change func(*Parcel)
		class  Class
		ok     bool
	}{
		"at the limits":              {func(*Parcel) {}, Letter, true},
		"a gram too heavy":           {func(p *Parcel) { p.Mass += edition.Gram }, Letter, false},
		"a packet too heavy":         {func(p *Parcel) { p.Mass += 1 }, SmallPacket, false},
		"books go to 5 kg":           {func(p *Parcel) { p.Mass = 5 * edition.Kilogram }, PrintedMatter, true},
		"and no further":             {func(p *Parcel) { p.Mass = 5*edition.Kilogram + 1 }, PrintedMatter, false},
		"too long":                   {func(p *Parcel) { p.Length = 601; p.Width = 100 }, Letter, false},
		"too much in all":            {func(p *Parcel) { p.Thickness = 101 }, Letter, false},
		"the smallest face":          {func(p *Parcel) { p.Length, p.Width, p.Thickness = 140, 90, 5 }, Letter, true},
		"a face too low":             {func(p *Parcel) { p.Length, p.Width, p.Thickness = 140, 89, 5 }, Letter, false},
		"a face too narrow":          {func(p *Parcel) { p.Length, p.Width, p.Thickness = 139, 90, 5 }, Letter, false},
		"a parcel has no limit here": {func(p *Parcel) { p.Mass = 20 * edition.Kilogram }, ParcelPost, true},
	} {
		p := good
		c.change(&p)
		if why := refuses(p, c.class, FirstLimits(), "IT", false); (why == "") != c.ok {
			t.Errorf("%s: %q", name, why)
		}
	}
	for _, l := range FirstLimits() {
		if l.Source == "" || l.Day == "" {
			t.Errorf("%s does not say where it was read, and when", l.Class)
		}
	}
	own := append(FirstLimits(), Limit{Class: Letter, From: "IT", Thickest: 20})
	if why := refuses(good, Letter, own, "IT", false); !strings.Contains(why, "thick") {
		t.Errorf("the country's own limit: %q", why)
	}
	if why := refuses(good, Letter, own, "SI", false); why != "" {
		t.Errorf("another country's limit: %q", why)
	}
	if why := refuses(good, Letter, append(own, Limit{Class: Letter, From: "IT", Inland: true, Heaviest: 100_000}), "IT", true); !strings.Contains(why, "weighs") {
		t.Errorf("inland: %q", why)
	}
}

func TestAnOrderIsSplitWhereThatIsCheaperOrTheOnlyWay(t *testing.T) {
	d := desk(180_000)
	d.Shelf[3].Letter = true // the card: no printed matter
	got := d.Ship(Ask{Order: 1, Copies: 2, To: "US"})
	// Two in one: 448 g, letter up to 1000 g, 8.60. One each: 238 g, 6.20 twice.
	if len(got.Parcels) != 1 || got.Total.Minor != 860 {
		t.Errorf("%+v", got)
	}
	d.Tariff.Prices[3].Price.Minor = 1300 // now dearer than two
	d.Tariff.Prices[8].Price.Minor = 1300
	if got := d.Ship(Ask{Order: 1, Copies: 2, To: "US"}); len(got.Parcels) != 2 || got.Total.Minor != 1240 {
		t.Errorf("%+v", got)
	}
	if got := d.Ship(Ask{Order: 1, Copies: 13, To: "US"}); len(got.Parcels) < 2 || got.Trouble != "" {
		t.Errorf("more than a mailer holds: %+v", got)
	}
	// Against brute force: every way of splitting n copies.
	for n := 1; n <= 8; n++ {
		least := int64(-1)
		for k := 1; k <= n; k++ {
			if _, total, err := d.split(Ask{Copies: n, To: "JP"}, k); err == nil && (least < 0 || total.Minor < least) {
				least = total.Minor
			}
		}
		if got := d.Ship(Ask{Copies: n, To: "JP"}); got.Total.Minor != least {
			t.Errorf("%d copies cost %d, the least is %d", n, got.Total.Minor, least)
		}
	}
	d.Shelf = nil
	if got := d.Ship(Ask{Copies: 1, To: "US"}); got.Trouble == "" || len(got.Parcels) != 0 {
		t.Errorf("%+v", got)
	}
}

func TestAHeavierPaperSaysWhatItCosts(t *testing.T) {
	d := desk(180_000)
	d.Shelf[3].Letter = true
	asks := []Ask{{1, 1, "US"}, {2, 1, "JP"}, {3, 1, "IT"}, {4, 2, "US"}, {5, 1, "BR"}}
	now, err := d.All(asks)
	if err != nil || now.Total.Minor != 620+620+200+860+620 || now.Parcels != 5 || len(now.Zones) != 2 || now.Zones[0].Zone != "abroad" || now.Zones[0].Total.Minor != 2720 {
		t.Errorf("%+v %v", now, err)
	}
	diff, err := d.WhatIf(asks, zine(200_000)) // a parcel of 258 g
	if err != nil {
		t.Fatal(err)
	}
	want := []Effect{
		{"abroad", 1, 3, edition.Money{Minor: 620, Currency: "EUR"}, edition.Money{Minor: 860, Currency: "EUR"}, "as Quiet letter instead of Counted packet: +2.40 each to abroad"},
		{"home", 1, 1, edition.Money{Minor: 200, Currency: "EUR"}, edition.Money{Minor: 420, Currency: "EUR"}, "over the 250 g step: +2.20 each to home"},
	}
	if d := cmp.Diff(want, diff.Effects); d != "" || diff.Total.Minor != 3*240+220 {
		t.Errorf("%d %s", diff.Total.Minor, d)
	}
	if !strings.Contains(diff.Words, "200 g instead of 180 g") || !strings.Contains(diff.Words, "rises by EUR 9.40") {
		t.Error(diff.Words)
	}
	same, err := d.WhatIf(asks, d.Copy)
	if err != nil || len(same.Effects) != 0 || !strings.Contains(same.Words, "stays") {
		t.Errorf("%+v %v", same, err)
	}
	back := d
	back.Copy = zine(200_000)
	if less, err := back.WhatIf(asks, zine(180_000)); err != nil || less.Total.Minor != -940 || !strings.Contains(less.Words, "falls by EUR 9.40") {
		t.Errorf("%+v %v", less, err)
	}
}

func TestAWeightNearAStepIsDoubted(t *testing.T) {
	d := desk(190_000)
	got, err := Pack(1, d.Copy, d.Shelf) // 248 g, up to 257.5 g
	if err != nil {
		t.Fatal(err)
	}
	if c, err := d.Choose(got, "IT"); err != nil || !strings.Contains(c.Doubt, "257.5 g") {
		t.Errorf("%+v %v", c, err)
	}
	d.Copy.Most = d.Copy.Mass // weighed
	got, _ = Pack(1, d.Copy, d.Shelf)
	if c, err := d.Choose(got, "IT"); err != nil || !strings.Contains(c.Doubt, "Only 2 g are left") {
		t.Errorf("%+v %v", c, err)
	}
}

func TestAPriceTableGoesOutAndComesBack(t *testing.T) {
	want := tariff()
	want.Prices[0].Thickest, want.Prices[1].Service = 20.5, "=letter"
	var data bytes.Buffer
	if err := WritePrices(&data, want); err != nil {
		t.Fatal(err)
	}
	got, err := ReadPrices(data.Bytes(), want.Zones)
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Error(diff, err)
	}
	german := "Service;Class;Zone;Up to g;Price;Currency\nBrief;letter;Welt;250;6,20;EUR\n"
	if got, err := ReadPrices([]byte(german), nil); err != nil || got.Prices[0].Price.Minor != 620 || got.Zones[0].Name != "Welt" {
		t.Errorf("%+v %v", got, err)
	}
	for _, bad := range []string{"", "service;zone\na;b\n", german + "Brief;rocket;Welt;500;7;EUR\n", german + "Brief;letter;Welt;heavy;7;EUR\n", german + "Brief;letter;Welt;500;7;USD\n", german + "Brief;letter;Welt;250;7;EUR\n"} {
		if _, err := ReadPrices([]byte(bad), nil); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%q: %v", bad, err)
		}
	}
}

func TestListsThatMakeNoSenseAreRefused(t *testing.T) {
	if err := CheckMaterials(shelf()); err != nil {
		t.Error(err)
	}
	if err := CheckLimits(FirstLimits()); err != nil {
		t.Error(err)
	}
	if err := tariff().Check(); err != nil {
		t.Error(err)
	}
	for name, spoil := range map[string]func([]Material){
		"no name":       func(l []Material) { l[0].Name = " " },
		"twice":         func(l []Material) { l[0].Name = l[1].Name },
		"kind":          func(l []Material) { l[0].Kind = "box" },
		"weight":        func(l []Material) { l[0].Mass = -1 },
		"holds nothing": func(l []Material) { l[0].Deepest = 0 },
		"inside out":    func(l []Material) { l[0].Outside.Width = 10 },
		"price":         func(l []Material) { l[0].Price.Currency = "EURO" },
	} {
		list := shelf()
		spoil(list)
		if err := CheckMaterials(list); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, spoil := range map[string]func(*Tariff){
		"zone twice":     func(t *Tariff) { t.Zones[0].Name = "abroad" },
		"country twice":  func(t *Tariff) { t.Zones[0].Countries = []orders.Country{"SI"} },
		"no country":     func(t *Tariff) { t.Zones[0].Countries = []orders.Country{"ZZ"} },
		"two rests":      func(t *Tariff) { t.Zones[1].Rest = true },
		"no such zone":   func(t *Tariff) { t.Prices[0].Zone = "Mars" },
		"no weight":      func(t *Tariff) { t.Prices[0].UpTo = 0 },
		"two currencies": func(t *Tariff) { t.Prices[0].Price.Currency = "USD" },
		"step twice":     func(t *Tariff) { t.Prices[1].UpTo = t.Prices[0].UpTo },
	} {
		bad := tariff()
		spoil(&bad)
		if err := bad.Check(); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, bad := range []Limit{{Class: "rocket"}, {Class: Letter, Longest: -1}, {Class: Letter, Inland: true}, {Class: Letter, From: "ZZ"}} {
		if err := CheckLimits([]Limit{bad}); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%+v: %v", bad, err)
		}
	}
	for _, bad := range [][]SDRRate{{{"EUR", "0", "2026-11-20", ""}}, {{"EUR", "1.2", "soon", ""}}, {{"XXQ", "1.2", "2026-11-20", ""}}, {{"EUR", "1.2", "2026-11-20", ""}, {"EUR", "1.3", "2026-11-20", ""}}} {
		if err := CheckRates(bad); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%+v: %v", bad, err)
		}
	}
}

// Regulation (EU) 952/2013, article 4, and Directive 2006/112/EC, article 6, from
// memory.
func TestWhetherADeclarationIsNeeded(t *testing.T) {
	for _, c := range []struct {
		from, to Spot
		needed   bool
	}{
		{Spot{"IT", "34121"}, Spot{"IT", "70121"}, false},
		{Spot{"IT", "34121"}, Spot{"SI", "6330"}, false},
		{Spot{"IT", "34121"}, Spot{"HR", "51000"}, false},
		{Spot{"IT", "34121"}, Spot{"CH", "8001"}, true},
		{Spot{"IT", "34121"}, Spot{"GB", "EX4 3SR"}, true},
		{Spot{"IT", "34121"}, Spot{"GB", "bt1 1aa"}, false},
		{Spot{"GB", "EX4 3SR"}, Spot{"GB", "BT1 1AA"}, false},
		{Spot{"IT", "34121"}, Spot{"ME", "85330"}, true},
		{Spot{"IT", "34121"}, Spot{"AL", "1001"}, true},
		{Spot{"IT", "34121"}, Spot{"US", "97205"}, true},
		{Spot{"IT", "34121"}, Spot{"ES", "38001"}, true},
		{Spot{"IT", "34121"}, Spot{"ES", "08001"}, false},
		{Spot{"ES", "38001"}, Spot{"ES", "38002"}, false},
		{Spot{"ES", "38001"}, Spot{"ES", "08001"}, true},
		{Spot{"IT", "34121"}, Spot{"FI", "22100"}, true},
		{Spot{"IT", "34121"}, Spot{"MC", "98000"}, false},
		{Spot{"CH", "8001"}, Spot{"LI", "9490"}, false},
		{Spot{"IT", "34121"}, Spot{"GP", "97100"}, true},
		{Spot{"IT", ""}, Spot{"", ""}, false},
	} {
		got := Declared(c.from, c.to)
		if got.Needed != c.needed || !strings.HasSuffix(got.Why, ".") {
			t.Errorf("%v to %v: %+v", c.from, c.to, got)
		}
	}
}

func TestTheFormGoesByTheValueInSDR(t *testing.T) {
	rates := []SDRRate{{"EUR", "1.25", "2026-11-20", "invented"}, {"JPY", "200", "2026-11-20", "invented"}}
	base := Consignment{From: Spot{"IT", "34121"}, To: Spot{"US", "97205"}, For: edition.ForSale, Copies: 2, Net: 360_000, Gross: 448_000, Goods: edition.PrintedBook, Origin: "IT",
		Today: time.Date(2026, 11, 26, 0, 0, 0, 0, time.UTC)}
	for name, c := range map[string]struct {
		value edition.Money
		form  Form
		sdr   string
		doubt string
	}{
		"an ordinary order": {edition.Money{Minor: 4400, Currency: "EUR"}, CN22, "35.20", ""},
		"a cent below":      {edition.Money{Minor: 37499, Currency: "EUR"}, CN22, "299.99", ""},
		"exactly 300 SDR":   {edition.Money{Minor: 37500, Currency: "EUR"}, CN23, "300.00", "sources differ"},
		"a cent above":      {edition.Money{Minor: 37501, Currency: "EUR"}, CN23, "300.01", ""},
		"no decimals":       {edition.Money{Minor: 59_999, Currency: "JPY"}, CN22, "299.995", ""},
		"no rate":           {edition.Money{Minor: 100, Currency: "USD"}, NoForm, "", "one SDR is worth in USD"},
		"no value":          {edition.Money{}, NoForm, "", "want a value"},
	} {
		base.Value = c.value
		got := Declare(base, rates)
		if got.Form != c.form || got.SDR != c.sdr || got.Caution == "" || (c.doubt == "") != (len(got.Doubts) == 0) || !strings.Contains(strings.Join(got.Doubts, " "), c.doubt) {
			t.Errorf("%s: %+v", name, got)
		}
	}
	base.Value = edition.Money{Minor: 4400, Currency: "EUR"}
	got := Declare(base, rates)
	item := Item{"Printed photobook", 2, 360_000, base.Value, "4901.99", "IT"}
	if !slices.Equal(got.Items, []Item{item}) || got.Category != SaleOfGoods || got.Mass != 448_000 {
		t.Errorf("%+v", got)
	}
	base.Goods, base.For, base.Origin = edition.LoosePictures, edition.ForFriend, ""
	base.Today = base.Today.AddDate(0, 2, 0)
	got = Declare(base, rates)
	if got.Items[0].HS != "4911.91" || got.Category != Gift || len(got.Doubts) != 2 {
		t.Errorf("%+v", got)
	}
	base.To = Spot{"DE", "10115"}
	if got := Declare(base, rates); got.Form != NoForm || got.Need.Needed || got.SDR != "" {
		t.Errorf("within the Union: %+v", got)
	}
}

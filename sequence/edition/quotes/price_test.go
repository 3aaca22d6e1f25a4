package quotes

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"pairwall/sequence/edition"
)

// 8 × the delivered unit cost; a shop takes 40 %: 14.95 × 0.6 = 8.97, less 4.85
// = 4.12 (IBPA, 2002, in SOURCES.md).
func TestPriceOfTheSource(t *testing.T) {
	p := PricePlan{Price: eurp(1495), Cost: eurp(48500), Channels: []Channel{{Name: "Bookshop", Discount: "40", Share: 1}}}
	r, err := p.Reckon(nil, FirstTerms())
	if err != nil {
		t.Fatal(err)
	}
	shop := r.Channels[0]
	if *r.Unit != eur(485) || *r.Eight != eur(3880) || *shop.Received != eur(897) || *shop.After != eur(412) {
		t.Errorf("unit %v, eight %v, %+v received %v after %v", r.Unit, r.Eight, shop, shop.Received, shop.After)
	}
	if shop.Even != 55 || !shop.Within { // 485.00 ÷ 8.97 = 54.07
		t.Errorf("breaks even at %d", shop.Even)
	}
	if *shop.Floor != eur(808) { // 4.85 ÷ 0.6 = 8.0833; 8.08 − 3.23 = 4.85 by rounding
		t.Errorf("floor %v", shop.Floor)
	}
	if last := r.WhatIf[2].Left[3]; last != eur(100*897-48500) {
		t.Errorf("all sold at the price: %v", last)
	}
}

func TestFloorIsTheLeastPriceThatPays(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 8))
	per := func(most int64) edition.Decimal { return edition.Decimal(big.NewInt(random.Int64N(most)).String()) }
	for range 400 {
		c := Channel{Discount: per(60), Fee: per(5), FeeEach: eurp(random.Int64N(60)), Share: 1}
		p := PricePlan{Price: eurp(2000), Tax: per(25), Cost: eurp(random.Int64N(200000)), Free: random.IntN(20),
			PerCopy: []Fee{{"mailer", eur(random.Int64N(100))}}, Channels: []Channel{c}}
		r, err := p.Reckon(nil, FirstTerms())
		if err != nil || r.Channels[0].Floor == nil {
			t.Fatalf("%+v %v", r, err)
		}
		pays := func(price edition.Money) bool {
			left, err := p.leaves(c, price)
			if err != nil {
				t.Fatal(err)
			}
			return left.Leaves.Minor*int64(r.Sold) >= r.Fixed.Minor
		}
		floor := *r.Channels[0].Floor
		if !pays(floor) {
			t.Fatalf("%v does not pay", floor)
		}
		if floor.Minor > 0 && pays(eur(floor.Minor-1)) {
			t.Fatalf("%v pays already", floor.Minor-1)
		}
	}
}

func TestWhatIfAddsUpAndGrows(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 80))
	for range 200 {
		p := FirstPlan()
		p.Price, p.Cost, p.Tax = eurp(500+random.Int64N(5000)), eurp(random.Int64N(100000)), "4"
		p.Once = []Fee{{"scans", eur(random.Int64N(20000))}}
		r, err := p.Reckon(nil, FirstTerms())
		if err != nil || len(r.WhatIf) != len(WhatIfPrice) {
			t.Fatal(r, err)
		}
		for i, row := range r.WhatIf {
			for j, left := range row.Left {
				if i > 0 && left.Minor < r.WhatIf[i-1].Left[j].Minor {
					t.Fatalf("a higher price leaves less: %+v", r.WhatIf)
				}
				if j > 0 && left.Minor < row.Left[j-1].Minor {
					t.Fatalf("more copies leave less: %+v", row)
				}
			}
		}
		// By hand for the plan's own price and all copies: 40, 40 and 20 of them.
		sum := -r.Fixed.Minor
		for i, n := range []int64{40, 40, 20, 0} {
			sum += n * r.Channels[i].Leaves.Minor
		}
		if got := r.WhatIf[2].Left[3]; got != eur(sum) {
			t.Fatalf("%v, want %d", got, sum)
		}
	}
}

func TestWithoutARunOrAPriceNothingIsInvented(t *testing.T) {
	p := FirstPlan()
	r, err := p.Reckon(nil, FirstTerms())
	if err != nil || r.Cost != nil || r.Unit != nil || len(r.WhatIf) != 0 || r.Channels[0].Leaves != nil || r.Channels[0].Floor != nil || len(r.Doubts) != 1 {
		t.Errorf("%+v %v", r, err)
	}
	p.Cost = eurp(48500)
	if r, err = p.Reckon(nil, FirstTerms()); err != nil || r.Channels[0].Leaves != nil || *r.Channels[0].Floor != eur(485) {
		t.Errorf("%+v %v", r, err)
	}
	l, err := complete().Land(100, FirstWishes(), FirstTerms())
	if err != nil {
		t.Fatal(err)
	}
	if r, err = p.Reckon(&l, FirstTerms()); err != nil || *r.Cost != *l.Home {
		t.Errorf("%+v %v", r, err)
	}
	if err := p.Check(FirstTerms()); err != nil {
		t.Error(err)
	}
	p.Price = &edition.Money{Minor: 1, Currency: "USD"}
	if p.Check(FirstTerms()) == nil {
		t.Error("a price in another currency was taken")
	}
}

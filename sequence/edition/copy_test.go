package edition

import (
	"testing"

	"pairwall/sequence"
)

func TestACopyIsMarkedAsPrintmakersDo(t *testing.T) {
	e := Edition{Size: 100, Proofs: 14, Outside: 10}
	for ref, want := range map[CopyRef]string{
		{Numbered, 7}: "7/100", {Numbered, 100}: "100/100", {Proof, 2}: "A.P. II/XIV", {Proof, 9}: "A.P. IX/XIV", {Outside, 3}: "H.C. 3/10",
	} {
		if got := e.Mark(ref); got != want {
			t.Errorf("%+v: %q, want %q", ref, got, want)
		}
	}
}

func TestOnlyACopyThatIsHereAndForSaleIsFree(t *testing.T) {
	copies := []Copy{
		{CopyRef: CopyRef{Numbered, 1}, For: ForSale, Place: Here},
		{CopyRef: CopyRef{Numbered, 2}, For: ForSale, Place: Sold, Order: 1},
		{CopyRef: CopyRef{Numbered, 3}, For: ForPress, Place: Here},
		{CopyRef: CopyRef{Numbered, 4}, For: ForSale, Place: InShop, Shop: "The corner"},
		{CopyRef: CopyRef{Numbered, 5}, For: ForSale, Place: Damaged},
	}
	if got := Count(copies); got.All != 5 || got.Free != 1 || got.By[Here] != 2 || got.By[Sold] != 1 || got.By[Given] != 0 {
		t.Errorf("%+v", got)
	}
}

func TestWhatNoEditionCanBeIsRefused(t *testing.T) {
	if err := FirstEdition.Check(); err != nil {
		t.Error(err)
	}
	for name, spoil := range map[string]func(*Edition){
		"size":   func(e *Edition) { e.Size = -1 },
		"proofs": func(e *Edition) { e.Proofs = mostCopies + 1 },
		"goods":  func(e *Edition) { e.Goods = "zine" },
		"origin": func(e *Edition) { e.Origin = "Italy" },
		"price":  func(e *Edition) { e.Price = Money{-1, "EUR"} },
		"money":  func(e *Edition) { e.Price = Money{1, "XX"} },
		"boards": func(e *Edition) { e.Boards.Grammage = -1 },
		"pages":  func(e *Edition) { e.Pages = -1 },
	} {
		bad := FirstEdition
		spoil(&bad)
		if err := bad.Check(); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestAMoveSaysWhatAndNothingIsSoldByIt(t *testing.T) {
	one := []CopyRef{{Numbered, 1}}
	for name, bad := range map[string]Move{
		"nothing named": {Place: Given},
		"sold":          {Copies: one, Place: Sold},
		"no shop":       {Copies: one, Place: InShop},
		"nowhere":       {Copies: one, Place: "lost"},
		"for shops":     {Copies: one, For: ForShop},
	} {
		if err := bad.Check(); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := (Move{Copies: one, Place: InShop, Shop: "The corner"}).Check(); err != nil {
		t.Error(err)
	}
}

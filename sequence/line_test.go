package sequence

import (
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestGoingOverLeadsFromAnyLineToAnyStateAndBack(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	for range 500 {
		from, to := randomSequence(r, 12), randomSequence(r, 12)
		from.Line, to.Line = 1, 2
		c, err := GoOver(from, to, 2, "go over")
		if err != nil || !c.GoesOver() {
			t.Fatalf("%+v %v", c, err)
		}
		got, err := from.Apply(c)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(to, got, alike); diff != "" {
			t.Fatal(diff)
		}
		back, err := got.Apply(c.Invert())
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(from, back, alike); diff != "" {
			t.Fatal(diff)
		}
	}
}

func TestBringingBackAStateOfAnotherLineStaysOnThePresentOne(t *testing.T) {
	from, to := hang(1, [2]PhotoID{2, 3}), hang(4, [2]PhotoID{2, 3})
	from.Line, to.Line = 1, 2
	c, err := Between(from, to, "bring back")
	if err != nil || c.GoesOver() {
		t.Fatalf("%+v %v", c, err)
	}
	got, err := from.Apply(c)
	if err != nil || got.Line != 1 || got.Opening != 4 {
		t.Errorf("%+v %v", got, err)
	}
}

func TestOneCannotGoOverToTheLineOneIsOn(t *testing.T) {
	if _, err := GoOver(Sequence{Line: 3}, Sequence{}, 3, "go over"); CodeOf(err) != Invalid {
		t.Errorf("%v", err)
	}
}

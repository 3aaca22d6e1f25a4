package pages_test

import (
	"encoding/json"
	"fmt"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

// The page itself must tell the same at once: both are held to one table.
func TestAPageCountTellsWhatItLacksForTheBinding(t *testing.T) {
	written, err := os.ReadFile("../../testdata/bindings.json")
	if err != nil {
		t.Fatal(err)
	}
	var table struct {
		Cases []struct {
			Binding string       `json:"binding"`
			Pages   int          `json:"pages"`
			Caliper pages.Length `json:"caliper"`
			pages.Lack
		} `json:"cases"`
	}
	if err := json.Unmarshal(written, &table); err != nil {
		t.Fatal(err)
	}
	for _, c := range table.Cases {
		t.Run(fmt.Sprintf("%s, %d pages, leaves of %s", c.Binding, c.Pages, c.Caliper), func(t *testing.T) {
			binding, err := pages.BindingNamed(c.Binding)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(c.Lack, binding.Lacks(c.Pages, c.Caliper)); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// Whatever is told to add or to take away leads to a number that lacks nothing,
// and to the nearest such number.
func TestWhatIsToldToAddOrTakeAwayLacksNothingThen(t *testing.T) {
	for _, b := range pages.Bindings() {
		for n := range 200 {
			lack := b.Lacks(n, 0)
			if (lack.Words == "") != (lack.More == 0 && lack.Fewer == 0) {
				t.Errorf("%s, %d pages: %+v", b, n, lack)
			}
			for way, by := range map[int]int{1: lack.More, -1: lack.Fewer} {
				if by == 0 {
					continue
				}
				if then := b.Lacks(n+way*by, 0); then.Words != "" {
					t.Errorf("%s, %d pages: %q, but then %q", b, n, lack.Words, then.Words)
				}
				for nearer := 1; nearer < by; nearer++ {
					if b.Lacks(n+way*nearer, 0).Words == "" {
						t.Errorf("%s, %d pages: %d would do as well", b, n, n+way*nearer)
					}
				}
			}
		}
	}
}

func TestABindingNobodyKnowsIsRefused(t *testing.T) {
	if _, err := pages.BindingNamed("with a paper clip"); sequence.CodeOf(err) != sequence.Invalid {
		t.Errorf("it was %v", err)
	}
	if b, err := pages.BindingNamed(""); b != pages.Unbound || err != nil {
		t.Errorf("none chosen yet: %q, %v", b, err)
	}
}

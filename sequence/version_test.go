package sequence

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestPagesAreCountedAsAPrinterCountsThem(t *testing.T) {
	q := hang(1, [2]PhotoID{2, 3}, [2]PhotoID{4, 5})
	q.Closing = 6
	if got := q.PageCount(); got != 6 {
		t.Errorf("two spreads between an opening and a closing page make %d pages", got)
	}
	for page, want := range map[Page]int{
		{Side: Opening}: 1, {1, Left}: 2, {1, Right}: 3, {2, Left}: 4, {2, Right}: 5, {Side: Closing}: 6, {9, Left}: 0,
	} {
		if got := q.PageNumber(page); got != want {
			t.Errorf("%s is page %d, want %d", page, got, want)
		}
	}
	if diff := cmp.Diff([]PhotoID{1, 2, 3, 4, 5, 6}, q.Wall()); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]PhotoID{7, 9}, q.Table([]PhotoID{7, 3, 9, 1})); diff != "" {
		t.Error(diff)
	}
}

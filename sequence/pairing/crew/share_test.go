package crew

import (
	"sync/atomic"
	"testing"
)

func TestEveryPieceIsDoneOnce(t *testing.T) {
	for _, n := range []int{0, 1, 7, 16, 17, 1000, 1023} {
		done := make([]atomic.Int32, n)
		Share(n, func(from, to int) {
			for i := from; i < to; i++ {
				done[i].Add(1)
			}
		})
		for i := range done {
			if done[i].Load() != 1 {
				t.Errorf("of %d pieces, number %d was done %d times", n, i, done[i].Load())
			}
		}
	}
}

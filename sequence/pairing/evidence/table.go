package evidence

import (
	"math"
	"sync/atomic"
)

// A table keeps the measures of pairs that are dear to take. It fills as they are
// asked for, and may be filled from several goroutines at once: whoever measures a
// pair twice writes the same figure. It keeps them in single precision, seven
// digits; to have one answer whether a figure was kept or taken, all are rounded.
type table struct {
	blocks [][]atomic.Pointer[block] // by larger and smaller index, in blocks
}

const blockSide = 64

type block [blockSide * blockSide]atomic.Uint32

func newTable(n int) *table {
	t := &table{}
	t.reserve(n)
	return t
}

func (t *table) reserve(n int) {
	for k := len(t.blocks); k*blockSide < n; k++ {
		t.blocks = append(t.blocks, make([]atomic.Pointer[block], k+1))
	}
}

// without returns a table for n photos that keeps all figures of t but those of
// photo i. The two share the blocks in which i has no part, where a figure stands
// for the same pair in both.
func (t *table) without(n, i int) *table {
	next := newTable(n)
	for k, row := range t.blocks {
		for l := range row {
			old := row[l].Load()
			if old == nil || k != i/blockSide && l != i/blockSide {
				next.blocks[k][l].Store(old)
				continue
			}
			fresh := new(block)
			for at := range old {
				a, b := k*blockSide+at/blockSide, l*blockSide+at%blockSide
				if a != i && b != i {
					fresh[at].Store(old[at].Load())
				}
			}
			next.blocks[k][l].Store(fresh)
		}
	}
	return next
}

// at returns the figure of the pair a, b, taking it if it is not there.
func (t *table) at(a, b int, take func() float64) float64 {
	a, b = max(a, b), min(a, b)
	cell := &t.blocks[a/blockSide][b/blockSide]
	kept := cell.Load()
	if kept == nil {
		cell.CompareAndSwap(nil, new(block))
		kept = cell.Load()
	}
	slot := &kept[a%blockSide*blockSide+b%blockSide]
	if bits := slot.Load(); bits != 0 {
		return float64(math.Float32frombits(bits - 1))
	}
	figure := float32(take())
	slot.Store(math.Float32bits(figure) + 1) // 0 is for none
	return float64(figure)
}

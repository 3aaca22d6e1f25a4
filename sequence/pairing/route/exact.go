package route

import "math/bits"

const unreachable int64 = 1 << 60

// exact is the dynamic programme of M. Held and R. M. Karp ("A dynamic
// programming approach to sequencing problems", J. SIAM 10, 1962) for an open
// path: the cheapest way through a set of points that ends at a given one, for
// ever larger sets. O(2ⁿ n²) time, O(2ⁿ n) memory.
func (p *problem) exact() []int {
	n := p.n
	cheapest := make([]int64, n<<n) // at set·n + end
	before := make([]int8, n<<n)
	for set := 1; set < 1<<n; set++ {
		for end := range n {
			at := set*n + end
			cheapest[at] = unreachable
			if set&(1<<end) == 0 {
				continue
			}
			rest := set &^ (1 << end)
			if rest == 0 {
				if p.first == Free || p.first == end {
					cheapest[at] = 0
				}
				continue
			}
			for s := rest; s != 0; s &= s - 1 {
				k := bits.TrailingZeros(uint(s))
				if c := cheapest[rest*n+k] + p.between(k, end); cheapest[rest*n+k] < unreachable && c < cheapest[at] {
					cheapest[at], before[at] = c, int8(k)
				}
			}
		}
	}
	return p.trace(cheapest, before)
}

// trace follows the choices back from the cheapest end.
func (p *problem) trace(cheapest []int64, before []int8) []int {
	n := p.n
	all := 1<<n - 1
	end := p.last
	if end == Free {
		end = 0
		for k := range n {
			if cheapest[all*n+k] < cheapest[all*n+end] {
				end = k
			}
		}
	}
	order := make([]int, n)
	for k := n - 1; k >= 0; k-- {
		order[k] = end
		before := int(before[all*n+end])
		all &^= 1 << end
		end = before
	}
	return order
}

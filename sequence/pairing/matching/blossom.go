package matching

import "slices"

// shrink makes one outer blossom of the ring that the edge e, between two outer
// nodes, closes with the tree.
func (s *solver) shrink(e edge) {
	s.tally.shrunk++
	ring := s.ringOf(e)
	b := &node{base: ring[0].base, ring: ring, side: outer, dual: -2 * s.now, near: s.freshRow()}
	for _, p := range ring {
		if p.isBlossom() {
			s.tally.shrunkAroundBlossom++
		}
		b.vertices = append(b.vertices, p.vertices...)
		// The member's own value stands still from now on; its vertices go on
		// as outer ones.
		p.dual += 2 * int64(p.side) * s.now
		s.shift(p.node, int64(outer-p.side)*s.now, outer)
		p.side = apart
		p.up = b
		s.takeNear(b, p.node)
	}
	s.own(b)
	s.outer = append(s.outer, b)
	s.findRival(b)
}

// takeNear adds a new member's ways to all vertices to those of its blossom b.
func (s *solver) takeNear(b, member *node) {
	if member.near == nil {
		for _, v := range member.vertices {
			s.scan(v, b.near)
		}
		return
	}
	for x, a := range member.near {
		if a.key < b.near[x].key {
			b.near[x] = a
		}
	}
	s.forget(member)
}

// ringOf returns the ring that e closes, beginning at the node where the two
// paths from e's ends towards the root meet.
func (s *solver) ringOf(e edge) []part {
	meet := s.meeting(s.top[e.from], s.top[e.to])
	left := s.climb(s.top[e.from], meet)
	right := s.climb(s.top[e.to], meet)

	ring := make([]part, 0, 1+len(left)+len(right))
	here := meet
	for _, p := range slices.Backward(left) {
		ring = append(ring, part{here, p.in, p.out})
		here = p.node
	}
	ring = append(ring, part{here, e.from, e.to})
	return append(ring, right...)
}

// climb returns the nodes from the outer node b up to, and without, the outer
// node end, each with the edge to the next.
func (s *solver) climb(b, end *node) []part {
	var path []part
	for b != end {
		behind := s.mate[b.base]
		between := s.top[behind]
		path = append(path,
			part{b, b.base, behind},
			part{between, between.entry.to, between.entry.from})
		b = s.top[between.entry.from]
	}
	return path
}

// meeting returns the lowest node that lies both between a and the root and
// between b and the root.
func (s *solver) meeting(a, b *node) *node {
	s.climbs++
	for ; a != nil; a = s.above(a) {
		a.mark = s.climbs
	}
	for b.mark != s.climbs {
		b = s.above(b)
	}
	return b
}

// above returns the next outer node towards the root, nil at the root.
func (s *solver) above(b *node) *node {
	behind := s.mate[b.base]
	if behind < 0 {
		return nil
	}
	return s.top[s.top[behind].entry.from]
}

// expand takes apart an inner blossom whose value has come to zero. Of its
// members those on the even way round from the entry to the base stay in the
// tree, inner and outer by turns; the rest come to stand apart.
func (s *solver) expand(b *node) {
	s.tally.expanded++
	e := b.entry
	i, size := s.childWith(b, e.to), len(b.ring)
	s.relabel(b, apart)
	s.release(b)
	for _, p := range b.ring {
		if p.isBlossom() {
			s.tally.expandedAroundBlossom++
		}
	}
	forward := i%2 == 1 // then the member's partner is the one after it
	for i != 0 {
		s.grow(e)
		if forward {
			s.tally.expandedForward++
			partner := b.ring[i+1]
			e = edge{partner.out, partner.in}
			i = (i + 2) % size
		} else {
			s.tally.expandedBackward++
			i -= 2
			e = edge{b.ring[i].in, b.ring[i].out}
		}
	}
	s.enter(b.ring[0].node, e)
}

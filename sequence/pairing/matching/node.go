package matching

// A node is what the search sees as one point: a vertex, or a blossom, which is
// an odd ring of smaller nodes.
type node struct {
	base     int    // the one vertex not paired inside
	vertices []int  // all it holds
	ring     []part // empty for a vertex; ring[0] holds the base
	up       *node  // the blossom it lies in, nil when outermost
	dual     int64  // of a blossom, as stored: see solver.relabel

	side  side
	entry edge // inner: the tree edge that reached it, from outside to inside
	mark  int  // the last climb that passed here

	// Outer blossoms only: for each vertex x, the way to it from inside.
	near []approach
	// Outer nodes only: the first meeting with another outer node.
	rival event
}

// A part is a member of a ring with the edge that leads to the next member.
type part struct {
	*node
	out, in int // out in this member, in in the next
}

type edge struct{ from, to int }

// An approach is the best edge from some set of outer vertices to a vertex.
type approach struct {
	key  int64 // stored value of from, less the edge's doubled weight
	from int
}

func (b *node) isBlossom() bool { return len(b.ring) > 0 }

// childWith returns the place in b's ring of the member that holds v, which
// must lie in b.
func (s *solver) childWith(b *node, v int) int {
	child := &s.vertex[v]
	for child.up != b {
		child = child.up
	}
	for i := range b.ring {
		if b.ring[i].node == child {
			return i
		}
	}
	panic("matching: a blossom has lost a member")
}

// rebase pairs the vertices of b anew so that v is the one left over. Around the
// ring the members then pair as first and second, third and fourth after the
// one that holds v. Whoever calls sees to v's own mate.
func (s *solver) rebase(b *node, v int) {
	if b.base == v {
		return
	}
	s.rotate(b, s.childWith(b, v))
	s.rebase(b.ring[0].node, v)
	for i := 1; i < len(b.ring); i += 2 {
		here, next := b.ring[i], b.ring[i+1]
		s.rebase(here.node, here.out)
		s.rebase(next.node, here.in)
		s.pair(here.out, here.in)
	}
	b.base = v
}

// rotate makes the k-th member of b's ring the first.
func (s *solver) rotate(b *node, k int) {
	s.turned = append(s.turned[:0], b.ring[:k]...)
	copy(b.ring, b.ring[k:])
	copy(b.ring[len(b.ring)-k:], s.turned)
}

func (s *solver) pair(a, b int) { s.mate[a], s.mate[b] = b, a }

// release makes the members of b outermost. Their sides and those of their
// vertices are left as they were.
func (s *solver) release(b *node) {
	for _, p := range b.ring {
		p.up = nil
		s.own(p.node)
	}
}

// own makes b the outermost node of its vertices.
func (s *solver) own(b *node) {
	for _, v := range b.vertices {
		s.top[v] = b
	}
}

// dissolve takes apart a blossom, and those within, while they cost nothing.
func (s *solver) dissolve(b *node) {
	if !b.isBlossom() || b.dual != 0 {
		return
	}
	s.release(b)
	for _, p := range b.ring {
		s.dissolve(p.node)
	}
}

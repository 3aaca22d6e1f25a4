package matching

// A side is a node's place in the tree of a search: outer nodes are reached
// from the root over an even number of edges, inner ones over an odd number.
type side int8

const (
	apart side = 0
	outer side = 1
	inner side = -1
)

type eventKind int

const (
	grow   eventKind = iota // an edge from an outer node to one apart is paid for exactly
	shrink                  // an edge between two outer nodes is
	expand                  // an inner blossom's value has come to zero
	retire                  // an outer vertex's value has
)

type event struct {
	time     int64
	kind     eventKind
	from, to int
	blossom  *node
}

// search grows a tree from root, a vertex without a mate, until root is paired
// or a vertex of value zero is left alone in its place.
func (s *solver) search(root int) {
	s.tally.searches++
	s.begin()
	s.admit(s.top[root])
	for {
		e := s.next()
		s.now = e.time
		switch e.kind {
		case grow:
			far := s.top[e.to]
			if s.mate[far.base] < 0 {
				s.tally.augmented++
				s.flip(e.from, e.to)
				s.rebase(far, e.to)
				s.mate[e.to] = e.from
				s.settle()
				return
			}
			s.grow(edge{e.from, e.to})
		case shrink:
			s.shrink(edge{e.from, e.to})
		case expand:
			s.expand(e.blossom)
		case retire:
			s.tally.retired++
			s.flip(e.from, -1)
			s.settle()
			return
		}
	}
}

func (s *solver) begin() {
	s.now = 0
	s.outer, s.inner = s.outer[:0], s.inner[:0]
	for v := range s.reach {
		s.reach[v] = approach{key: never}
	}
}

// next returns the event that comes first; among several at one time, that of
// the lowest kind, then of the lowest vertex or oldest node.
func (s *solver) next() event {
	best := event{time: never}
	leave := event{time: never, kind: retire}
	for x, on := range s.sideOf {
		switch on {
		case apart:
			if t := s.reach[x].key + s.value[x]; t < best.time {
				best.time, best.from, best.to = t, s.reach[x].from, x
			}
		case outer:
			if t := s.value[x]; t < leave.time {
				leave.time, leave.from = t, x
			}
		}
	}
	for _, b := range s.outer {
		if b.up == nil && b.rival.time < best.time {
			best = b.rival
		}
	}
	for _, b := range s.inner {
		if b.up == nil && b.side == inner && b.isBlossom() && b.dual/2 < best.time {
			best = event{time: b.dual / 2, kind: expand, blossom: b}
		}
	}
	if leave.time < best.time {
		return leave
	}
	return best
}

// relabel gives an outermost node a new side. As the clock runs, a vertex on the
// outer side loses one for each tick, one on the inner side gains one; an outer
// blossom gains two, an inner one loses two. What is stored is the value as it
// would have been at time zero, so it changes only here.
func (s *solver) relabel(b *node, to side) {
	turn := int64(to-b.side) * s.now
	b.dual -= 2 * turn
	b.side = to
	s.shift(b, turn, to)
}

func (s *solver) shift(b *node, turn int64, to side) {
	for _, v := range b.vertices {
		s.value[v] += turn
		s.sideOf[v] = to
	}
}

// settle ends a search: all values are brought to what they are now.
func (s *solver) settle() {
	for _, b := range s.inner {
		if b.up == nil && b.side == inner {
			s.relabel(b, apart)
		}
	}
	for _, b := range s.outer {
		if b.up == nil {
			s.relabel(b, apart)
			s.forget(b)
		}
	}
	// A blossom made in this search may be without value at its end; it would
	// only be in the way of the next.
	for _, b := range s.outer {
		if b.up == nil {
			s.dissolve(b)
		}
	}
}

// grow takes into the tree the node at the far end of e, and the node paired
// with it.
func (s *solver) grow(e edge) {
	s.tally.grown++
	b := s.top[e.to]
	s.enter(b, e)
	s.admit(s.top[s.mate[b.base]])
}

// enter makes b an inner node.
func (s *solver) enter(b *node, e edge) {
	s.relabel(b, inner)
	b.entry = e
	s.inner = append(s.inner, b)
}

// admit makes b an outer node and looks along all its edges.
func (s *solver) admit(b *node) {
	s.relabel(b, outer)
	s.outer = append(s.outer, b)
	if b.isBlossom() {
		b.near = s.freshRow()
	}
	for _, v := range b.vertices {
		s.scan(v, b.near)
	}
	s.findRival(b)
}

// scan enters the edges of the outer vertex v among the best to each vertex,
// and, where near is not nil, among the best from v's blossom.
func (s *solver) scan(v int, near []approach) {
	value := s.value[v]
	for x, d := range s.row(v) {
		key := value - d
		if key < s.reach[x].key {
			s.reach[x] = approach{key, v}
		}
		if near != nil && key < near[x].key {
			near[x] = approach{key, v}
		}
	}
}

// findRival finds when b will first meet another outer node. Of two nodes it is
// enough that the one made later knows of their meeting. Both values fall as the
// clock runs, hence half the time; the sum is even, because along a path of
// edges paid for exactly all values are even or all odd.
func (s *solver) findRival(b *node) {
	best := never
	var meet edge
	for x, on := range s.sideOf {
		if on != outer || s.top[x] == b {
			continue
		}
		from, key := b.base, int64(0)
		if b.near != nil {
			from, key = b.near[x].from, b.near[x].key
		} else {
			key = s.value[from] - s.double[from*s.n+x]
		}
		if t := key + s.value[x]; t < best {
			best, meet = t, edge{from, x}
		}
	}
	b.rival = event{time: best / 2, kind: shrink, from: meet.from, to: meet.to}
}

func (s *solver) freshRow() []approach {
	var row []approach
	if last := len(s.spare) - 1; last >= 0 {
		row, s.spare = s.spare[last], s.spare[:last]
	} else {
		row = make([]approach, s.n)
	}
	for x := range row {
		row[x] = approach{key: never}
	}
	return row
}

func (s *solver) forget(b *node) {
	if b.near != nil {
		s.spare = append(s.spare, b.near)
		b.near = nil
	}
}

// flip turns the path from the outer vertex v to the root: v takes the mate
// given (-1 for none), and every vertex on the path the next one's.
func (s *solver) flip(v, mate int) {
	for {
		b := s.top[v]
		behind := s.mate[b.base]
		s.rebase(b, v)
		s.mate[v] = mate
		if behind < 0 {
			return
		}
		e := s.top[behind].entry
		s.rebase(s.top[behind], e.to)
		s.mate[e.to] = e.from
		v, mate = e.from, e.to
	}
}

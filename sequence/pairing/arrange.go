package pairing

import (
	"fmt"
	"math"
	"slices"

	"pairwall/sequence"
	"pairwall/sequence/pairing/crew"
	"pairwall/sequence/pairing/evidence"
	"pairwall/sequence/pairing/matching"
)

// Scope is what an arrangement may touch.
type Scope string

// The scopes there are.
const (
	// Table: photos on the table become spreads behind those on the wall, which
	// stay as they are.
	Table Scope = "table"
	// Wall: spreads that are not pinned are taken apart and paired anew together
	// with the table. Pinned spreads keep their photos and their index, or as
	// near to it as the new length allows; opening and closing page and the box
	// stay. A photo across the gutter stays so, but its spread may move.
	Wall Scope = "wall"
)

// Proposal is an arrangement that has not been made: applying Change makes it.
type Proposal struct {
	Rule     string            `json:"rule"` // one sentence: how it was found
	Change   sequence.Change   `json:"change"`
	Sequence sequence.Sequence `json:"sequence"` // what Change leads to
	Spreads  []ProposedSpread  `json:"spreads"`  // proposed, in reading order
	Left     []LeftOver        `json:"left"`     // ascending
}

// ProposedSpread is one pair of a proposal, or a photo that hangs alone.
type ProposedSpread struct {
	Spread sequence.SpreadID `json:"spread"` // in Proposal.Sequence
	Alone  bool              `json:"alone"`  // one photo beside a blank page; of the judgement there are only the reasons, which say why
	Judgement
}

// LeftOver is a photo that was to be arranged but stays on the table.
type LeftOver struct {
	Photo sequence.PhotoID `json:"photo"`
	Why   string           `json:"why"`
}

// MostArranged bounds how many photos can be arranged at once. Time grows with
// the square for judging and up to the cube for pairing.
const MostArranged = 3000

// enough is the part of the title's typical score that a pair needs to be
// proposed in an arrangement, unless the maker says otherwise. Our own judgement:
// below it, all kinds that are known speak against the pair, and two photos
// without a partner serve the maker better than two that have nothing to do with
// each other.
const enough = 0.5

// A Plan says what is to be arranged and how.
type Plan struct {
	Scope   Scope
	Table   []sequence.PhotoID // the photos on the table
	Balance Balance
	Refused []sequence.Pair // pairs the maker does not want, either way round
	// Enough is the part of the title's typical score that a pair must reach, 0..2;
	// 0 for half.
	Enough float64
	// Singles hangs photos for which no partner is good enough alone on a right
	// page, instead of leaving them on the table.
	Singles  bool
	Ordering Ordering
	// Chapters are kept together, each paired and put in order by itself. Without
	// them, spreads that find a new place leave the chapter they were in.
	Chapters []ChapterPhotos
	// First and Last, if not 0, name photos whose spreads begin and end what is
	// put in order.
	First, Last sequence.PhotoID
}

// Arrange proposes an arrangement of the photos on the table and, with the
// scope Wall, of those on spreads that are not pinned. See Propose.
func (m *Measures) Arrange(seq sequence.Sequence, table []sequence.PhotoID, w Balance, scope Scope) (Proposal, error) {
	return m.Propose(seq, Plan{Scope: scope, Table: table, Balance: w})
}

// Propose proposes an arrangement as planned.
//
// Of all ways to pair the photos it takes one whose scores sum to the most,
// exactly (see package matching), among pairs that are not nearly the same
// picture, not refused, not of two chapters, and reach half of what two photos of
// the title score on average. The new spreads follow each other as the plan's
// Ordering says (see follow). The sides of a new spread are those that lead in to
// the gutter, else the earlier photo stands left, or the lower number; a pair that
// faced each other already keeps its spread and its sides.
//
// Errors: NotFound for a photo the title does not have; Invalid for a table
// photo that is named twice, on the wall or in the box, a sequence that breaks
// the rules of the wall, a balance that makes no sense, or another scope or
// ordering; TooLarge for more photos than MostArranged.
func (m *Measures) Propose(seq sequence.Sequence, plan Plan) (Proposal, error) {
	shares, err := plan.Balance.shares()
	if err != nil {
		return Proposal{}, err
	}
	if err := plan.check(); err != nil {
		return Proposal{}, err
	}
	if err := check(seq, plan.Table, plan.Scope); err != nil {
		return Proposal{}, err
	}
	if plan.Enough == 0 {
		plan.Enough = enough
	}
	a := &arrangement{m: m, shares: shares, plan: plan, scope: plan.Scope, seq: seq}
	if err := a.gather(plan.Table); err != nil {
		return Proposal{}, err
	}
	a.pair()
	next, rule := a.sequence()
	return a.proposal(next, rule)
}

func (p Plan) check() error {
	if !(p.Enough >= 0 && p.Enough <= 2) {
		return &sequence.Error{Code: sequence.Invalid, Message: "What is good enough must lie between 0 and 2 times the usual."}
	}
	if !slices.Contains(Orderings(), p.Ordering) {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("There is no ordering %q.", p.Ordering)}
	}
	if p.First != 0 && p.First == p.Last {
		return &sequence.Error{Code: sequence.Invalid, Message: "One photo cannot both begin and end the sequence."}
	}
	return nil
}

func check(seq sequence.Sequence, table []sequence.PhotoID, scope Scope) error {
	if scope != Table && scope != Wall {
		return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("There is no scope %q to arrange.", scope),
			Hint: `Say "table" or "wall".`}
	}
	if err := seq.Check(); err != nil {
		return err
	}
	placed := make(map[sequence.PhotoID]bool)
	for _, id := range append(seq.Wall(), seq.Box...) {
		placed[id] = true
	}
	for _, id := range table {
		if placed[id] {
			return &sequence.Error{Code: sequence.Invalid, Message: fmt.Sprintf("Photo %d does not lie on the table, or is named twice.", id)}
		}
		placed[id] = true
	}
	return nil
}

// arrangement is the work on one proposal.
type arrangement struct {
	m      *Measures
	shares []float64
	plan   Plan
	scope  Scope
	seq    sequence.Sequence

	pool []int // indices of the photos to pair, by number
	bar  float64
	mate []int // by place in pool; -1 alone
	kept map[sequence.Pair]sequence.Spread

	refused map[sequence.Pair]bool
	chapter map[sequence.PhotoID]int // 1 and up; those of no chapter are missing
}

// free reports whether a spread's photos are to be paired anew.
func (a *arrangement) free(s sequence.Spread) bool {
	return a.scope == Wall && !s.Pinned && !s.Across
}

// gather lists the photos to pair.
func (a *arrangement) gather(table []sequence.PhotoID) error {
	numbers := slices.Clone(table)
	a.kept = make(map[sequence.Pair]sequence.Spread)
	for _, s := range a.seq.Spreads {
		if !a.free(s) {
			continue
		}
		for _, id := range []sequence.PhotoID{s.Left, s.Right} {
			if id != 0 {
				numbers = append(numbers, id)
			}
		}
		a.kept[inOneOrder(s.Left, s.Right)] = s
	}
	a.refused = make(map[sequence.Pair]bool)
	for _, pair := range a.plan.Refused {
		a.refused[inOneOrder(pair[0], pair[1])] = true
	}
	a.chapter = make(map[sequence.PhotoID]int)
	for k, c := range a.plan.Chapters {
		for _, id := range c.Photos {
			a.chapter[id] = k + 1
		}
	}
	if len(numbers) > MostArranged {
		return &sequence.Error{Code: sequence.TooLarge, Message: fmt.Sprintf("%d photos are too many to arrange at once.", len(numbers)),
			Hint: fmt.Sprintf("Up to %d will do: set some aside in the box first.", MostArranged)}
	}
	slices.Sort(numbers)
	pool, err := a.m.findAll(numbers)
	a.pool = pool
	return err
}

func inOneOrder(a, b sequence.PhotoID) sequence.Pair { return sequence.Pair{min(a, b), max(a, b)} }

// pair finds the pairs whose scores sum to the most.
func (a *arrangement) pair() {
	for i, share := range a.shares {
		a.bar += share * a.m.title.Typical(evidence.Row(i)) * a.plan.Enough
	}
	weights := matching.NewWeights(len(a.pool))
	crew.Share(len(a.pool), func(from, to int) {
		for j := from; j < to; j++ {
			for i := range j {
				if a.apart(a.pool[i], a.pool[j]) {
					continue
				}
				if v := a.m.decide(a.pool[i], a.pool[j], a.shares, a.bar); a.fit(v) {
					weights.Set(i, j, int64(math.Round(v.score*billionths)))
				}
			}
		}
	})
	a.mate, _, _ = matching.Match(weights)
}

const billionths = 1e9

// apart reports whether the maker's word keeps two photos apart.
func (a *arrangement) apart(i, j int) bool {
	p, q := a.m.photos[i].Number, a.m.photos[j].Number
	return a.refused[inOneOrder(p, q)] || a.chapter[p] != a.chapter[q]
}

// fit reports whether a pair may be proposed.
func (a *arrangement) fit(v verdict) bool { return v.judged && !v.alike && v.score >= a.bar }

// sequence builds the wall as proposed, and says what its new order goes by.
func (a *arrangement) sequence() (sequence.Sequence, string) {
	next := a.seq.Clone()
	f := a.flow()
	ordered, rule := f.follow()
	spreads := make([]sequence.Spread, len(ordered))
	for k, u := range ordered {
		if u.spread.ID == 0 {
			next.Last++
			u.spread.ID = next.Last
		}
		u.spread.Chapter = a.chapterOf(u)
		spreads[k] = u.spread
	}
	switch {
	case a.scope == Table:
		next.Spreads = append(next.Spreads, spreads...)
	case f.aroundPinned:
		next.Spreads = spreads
	default:
		next.Spreads = aroundPinned(a.seq.Spreads, spreads)
	}
	return next.Gathered(), rule
}

// units lists what is to be put in order: the pairs, and spreads across that
// may move.
func (a *arrangement) units() []unit {
	var units []unit
	for i, j := range a.mate {
		if i < j {
			units = append(units, a.facing(a.pool[i], a.pool[j]))
		}
		if j < 0 && a.plan.Singles {
			units = append(units, unit{sequence.Spread{Right: a.m.photos[a.pool[i]].Number}, []int{a.pool[i]}})
		}
	}
	for _, s := range a.seq.Spreads {
		if a.scope == Wall && s.Across && !s.Pinned {
			units = append(units, a.m.unitOf(s))
		}
	}
	return units
}

// chapterOf is the chapter of the wall that a spread's photos belong to.
func (a *arrangement) chapterOf(u unit) sequence.ChapterID {
	for _, i := range u.photos {
		if c := a.chapter[a.m.photos[i].Number]; c > 0 {
			return a.plan.Chapters[c-1].Chapter
		}
	}
	return 0
}

// facing puts a pair on a spread.
func (a *arrangement) facing(left, right int) unit {
	p, q := a.m.photos[left], a.m.photos[right]
	if s, ok := a.kept[inOneOrder(p.Number, q.Number)]; ok {
		return unit{s, []int{left, right}}
	}
	if sides := a.m.title.Sides(left, right); sides.Left == right {
		p, q = q, p
	}
	return unit{sequence.Spread{Left: p.Number, Right: q.Number}, []int{left, right}}
}

func (a *arrangement) lastOnWall() *unit {
	for _, s := range slices.Backward(a.seq.Spreads) {
		if u := a.m.unitOf(s); len(u.photos) > 0 {
			return &u
		}
	}
	return nil
}

// aroundPinned lays spreads into the places that the pinned ones of a wall leave
// free. A pinned spread beyond the new length moves up as little as it must.
func aroundPinned(wall, spreads []sequence.Spread) []sequence.Spread {
	var at []int
	for i, s := range wall {
		if s.Pinned {
			at = append(at, i)
		}
	}
	length := len(spreads) + len(at)
	next := make([]sequence.Spread, length)
	for k, i := range at {
		next[min(i, length-len(at)+k)] = wall[i]
	}
	for i := range next {
		if next[i].ID == 0 {
			next[i], spreads = spreads[0], spreads[1:]
		}
	}
	return next
}

package sequence

// Hanging is a wall as it is read off: what hangs where, without the spreads'
// numbers, pins and the box.
type Hanging struct {
	Opening PhotoID  `json:"opening,omitempty"`
	Spreads []Facing `json:"spreads"`
	Closing PhotoID  `json:"closing,omitempty"`
}

// Facing is the two pages of a spread as they are read off; 0 is a blank.
type Facing struct {
	Left   PhotoID `json:"left,omitempty"`
	Right  PhotoID `json:"right,omitempty"`
	Across bool    `json:"across,omitempty"` // the photo in Left crosses the gutter; Right is 0
}

// Facing is what lies on the spread.
func (s Spread) Facing() Facing { return Facing{s.Left, s.Right, s.Across} }

// Hanging is how the sequence hangs.
func (q Sequence) Hanging() Hanging {
	h := Hanging{Opening: q.Opening, Spreads: make([]Facing, len(q.Spreads)), Closing: q.Closing}
	for i, s := range q.Spreads {
		h.Spreads[i] = s.Facing()
	}
	return h
}

// Photos lists what hangs, in reading order.
func (h Hanging) Photos() []PhotoID {
	return Sequence{}.Hung(h).Wall()
}

// Hung returns q hung as it was read off. A spread that hangs unchanged stays
// the spread it was, pin and all; of the others each goes on as the one whose
// photo it kept, the left before the right; the rest are new. Photos that hang
// leave the box, photos that hang no more lie on the table; chapters are gathered.
// The result breaks a
// rule of the wall only when h does.
func (q Sequence) Hung(h Hanging) Sequence {
	next := q.Clone()
	next.Opening, next.Closing = h.Opening, h.Closing
	next.Spreads = make([]Spread, len(h.Spreads))
	left := make(map[SpreadID]Spread, len(q.Spreads)) // not yet hung
	at := make(map[PhotoID]SpreadID)
	for _, s := range q.Spreads {
		left[s.ID] = s
		at[s.Left], at[s.Right] = s.ID, s.ID
	}
	goOn := func(i int, photo PhotoID, unchanged bool) {
		was, free := left[at[photo]]
		if photo == 0 || !free || next.Spreads[i].ID != 0 || unchanged && was.Facing() != h.Spreads[i] {
			return
		}
		delete(left, was.ID)
		was.Left, was.Right, was.Across = h.Spreads[i].Left, h.Spreads[i].Right, h.Spreads[i].Across
		was.Pinned = was.Pinned && unchanged
		next.Spreads[i] = was
	}
	for _, unchanged := range []bool{true, false} {
		for i, f := range h.Spreads {
			goOn(i, f.Left, unchanged)
			goOn(i, f.Right, unchanged)
		}
	}
	for i, f := range h.Spreads {
		if next.Spreads[i].ID == 0 {
			next.Last++
			next.Spreads[i] = Spread{ID: next.Last, Left: f.Left, Right: f.Right, Across: f.Across}
		}
	}
	hangs := make(map[PhotoID]bool)
	for _, id := range next.Wall() {
		hangs[id] = true
	}
	box := next.Box[:0]
	for _, id := range next.Box {
		if !hangs[id] {
			box = append(box, id)
		}
	}
	next.Box = box
	return next.Gathered()
}

package main

import (
	"fmt"
	"time"

	"pairwall/sequence"
	"pairwall/store"
)

// scene is one sitting of the invented maker's: the wall as it was left, by
// the pictures' names, and how long ago.
type scene struct {
	daysAgo int
	version string // the name the maker gave it; "" for one kept by itself
	opening string
	spreads [][2]string // "" is a blank page
	pinned  int         // how many of the first spreads are pinned
	closing string
	box     []string
}

// story is three weeks with the demo's wall: first hung by place as the journey
// went, then by likeness, then the wall as it is today, not yet done.
var story = []scene{
	{daysAgo: 22, version: "As the journey went", opening: "adria-0107",
		spreads: [][2]string{{"adria-0121", "adria-0134"}, {"adria-0142", "adria-0149"}, {"adria-0166", "adria-0178"},
			{"adria-0190", "adria-0203"}, {"adria-0228", "adria-0237"}, {"adria-0259", "adria-0266"},
			{"adria-0281", "adria-0297"}, {"adria-0305", "adria-0320"}},
		closing: "adria-0351", box: []string{"adria-0298"}},
	{daysAgo: 9, opening: "000418740002",
		spreads: [][2]string{{"adria-0149", "adria-0333"}, {"000418740009", "adria-0203"}, {"adria-0178", "adria-0237"},
			{"000418740020", "adria-0259"}, {"adria-0142", "000018"}, {"adria-0190", "000418730017"}, {"adria-0297", "adria-0305"}},
		pinned: 1, closing: "adria-0351", box: []string{"adria-0298", "adria-0166"}},
	{daysAgo: 1, opening: "000418740002",
		spreads: [][2]string{{"adria-0149", "adria-0333"}, {"adria-0107", "000418730003"}, {"000418740009", "adria-0203"},
			{"adria-0178", "adria-0237"}, {"000418740020", "adria-0259"}, {"000418730006", "000418740027"},
			{"adria-0228", "000018"}, {"", "000021"}, {"adria-0190", "000418730017"}, {"adria-0351", ""}},
		pinned: 1, closing: "adria-0305", box: []string{"adria-0298", "adria-0166", "000418740013"}},
}

// hangDemo plays the story into the journal, act by act, so that undo and
// history have something true to show. A wall somebody has touched is left.
func (h *house) hangDemo(st *store.Store, title sequence.TitleID) error {
	wall, err := st.Wall(h.ctx, title)
	if err != nil || wall.Sequence.Revision > 0 {
		return err
	}
	photos, err := st.Photos(h.ctx, title)
	if err != nil {
		return err
	}
	numbers := make(map[string]sequence.PhotoID, len(photos))
	for _, p := range photos {
		numbers[stem(p.Name)] = p.Number
	}
	now := st.Now
	defer func() { st.Now = now }()
	present := wall.Sequence
	for _, s := range story {
		evening := now().AddDate(0, 0, -s.daysAgo)
		st.Now = func() time.Time { return evening }
		if present, err = h.play(st, title, present, s, numbers); err != nil {
			return fmt.Errorf("hanging the demo's wall: %w", err)
		}
		if s.version != "" {
			if _, err := st.KeepVersion(h.ctx, title, s.version); err != nil {
				return err
			}
		}
	}
	st.Now = now
	return st.CloseSittings(h.ctx)
}

// play leads from one sitting's wall to the next, one spread an act.
func (h *house) play(st *store.Store, title sequence.TitleID, present sequence.Sequence, s scene, numbers map[string]sequence.PhotoID) (sequence.Sequence, error) {
	target, err := s.hung(present, numbers)
	if err != nil {
		return present, err
	}
	for i := range len(target.Spreads) + 1 {
		step := sequence.Sequence{Opening: target.Opening, Spreads: target.Spreads[:i], Last: target.Last}
		act := "hang the opening page"
		switch {
		case i == 0 && len(present.Spreads) > 0:
			act = "take the wall down and begin anew"
		case i > 0:
			act = fmt.Sprintf("hang pages %d and %d", 2*i, 2*i+1)
		}
		if i == len(target.Spreads) {
			step = target
		}
		change, err := sequence.Between(present, step, act)
		if err != nil {
			return present, err
		}
		if len(change.Steps) == 0 {
			continue
		}
		_, wall, err := st.Apply(h.ctx, title, change, "demo")
		if err != nil {
			return present, err
		}
		present = wall.Sequence
	}
	return present, nil
}

// hung is the scene as a sequence. A pair that hangs already keeps its
// spread's number; others get new ones.
func (s scene) hung(present sequence.Sequence, numbers map[string]sequence.PhotoID) (sequence.Sequence, error) {
	var missing error
	number := func(name string) sequence.PhotoID {
		if name != "" && numbers[name] == 0 {
			missing = fmt.Errorf("no picture %q came in", name)
		}
		return numbers[name]
	}
	q := sequence.Sequence{Opening: number(s.opening), Closing: number(s.closing), Last: present.Last}
	for i, pair := range s.spreads {
		spread := sequence.Spread{Left: number(pair[0]), Right: number(pair[1]), Pinned: i < s.pinned}
		for _, hanging := range present.Spreads {
			if hanging.Left == spread.Left && hanging.Right == spread.Right {
				spread.ID = hanging.ID
			}
		}
		if spread.ID == 0 {
			q.Last++
			spread.ID = q.Last
		}
		q.Spreads = append(q.Spreads, spread)
	}
	for _, name := range s.box {
		q.Box = append(q.Box, number(name))
	}
	return q, missing
}

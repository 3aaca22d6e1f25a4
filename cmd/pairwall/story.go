package main

import (
	"fmt"
	"slices"
	"time"

	"pairwall/sequence"
	"pairwall/store"
)

// scene is one sitting of the invented maker's: the wall as it was left, by
// the pictures' names, and how long ago.
type scene struct {
	daysAgo int
	act     string // the one act that led there; "" for a wall hung anew, spread by spread
	version string // the name the maker gave it; "" for one kept by itself
	why     string
	slip    bool
	line    string // the line of work begun for this sitting from the version before, and left after it
	opening string
	spreads [][2]string // "" is a blank page
	pinned  int         // how many of the first spreads are pinned
	closing string
	box     []string

	chapters []part
	notes    map[int]string // why these two, by the spread, counted from 1
}

// part is a chapter over the spreads from first to last, counted from 1.
type part struct {
	name        string
	first, last int
}

// Parts of the story's walls that stayed for several sittings.
var (
	asItWent = [][2]string{{"adria-0121", "adria-0134"}, {"adria-0142", "adria-0149"}, {"adria-0166", "adria-0178"},
		{"adria-0190", "adria-0203"}, {"adria-0228", "adria-0237"}, {"adria-0259", "adria-0266"},
		{"adria-0281", "adria-0297"}, {"adria-0305", "adria-0320"}}
	alike = [][2]string{{"adria-0149", "adria-0333"}, {"000418740009", "adria-0203"}, {"adria-0178", "adria-0237"},
		{"000418740020", "adria-0259"}, {"adria-0142", "000018"}, {"adria-0190", "000418730017"}, {"adria-0297", "adria-0305"}}
	today = [][2]string{{"adria-0149", "adria-0333"}, {"adria-0107", "000418730003"}, {"000418740009", "adria-0203"},
		{"adria-0178", "adria-0237"}, {"000418740020", "adria-0259"}, {"000418730006", "000418740027"},
		{"adria-0228", "000018"}, {"", "000021"}, {"adria-0190", "000418730017"}, {"adria-0351", ""}}
)

// story is five weeks with the demo's wall: first hung by place as the journey
// went, then by likeness, once tried with the sea alone on a line of work of
// its own, then the wall as it is today, not yet done.
var story = []scene{
	{daysAgo: 36, version: "As the journey went", why: "Trieste to Bari, a day after a day. True, and a little dull.",
		opening: "adria-0107", spreads: asItWent, closing: "adria-0351", box: []string{"adria-0298"},
		chapters: []part{{"Trieste to Rijeka", 1, 4}, {"Down the islands", 5, 7}, {"The other shore", 8, 8}}},
	{daysAgo: 33, act: "move the boats forward, end on the crossing", opening: "adria-0107",
		spreads: with(asItWent[1:2], asItWent[:1], asItWent[2:7], [][2]string{{"adria-0320", "adria-0333"}}), closing: "adria-0305", box: []string{"adria-0298"}},
	{daysAgo: 29, act: "let two days go, and begin with the washing", opening: "adria-0149",
		spreads: with([][2]string{{"adria-0142", "adria-0121"}}, asItWent[2:5], asItWent[6:7]), closing: "adria-0351", box: []string{"adria-0298"}},
	{daysAgo: 22, version: "By likeness", why: "The first wall where I forgot the map. The ochre wall against the late one must stay.", slip: true,
		opening: "000418740002", spreads: alike, pinned: 1, closing: "adria-0351", box: []string{"adria-0166", "adria-0298"}},
	{daysAgo: 20, act: "try the sea alone", line: "Only the sea", opening: "adria-0121",
		spreads: with(alike[2:4], [][2]string{{"adria-0142", "000018"}, {"000021", ""}}), closing: "adria-0305", box: []string{"adria-0166", "adria-0298"}},
	{daysAgo: 17, act: "open with the house fronts again", opening: "adria-0107",
		spreads: with(alike[:5], alike[6:], alike[5:6]), pinned: 1, closing: "adria-0351", box: []string{"adria-0166", "adria-0298"}},
	{daysAgo: 13, act: "face the market with the boats", opening: "adria-0121",
		spreads: with(alike[:4], [][2]string{{"adria-0142", "adria-0190"}, {"000018", "000418730017"}}, alike[6:]), pinned: 1, closing: "adria-0351", box: []string{"adria-0166"}},
	{daysAgo: 9, act: "take the market back to its partner", opening: "000418740002", spreads: alike, pinned: 1, closing: "adria-0351", box: []string{"adria-0166", "adria-0298"}},
	{daysAgo: 5, act: "let the fronts in, and a blank page before the window", opening: "000418740002",
		spreads: with(alike[:1], today[1:2], alike[1:4], [][2]string{{"adria-0142", "000018"}, {"", "000021"}}, alike[5:6]), pinned: 1, closing: "adria-0305",
		box: []string{"adria-0166", "adria-0298"}},
	{daysAgo: 1, opening: "000418740002", spreads: today, pinned: 1, closing: "adria-0305", box: []string{"adria-0298", "adria-0166", "000418740013"},
		chapters: []part{{"Last light", 3, 4}, {"Between two shores", 7, 8}, {"Bari, the end of the line", 9, 10}},
		notes:    map[int]string{1: "The same ochre, once a wall and once a field.", 4: "Both evenings end on the water."}},
}

// with puts parts of walls one behind the other.
func with(parts ...[][2]string) [][2]string { return slices.Concat(parts...) }

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
		if present, err = h.sit(st, title, present, s, numbers); err != nil {
			return fmt.Errorf("hanging the demo's wall: %w", err)
		}
	}
	st.Now = now
	return st.CloseSittings(h.ctx)
}

// sit plays one sitting, with what the maker says of it afterwards.
func (h *house) sit(st *store.Store, title sequence.TitleID, present sequence.Sequence, s scene, numbers map[string]sequence.PhotoID) (sequence.Sequence, error) {
	was := present.Line
	if s.line != "" {
		_, wall, err := st.BeginLine(h.ctx, title, store.NewLine{Name: s.line, Present: "The whole journey"}, present.Revision, "demo")
		if err != nil {
			return present, err
		}
		present = wall.Sequence
	}
	present, err := h.play(st, title, present, s, numbers)
	if err != nil {
		return present, err
	}
	if s.version != "" {
		v, err := st.KeepVersion(h.ctx, title, s.version)
		if err != nil {
			return present, err
		}
		if _, err := st.AmendVersion(h.ctx, title, v.ID, store.VersionAmendment{Why: &s.why, Slip: &s.slip}); err != nil {
			return present, err
		}
	}
	if s.line == "" {
		return present, nil
	}
	_, wall, err := st.GoOver(h.ctx, title, was, present.Revision, "demo")
	return wall.Sequence, err
}

// play leads from one sitting's wall to the next, in one act or one spread an act.
func (h *house) play(st *store.Store, title sequence.TitleID, present sequence.Sequence, s scene, numbers map[string]sequence.PhotoID) (sequence.Sequence, error) {
	target, err := s.hung(present, numbers)
	if err != nil {
		return present, err
	}
	if s.act != "" {
		change, err := sequence.Between(present, target, s.act)
		if err != nil {
			return present, err
		}
		_, wall, err := st.Apply(h.ctx, title, change, "demo")
		return wall.Sequence, err
	}
	for i := range len(target.Spreads) + 2 {
		step := sequence.Sequence{Opening: target.Opening, Spreads: unnamed(target).Spreads[:min(i, len(target.Spreads))], Last: target.Last}
		act := "hang the opening page"
		switch {
		case i == 0 && len(present.Spreads) > 0:
			act = "take the wall down and begin anew"
		case i > len(target.Spreads):
			act = "name the chapters and note why these face each other"
		case i > 0:
			act = fmt.Sprintf("hang pages %d and %d", 2*i, 2*i+1)
		}
		if i == len(target.Spreads) {
			step = unnamed(target)
		} else if i > len(target.Spreads) {
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

// unnamed is the wall before chapters are named and notes written.
func unnamed(q sequence.Sequence) sequence.Sequence {
	q = q.Clone()
	q.Chapters = nil
	for i := range q.Spreads {
		q.Spreads[i].Chapter, q.Spreads[i].Note = 0, ""
	}
	return q
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
	q.LastChapter = present.LastChapter
	for _, c := range s.chapters {
		q.LastChapter++
		q.Chapters = append(q.Chapters, sequence.Chapter{ID: q.LastChapter, Name: c.name})
		for i := c.first - 1; i < c.last; i++ {
			q.Spreads[i].Chapter = q.LastChapter
		}
	}
	for at, note := range s.notes {
		q.Spreads[at-1].Note = note
	}
	for _, name := range s.box {
		q.Box = append(q.Box, number(name))
	}
	return q, missing
}

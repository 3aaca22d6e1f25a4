package wallshot

import (
	"cmp"
	"context"
	"image"
	"slices"

	"pairwall/sequence"
	"pairwall/sequence/pages/code"
	"pairwall/sequence/pages/perspective"
)

// MostPixels is the largest picture looked at.
const MostPixels = 200_000_000

// Sight is what was seen in one photograph.
type Sight struct {
	Codes  []Found
	Unread []perspective.Quad // where something looks like a code of ours but could not be read
}

// Find finds and reads the codes of small prints in a grey photograph. A code
// may be turned and seen in perspective; 60 pixels across its modules are enough
// in a fair photograph. The same number is found twice only when it is there
// twice. tell is called now and then with how much is done, 0..1; it may be nil.
//
// Codes are looked for by their marks, at every scale at which a mark may be a
// few pixels to the module, against the mean of their surroundings; three marks
// that lie as in a code are fitted with a homography and decoded. Time is linear
// in the pixels and in the number of marks.
//
// Errors: TooLarge beyond MostPixels; Cancelled.
func Find(ctx context.Context, photograph *image.Gray, tell func(done float64)) (Sight, error) {
	if photograph.Rect.Dx()*photograph.Rect.Dy() > MostPixels {
		return Sight{}, &sequence.Error{Code: sequence.TooLarge, Message: "This photograph is too large to look for codes in.", Hint: "Export a smaller copy."}
	}
	l := levelOf(photograph)
	if tell == nil {
		tell = func(float64) {}
	}
	var levels []level
	var all []finder
	done := 0.0
	const least = 40 // pixels: no code is smaller
	for share := 0.5; l.width >= least && l.height >= least; share /= 4 {
		if err := ctx.Err(); err != nil {
			return Sight{}, &sequence.Error{Code: sequence.Cancelled, Message: "Reading the photograph was stopped.", Err: err}
		}
		levels = append(levels, l)
		all = append(all, l.finders()...)
		done += share
		tell(done)
		l = l.half()
	}
	h := hunt{levels: levels, finders: merged(all), used: map[int]bool{}}
	h.near = nearness(h.finders)
	for i := range h.finders {
		if err := ctx.Err(); err != nil {
			return Sight{}, &sequence.Error{Code: sequence.Cancelled, Message: "Reading the photograph was stopped.", Err: err}
		}
		h.threes(i)
		if i%64 == 0 {
			tell(done + (0.9-done)*float64(i)/float64(len(h.finders)))
		}
	}
	for i := range h.finders {
		h.twos(i)
	}
	tell(1)
	return h.sight(), nil
}

// hunt is the state of Find behind the marks.
type hunt struct {
	levels  []level
	finders []finder
	near    func(i int) []int
	used    map[int]bool // finders that belong to a code already read
	found   []Found
	foreign []perspective.Quad // codes of something else, read whole
	unread  []attempt
}

// attempt is a place where a code could not be read.
type attempt struct {
	perspective.Quad
	like float64
}

// sight sums up. Of the attempts that failed, those tell of a code that look
// much like one and lie beside all others: marks of two neighbours lie as in a
// code too.
func (h *hunt) sight() Sight {
	s := Sight{Codes: h.found}
	taken := slices.Clone(h.foreign)
	for _, f := range h.found {
		taken = append(taken, f.Corners)
	}
	slices.SortStableFunc(h.unread, func(a, b attempt) int { return cmp.Compare(b.like, a.like) })
	for _, a := range h.unread {
		const much = 0.7
		beside := !slices.ContainsFunc(taken, func(q perspective.Quad) bool { return q.Centre().Distance(a.Centre()) < 0.55*(q.Side()+a.Side()) })
		if a.like > much && beside {
			s.Unread = append(s.Unread, a.Quad)
			taken = append(taken, a.Quad)
		}
	}
	return s
}

// Marks of a code of version 1 lie 14 modules apart. Measured along rows and
// columns, a module looks larger by up to √2 in a turned code.
const apart = 14.0

// nearness returns a function that lists the finders about as far from one as
// the marks of one code lie apart, and about as large.
func nearness(all []finder) func(int) []int {
	cells := make(map[[2]int][]int)
	for i, f := range all {
		cells[cell(f.at)] = append(cells[cell(f.at)], i)
	}
	return func(i int) (list []int) {
		f := all[i]
		reach := f.module * apart * 1.6
		low, high := cell(perspective.Point{X: f.at.X - reach, Y: f.at.Y - reach}), cell(perspective.Point{X: f.at.X + reach, Y: f.at.Y + reach})
		for x := low[0]; x <= high[0]; x++ {
			for y := low[1]; y <= high[1]; y++ {
				for _, k := range cells[[2]int{x, y}] {
					d := f.at.Distance(all[k].at) / ((f.module + all[k].module) / 2)
					if k != i && d > apart*0.55 && d < apart*1.55 && f.module < 1.6*all[k].module && all[k].module < 1.6*f.module {
						list = append(list, k)
					}
				}
			}
		}
		return list
	}
}

// threes takes a finder for the top left mark of a code.
func (h *hunt) threes(i int) {
	near := h.near(i)
	for _, right := range near {
		for _, below := range near {
			if right == below || h.used[i] || h.used[right] || h.used[below] {
				continue
			}
			u, v := h.finders[right].at.Minus(h.finders[i].at), h.finders[below].at.Minus(h.finders[i].at)
			long, short := max(u.Length(), v.Length()), min(u.Length(), v.Length())
			if u.Cross(v) < 0.8*long*short || long > 1.7*short {
				continue
			}
			if h.try(h.finders[i].at, u, v) {
				h.used[i], h.used[right], h.used[below] = true, true, true
			}
		}
	}
}

// twos takes two finders for two marks of a code whose third was not seen: it
// may lie to either side, and the two may lie along an edge or the diagonal.
func (h *hunt) twos(i int) {
	if h.used[i] {
		return
	}
	f := h.finders[i]
	for _, k := range h.near(i) {
		if h.used[i] || h.used[k] {
			continue
		}
		u := h.finders[k].at.Minus(f.at)
		v := perspective.Point{X: -u.Y, Y: u.X} // a quarter turn clockwise on the screen
		back := u.Plus(v).Times(-0.5)           // from the unseen top left to i, when i is top right and k bottom left
		for _, way := range [...][3]perspective.Point{
			{f.at, u, v},           // i top left, k top right
			{f.at, v.Times(-1), u}, // i top left, k bottom left
			{f.at.Minus(back), back, u.Minus(v).Times(0.5)}, // i top right, k bottom left
		} {
			if h.try(way[0], way[1], way[2]) {
				h.used[i], h.used[k] = true, true
				break
			}
		}
	}
}

// try reads a code whose marks have these middles: one, and how far from it the
// others are, right and below.
func (h *hunt) try(topLeft, u, v perspective.Point) bool {
	x, y := u.Times(1/apart), v.Times(1/apart)
	corner := topLeft.Minus(x.Times(3.5)).Minus(y.Times(3.5))
	across, down := x.Times(code.Side), y.Times(code.Side)
	q := perspective.Quad{corner, corner.Plus(across), corner.Plus(across).Plus(down), corner.Plus(down)}
	const patience = 3 // for one place: marks that belong to several codes are fitted to each
	if h.covered(q.Centre()) || h.tried(q.Centre()) >= patience {
		return false
	}
	found, like, came := h.fitting(min(x.Length(), y.Length())).decode(q)
	switch {
	case came == none:
		return false
	case came == unread:
		h.unread = append(h.unread, attempt{found.Corners, like})
		return false
	case h.covered(found.Corners.Centre()):
	case came == ours:
		h.found = append(h.found, found)
	default:
		h.foreign = append(h.foreign, found.Corners)
	}
	return true
}

// fitting is the smallest level at which a module still has four pixels.
func (h *hunt) fitting(module float64) level {
	k := 0
	for k+1 < len(h.levels) && module/h.levels[k+1].scale >= 4 {
		k++
	}
	return h.levels[k]
}

// covered reports whether a place lies within a code already read.
func (h *hunt) covered(p perspective.Point) bool {
	return slices.ContainsFunc(h.found, func(f Found) bool { return f.Corners.Holds(p) }) ||
		slices.ContainsFunc(h.foreign, func(q perspective.Quad) bool { return q.Holds(p) })
}

// tried counts the attempts at a place that failed.
func (h *hunt) tried(p perspective.Point) (n int) {
	for _, a := range h.unread {
		if a.Holds(p) {
			n++
		}
	}
	return n
}

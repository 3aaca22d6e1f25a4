package wallshot_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
	"pairwall/sequence/pages"
	"pairwall/sequence/pages/wallshot"
)

// drawnWall hangs boxes as a drawing shows them: a letter of the row above is a
// print of 70 × 50 mm, a capital one of 50 × 70; a dash is 10 mm, a blank 30.
func drawnWall(rows []string, jitter func() float64) (boxes []wallshot.Box, want [][][]int) {
	for r, row := range rows {
		x := 0.0
		var spreads [][]int
		joins := false
		for _, c := range row {
			switch c {
			case '-':
				x, joins = x+10, true
			case ' ':
				x, joins = x+30, false
			default:
				w, h := 70.0, 50.0
				if c < 'a' {
					w, h = h, w
				}
				left, top := x+jitter(), float64(r)*110+(70-h)/2+jitter()
				boxes = append(boxes, wallshot.Box{Left: left, Top: top, Right: left + w, Bottom: top + h})
				i := len(boxes) - 1
				if joins {
					spreads[len(spreads)-1] = append(spreads[len(spreads)-1], i)
				} else {
					spreads = append(spreads, []int{i})
				}
				x += w
			}
		}
		want = append(want, spreads)
	}
	return boxes, want
}

// With 3 % of jitter, in 300 walls: half of the print's side to either side is
// what the hands of the makers asked did (no source).
func TestRowsAndSpreadsAreWhatNearnessSays(t *testing.T) {
	for seed := range uint64(300) {
		chance := rand.New(rand.NewPCG(seed, 5))
		jitter := func() float64 { return (chance.Float64()*2 - 1) * 0.03 * 70 }
		boxes, want := drawnWall([]string{"a B-c d-e F-G h", "A-B c-d e", "a-b", "c-D e F-g h-I j-k"}, jitter)
		order := chance.Perm(len(boxes)) // in whatever order they were found
		shuffled := make([]wallshot.Box, len(boxes))
		slope := (chance.Float64() - 0.5) * 0.04
		for i, at := range order {
			b := boxes[i]
			drop := slope * b.Left // the camera was not held level
			shuffled[at] = wallshot.Box{Left: b.Left, Top: b.Top + drop, Right: b.Right, Bottom: b.Bottom + drop}
		}
		var got [][][]int
		for _, row := range wallshot.Spreads(shuffled, wallshot.Rows(shuffled)) {
			var spreads [][]int
			for _, s := range row {
				var prints []int
				for _, p := range s.Prints {
					prints = append(prints, slices.Index(order, p))
				}
				spreads = append(spreads, prints)
				if s.Doubt {
					t.Errorf("seed %d: %v is in doubt", seed, prints)
				}
			}
			got = append(got, spreads)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("seed %d:\n%s", seed, diff)
		}
	}
}

// A print between two spreads was not read: its room is no gap to judge by.
func TestAHoleInARowDoesNotJoinWhatHangsApart(t *testing.T) {
	boxes, _ := drawnWall([]string{"a b-c d-e", "f-g x-h i"}, func() float64 { return 0 })
	hole := slices.Delete(slices.Clone(boxes), 7, 8)
	rows := wallshot.Spreads(hole, wallshot.Rows(hole))
	var sizes []int
	for _, row := range rows {
		for _, s := range row {
			sizes = append(sizes, len(s.Prints))
		}
	}
	if !slices.Equal(sizes, []int{1, 2, 2, 2, 1, 1}) {
		t.Errorf("spreads of %v prints", sizes)
	}
}

func TestEvenGapsAreReadInTwosButInDoubt(t *testing.T) {
	still := func() float64 { return 0 }
	boxes, _ := drawnWall([]string{"a-b-c-d-e"}, still)
	row := wallshot.Spreads(boxes, wallshot.Rows(boxes))[0]
	if len(row) != 3 || len(row[0].Prints) != 2 || len(row[1].Prints) != 2 || !row[0].Doubt {
		t.Errorf("near: %+v", row)
	}
	boxes, _ = drawnWall([]string{"a b c d e"}, still)
	if row = wallshot.Spreads(boxes, wallshot.Rows(boxes))[0]; len(row) != 5 || !row[0].Doubt {
		t.Errorf("far: %+v", row)
	}
	boxes, _ = drawnWall([]string{"a"}, still)
	if row = wallshot.Spreads(boxes, wallshot.Rows(boxes))[0]; len(row) != 1 || row[0].Doubt {
		t.Errorf("one: %+v", row)
	}
}

// Every way to join neighbours in a row is tried: none that joins each print
// once leaves less of a gap within spreads and more between them.
func TestNoOtherWayToJoinARowIsBetter(t *testing.T) {
	for seed := range uint64(400) {
		chance := rand.New(rand.NewPCG(seed, 9))
		var boxes []wallshot.Box
		x := 0.0
		for range 2 + chance.IntN(10) {
			boxes = append(boxes, wallshot.Box{Left: x, Right: x + 70, Bottom: 50})
			x += 70 + 5 + float64(chance.IntN(2)*30) + chance.Float64()*12
		}
		gaps := make([]float64, len(boxes)-1)
		for i := range gaps {
			gaps[i] = boxes[i+1].Left - boxes[i].Right
		}
		border := bestBorder(gaps)
		if border == 0 {
			continue
		}
		best := 0.0
		for ways := range 1 << len(gaps) {
			if ways&(ways>>1) == 0 {
				best = max(best, gain(gaps, border, func(i int) bool { return ways>>i&1 == 1 }))
			}
		}
		joined := make(map[int]bool)
		for _, s := range wallshot.Spreads(boxes, wallshot.Rows(boxes))[0] {
			if len(s.Prints) == 2 {
				joined[s.Prints[0]] = true
			}
		}
		if got := gain(gaps, border, func(i int) bool { return joined[i] }); math.Abs(got-best) > 1e-9 {
			t.Fatalf("seed %d: gaps %v, border %.1f: %.2f, but %.2f can be had", seed, gaps, border, got, best)
		}
	}
}

func gain(gaps []float64, border float64, joined func(int) bool) float64 {
	sum := 0.0
	for i, g := range gaps {
		if joined(i) {
			sum += border - g
		}
	}
	return sum
}

// bestBorder parts gaps so that the variance within the two parts is least,
// which is Otsu's criterion told the other way about; 0 when they are one kind.
func bestBorder(gaps []float64) float64 {
	sorted := slices.Sorted(slices.Values(gaps))
	least, border := math.Inf(1), 0.0
	for i := 1; i < len(sorted); i++ {
		near, a := meanAndScatter(sorted[:i])
		far, b := meanAndScatter(sorted[i:])
		if a+b < least && far-near >= 6 {
			least, border = a+b, (sorted[i-1]+sorted[i])/2
		}
	}
	return border
}

func meanAndScatter(values []float64) (mean, scatter float64) {
	for _, v := range values {
		mean += v / float64(len(values))
	}
	for _, v := range values {
		scatter += (v - mean) * (v - mean)
	}
	return mean, scatter
}

func placed(groups ...[]sequence.PhotoID) [][]wallshot.Group {
	var row []wallshot.Group
	for _, numbers := range groups {
		var g wallshot.Group
		for _, n := range numbers {
			g.Prints = append(g.Prints, wallshot.Placed{Number: n})
		}
		row = append(row, g)
	}
	return [][]wallshot.Group{row}
}

func TestAPrintAloneIsThePageItCanBe(t *testing.T) {
	was := sequence.Sequence{Spreads: []sequence.Spread{{ID: 1, Right: 7}, {ID: 2, Left: 8, Across: true}, {ID: 3, Left: 9, Right: 2}}, Last: 3}
	got := wallshot.Hanging(placed([]sequence.PhotoID{5}, []sequence.PhotoID{7}, []sequence.PhotoID{8}, []sequence.PhotoID{9}, []sequence.PhotoID{1, 2}, []sequence.PhotoID{7, 6}, []sequence.PhotoID{3}), was)
	if want := "5 / +7 / 8+8 / 9+ / 1+2 / 6+ / 3"; got.String() != want {
		t.Errorf("%q, not %q", got, want)
	}
}

func TestABoxLiesAroundTheMiddleOfItsCode(t *testing.T) {
	style := pages.FirstPrintStyle
	b := wallshot.Around(style.Print(pages.Proportion{Photo: 1, Width: 3, Height: 2}))
	if size := style.PrintSize(3, 2); math.Abs(b.Right-b.Left-size.Width.Mm()) > 1e-9 || math.Abs(b.Bottom-b.Top-size.Height.Mm()) > 1e-9 {
		t.Errorf("%+v is not as large as %+v", b, size)
	}
	half := (pages.CodeWidth/2 + pages.CodeQuiet + style.Border).Mm()
	if math.Abs(b.Right-half) > 1e-9 || math.Abs(b.Bottom-style.Foot.Mm()/2) > 1e-9 {
		t.Errorf("%+v: the code is not at the right end of the foot", b)
	}
}

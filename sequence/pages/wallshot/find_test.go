package wallshot_test

import (
	"context"
	"flag"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
	"pairwall/sequence/pages/wallshot"
)

// byHand hangs prints in rows, in spreads of two, with all that hands do: 3 %
// of a print's size to and fro, and a slight turn.
func byHand(chance *rand.Rand, count, perRow int, long float64) []hungPrint {
	prints := make([]hungPrint, 0, count)
	numbers := chance.Perm(999)
	x, y := 0.0, 0.0
	for i := range count {
		if i > 0 && i%perRow == 0 {
			x, y = 0, y+long+border+foot+long*0.4
		}
		w, h := long, long*2/3
		if chance.IntN(3) == 0 {
			w, h = h, w
		}
		p := hungPrint{number: sequence.PhotoID(numbers[i] + 1), width: w + 2*border, height: h + border + foot}
		p.codeX = p.width - border - codeWidth*4/21 - codeWidth
		p.codeY = p.height - foot + codeWidth*4/21
		jitter := func() float64 { return (chance.Float64()*2 - 1) * 0.03 * long }
		p.x, p.y, p.turn = x+jitter(), y+(long-h)/2+jitter(), (chance.Float64()*2-1)*0.03
		prints = append(prints, p)
		x += p.width + 10
		if i%2 == 1 {
			x += 20
		}
	}
	return prints
}

func around(prints []hungPrint, s shot) shot {
	s.left, s.top, s.right, s.bottom = 1e9, 1e9, -1e9, -1e9
	for _, p := range prints {
		s.left, s.top, s.right, s.bottom = min(s.left, p.x), min(s.top, p.y), max(s.right, p.x+p.width), max(s.bottom, p.y+p.height)
	}
	return s
}

// walls is how many more walls are tried than one goes through in a moment.
var walls = flag.Int("walls", 0, "try so many rendered walls at several widths, and tell figures")

func boxes(prints []hungPrint) func(sequence.PhotoID) wallshot.Box {
	of := make(map[sequence.PhotoID]wallshot.Box)
	for _, p := range prints {
		x, y := p.codeX+codeWidth/2, p.codeY+codeWidth/2
		of[p.number] = wallshot.Box{Left: -x, Top: -y, Right: p.width - x, Bottom: p.height - y}
	}
	return func(id sequence.PhotoID) wallshot.Box { return of[id] }
}

// hungAs is the order in which prints were hung by byHand.
func hungAs(prints []hungPrint) []sequence.Facing {
	var spreads []sequence.Facing
	for i := 0; i+1 < len(prints); i += 2 {
		spreads = append(spreads, sequence.Facing{Left: prints[i].number, Right: prints[i+1].number})
	}
	return spreads
}

// tally counts what was found of what a picture shows whole.
type tally struct {
	shown, found, wrong int
	off                 float64 // pixels from where the corners are, in the mean
	spent               time.Duration
	pixels              int
}

func (sum *tally) look(t testing.TB, prints []hungPrint, s shot, chance *rand.Rand) []wallshot.Found {
	t.Helper()
	img, c := photographed(t, prints, tag, s, chance)
	began := time.Now()
	seen, err := wallshot.Find(context.Background(), img, nil)
	if err != nil {
		t.Fatal(err)
	}
	found := seen.Codes
	sum.spent += time.Since(began)
	sum.pixels += len(img.Pix)
	where := make(map[sequence.PhotoID]wallshot.Found)
	for _, f := range found {
		if f.Tag != tag {
			sum.wrong++
		}
		if _, twice := where[f.Number]; twice {
			sum.wrong++
		}
		where[f.Number] = f
	}
	for _, p := range prints {
		q := p.code()
		whole := true
		for i := range q {
			q[i] = c.at(q[i])
			whole = whole && q[i].X > 0 && q[i].Y > 0 && q[i].X < float64(c.width) && q[i].Y < float64(c.height)
		}
		f, ok := where[p.number]
		delete(where, p.number)
		if !whole {
			continue
		}
		sum.shown++
		if ok {
			sum.found++
			for i := range q {
				sum.off += math.Hypot(q[i].X-f.Corners[i].X, q[i].Y-f.Corners[i].Y) / 4
			}
		}
	}
	sum.wrong += len(where) // numbers that hang nowhere
	return found
}

const tag = 700

// ordinary is a photograph taken by hand in a room: a quarter nearer on one side
// than on the other, a little turned, unsharp, grainy, half the light on the far
// side.
func ordinary(pixels float64) shot {
	return shot{pixels: pixels, tilt: 0.25, turn: 0.05, blur: 1.2, noise: 6, uneven: 0.5, quality: 80}
}

func TestAWallOfFortyPrintsIsReadInOrder(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 1))
	prints := byHand(chance, 40, 8, 30)
	s := around(prints, ordinary(90))
	s.tilt = 0.2 // so that none lies outside
	var sum tally
	found := sum.look(t, prints, s, chance)
	if sum.shown != 40 || sum.found != 40 || sum.wrong != 0 {
		t.Errorf("%+v", sum)
	}
	if sum.off/40 > 1.5 {
		t.Errorf("corners are off by %.2f pixels", sum.off/40)
	}
	read := wallshot.Hanging(wallshot.Read([][]wallshot.Found{found}, boxes(prints)), sequence.Sequence{})
	if diff := cmp.Diff(sequence.Hanging{Spreads: hungAs(prints)}, read); diff != "" {
		t.Error(diff)
	}
}

func TestAWallOfAHundredAndTwentyPrintsIsJoinedFromThreePhotographs(t *testing.T) {
	chance := rand.New(rand.NewPCG(120, 2))
	prints := byHand(chance, 120, 20, 30)
	whole := around(prints, ordinary(90))
	var sum tally
	var shots [][]wallshot.Found
	for k := range 3 {
		s := whole
		third := (whole.right - whole.left) / 3
		s.left, s.right = whole.left+float64(k)*third-30, whole.left+float64(k+1)*third+30
		s.turn, s.tilt = float64(k-1)*0.06, 0.1
		shots = append(shots, sum.look(t, prints, s, chance))
	}
	if float64(sum.found) < 0.99*float64(sum.shown) || sum.wrong != 0 {
		t.Errorf("%+v", sum)
	}
	read := wallshot.Hanging(wallshot.Read(shots, boxes(prints)), sequence.Sequence{})
	if diff := cmp.Diff(sequence.Hanging{Spreads: hungAs(prints)}, read); diff != "" {
		t.Error(diff)
	}
}

func TestManyWalls(t *testing.T) {
	for _, count := range []int{40, 120} {
		for _, pixels := range []float64{50, 60, 90, 150} {
			if *walls == 0 || count == 120 && pixels > 100 {
				continue
			}
			var sum tally
			ordered := 0
			for seed := range uint64(*walls) {
				chance := rand.New(rand.NewPCG(seed, uint64(count)))
				prints := byHand(chance, count, count/5, 34)
				found := sum.look(t, prints, around(prints, ordinary(pixels)), chance)
				seen := make(map[sequence.PhotoID]bool)
				for _, f := range found {
					seen[f.Number] = true
				}
				var want, got []sequence.PhotoID
				for _, p := range prints {
					if seen[p.number] {
						want = append(want, p.number)
					}
				}
				got = sequence.Sequence{}.Hung(wallshot.Hanging(wallshot.Read([][]wallshot.Found{found}, boxes(prints)), sequence.Sequence{})).Wall()
				if cmp.Equal(want, got) {
					ordered++
				}
			}
			t.Logf("%d prints, codes of %v pixels: %d of %d found (%.2f %%), %d wrong, corners off by %.2f pixels, %d of %d walls in order, %.2f s for each 12 million pixels", count, pixels,
				sum.found, sum.shown, 100*float64(sum.found)/float64(sum.shown), sum.wrong, sum.off/float64(max(sum.found, 1)), ordered, *walls, sum.spent.Seconds()/float64(sum.pixels)*12e6)
		}
	}
}

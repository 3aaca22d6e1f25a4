package colour

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
)

// Sharma, Wu, Dalal 2005, table 1, gives four decimals: half a unit of the last
// is all that may differ.
func TestDifferenceReproducesEveryPublishedPair(t *testing.T) {
	_, rows := table(t, "ciede2000_sharma.csv")
	if len(rows) != 34 {
		t.Fatalf("the published table has 34 pairs, the file %d", len(rows))
	}
	for i, row := range rows {
		v := numbers(t, row, 0, 7)
		x, y := Lab{v[0], v[1], v[2]}, Lab{v[3], v[4], v[5]}
		for _, got := range []float64{DeltaE00(x, y), DeltaE00(y, x)} {
			if math.Abs(got-v[6]) > 0.00005+1e-12 {
				t.Errorf("pair %d: %.6f, published %.4f", i+1, got, v[6])
			}
		}
	}
}

// go-colorful works in angles and knows no table. Ours interpolates the blue
// turn to within 2e-10; times the largest 2·ΔC·ΔH (some thousands) over twice a
// ΔE of that size leaves about 1e-8. Away from blue both agree to 1e-13.
func TestDifferenceAgreesWithAnIndependentImplementation(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2004))
	channel := func() float64 { return float64(random.IntN(256)) / 255 }
	worst := 0.0
	for i := range 20000 {
		x := colorful.Color{R: channel(), G: channel(), B: channel()}
		y := colorful.Color{R: channel(), G: channel(), B: channel()}
		if i%2 == 1 { // Neighbours stress the small differences.
			y = colorful.Color{R: x.R, G: min(x.G+3.0/255, 1), B: max(x.B-2.0/255, 0)}
		}
		want := 100 * x.DistanceCIEDE2000(y)
		got := DeltaE00(theirLab(x), theirLab(y))
		worst = max(worst, math.Abs(got-want))
		if math.Abs(got-want) > 1e-8 {
			t.Fatalf("pair %d (%v, %v): %.12f, go-colorful %.12f", i, x, y, got, want)
		}
	}
	t.Logf("largest disagreement in 20000 pairs: %.2g", worst)
}

// theirLab is go-colorful's own Lab, so that only the formula is compared.
func theirLab(c colorful.Color) Lab {
	l, a, b := c.Lab()
	return Lab{100 * l, 100 * a, 100 * b}
}

func TestDifferenceIsSymmetricAndZeroOnlyForEqualColours(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 5))
	for range 20000 {
		x, y := anyLab(random), anyLab(random)
		if there, back := DeltaE00(x, y), DeltaE00(y, x); there != back {
			t.Fatalf("%v to %v is %v, back %v", x, y, there, back)
		} else if there <= 0 {
			t.Fatalf("%v and %v differ by %v", x, y, there)
		}
		if d := DeltaE00(x, x); d != 0 {
			t.Fatalf("%v differs from itself by %v", x, d)
		}
	}
}

// The angle's own formula against its table over the squared chord; hues from 0°
// to 95° are more than 180° short of 275° and are not turned.
func TestBlueTurnFollowsItsFormula(t *testing.T) {
	for h := 0.005; h < 360; h += 0.01 {
		sin, cos := math.Sincos(h * degree)
		double := 60 * degree * math.Exp(-math.Pow((h-275)/25, 2))
		if got := blueTurn(cos, sin); math.Abs(got-math.Sin(double)) > 2e-10 {
			t.Fatalf("at %.3f°: %.12f, formula %.12f", h, got, math.Sin(double))
		}
	}
}

func anyLab(random *rand.Rand) Lab {
	return Lab{100 * random.Float64(), 220*random.Float64() - 110, 220*random.Float64() - 110}
}

func BenchmarkDeltaE00(b *testing.B) {
	random := rand.New(rand.NewPCG(7, 9))
	var colours [256]Lab
	for i := range colours {
		colours[i] = anyLab(random)
	}
	sum, i := 0.0, 0
	for b.Loop() {
		sum += DeltaE00(colours[i&255], colours[(i*7+13)&255])
		i++
	}
	if sum < 0 {
		b.Fatal(sum)
	}
}

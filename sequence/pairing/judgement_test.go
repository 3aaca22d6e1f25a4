package pairing

import (
	"fmt"
	"math"
	"reflect"
	"testing"
	"time"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/pairing/evidence"
	"pairwall/sequence/place"
)

func pairOf(t *testing.T, m *Measures, a, b sequence.PhotoID, w Balance) Judgement {
	t.Helper()
	j, err := m.Pair(a, b, w)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

func evidenceOf(t *testing.T, j Judgement, k Kind) Evidence {
	t.Helper()
	for _, e := range j.Evidence {
		if e.Kind == k {
			return e
		}
	}
	t.Fatalf("no evidence of %s in %+v", k, j)
	return Evidence{}
}

// Forty photos whose k-th lies a little farther from the first than the one
// before, in one measure at a time.
func TestTheScoreNeverRisesAsAMeasureGrows(t *testing.T) {
	step := func(k int) float64 { return float64(k*k) * 40 }
	for kind, set := range map[Kind]func(p *sequence.Photo, k int){
		evidence.Distance: func(p *sequence.Photo, k int) { p.Where = at(step(k)) },
		evidence.Gap:      func(p *sequence.Photo, k int) { p.Taken = after(step(k)) },
		evidence.World:    func(p *sequence.Photo, k int) { p.Palette = grey(10 + 2*float64(k)) },
	} {
		t.Run(string(kind), func(t *testing.T) {
			photos := make([]sequence.Photo, 40)
			for k := range photos {
				// The others kinds are the same for all, and known.
				photos[k] = sequence.Photo{Number: sequence.PhotoID(k + 1), Where: at(0), Taken: after(0), Palette: grey(50)}
				set(&photos[k], k)
				if kind != evidence.Gap {
					photos[k].Taken = after(float64(k) / 2) // no two seconds apart: none is marked down as alike
				}
			}
			m := New(photos)
			balance := Balance{string(kind): 1}
			if kind == evidence.Gap {
				balance = Balance{"gap": 1, "place": 0.5}
			}
			last := Judgement{Score: 2}
			lastMeasure, fell := -1.0, 0
			for k := 1; k < len(photos); k++ {
				j := pairOf(t, m, 1, sequence.PhotoID(k+1), balance)
				e := evidenceOf(t, j, kind)
				if e.Measure <= lastMeasure {
					t.Fatalf("photo %d: measure %g after %g", k+1, e.Measure, lastMeasure)
				}
				if j.Score > last.Score || e.Score > 1 || e.Score < 0 {
					t.Fatalf("photo %d: score %g after %g at measure %g", k+1, j.Score, last.Score, e.Measure)
				}
				if j.Score < last.Score {
					fell++
				}
				last, lastMeasure = j, e.Measure
			}
			if fell < 25 {
				t.Errorf("the score fell only %d times of 39", fell)
			}
		})
	}
}

func TestAPairIsJudgedTheSameInEitherOrder(t *testing.T) {
	photos := journey(60, 1)
	m := New(photos)
	for a := 1; a <= len(photos); a++ {
		for b := 1; b < a; b++ {
			one, other := pairOf(t, m, sequence.PhotoID(a), sequence.PhotoID(b), nil), pairOf(t, m, sequence.PhotoID(b), sequence.PhotoID(a), nil)
			if !reflect.DeepEqual(one, other) {
				t.Fatalf("%d with %d: %+v\n%d with %d: %+v", a, b, one, b, a, other)
			}
		}
	}
}

func TestMissingEvidenceCountsAsTheTitlesTypicalValue(t *testing.T) {
	photos := journey(200, 2)
	for i := range photos {
		photos[i].Where = at(float64(i*i) / 3)
		photos[i].Taken = after(float64(37 * i))
	}
	whole := New(photos)
	const lacking = 77
	mean := func(m *Measures) (sum float64) {
		for b := 1; b <= len(photos); b++ {
			if b != lacking {
				sum += pairOf(t, m, lacking, sequence.PhotoID(b), three).Score / float64(len(photos)-1)
			}
		}
		return sum
	}
	// What the kind says of a typical pair, it says of all pairs once missing.
	for kind, strip := range map[Kind]func(p *sequence.Photo){
		Place:  func(p *sequence.Photo) { p.Where = nil },
		Time:   func(p *sequence.Photo) { p.Taken = place.When{} },
		Colour: func(p *sequence.Photo) { p.Palette = nil },
	} {
		t.Run(string(kind), func(t *testing.T) {
			stripped := append([]sequence.Photo(nil), photos...)
			strip(&stripped[lacking-1])
			m := New(stripped)
			row := row(kind)
			var sum float64
			for a := range whole.photos {
				for b := range a {
					sum += whole.title.Score(row, b, a)
				}
			}
			typical := sum / float64(len(photos)*(len(photos)-1)/2)
			e := evidenceOf(t, pairOf(t, m, lacking, 3, three), kind)
			if e.Known || e.Measure != 0 || math.Abs(e.Score-typical) > 0.02 {
				t.Errorf("%+v, the title's mean is %.3f", e, typical)
			}
			j := pairOf(t, m, lacking, 3, three)
			want := 0.0
			for _, e := range j.Evidence {
				want += e.Score / 3
			}
			if math.Abs(j.Score-want) > 1e-12 || math.Abs(j.Share-2.0/3) > 1e-12 || !j.Judged {
				t.Errorf("score %g, the mean of the evidence is %g; share %g", j.Score, want, j.Share)
			}
			// Over all partners the photo neither gains nor loses, beyond how
			// typical it was itself.
			own := 0.0
			for b := range photos {
				if b != lacking-1 {
					own += whole.title.Score(row, min(b, lacking-1), max(b, lacking-1)) / float64(len(photos)-1)
				}
			}
			if before, now := mean(whole), mean(m); math.Abs((before-now)-(own-typical)/3) > 0.02 {
				t.Errorf("mean score %.3f with it, %.3f without; it was %.3f where %.3f is typical", before, now, own, typical)
			}
		})
	}
}

// A pair better than typical in place ranks before one whose place is missing,
// and that one before a pair worse than typical, all else being equal.
func TestLackingEvidenceRanksBetweenGoodAndBadEvidence(t *testing.T) {
	var photos []sequence.Photo
	for k := range 30 {
		photos = append(photos, sequence.Photo{Number: sequence.PhotoID(k + 1), Where: at(float64(k * 200)), Taken: after(float64(10 * k)), Palette: grey(40)})
	}
	photos[5].Taken, photos[6].Taken, photos[7].Taken = after(25), after(25), after(25)
	photos[5].Where = at(10)
	photos[6].Where = nil
	photos[7].Where = at(5900)
	m := New(photos)
	partners, _, err := m.Partners(1, []sequence.PhotoID{8, 7, 6}, nil, 3)
	if err != nil {
		t.Fatal(err)
	}
	if partners[0].Photo != 6 || partners[1].Photo != 7 || partners[2].Photo != 8 {
		t.Errorf("order %d, %d, %d; want near, unknown, far", partners[0].Photo, partners[1].Photo, partners[2].Photo)
	}
}

func TestAPairWithoutAnyEvidenceThatCountsIsNotJudged(t *testing.T) {
	photos := []sequence.Photo{
		{Number: 1, Where: at(0), Palette: grey(20)},
		{Number: 2, Taken: after(0), Palette: grey(60)},
		{Number: 3, Taken: place.Instant(time.Date(2026, 7, 1, 9, 0, 0, 0, time.UTC), nil, place.FromScanner), Where: &place.Where{}},
	}
	m := New(photos)
	for _, c := range []struct {
		a, b sequence.PhotoID
		w    Balance
		want bool
	}{
		{1, 2, nil, true},
		{1, 2, Balance{"colour": 0.2}, true},
		{1, 2, Balance{"place": 1, "time": 1}, false},
		{1, 2, Balance{"place": 1, "time": 1, "colour": 0}, false},
		{1, 3, nil, false}, // a scanner's date and a position 0, 0 are no evidence
		{2, 3, Balance{"time": 1}, false},
	} {
		j := pairOf(t, m, c.a, c.b, c.w)
		if j.Judged != c.want || !c.want && (j.Score != 0 || j.Share != 0) {
			t.Errorf("%d with %d by %v: %+v", c.a, c.b, c.w, j)
		}
	}
	_, unjudged, err := m.Partners(1, []sequence.PhotoID{1, 2, 3}, Balance{"place": 1}, 5)
	if err != nil || unjudged != 2 {
		t.Errorf("%d not judged, %v; want 2", unjudged, err)
	}
}

func TestABalanceThatMakesNoSenseIsRefused(t *testing.T) {
	m := New(journey(4, 1))
	for _, w := range []Balance{{"scent": 1}, {"colour": -0.1}, {"colour": 1.1}, {"colour": math.NaN()}, {"colour": 0, "place": 0}} {
		if _, err := m.Pair(1, 2, w); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%v: %v", w, err)
		}
		if _, _, err := m.Partners(1, []sequence.PhotoID{2}, w, 1); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%v: %v", w, err)
		}
		if _, err := m.Arrange(sequence.Sequence{}, nil, w, Table); sequence.CodeOf(err) != sequence.Invalid {
			t.Errorf("%v: %v", w, err)
		}
	}
	if _, err := m.Pair(1, 1, nil); sequence.CodeOf(err) != sequence.Invalid {
		t.Errorf("a photo with itself: %v", err)
	}
	if _, err := m.Pair(1, 9, nil); sequence.CodeOf(err) != sequence.NotFound {
		t.Errorf("a photo there is not: %v", err)
	}
}

func TestWeightsCountInProportionAndNotBySize(t *testing.T) {
	m := New(journey(50, 4))
	for b := sequence.PhotoID(2); b < 50; b++ {
		strong, weak := pairOf(t, m, 1, b, Balance{"colour": 1, "time": 0.5}), pairOf(t, m, 1, b, Balance{"colour": 0.2, "time": 0.1})
		if math.Abs(strong.Score-weak.Score) > 1e-12 {
			t.Fatalf("1 with %d: %g and %g", b, strong.Score, weak.Score)
		}
	}
}

func ExampleMeasures_Pair() {
	noon := time.Date(2026, 5, 3, 14, 0, 0, 0, time.UTC)
	quay := place.LatLng{Lat: 45.6496, Lng: 13.7681}
	rust := colour.Palette{{Lab: colour.Lab{L: 45, A: 32, B: 38}, Weight: 1}}
	m := New([]sequence.Photo{
		{Number: 12, Where: &place.Where{LatLng: quay, Source: place.FromCamera}, Taken: place.Instant(noon, nil, place.FromCamera), Palette: rust},
		{Number: 47, Taken: place.Instant(noon.Add(90*time.Minute), nil, place.FromCamera), Palette: rust},
	})
	j, err := m.Pair(12, 47, Balance{"place": 1, "time": 1, "colour": 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s (%s)\n", j.Reasons, j.Missing)
	// Output: the same afternoon; both in rust (no place known for 47)
}

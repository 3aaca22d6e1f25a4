package pairing

import (
	"fmt"
	"math"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"pairwall/sequence"
)

// The list that sorting all judgements gives, without heap, cores or short cuts.
func partnersBySorting(t *testing.T, m *Measures, of sequence.PhotoID, among []sequence.PhotoID, w Balance, n int) (list []Partner, unjudged int) {
	t.Helper()
	for _, b := range among {
		if b == of {
			continue
		}
		if j := pairOf(t, m, of, b, w); j.Judged {
			side := sequence.Right
			if j.Left == b {
				side = sequence.Left
			}
			list = append(list, Partner{Photo: b, Side: side, Judgement: j})
		} else {
			unjudged++
		}
	}
	slices.SortFunc(list, func(p, q Partner) int {
		if p.Score != q.Score {
			return int(math.Copysign(1, q.Score-p.Score))
		}
		return int(p.Photo - q.Photo)
	})
	return list[:min(n, len(list))], unjudged
}

func TestPartnersAreTheBestOfAllInOrder(t *testing.T) {
	photos := journey(300, 5)
	for i := range 40 { // equals, so that the number decides
		photos[200+i].Palette, photos[200+i].Taken, photos[200+i].Where = photos[7].Palette, photos[9].Taken, photos[9].Where
	}
	slices.Reverse(photos[100:250]) // the order of the list must not matter
	m := New(photos)
	among := allOf(photos)
	for _, w := range []Balance{nil, {"colour": 1}, {"place": 1}, {"time": 0.3, "colour": 0.9}} {
		for _, n := range []int{0, 1, 12, 1000} {
			for _, of := range []sequence.PhotoID{1, 77, 230, 300} {
				want, without := partnersBySorting(t, m, of, among, w, n)
				got, unjudged, err := m.Partners(of, among, w, n)
				if err != nil {
					t.Fatal(err)
				}
				if unjudged != without || len(got) != len(want) {
					t.Fatalf("of %d by %v: %d partners and %d not judged, want %d and %d", of, w, len(got), unjudged, len(want), without)
				}
				for k := range want {
					if !reflect.DeepEqual(got[k], want[k]) {
						t.Fatalf("of %d by %v: at %d %+v, want %+v", of, w, k, got[k], want[k])
					}
				}
			}
		}
	}
}

func TestPartnersDoNotDependOnTheNumberOfCores(t *testing.T) {
	photos := journey(200, 6)
	cores := runtime.GOMAXPROCS(1)
	alone, _, err := New(photos).Partners(5, allOf(photos), nil, 20)
	runtime.GOMAXPROCS(7)
	together, _, err7 := New(photos).Partners(5, allOf(photos), nil, 20)
	runtime.GOMAXPROCS(cores)
	if err != nil || err7 != nil || !reflect.DeepEqual(alone, together) {
		t.Fatalf("one core: %+v %v\nseven: %+v %v", alone, err, together, err7)
	}
}

func TestPartnersPassOverThePhotoItselfAndCountAPhotoOnce(t *testing.T) {
	m := New(journey(9, 1))
	got, _, err := m.Partners(3, []sequence.PhotoID{3, 5, 5, 3, 6}, Balance{"colour": 1}, 9)
	if err != nil || len(got) != 2 {
		t.Fatalf("%+v, %v", got, err)
	}
}

func TestPartnersOfAPhotoThereIsNotAreRefused(t *testing.T) {
	m := New(journey(5, 1))
	for name, ask := range map[string]func() error{
		"of":       func() error { _, _, err := m.Partners(9, []sequence.PhotoID{1}, nil, 1); return err },
		"among":    func() error { _, _, err := m.Partners(1, []sequence.PhotoID{2, 0}, nil, 1); return err },
		"no title": func() error { _, _, err := New(nil).Partners(1, nil, nil, 1); return err },
	} {
		if err := ask(); sequence.CodeOf(err) != sequence.NotFound {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, _, err := m.Partners(1, nil, nil, -1); sequence.CodeOf(err) != sequence.Invalid {
		t.Errorf("fewer than none: %v", err)
	}
}

func BenchmarkPartnersOneAmong5000(b *testing.B) {
	photos := journey(5000, 1)
	d := dice(3)
	for i := range photos {
		photos[i].Width, photos[i].Height = 3000, 2000+d.roll(2)*2500
		photos[i].Form = sequence.Form{Measured: 1, Fingerprint: fmt.Sprintf("%016x", uint64(i)*0x9e3779b97f4a7c15), Sharpness: d.between(0, 1), Depth: d.between(0.2, 0.7),
			Detail: d.between(0, 0.6), WeightX: d.between(0.4, 0.6), Horizon: d.between(0, 1), HorizonLeft: d.between(0.2, 0.8), HorizonRight: d.between(0.2, 0.8),
			Lines: [4]float64{d.between(0, 0.5), 0.2, d.between(0, 0.5), 0.1}}
	}
	m, among := New(photos), allOf(photos)
	for _, w := range []Balance{nil, {"colour": 1}} {
		name := "all kinds"
		if w != nil {
			name = "colour only"
		}
		b.Run(name, func(b *testing.B) {
			of := 0
			for b.Loop() {
				of = of*7%4999 + 1
				if _, _, err := m.Partners(sequence.PhotoID(of), among, w, 12); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkNewMeasures(b *testing.B) {
	for _, n := range []int{500, 5000} {
		photos := journey(n, 1)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				New(photos)
			}
		})
	}
}

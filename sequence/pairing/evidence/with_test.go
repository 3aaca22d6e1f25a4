package evidence

import (
	"reflect"
	"testing"

	"pairwall/sequence"
)

func many(n int) []sequence.Photo {
	var photos []sequence.Photo
	for k := range n {
		p := title()[k%12]
		p.Number = sequence.PhotoID(k + 1)
		p.Where = where(trieste)
		p.Where.Lng += float64(k*k%97) * 0.001
		p.Palette = append(p.Palette[:0:0], p.Palette...)
		p.Palette[0].Lab.L = float64(k * 37 % 90)
		photos = append(photos, p)
	}
	return photos
}

func checkEqual(t *testing.T, got, want *Title) {
	t.Helper()
	for row := range Rows {
		if got.Typical(row) != want.Typical(row) || got.scales[row] != want.scales[row] {
			t.Fatalf("%s: %+v, want %+v", row.Kind(), got.scales[row], want.scales[row])
		}
		for a := range want.Len() {
			for b := range a {
				if a%7 == 0 && !reflect.DeepEqual(got.Evidence(row, b, a), want.Evidence(row, b, a)) {
					t.Fatalf("%s of %d and %d: %+v, want %+v", row.Kind(), b, a, got.Evidence(row, b, a), want.Evidence(row, b, a))
				}
			}
		}
	}
}

func TestOnePhotoMoreGivesTheAnswersOfAllTogetherAndKeepsTheTable(t *testing.T) {
	photos := many(150)
	before := Of(photos[:149])
	for a := range 149 {
		for b := range a {
			before.Measure(worldRow, b, a)
		}
	}
	after := before.With(149, photos[149])
	if before.palettes.blocks[1][0].Load() != after.palettes.blocks[1][0].Load() || before.palettes.blocks[1][0].Load() == nil {
		t.Error("what was measured between other photos was not kept")
	}
	checkEqual(t, after, Of(photos))
	// Two photos that might have come in next do not get in each other's way.
	other := photos[149]
	other.Palette = photos[3].Palette
	checkEqual(t, before.With(149, other), Of(append(photos[:149:149], other)))
	checkEqual(t, after, Of(photos))
}

func TestAFactStatedAnewGivesTheAnswersOfATitleThatAlwaysKnewIt(t *testing.T) {
	photos := many(80)
	before := Of(photos)
	stated := append([]sequence.Photo(nil), photos...)
	stated[70].Where, stated[70].Feeling, stated[70].Taken = where(piran), []string{"salt"}, when(7, 6, 0)
	after := before.With(70, stated[70])
	if after.palettes != before.palettes {
		t.Error("the colours did not change, but their measures were thrown away")
	}
	checkEqual(t, after, Of(stated))
	checkEqual(t, before, Of(photos))
}

func BenchmarkOnePhotoMoreAmong2000(b *testing.B) {
	photos := many(2001)
	title := Of(photos[:2000])
	b.Run("with", func(b *testing.B) {
		for b.Loop() {
			title.With(2000, photos[2000])
		}
	})
	b.Run("anew", func(b *testing.B) {
		for b.Loop() {
			Of(photos)
		}
	})
}

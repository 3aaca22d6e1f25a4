package store

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
)

func TestTitles(t *testing.T) {
	t.Run("a title comes back as it was made", func(t *testing.T) {
		s, c := newStore(t)
		made, err := s.CreateTitle(ctx, "  Eleven days\n round the  Adriatic ")
		if err != nil {
			t.Fatal(err)
		}
		want := sequence.Title{ID: 1, Name: "Eleven days round the Adriatic", Created: c.at.UTC(), Weights: map[string]float64{}}
		if diff := cmp.Diff(want, made); diff != "" {
			t.Fatal(diff)
		}
		read, err := s.Title(ctx, made.ID)
		if diff := cmp.Diff(want, read); diff != "" || err != nil {
			t.Fatal(diff, err)
		}
	})
	t.Run("a name is found, and taken, whatever its case, space and Unicode form", func(t *testing.T) {
		for made, asked := range map[string]string{
			"Via Mare": " via  MARE ", "Straße": "STRASSE", "Citta\u0300": "CITTÀ", "ΟΔΟΣ": "οδος", "ﬁn": "FIN",
		} {
			s, _ := newStore(t)
			title := newTitle(t, s, made, 0)
			found, err := s.TitleNamed(ctx, asked)
			if err != nil || found.ID != title {
				t.Errorf("%q does not find %q: %v", asked, made, err)
			}
			_, err = s.CreateTitle(ctx, asked)
			isCoded(t, err, sequence.Conflict)
		}
	})
	t.Run("names that only look alike are two", func(t *testing.T) {
		s, _ := newStore(t)
		for _, name := range []string{"Via Mare", "ViaMare", "Vía Mare", "Via Mare 2"} {
			newTitle(t, s, name, 0)
		}
	})
	t.Run("a name is needed, and has its length", func(t *testing.T) {
		s, _ := newStore(t)
		title := newTitle(t, s, strings.Repeat("è", 200), 0)
		for _, name := range []string{"", " \t\n", strings.Repeat("è", 201), "\xff\xfe", "a\x00b"} {
			_, err := s.CreateTitle(ctx, name)
			isCoded(t, err, sequence.Invalid)
			isCoded(t, s.RenameTitle(ctx, title, name), sequence.Invalid)
		}
	})
	t.Run("a title can be renamed, to another case of its own name too, but not to another's", func(t *testing.T) {
		s, _ := newStore(t)
		title := newTitle(t, s, "adria", 0)
		newTitle(t, s, "Istria", 0)
		if err := s.RenameTitle(ctx, title, "Adria"); err != nil {
			t.Fatal(err)
		}
		isCoded(t, s.RenameTitle(ctx, title, "ISTRIA"), sequence.Conflict)
		if got, err := s.TitleNamed(ctx, "Adria"); err != nil || got.Name != "Adria" {
			t.Fatalf("%+v %v", got, err)
		}
	})
	t.Run("weights come back, and lie between 0 and 1", func(t *testing.T) {
		s, _ := newStore(t)
		title := newTitle(t, s, "Adria", 0)
		want := map[string]float64{"colour": 1, "place": 0.1, "time": 0}
		if err := s.SetWeights(ctx, title, want); err != nil {
			t.Fatal(err)
		}
		for _, wrong := range []float64{-.01, 1.01, math.NaN(), math.Inf(1)} {
			isCoded(t, s.SetWeights(ctx, title, map[string]float64{"colour": wrong}), sequence.Invalid)
		}
		got, err := s.Title(ctx, title)
		if diff := cmp.Diff(want, got.Weights); diff != "" || err != nil {
			t.Fatal(diff, err)
		}
	})
	t.Run("the list shows what each holds, the one worked on last first", func(t *testing.T) {
		s, c := newStore(t)
		none, err := s.Titles(ctx)
		if err != nil || none == nil || len(none) != 0 {
			t.Fatalf("%#v %v", none, err)
		}
		made := c.at.UTC()
		adria := newTitle(t, s, "Adria", 5)
		c.forward(time.Hour)
		istria := newTitle(t, s, "Istria", 2)
		c.forward(time.Hour)
		apply(t, s, adria, 1, 2)
		apply(t, s, adria, 3, 4)
		list, err := s.Titles(ctx)
		if err != nil {
			t.Fatal(err)
		}
		want := []TitleSummary{
			{sequence.Title{ID: adria, Name: "Adria", Created: made, Weights: map[string]float64{}}, 5, 2, c.at.UTC()},
			{sequence.Title{ID: istria, Name: "Istria", Created: made.Add(time.Hour), Weights: map[string]float64{}}, 2, 0, made.Add(time.Hour)},
		}
		if diff := cmp.Diff(want, list); diff != "" {
			t.Fatal(diff)
		}
	})
}

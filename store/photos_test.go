package store

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
	"pairwall/sequence/place"
)

func TestPhotos(t *testing.T) {
	t.Run("a photo comes back as it was brought in, with the next number", func(t *testing.T) {
		s, _ := newStore(t)
		title := newTitle(t, s, "Adria", 2)
		east, west := 14*60, -9*60-30
		bare := photoOf(7)
		bare.Taken, bare.Where, bare.Palette, bare.Findings, bare.Caption = place.When{}, nil, nil, nil, ""
		variants := []sequence.Photo{photoOf(3), photoOf(4), bare}
		for i, taken := range []place.When{
			place.Day(1999, 2, 28, place.FromMaker),
			place.Span(time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC), time.Date(2026, 5, 14, 0, 0, 0, 0, time.UTC), place.FromMaker),
			place.Instant(time.Date(2026, 5, 4, 9, 1, 2, 345_678_900, time.UTC), &east, place.FromPhone),
			place.Instant(time.Date(2026, 5, 4, 9, 1, 2, 0, time.UTC), &west, place.FromTrack),
			place.Instant(time.Date(2026, 5, 4, 9, 1, 2, 0, time.UTC), nil, place.FromCamera),
			place.Day(2026, 11, 2, place.FromScanner),
		} {
			p := photoOf(10 + i)
			p.Taken = taken
			p.Path = "/home/maker/\xe8 not UTF-8.jpg" // file names are bytes
			variants = append(variants, p)
		}
		for i, want := range variants {
			kept, added, err := s.AddPhoto(ctx, title, want)
			if err != nil || !added {
				t.Fatal(added, err)
			}
			want.Number = sequence.PhotoID(3 + i)
			if diff := cmp.Diff(want, kept); diff != "" {
				t.Errorf("as kept:\n%s", diff)
			}
			read, err := s.Photo(ctx, title, want.Number)
			if diff := cmp.Diff(want, read); diff != "" || err != nil {
				t.Errorf("as read: %v\n%s", err, diff)
			}
		}
		all, err := s.Photos(ctx, title)
		if err != nil || len(all) != 2+len(variants) {
			t.Fatalf("%d photos, %v", len(all), err)
		}
		for i, p := range all {
			if p.Number != sequence.PhotoID(i+1) {
				t.Errorf("photo %d in the list has number %d", i, p.Number)
			}
		}
	})
	t.Run("the same content is brought in once", func(t *testing.T) {
		s, _ := newStore(t)
		title := newTitle(t, s, "Adria", 5)
		again := photoOf(4)
		again.Path, again.Name, again.Stamp = "/media/disk/copy.jpg", "copy.jpg", again.Stamp.Add(time.Hour)
		kept, added, err := s.AddPhoto(ctx, title, again)
		if err != nil || added {
			t.Fatal(added, err)
		}
		want := photoOf(4)
		want.Number = 4
		if diff := cmp.Diff(want, kept); diff != "" {
			t.Error(diff)
		}
		next, _, err := s.AddPhoto(ctx, title, photoOf(6))
		if err != nil || next.Number != 6 {
			t.Errorf("a photo known already used up a number: the next has %d, %v", next.Number, err)
		}
	})
	t.Run("but in each title", func(t *testing.T) {
		s, _ := newStore(t)
		newTitle(t, s, "Adria", 5)
		newTitle(t, s, "Istria", 5)
	})
	t.Run("a photo without a time of coming came now", func(t *testing.T) {
		s, c := newStore(t)
		p := photoOf(1)
		p.Came = time.Time{}
		kept, _, err := s.AddPhoto(ctx, newTitle(t, s, "Adria", 0), p)
		if err != nil || !kept.Came.Equal(c.at) {
			t.Fatal(kept.Came, err)
		}
	})
	t.Run("a number is not given again, even if its photo should ever go", func(t *testing.T) {
		s, _ := newStore(t)
		title := newTitle(t, s, "Adria", 3)
		if _, err := s.db.Exec(`DELETE FROM photos WHERE number = 3`); err != nil {
			t.Fatal(err)
		}
		if p, _, err := s.AddPhoto(ctx, title, photoOf(4)); err != nil || p.Number != 4 {
			t.Fatal(p.Number, err)
		}
	})
}

func TestAFileIsKnownAgain(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Adria", 3)
	other := newTitle(t, s, "Istria", 0)
	p := photoOf(2)
	for promise, c := range map[string]struct {
		title sequence.TitleID
		path  string
		bytes int64
		stamp time.Time
		want  bool
	}{
		"as it is":                        {title, p.Path, p.Bytes, p.Stamp, true},
		"in whatever zone its time is":    {title, p.Path, p.Bytes, p.Stamp.In(time.FixedZone("CET", 3600)), true},
		"not when it was saved again":     {title, p.Path, p.Bytes, p.Stamp.Add(time.Nanosecond), false},
		"not when it has another length":  {title, p.Path, p.Bytes + 1, p.Stamp, false},
		"not at another path":             {title, p.Path + "x", p.Bytes, p.Stamp, false},
		"not for another title's folders": {other, p.Path, p.Bytes, p.Stamp, false},
	} {
		t.Run(promise, func(t *testing.T) {
			if got, err := s.HasFile(ctx, c.title, c.path, c.bytes, c.stamp); err != nil || got != c.want {
				t.Fatal(got, err)
			}
		})
	}
	t.Run("after it was saved again with the same content and brought in again", func(t *testing.T) {
		again := p
		again.Stamp = p.Stamp.Add(time.Hour).In(time.FixedZone("CET", 3600))
		kept, added, err := s.AddPhoto(ctx, title, again)
		if err != nil || added || !kept.Stamp.Equal(again.Stamp) {
			t.Fatal(kept, added, err)
		}
		if read, err := s.Photo(ctx, title, 2); err != nil || cmp.Diff(kept, read) != "" {
			t.Fatal(cmp.Diff(kept, read), err)
		}
		if got, err := s.HasFile(ctx, title, p.Path, p.Bytes, again.Stamp); err != nil || !got {
			t.Fatal(got, err)
		}
	})
	t.Run("by its content", func(t *testing.T) {
		if number, has, err := s.HasContent(ctx, title, p.Hash); number != 2 || !has || err != nil {
			t.Fatal(number, has, err)
		}
		if number, has, err := s.HasContent(ctx, other, p.Hash); number != 0 || has || err != nil {
			t.Fatal(number, has, err)
		}
	})
}

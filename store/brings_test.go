package store

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"pairwall/sequence"
)

func TestBrings(t *testing.T) {
	t.Run("a job comes back as it was last saved", func(t *testing.T) {
		s, c := newStore(t)
		title := newTitle(t, s, "Adria", 0)
		job, err := s.StartBring(ctx, title, []string{"/home/maker/Adria", "/media/scans, roll 7"})
		if err != nil {
			t.Fatal(err)
		}
		want := Bring{ID: 1, Title: title, Sources: []string{"/home/maker/Adria", "/media/scans, roll 7"}, State: Running, Started: c.at.UTC()}
		if diff := cmp.Diff(want, job); diff != "" {
			t.Fatal(diff)
		}
		ended := c.at.Add(time.Minute).UTC()
		want.State, want.Found, want.Read, want.Known, want.Refused, want.Ended, want.Words = Done, 40, 30, 7, 3, &ended, "30 photos brought in."
		if err := s.SaveBring(ctx, want); err != nil {
			t.Fatal(err)
		}
		read, err := s.Bring(ctx, job.ID)
		if diff := cmp.Diff(want, read); diff != "" || err != nil {
			t.Fatal(diff, err)
		}
		want.State, want.Ended = Running, nil // it goes on
		if err := s.SaveBring(ctx, want); err != nil {
			t.Fatal(err)
		}
		read, err = s.Bring(ctx, job.ID)
		if diff := cmp.Diff(want, read); diff != "" || err != nil {
			t.Fatal(diff, err)
		}
	})
	t.Run("jobs are listed by title, the newest first", func(t *testing.T) {
		s, _ := newStore(t)
		adria, istria := newTitle(t, s, "Adria", 0), newTitle(t, s, "Istria", 0)
		for _, title := range []sequence.TitleID{adria, istria, adria} {
			if _, err := s.StartBring(ctx, title, []string{"/a"}); err != nil {
				t.Fatal(err)
			}
		}
		jobs, err := s.Brings(ctx, adria)
		if err != nil || len(jobs) != 2 || jobs[0].ID != 3 || jobs[1].ID != 1 {
			t.Fatalf("%+v %v", jobs, err)
		}
	})
	t.Run("nothing to bring in, and no such state, are invalid", func(t *testing.T) {
		s, _ := newStore(t)
		title := newTitle(t, s, "Adria", 0)
		_, err := s.StartBring(ctx, title, nil)
		isCoded(t, err, sequence.Invalid)
		job, err := s.StartBring(ctx, title, []string{"/a"})
		if err != nil {
			t.Fatal(err)
		}
		job.State = "paused"
		isCoded(t, s.SaveBring(ctx, job), sequence.Invalid)
	})
	t.Run("what ran when the program ended is broken off, and nothing else", func(t *testing.T) {
		s, c := newStore(t)
		title := newTitle(t, s, "Adria", 0)
		var jobs []Bring
		for range 3 {
			job, err := s.StartBring(ctx, title, []string{"/a"})
			if err != nil {
				t.Fatal(err)
			}
			jobs = append(jobs, job)
		}
		ended := c.at.UTC()
		jobs[1].State, jobs[1].Ended, jobs[1].Words = Cancelled, &ended, "Stopped by you."
		if err := s.SaveBring(ctx, jobs[1]); err != nil {
			t.Fatal(err)
		}
		c.forward(time.Hour)
		if err := s.BreakOffBrings(ctx); err != nil {
			t.Fatal(err)
		}
		noticed := c.at.UTC()
		for _, i := range []int{0, 2} {
			jobs[i].State, jobs[i].Ended, jobs[i].Words = BrokenOff, &noticed, "Pairwall ended before everything was brought in."
		}
		for _, want := range jobs {
			read, err := s.Bring(ctx, want.ID)
			if diff := cmp.Diff(want, read); diff != "" || err != nil {
				t.Error(diff, err)
			}
		}
	})
}

func TestRefusals(t *testing.T) {
	s, c := newStore(t)
	title := newTitle(t, s, "Adria", 0)
	late := Refusal{Path: "/scans/b.tif", Code: sequence.Unsupported, Words: "This TIFF is CMYK.", Hint: "Save it as RGB.", At: c.at.UTC()}
	early := Refusal{Path: "/scans/a.jpg", Code: sequence.Damaged, Words: "The file is empty."}
	for _, r := range []Refusal{late, early} {
		if err := s.Refuse(ctx, title, r); err != nil {
			t.Fatal(err)
		}
	}
	early.At = c.at.UTC() // as none was given
	is := func(t *testing.T, want ...Refusal) {
		t.Helper()
		got, err := s.Refusals(ctx, title)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(append([]Refusal{}, want...), got); diff != "" {
			t.Fatal(diff)
		}
	}
	t.Run("are listed by path", func(t *testing.T) { is(t, early, late) })
	t.Run("there is one for a path, the last", func(t *testing.T) {
		early.Code, early.Words, early.Hint, early.At = sequence.TooLarge, "This picture is too large.", "Make it smaller.", c.at.Add(time.Hour).UTC()
		if err := s.Refuse(ctx, title, early); err != nil {
			t.Fatal(err)
		}
		is(t, early, late)
	})
	t.Run("can be forgotten, twice if need be", func(t *testing.T) {
		for range 2 {
			if err := s.ForgetRefusal(ctx, title, early.Path); err != nil {
				t.Fatal(err)
			}
			is(t, late)
		}
	})
}

package store

import (
	"bytes"
	"encoding/json"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

func TestACoverIsKeptAndAStaleOneRefused(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Round the Adriatic", 3)
	c, err := s.Cover(ctx, title)
	if err != nil || c.Revision != 0 || c.Plan != pages.FirstCoverPlan {
		t.Fatalf("%+v %v", c, err)
	}
	plan := c.Plan
	plan.Spine, plan.Barcode, plan.Own.Name = 6.4, true, "A. Maker"
	if c, err = s.PlanCover(ctx, title, 0, plan); err != nil || c.Revision != 1 || c.Plan != plan || c.Changed.IsZero() {
		t.Fatalf("%+v %v", c, err)
	}
	if now, err := s.PlanCover(ctx, title, 0, pages.FirstCoverPlan); sequence.CodeOf(err) != sequence.Stale || now.Plan != plan || now.Revision != 1 {
		t.Errorf("%+v %v", now, err)
	}
	for name, spoil := range map[string]func(*pages.CoverPlan){"a photo that is not there": func(p *pages.CoverPlan) { p.Own.Photo = 99 }, "no spine": func(p *pages.CoverPlan) { p.Spine = -1 }} {
		bad := plan
		spoil(&bad)
		if now, err := s.PlanCover(ctx, title, 1, bad); sequence.CodeOf(err) != sequence.Invalid || now.Revision != 1 {
			t.Errorf("%s: %+v %v", name, now, err)
		}
	}
	if _, err := s.PlanCover(ctx, 99, 0, plan); sequence.CodeOf(err) != sequence.NotFound {
		t.Errorf("no such title: %v", err)
	}
	if _, err := s.Cover(ctx, 99); sequence.CodeOf(err) != sequence.NotFound {
		t.Errorf("no such title: %v", err)
	}
}

func TestTheDesignersFileIsRememberedWithAPictureOfIt(t *testing.T) {
	s, _ := newStore(t)
	title := newTitle(t, s, "Round the Adriatic", 3)
	if _, err := s.CoverView(ctx, title); sequence.CodeOf(err) != sequence.NotFound {
		t.Errorf("no view yet: %v", err)
	}
	brought := &BroughtCover{Name: "cover.pdf", Bytes: 12, Sum: "ab", Shown: true, Facts: json.RawMessage(`{"count":1}`)}
	c, err := s.BringCover(ctx, title, brought, []byte("a picture"))
	if err != nil || c.Brought == nil || c.Brought.Name != "cover.pdf" || string(c.Brought.Facts) != `{"count":1}` || c.View != 9 || c.Plan != pages.FirstCoverPlan {
		t.Fatalf("%+v %v", c, err)
	}
	if c, err = s.ShowCover(ctx, title, []byte("another")); err != nil || c.Brought == nil || c.Brought.Shown || c.View != 7 {
		t.Fatalf("%+v %v", c, err)
	}
	if view, err := s.CoverView(ctx, title); err != nil || !bytes.Equal(view, []byte("another")) {
		t.Errorf("%q %v", view, err)
	}
	if c, err = s.BringCover(ctx, title, nil, nil); err != nil || c.Brought != nil || c.View != 0 || c.Revision != 3 {
		t.Errorf("%+v %v", c, err)
	}
}

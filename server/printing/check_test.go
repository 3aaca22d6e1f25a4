package printing

import (
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/pages"
)

// 46 pages of 0.135 mm a leaf make 3.1 mm: less than the 4.12 mm that words take.
func TestAThinSpineIsToldOfAndAFoldedCoverHasNone(t *testing.T) {
	m := Matter{Format: pages.FirstFormat.Bound(pages.PerfectBound), Plan: pages.FirstPlan}
	for range 22 {
		m.Wall.Spreads = append(m.Wall.Spreads, sequence.Spread{ID: sequence.SpreadID(len(m.Wall.Spreads) + 1)})
	}
	if found := m.thinSpine(); len(found) != 1 || found[0].Kind != pages.SpineMisfit {
		t.Errorf("46 pages: %+v", found)
	}
	m.Cover.Plan.Spine = 6
	if found := m.thinSpine(); len(found) != 0 {
		t.Errorf("the printer says 6 mm: %+v", found)
	}
	m.Cover.Plan.Spine, m.Format = 0, pages.FirstFormat.Bound(pages.SaddleStitch)
	if found := m.thinSpine(); len(found) != 0 {
		t.Errorf("stapled: %+v", found)
	}
}

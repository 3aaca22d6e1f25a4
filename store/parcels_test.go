package store

import (
	"slices"
	"strings"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/edition"
	"pairwall/sequence/edition/dispatch"
	"pairwall/sequence/edition/orders"
)

func packedOne(t *testing.T, s *Store, title sequence.TitleID, o orders.Order, copies []edition.CopyRef, tracking string) dispatch.Packed {
	t.Helper()
	p, err := s.PackParcel(ctx, title, dispatch.Packed{Order: o.ID, Copies: copies, Mass: 260 * edition.Gram, Service: "Quiet letter",
		Postage: edition.Money{Minor: 620, Currency: "EUR"}, Tracking: tracking})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func stateOf(t *testing.T, s *Store, title sequence.TitleID, id int64) orders.State {
	t.Helper()
	o, err := s.Order(ctx, title, id)
	if err != nil {
		t.Fatal(err)
	}
	return o.State
}

func TestAnOrderIsSentOnceAllItsCopiesAreInParcels(t *testing.T) {
	s, _ := newStore(t)
	title := withEdition(t, s, 5)
	o := ordered(t, s, title, orderOf("Nives", 3))
	one := packedOne(t, s, title, o, o.Allotted[:2], "RR1")
	if stateOf(t, s, title, o.ID) != orders.Open {
		t.Error("sent with a copy on the shelf")
	}
	if _, err := s.PackParcel(ctx, title, dispatch.Packed{Order: o.ID, Copies: o.Allotted[1:]}); sequence.CodeOf(err) != sequence.Conflict || !strings.Contains(err.Error(), "Copy 2/5 lies in another parcel") {
		t.Errorf("one copy in two parcels: %v", err)
	}
	if _, err := s.PackParcel(ctx, title, dispatch.Packed{Order: o.ID, Copies: []edition.CopyRef{{Series: edition.Numbered, Number: 5}}}); sequence.CodeOf(err) != sequence.Conflict {
		t.Errorf("a copy of nobody: %v", err)
	}
	packedOne(t, s, title, o, o.Allotted[2:], "")
	if stateOf(t, s, title, o.ID) != orders.Sent {
		t.Error("not sent, though all is packed")
	}
	if err := s.UnpackParcel(ctx, title, one.ID); err != nil || stateOf(t, s, title, o.ID) != orders.Open {
		t.Error("taken apart and still sent", err)
	}
	all, err := s.Parcels(ctx, title)
	if err != nil || len(all) != 1 || !slices.Equal(all[0].Copies, o.Allotted[2:]) || all[0].Postage.Minor != 620 {
		t.Errorf("%+v %v", all, err)
	}
}

func TestWhatWasDoneAtThePackingTableIsTakenBackStepByStep(t *testing.T) {
	dir := t.TempDir()
	s := openStore(t, dir)
	title := withEdition(t, s, 5)
	o := ordered(t, s, title, orderOf("Nives", 1))
	p := packedOne(t, s, title, o, o.Allotted, "RR1")
	p.Tracking = "RR2"
	if err := s.ChangeParcel(ctx, title, p); err != nil {
		t.Fatal(err)
	}
	if err := s.UnpackParcel(ctx, title, p.ID); err != nil {
		t.Fatal(err)
	}
	s.Close()
	s = openStore(t, dir) // the maker goes home and comes back
	for i, want := range []string{"RR2", "RR1", ""} {
		if _, err := s.UndoParcel(ctx, title); err != nil {
			t.Fatal(err)
		}
		all, err := s.Parcels(ctx, title)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		if len(all) == 1 {
			got = all[0].Tracking
			if all[0].ID != p.ID || !all[0].At.Equal(p.At) {
				t.Errorf("%+v is another parcel than %+v", all[0], p)
			}
		}
		if got != want || (stateOf(t, s, title, o.ID) == orders.Sent) != (want != "") {
			t.Errorf("after %d steps back the number is %q, want %q", i+1, got, want)
		}
	}
	if _, err := s.UndoParcel(ctx, title); sequence.CodeOf(err) != sequence.Conflict {
		t.Error(err)
	}
}

func TestATrackingNumberGoesWithItsPerson(t *testing.T) {
	dir := t.TempDir()
	s := openStore(t, dir)
	title := withEdition(t, s, 5)
	o := ordered(t, s, title, orderOf("Nives", 1))
	packedOne(t, s, title, o, o.Allotted, "RR123456785IT")
	if _, err := s.ErasePerson(ctx, title, o.ID, 0); err != nil {
		t.Fatal(err)
	}
	all, err := s.Parcels(ctx, title)
	if err != nil || len(all) != 1 || all[0].Tracking != "" || all[0].Postage.Minor != 620 {
		t.Errorf("%+v %v", all, err)
	}
	s.Close()
	if names := holds(t, dir, "RR123456785IT"); len(names) > 0 {
		t.Errorf("the number is still in %v", names)
	}
}

func TestParcelsComeAlongWithATitleThatIsPackedWhole(t *testing.T) {
	s, _ := newStore(t)
	title := withEdition(t, s, 5)
	o := ordered(t, s, title, orderOf("Nives", 2))
	packedOne(t, s, title, o, o.Allotted, "RR1")
	there, err := s.Unpack(ctx, packed(t, s, title, true), nowhere) // beside the first, so that every id moves
	if err != nil {
		t.Fatal(err)
	}
	all, err := s.Parcels(ctx, there.ID)
	if err != nil || len(all) != 1 || all[0].Tracking != "RR1" || all[0].Order == o.ID || !slices.Equal(all[0].Copies, o.Allotted) {
		t.Errorf("%+v %v", all, err)
	}
	if _, err := s.UndoParcel(ctx, there.ID); sequence.CodeOf(err) != sequence.Conflict {
		t.Error(err)
	}
}

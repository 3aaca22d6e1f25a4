package server

import (
	"os"
	"testing"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/store"
)

// printers is a profile that comes with Debian's ghostscript.
func printers(t *testing.T) []byte {
	t.Helper()
	data, err := os.ReadFile("/usr/share/color/icc/ghostscript/default_cmyk.icc")
	if err != nil {
		t.Fatalf("%v: install the Debian package ghostscript", err)
	}
	return data
}

func TestATitleKeepsThePrintersProfile(t *testing.T) {
	h := newHouse(t)
	_, at := h.newTitle("Round the Adriatic")
	var got printersProfile
	h.want(200, "GET", at+"/inks", nil, &got)
	if got.Profile != nil {
		t.Errorf("a new title has %+v", got.Profile)
	}
	h.refused(404, sequence.NotFound, "PATCH", at+"/inks", inkLimit{300})
	if status := h.upload(at+"/inks", map[string][]byte{"press.icc": printers(t)}, &got); status != 201 {
		t.Fatal(status)
	}
	want := store.PrinterProfile{Name: "Artifex CMYK SWOP Profile", Origin: "press.icc", InkLimit: 300}
	if got.Profile == nil || got.Profile.Name != want.Name || got.Profile.Origin != want.Origin || got.Profile.InkLimit != want.InkLimit {
		t.Errorf("%+v", got.Profile)
	}
	h.want(200, "PATCH", at+"/inks", inkLimit{280}, &got)
	h.refused(400, sequence.Invalid, "PATCH", at+"/inks", inkLimit{30})
	for name, file := range map[string][]byte{"srgb.icc": colour.SRGBProfile(), "torn.icc": printers(t)[:3000], "none.txt": []byte("no profile")} {
		if status := h.upload(at+"/inks", map[string][]byte{name: file}, nil); status != 422 && status != 400 && status != 415 {
			t.Errorf("%s: %d", name, status)
		}
	}
	h.want(200, "GET", at+"/inks", nil, &got)
	if got.Profile == nil || got.Profile.InkLimit != 280 {
		t.Errorf("after files that were refused: %+v", got.Profile)
	}
	h.want(200, "DELETE", at+"/inks", nil, nil)
	got = printersProfile{}
	h.want(200, "GET", at+"/inks", nil, &got)
	if got.Profile != nil {
		t.Errorf("it was taken away: %+v", got.Profile)
	}
}

package colour

import (
	"crypto/md5"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"flag"
	"math"
	"os"
	"slices"
	"testing"
	"unicode/utf16"
)

var writeProfile = flag.String("profile", "", "write the sRGB profile to this file, for Little CMS to judge")

// testdata/profile_lcms.csv: what Little CMS makes of the profile, whose SHA-256
// stands in the last row. A profile of other bytes was not judged.
func TestProfileIsTheOneLittleCMSJudged(t *testing.T) {
	if *writeProfile != "" {
		if err := os.WriteFile(*writeProfile, SRGBProfile(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	_, rows := table(t, "profile_lcms.csv")
	sum := sha256.Sum256(SRGBProfile())
	if got, judged := hex.EncodeToString(sum[:]), rows[len(rows)-1][1]; got != judged {
		t.Errorf("profile %s, judged was %s: run testdata/profile_lcms.sh again", got, judged)
	}
}

// The profile keeps its colorants to 1/65536, half of which is 0.007 in a*, b* of
// the deepest colours; twice that may differ, the reference being rounded too.
func TestLittleCMSReadsTheReferenceLabFromTheProfile(t *testing.T) {
	_, reference := table(t, "srgb_lab_reference.csv")
	_, judged := table(t, "profile_lcms.csv")
	worst := 0.0
	for i, row := range reference {
		if !slices.Equal(row[:3], judged[i][:3]) {
			t.Fatalf("row %d is %v there and %v here", i, row[:3], judged[i][:3])
		}
		want, got := numbers(t, row, 9, 12), numbers(t, judged[i], 3, 6)
		for k := range want {
			worst = max(worst, math.Abs(want[k]-got[k]))
		}
	}
	t.Logf("largest difference from the reference table: %.4f", worst)
	if worst > 0.014 {
		t.Errorf("Little CMS and the reference table differ by %.4f", worst)
	}
}

// The same lattice by our own arithmetic from the profile's bytes.
func TestProfileBytesMeanWhatLittleCMSReads(t *testing.T) {
	tags := parsedTags(t, SRGBProfile())
	column := func(name string) []float64 { return fixeds(t, tags[name][8:20]) }
	r, g, b := column("rXYZ"), column("gXYZ"), column("bXYZ")
	p := fixeds(t, tags["rTRC"][12:32])
	linear := func(v float64) float64 {
		if v >= p[4] {
			return math.Pow(p[1]*v+p[2], p[0])
		}
		return p[3] * v
	}
	_, rows := table(t, "profile_lcms.csv")
	for _, row := range rows[:len(rows)-1] {
		v := numbers(t, row, 0, 6)
		lr, lg, lb := linear(v[0]/255), linear(v[1]/255), linear(v[2]/255)
		var f [3]float64
		for i := range f {
			f[i] = StepOfLight((r[i]*lr + g[i]*lg + b[i]*lb) / iccD50[i])
		}
		ours := [3]float64{116*f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])}
		for i := range ours {
			if math.Abs(ours[i]-v[3+i]) > 0.01 { // Little CMS keeps four decimals of float32
				t.Errorf("%v: bytes say %.4f, Little CMS %v", row[:3], ours, v[3:])
				break
			}
		}
	}
}

func fixeds(t *testing.T, data []byte) (out []float64) {
	t.Helper()
	for ; len(data) >= 4; data = data[4:] {
		out = append(out, float64(int32(binary.BigEndian.Uint32(data)))/65536)
	}
	return out
}

// parsedTags checks the tag table (ICC.1:2004-10, 7.3) and returns the elements.
func parsedTags(t *testing.T, profile []byte) map[string][]byte {
	t.Helper()
	tags := map[string][]byte{}
	count := int(binary.BigEndian.Uint32(profile[128:]))
	end := 132 + 12*count
	for i := range count {
		entry := profile[132+12*i:]
		offset, size := int(binary.BigEndian.Uint32(entry[4:])), int(binary.BigEndian.Uint32(entry[8:]))
		name := string(entry[:4])
		if offset%4 != 0 || offset < 132+12*count || offset+size > len(profile) || tags[name] != nil {
			t.Fatalf("tag %q at %d, %d long, in %d bytes", name, offset, size, len(profile))
		}
		tags[name] = profile[offset : offset+size]
		end = max(end, (offset+size+3)/4*4)
	}
	if end != len(profile) {
		t.Errorf("the last element ends at %d of %d", end, len(profile))
	}
	return tags
}

func TestProfileHeaderFollowsTheStandard(t *testing.T) {
	p := SRGBProfile()
	if size := binary.BigEndian.Uint32(p); int(size) != len(p) || len(p)%4 != 0 || len(p) > 1024 {
		t.Errorf("says %d bytes, has %d", size, len(p))
	}
	for offset, want := range map[int]string{8: "\x04\x20\x00\x00", 12: "mntr", 16: "RGB ", 20: "XYZ ", 36: "acsp",
		24: "\x07\xea\x00\x01\x00\x01\x00\x00\x00\x00\x00\x00", 68: "\x00\x00\xf6\xd6\x00\x01\x00\x00\x00\x00\xd3\x2d"} {
		if got := string(p[offset : offset+len(want)]); got != want {
			t.Errorf("byte %d: %q, want %q", offset, got, want)
		}
	}
	bare := slices.Clone(p)
	clear(bare[84:100])
	if id := md5.Sum(bare); string(id[:]) != string(p[84:100]) {
		t.Errorf("profile ID %x, MD5 %x", p[84:100], id)
	}
	p[0]++
	if SRGBProfile()[0] == p[0] {
		t.Error("the caller can change everybody's profile")
	}
}

// ICC.1:2004-10, 8.3.3: what a three-component matrix display profile must hold.
func TestProfileHoldsEveryRequiredElement(t *testing.T) {
	tags := parsedTags(t, SRGBProfile())
	for name, kind := range map[string]string{"desc": "mluc", "cprt": "mluc", "wtpt": "XYZ ", "chad": "sf32",
		"rXYZ": "XYZ ", "gXYZ": "XYZ ", "bXYZ": "XYZ ", "rTRC": "para", "gTRC": "para", "bTRC": "para"} {
		data := tags[name]
		if len(data) < 8 || string(data[:8]) != kind+"\x00\x00\x00\x00" {
			t.Errorf("%s: % x, want type %q", name, data, kind)
		}
	}
	if len(tags) != 10 {
		t.Errorf("%d tags", len(tags))
	}
	for name, want := range map[string]string{"desc": "sRGB (IEC 61966-2-1)", "cprt": "No copyright (CC0 1.0). Use freely."} {
		data := tags[name]
		length, offset := binary.BigEndian.Uint32(data[20:]), binary.BigEndian.Uint32(data[24:])
		var units []uint16
		for text := data[offset : offset+length]; len(text) > 0; text = text[2:] {
			units = append(units, binary.BigEndian.Uint16(text))
		}
		if got := string(utf16.Decode(units)); got != want {
			t.Errorf("%s reads %q", name, got)
		}
	}
}

// The three colorants must sum to D50, or white would print with a cast; chad
// must take D65 there. The matrix is that of CSS Color Module Level 4, whose D50
// (x .3457, y .3585) is ICC's but for the fourth decimal of Z.
func TestProfileKeepsWhiteWhite(t *testing.T) {
	tags := parsedTags(t, SRGBProfile())
	for i := range 3 {
		at := 8 + 4*i
		sum := uint32(0)
		for _, name := range []string{"rXYZ", "gXYZ", "bXYZ"} {
			sum += binary.BigEndian.Uint32(tags[name][at:])
		}
		if white := binary.BigEndian.Uint32(tags["wtpt"][at:]); sum != white {
			t.Errorf("colorants sum to %08x, white is %08x", sum, white)
		}
	}
	published := []float64{1.0479298, 0.0229468, -0.0501922, 0.0296278, 0.9904345, -0.0170738, -0.0092431, 0.0150551, 0.7518743}
	for i, v := range fixeds(t, tags["chad"][8:]) {
		if math.Abs(v-published[i]) > 0.00025 {
			t.Errorf("chad[%d] = %.6f, published %.7f", i, v, published[i])
		}
	}
}

package track

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"math"
	"math/rand"
	"os"
	"os/exec"
	"strings"
	"testing"

	"pairwall/sequence/place"
)

var regenerate = flag.Bool("regenerate", false, "ask GeodSolve for testdata/along.tsv anew")

const alongFile = "testdata/along.tsv"

// divided is a way with a point on it.
type divided struct {
	kind    string
	a, b    place.LatLng
	share   float64
	on      place.LatLng
	azimuth string
	metres  float64 // whole length
}

var ways = []struct {
	name string
	draw func(r *rand.Rand) (a, b place.LatLng)
}{
	{"one street", func(r *rand.Rand) (a, b place.LatLng) { return around(r, 45.6495, 13.7768, 0.002) }},
	{"one sea", func(r *rand.Rand) (a, b place.LatLng) { return around(r, 43.4, 15.3, 4) }},
	{"date line", func(r *rand.Rand) (a, b place.LatLng) {
		a, b = around(r, 60*r.Float64()-30, 180, 1)
		a.Lng, b.Lng = 179.9-r.Float64(), -179.9+r.Float64()
		return a, b
	}},
	{"over a pole", func(r *rand.Rand) (a, b place.LatLng) {
		return place.LatLng{Lat: 85 + 5*r.Float64(), Lng: 180 * r.Float64()},
			place.LatLng{Lat: 85 + 5*r.Float64(), Lng: -180 * r.Float64()}
	}},
	{"from a pole", func(r *rand.Rand) (a, b place.LatLng) {
		return place.LatLng{Lat: -90, Lng: 40}, place.LatLng{Lat: -80 + 60*r.Float64(), Lng: 360*r.Float64() - 180}
	}},
	{"along the equator", func(r *rand.Rand) (a, b place.LatLng) {
		return place.LatLng{Lng: 100 * r.Float64()}, place.LatLng{Lng: -50 * r.Float64()}
	}},
	{"along a meridian", func(r *rand.Rand) (a, b place.LatLng) {
		lng := 360*r.Float64() - 180
		return place.LatLng{Lat: 50 * r.Float64(), Lng: lng}, place.LatLng{Lat: -50 * r.Float64(), Lng: lng}
	}},
	{"across the world", func(r *rand.Rand) (a, b place.LatLng) { return around(r, 10, 20, 120) }},
}

// around draws two points in a square of so many degrees.
func around(r *rand.Rand, lat, lng, size float64) (a, b place.LatLng) {
	draw := func() place.LatLng {
		return place.LatLng{Lat: lat + size*(r.Float64()-0.5), Lng: math.Remainder(lng+size*(r.Float64()-0.5), 360)}
	}
	return draw(), draw()
}

// askGeodSolve writes the committed file. No exponents on its input: it takes an
// e for east.
func askGeodSolve(t *testing.T) {
	t.Helper()
	r := rand.New(rand.NewSource(20260503))
	var all []divided
	var pairs, starts strings.Builder
	for i := range 25 * len(ways) {
		d := divided{kind: ways[i%len(ways)].name, share: math.Round(1000*r.Float64()) / 1000}
		d.a, d.b = ways[i%len(ways)].draw(r)
		all = append(all, d)
		fmt.Fprintf(&pairs, "%.20f %.20f %.20f %.20f\n", d.a.Lat, d.a.Lng, d.b.Lat, d.b.Lng)
	}
	for i, line := range geodSolve(t, pairs.String(), "-i", "-p", "9") {
		d, fields := &all[i], strings.Fields(line)
		d.azimuth = fields[0]
		fmt.Sscan(fields[2], &d.metres)
		fmt.Fprintf(&starts, "%.20f %.20f %s %.9f\n", d.a.Lat, d.a.Lng, d.azimuth, d.share*d.metres)
	}
	var file bytes.Buffer
	fmt.Fprintln(&file, "kind\tlat1\tlng1\tlat2\tlng2\tshare\tmetres\tlat\tlng")
	for i, line := range geodSolve(t, starts.String(), "-p", "9") {
		d, fields := all[i], strings.Fields(line)
		fmt.Fprintf(&file, "%s\t%v\t%v\t%v\t%v\t%v\t%.9f\t%s\t%s\n",
			d.kind, d.a.Lat, d.a.Lng, d.b.Lat, d.b.Lng, d.share, d.metres, fields[0], fields[1])
	}
	if err := os.WriteFile(alongFile, file.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

func geodSolve(t *testing.T, input string, flags ...string) []string {
	t.Helper()
	solve := exec.Command("GeodSolve", flags...)
	solve.Stdin = strings.NewReader(input)
	answer, err := solve.Output()
	if err != nil {
		t.Fatalf("GeodSolve (Debian geographiclib-tools): %v", err)
	}
	return strings.Split(strings.TrimSpace(string(answer)), "\n")
}

func readAlong(t *testing.T) []divided {
	t.Helper()
	file, err := os.Open(alongFile)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var all []divided
	lines := bufio.NewScanner(file)
	for lines.Scan() {
		kind, numbers, _ := strings.Cut(lines.Text(), "\t")
		if kind == "kind" {
			continue
		}
		d := divided{kind: kind}
		_, err := fmt.Sscan(numbers, &d.a.Lat, &d.a.Lng, &d.b.Lat, &d.b.Lng, &d.share, &d.metres, &d.on.Lat, &d.on.Lng)
		if err != nil {
			t.Fatalf("%s: %v", lines.Text(), err)
		}
		all = append(all, d)
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	return all
}

// Vincenty's series leave out less than a tenth of a millimetre half round the
// world, and nothing that shows at the length of a photographer's gap.
func TestPointsOnTheWayAgreeWithGeodSolve(t *testing.T) {
	if *regenerate {
		askGeodSolve(t)
	}
	all := readAlong(t)
	if len(all) < 200 {
		t.Fatalf("only %d ways in %s", len(all), alongFile)
	}
	worst := map[string]float64{}
	for _, d := range all {
		got := along(d.a, d.b, d.share)
		off := place.Distance(got, d.on)
		worst[d.kind] = math.Max(worst[d.kind], off)
		allowed := 100e-6
		if d.metres < 1e6 {
			allowed = 10e-6
		}
		if !(off <= allowed) || !got.Valid() {
			t.Errorf("%s: %v of the way from %v to %v = %v, GeodSolve %v, %.3g m off", d.kind, d.share, d.a, d.b, got, d.on, off)
		}
	}
	for _, w := range ways {
		t.Logf("%-20s worst %.1f µm", w.name, worst[w.name]*1e6)
	}
}

func TestTheEndsOfAWayAreItsEnds(t *testing.T) {
	a, b := place.LatLng{Lat: 45.6, Lng: 13.7}, place.LatLng{Lat: 41.1, Lng: 16.9}
	for _, tt := range []struct {
		share float64
		want  place.LatLng
	}{{0, a}, {1, b}, {-1, a}, {2, b}} {
		if got := along(a, b, tt.share); got != tt.want {
			t.Errorf("%v of the way is %v, want %v", tt.share, got, tt.want)
		}
	}
	if got := along(a, a, 0.5); got != a {
		t.Errorf("halfway from %v to itself is %v", a, got)
	}
}

// Straight lines through space may only stand in for distances where the error
// is lost in what a fix is worth.
func TestPointsInSpaceAreAsFarApartAsOnTheGround(t *testing.T) {
	for _, d := range readAlong(t) {
		if d.metres > 20e3 {
			continue
		}
		if chord := inSpace(d.a).minus(inSpace(d.b)).length(); math.Abs(chord-d.metres) > 0.05 {
			t.Errorf("%v to %v is %.3f m through space, %.3f m on the ground", d.a, d.b, chord, d.metres)
		}
	}
}

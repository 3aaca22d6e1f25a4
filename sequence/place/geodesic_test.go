package place

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
)

var regenerate = flag.Bool("regenerate", false, "ask GeodSolve for testdata/geodesics.tsv anew")

const geodesicsFile = "testdata/geodesics.tsv"

// checked is a pair with what GeodSolve says of it.
type checked struct {
	kind              string
	a, b              LatLng
	azimuth, distance float64
}

// kindsOfPair draw the hard and the ordinary cases; size is log-uniform from
// 1e−9 to 1 degree.
var kindsOfPair = []struct {
	name string
	draw func(r *rand.Rand, p LatLng, size float64) (a, b LatLng)
}{
	{"anywhere", func(r *rand.Rand, p LatLng, _ float64) (a, b LatLng) { return p, onEarth(r) }},
	{"close", func(r *rand.Rand, p LatLng, size float64) (a, b LatLng) { return p, near(r, p, size/100) }},
	{"one town", func(r *rand.Rand, p LatLng, _ float64) (a, b LatLng) {
		return near(r, LatLng{45.65, 13.77}, 0.05), near(r, LatLng{45.65, 13.77}, 0.05)
	}},
	{"one sea", func(r *rand.Rand, p LatLng, _ float64) (a, b LatLng) {
		return near(r, LatLng{43.4, 15.3}, 2.3), near(r, LatLng{43.4, 15.3}, 2.3)
	}},
	{"meridian", func(r *rand.Rand, p LatLng, size float64) (a, b LatLng) {
		b = LatLng{180*r.Float64() - 90, p.Lng}
		if r.Intn(2) == 0 {
			b.Lng = wrapped(p.Lng + 180)
		}
		return p, b
	}},
	{"parallel", func(r *rand.Rand, p LatLng, _ float64) (a, b LatLng) {
		return p, LatLng{p.Lat, onEarth(r).Lng}
	}},
	{"equator", func(r *rand.Rand, p LatLng, _ float64) (a, b LatLng) {
		return LatLng{0, p.Lng}, LatLng{0, onEarth(r).Lng}
	}},
	{"equator, far side", func(r *rand.Rand, p LatLng, size float64) (a, b LatLng) {
		b = LatLng{0, wrapped(p.Lng + 180 - 1.5*r.Float64())}
		if r.Intn(2) == 0 {
			b.Lat = size * (r.Float64() - 0.5)
		}
		return LatLng{0, p.Lng}, b
	}},
	{"date line", func(r *rand.Rand, p LatLng, size float64) (a, b LatLng) {
		return LatLng{p.Lat, 180 - size*r.Float64()}, LatLng{near(r, p, size).Lat, size*r.Float64() - 180}
	}},
	{"from a pole", func(r *rand.Rand, p LatLng, _ float64) (a, b LatLng) {
		return LatLng{pole(r), p.Lng}, onEarth(r)
	}},
	{"near a pole", func(r *rand.Rand, p LatLng, size float64) (a, b LatLng) {
		end := pole(r)
		a, b = LatLng{end - math.Copysign(size, end), p.Lng}, onEarth(r)
		if r.Intn(2) == 0 {
			b.Lat = end - math.Copysign(size*r.Float64(), end)
		}
		return a, b
	}},
	{"antipodal", func(r *rand.Rand, p LatLng, _ float64) (a, b LatLng) {
		return p, LatLng{-p.Lat, wrapped(p.Lng + 180)}
	}},
	{"nearly antipodal", func(r *rand.Rand, p LatLng, size float64) (a, b LatLng) {
		return p, near(r, LatLng{-p.Lat, wrapped(p.Lng + 180)}, size)
	}},
	{"about the astroid", func(r *rand.Rand, p LatLng, _ float64) (a, b LatLng) {
		return p, near(r, LatLng{-p.Lat, wrapped(p.Lng + 180)}, 2)
	}},
	{"whole degrees", func(r *rand.Rand, p LatLng, _ float64) (a, b LatLng) {
		q := onEarth(r)
		return LatLng{math.Round(p.Lat), math.Round(p.Lng)}, LatLng{math.Round(q.Lat), math.Round(q.Lng)}
	}},
	{"same point", func(_ *rand.Rand, p LatLng, _ float64) (a, b LatLng) { return p, p }},
}

func onEarth(r *rand.Rand) LatLng {
	return LatLng{math.Asin(2*r.Float64()-1) * 180 / math.Pi, 360*r.Float64() - 180}
}

func near(r *rand.Rand, p LatLng, size float64) LatLng {
	lat := p.Lat + size*(r.Float64()-0.5)
	return LatLng{math.Max(-90, math.Min(90, lat)), wrapped(p.Lng + size*(r.Float64()-0.5))}
}

func wrapped(lng float64) float64 { return math.Remainder(lng, 360) }

func pole(r *rand.Rand) float64 { return 90 - 180*float64(r.Intn(2)) }

func pairsToCheck() []checked {
	r := rand.New(rand.NewSource(20260503))
	var pairs []checked
	for i := range 40 * len(kindsOfPair) {
		kind := kindsOfPair[i%len(kindsOfPair)]
		a, b := kind.draw(r, onEarth(r), math.Pow(10, -9*r.Float64()))
		pairs = append(pairs, checked{kind: kind.name, a: a, b: b})
	}
	return pairs
}

// askGeodSolve fills in azimuth and distance and writes the committed file. No
// exponents on its input: it takes an e for east.
func askGeodSolve(t *testing.T) {
	t.Helper()
	pairs := pairsToCheck()
	var points bytes.Buffer
	for _, p := range pairs {
		fmt.Fprintf(&points, "%.20f %.20f %.20f %.20f\n", p.a.Lat, p.a.Lng, p.b.Lat, p.b.Lng)
	}
	solve := exec.Command("GeodSolve", "-i", "-p", "9")
	solve.Stdin = &points
	answer, err := solve.Output()
	if err != nil {
		t.Fatalf("GeodSolve (Debian geographiclib-tools): %v", err)
	}
	var file bytes.Buffer
	fmt.Fprintln(&file, "kind\tlat1\tlng1\tlat2\tlng2\tazimuth1\tmetres")
	for i, line := range strings.Split(strings.TrimSpace(string(answer)), "\n") {
		p, fields := pairs[i], strings.Fields(line)
		fmt.Fprintf(&file, "%s\t%v\t%v\t%v\t%v\t%s\t%s\n",
			p.kind, p.a.Lat, p.a.Lng, p.b.Lat, p.b.Lng, fields[0], fields[2])
	}
	if err := os.WriteFile(geodesicsFile, file.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

func readGeodesics(t *testing.T) []checked {
	t.Helper()
	file, err := os.Open(geodesicsFile)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var pairs []checked
	lines := bufio.NewScanner(file)
	for lines.Scan() {
		kind, numbers, _ := strings.Cut(lines.Text(), "\t")
		if kind == "kind" {
			continue
		}
		p := checked{kind: kind}
		_, err := fmt.Sscan(numbers, &p.a.Lat, &p.a.Lng, &p.b.Lat, &p.b.Lng, &p.azimuth, &p.distance)
		if err != nil {
			t.Fatalf("%s: %v", lines.Text(), err)
		}
		pairs = append(pairs, p)
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	return pairs
}

// GeodSolve itself is good to 15 nm (its manual), and so are we: two such errors
// may add up.
const metresOff = 30e-9

func TestDistanceAndDirectionAgreeWithGeodSolve(t *testing.T) {
	if *regenerate {
		askGeodSolve(t)
	}
	pairs := readGeodesics(t)
	if len(pairs) < 600 {
		t.Fatalf("only %d pairs in %s", len(pairs), geodesicsFile)
	}
	worst := map[string]float64{}
	for _, p := range pairs {
		got := Distance(p.a, p.b)
		off := math.Abs(got - p.distance)
		worst[p.kind] = math.Max(worst[p.kind], off)
		if !(off <= metresOff) {
			t.Errorf("%s: Distance(%v, %v) = %.9f m, GeodSolve %.9f", p.kind, p.a, p.b, got, p.distance)
		}
		checkDirection(t, p)
	}
	for _, kind := range kindsOfPair {
		t.Logf("%-20s worst %.1f nm", kind.name, worst[kind.name]*1e9)
	}
}

// checkDirection compares how far apart the two azimuths lead. Near the antipode
// an azimuth turns by a radian while the endpoint moves by the reduced length
// only, so that a nanometre there is worth a thousand nanometres here; at the
// antipode itself either way round is right.
func checkDirection(t *testing.T, p checked) {
	t.Helper()
	got := Direction(p.a, p.b)
	if !(got >= 0 && got < 360) {
		t.Errorf("%s: Direction(%v, %v) = %v, not in 0..360", p.kind, p.a, p.b, got)
	}
	allowed := 100e-9
	switch p.kind {
	case "same point":
		if got != 0 {
			t.Errorf("Direction(%v, %v) = %v, want 0", p.a, p.b, got)
		}
		return
	case "antipodal", "nearly antipodal", "equator, far side":
		return
	case "about the astroid":
		allowed = 20e-6
	}
	turned := math.Abs(math.Remainder(got-p.azimuth, 360)) * math.Pi / 180
	if lead := turned * math.Min(p.distance, equatorial); !(lead <= allowed) {
		t.Errorf("%s: Direction(%v, %v) = %.14f, GeodSolve %.14f, %.0f nm off",
			p.kind, p.a, p.b, got, p.azimuth, lead*1e9)
	}
}

// Geocentric Datum of Australia Technical Manual: Flinders Peak to Buninyong,
// 54,972.271 m, azimuth 306° 52′ 05.37″.
func TestDistanceMatchesTheAustralianWorkedExample(t *testing.T) {
	flinders := LatLng{-(37 + 57/60. + 3.72030/3600), 144 + 25/60. + 29.52440/3600}
	buninyong := LatLng{-(37 + 39/60. + 10.15610/3600), 143 + 55/60. + 35.38390/3600}
	if got := Distance(flinders, buninyong); math.Abs(got-54972.271) > 0.0005 {
		t.Errorf("Distance = %.4f m, want 54972.271", got)
	}
	want := 306 + 52/60. + 5.37/3600
	if got := Direction(flinders, buninyong); math.Abs(got-want) > 0.005/3600 {
		t.Errorf("Direction = %.6f°, want %.6f°", got, want)
	}
}

func TestDistanceKnowsTheSizeOfTheEarth(t *testing.T) {
	// Computed from WGS84: a quarter meridian is b·E(−e′²) = 10,001,965.7293127 m
	// (mpmath, 30 digits), a degree of the equator πa/180.
	const quarter = 10001965.7293127
	tests := []struct {
		name string
		a, b LatLng
		want float64
	}{
		{"equator to pole", LatLng{0, 12}, LatLng{90, 77}, quarter},
		{"pole to pole", LatLng{-90, 0}, LatLng{90, 120}, 2 * quarter},
		{"a degree of the equator", LatLng{0, 12}, LatLng{0, 13}, math.Pi * equatorial / 180},
		{"a degree across the date line", LatLng{0, 179.5}, LatLng{0, -179.5}, math.Pi * equatorial / 180},
		{"half the equator goes over the pole", LatLng{0, -90}, LatLng{0, 90}, 2 * quarter},
		{"180 and −180 are one meridian", LatLng{45, 180}, LatLng{45, -180}, 0},
		{"the pole has every longitude", LatLng{90, 10}, LatLng{90, -140}, 0},
	}
	for _, tt := range tests {
		if got := Distance(tt.a, tt.b); math.Abs(got-tt.want) > 1e-6 {
			t.Errorf("%s: %.7f m, want %.7f", tt.name, got, tt.want)
		}
	}
}

func TestDistanceRefusesWhatIsNoPosition(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, bad := range []LatLng{{90.0001, 0}, {-91, 0}, {nan, 0}, {0, nan}, {inf, 0}, {0, -inf}} {
		good := LatLng{45, 13}
		for _, got := range []float64{
			Distance(bad, good), Distance(good, bad), Direction(bad, good), Direction(good, bad),
		} {
			if !math.IsNaN(got) {
				t.Errorf("with %v: %v, want NaN", bad, got)
			}
		}
	}
}

func TestDirectionPointsTheWay(t *testing.T) {
	trieste := LatLng{45.6495, 13.7768}
	tests := []struct {
		name string
		to   LatLng
		want float64
	}{
		{"due north", LatLng{46, 13.7768}, 0},
		{"due south", LatLng{45, 13.7768}, 180},
		{"over the pole", LatLng{45.6495, 13.7768 - 180}, 0},
		{"to itself", trieste, 0},
	}
	for _, tt := range tests {
		if got := Direction(trieste, tt.to); got != tt.want {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
	if got := Direction(LatLng{0, 10}, LatLng{0, 9}); got != 270 {
		t.Errorf("west along the equator: %v, want 270", got)
	}
}

func TestDistanceIsADistance(t *testing.T) {
	r := rand.New(rand.NewSource(7))
	for range 20000 {
		kind := kindsOfPair[r.Intn(len(kindsOfPair))]
		a, b := kind.draw(r, onEarth(r), math.Pow(10, -9*r.Float64()))
		c := near(r, b, math.Pow(10, 2-9*r.Float64()))
		ab := Distance(a, b)
		switch {
		case !(ab >= 0) || ab > 20003931.4586255:
			t.Fatalf("%s: Distance(%v, %v) = %v", kind.name, a, b, ab)
		case ab != Distance(b, a):
			t.Fatalf("%s: Distance(%v, %v) = %v but %v backwards", kind.name, a, b, ab, Distance(b, a))
		case ab > Distance(a, c)+Distance(c, b)+metresOff:
			t.Fatalf("%s: %v to %v is longer than over %v", kind.name, a, b, c)
		case (a == b) && ab != 0:
			t.Fatalf("%v lies %v m from itself", a, ab)
		}
	}
}

// FuzzDistance looks for points that keep the search from ending or make it end
// in nonsense; the seeds are the corners of the map.
func FuzzDistance(f *testing.F) {
	for _, lat := range []float64{0, 1e-300, -90, math.Nextafter(90, 0), 45} {
		f.Add(lat, 0.0, -lat, 180.0)
		f.Add(lat, 0.0, -lat, math.Nextafter(180, 0))
		f.Add(lat, -180.0, lat, 179.39)
	}
	f.Fuzz(func(t *testing.T, lat1, lng1, lat2, lng2 float64) {
		a, b := LatLng{lat1, lng1}, LatLng{lat2, lng2}
		got := Distance(a, b)
		if !a.inRange() || !b.inRange() {
			return
		}
		if !(got >= 0 && got <= 20003931.4586255) || got != Distance(b, a) {
			t.Errorf("Distance(%v, %v) = %v, backwards %v", a, b, got, Distance(b, a))
		}
		if way := Direction(a, b); !(way >= 0 && way < 360) {
			t.Errorf("Direction(%v, %v) = %v", a, b, way)
		}
	})
}

func BenchmarkDistance(b *testing.B) {
	for _, kind := range kindsOfPair {
		switch kind.name {
		case "anywhere", "close", "one town", "one sea", "nearly antipodal":
		default:
			continue
		}
		b.Run(strings.ReplaceAll(kind.name, " ", "-"), func(b *testing.B) {
			r := rand.New(rand.NewSource(1))
			var pairs [1024][2]LatLng
			for i := range pairs {
				pairs[i][0], pairs[i][1] = kind.draw(r, onEarth(r), math.Pow(10, -9*r.Float64()))
			}
			sum := 0.0
			for i := 0; b.Loop(); i++ {
				pair := &pairs[i%len(pairs)]
				sum += Distance(pair[0], pair[1])
			}
			if math.IsNaN(sum) {
				b.Fatal("a distance is NaN")
			}
		})
	}
}

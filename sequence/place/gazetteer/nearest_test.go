package gazetteer

import (
	"bufio"
	"math"
	"math/rand"
	"os"
	"strconv"
	"strings"
	"testing"

	"pairwall/sequence/place"
)

func TestTownsRoundTheAdriaticAreFoundWhereTheSourceHasThem(t *testing.T) {
	english := map[string]string{
		"IT": "Italy", "SI": "Slovenia", "HR": "Croatia", "BA": "Bosnia & Herzegovina",
		"ME": "Montenegro", "AL": "Albania",
	}
	for _, want := range adriatic(t) {
		want.CountryName = english[want.Country]
		got, metres, ok := Nearest(want.LatLng)
		if !ok || got != want || metres != 0 {
			t.Errorf("at %v: %+v, %v m; want %+v", want.LatLng, got, metres, want)
		}
		// A hundred steps out of the middle.
		aside := place.LatLng{Lat: want.Lat + 0.0005, Lng: want.Lng - 0.0005}
		if got, metres, _ := Nearest(aside); got != want || metres < 60 || metres > 75 {
			t.Errorf("beside %s: %+v, %v m", want.Name, got, metres)
		}
		if got, label := Label(aside), want.Name+", "+want.CountryName; got != label {
			t.Errorf("beside %s: %q", label, got)
		}
		found := false
		for _, f := range Find(want.Name, 5) {
			found = found || f == want
		}
		if !found {
			t.Errorf("%s is not found by its name: %+v", want.Name, Find(want.Name, 5))
		}
	}
}

// positions to try: anywhere, on land by way of towns, at the poles, about the
// date line.
func positions(n int) []place.LatLng {
	r := rand.New(rand.NewSource(20260503))
	all := make([]place.LatLng, n)
	for i := range all {
		p := place.LatLng{Lat: math.Asin(2*r.Float64()-1) * 180 / math.Pi, Lng: 360*r.Float64() - 180}
		switch i % 5 {
		case 1, 2:
			t := towns()
			p = t.position(r.Intn(len(t.country)))
			p.Lat += 0.4 * (r.Float64() - 0.5)
			p.Lng = math.Remainder(p.Lng+0.4*(r.Float64()-0.5), 360)
		case 3:
			p.Lat = math.Copysign(90-math.Pow(10, 1-4*r.Float64()), p.Lat)
		case 4:
			p.Lng = math.Copysign(180-math.Pow(10, 1-4*r.Float64()), p.Lng)
		}
		all[i] = p
	}
	return append(all, place.LatLng{Lat: 90}, place.LatLng{Lat: -90, Lng: 77}, place.LatLng{Lat: -17, Lng: 180}, place.LatLng{Lat: -17, Lng: -180})
}

// Brute force on a sphere narrows the towns down to those within 2 % and a
// kilometre of the nearest, since no way on the ellipsoid differs from the
// sphere's by more than 0.6 %; among those place.Distance decides.
func TestNearestIsWhatBruteForceFinds(t *testing.T) {
	all := towns()
	onSphere := func(p place.LatLng) (u [3]float64) {
		sin, cos := math.Sincos(p.Lat * math.Pi / 180)
		sinL, cosL := math.Sincos(p.Lng * math.Pi / 180)
		return [3]float64{cos * cosL, cos * sinL, sin}
	}
	units := make([][3]float64, len(all.country))
	for i := range units {
		units[i] = onSphere(all.position(i))
	}
	chords := make([]float64, len(units)) // squared, of the unit sphere
	for _, p := range positions(2000) {
		at, shortest := onSphere(p), math.Inf(1)
		for i, u := range units {
			x, y, z := at[0]-u[0], at[1]-u[1], at[2]-u[2]
			chords[i] = x*x + y*y + z*z
			shortest = min(shortest, chords[i])
		}
		limit := 1.02*math.Sqrt(shortest) + 1000/6371e3
		best, want := -1, math.Inf(1)
		for i, chord := range chords {
			if chord > limit*limit {
				continue
			}
			d := place.Distance(p, all.position(i))
			if d < want || d == want && all.people[i] > all.people[best] {
				best, want = i, d
			}
		}
		got, metres, ok := Nearest(p)
		if !ok || metres != want || got.LatLng != all.position(best) || got.People != int(all.people[best]) {
			t.Fatalf("nearest to %v is %+v at %v m, by brute force %+v at %v m", p, got, metres, all.town(best), want)
		}
	}
}

func TestNoPositionHasNoTown(t *testing.T) {
	for _, p := range []place.LatLng{{}, {Lat: 91, Lng: 13}, {Lat: 45, Lng: 181}, {Lat: math.NaN(), Lng: 13}, {Lat: 45, Lng: math.Inf(1)}} {
		if got, metres, ok := Nearest(p); ok || got != (Town{}) || metres != 0 || Label(p) != "" {
			t.Errorf("%v: %+v, %v m, %q", p, got, metres, Label(p))
		}
	}
}

// Positions whose distance and direction from a town GeodSolve worked out.
func TestLabelsSayHowFarAndInWhichDirection(t *testing.T) {
	file, err := os.Open("testdata/labels.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	lines, rows := bufio.NewScanner(file), 0
	for lines.Scan() {
		fields := strings.Split(lines.Text(), "\t")
		if fields[0] == "townlat" {
			continue
		}
		rows++
		lat, _ := strconv.ParseFloat(fields[4], 64)
		lng, err := strconv.ParseFloat(fields[5], 64)
		if err != nil {
			t.Fatal(err)
		}
		if got := Label(place.LatLng{Lat: lat, Lng: lng}); got != fields[6] {
			t.Errorf("%v, %v is called %q, want %q", lat, lng, got, fields[6])
		}
	}
	if lines.Err() != nil || rows < 15 {
		t.Fatalf("%d rows, %v", rows, lines.Err())
	}
}

func TestALabelKeepsToTheCountryItIsIn(t *testing.T) {
	tests := []struct {
		name string
		p    place.LatLng
		want string
	}{
		// Rome's reach covers it, but the nearest town is another country's.
		{"a small state in a large town", place.LatLng{Lat: 41.9029, Lng: 12.4534}, "Vatican City, Vatican City"},
		{"in the large town, nearer to the small state", place.LatLng{Lat: 41.89192, Lng: 12.47518}, "Rome, Italy"},
		{"across the border from a larger town", place.LatLng{Lat: 45.957, Lng: 13.65}, "Nova Gorica, Slovenia"},
		{"inside a larger town's reach, nearer to a village", place.LatLng{Lat: 45.70, Lng: 13.72}, "Prosecco-Contovello, Italy"},
	}
	for _, tt := range tests {
		if got := Label(tt.p); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
}

func TestATownReachesAsFarAsItsPeople(t *testing.T) {
	for _, tt := range []struct {
		people int32
		metres float64
	}{{0, 1500}, {4192, 1500}, {187_056, 4455}, {3_000_000, 15_000}, {math.MaxInt32, 15_000}} {
		if got := reach(tt.people); math.Abs(got-tt.metres) > 1 {
			t.Errorf("%d people reach %.0f m, want %.0f", tt.people, got, tt.metres)
		}
	}
}

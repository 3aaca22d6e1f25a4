package track

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"pairwall/sequence/place"
)

// counted is what expat found of one track, or of all waypoints of a file.
type counted struct {
	name                    string
	segments, points, times int
	earliest, latest        string
}

func readCounts(t *testing.T) (tracks map[string][]counted, waypoints map[string]counted) {
	t.Helper()
	file, err := os.Open("testdata/counts.tsv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	lines := csv.NewReader(file)
	lines.Comma = '\t'
	rows, err := lines.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	tracks, waypoints = map[string][]counted{}, map[string]counted{}
	for _, row := range rows[1:] {
		c := counted{name: row[2], earliest: row[6], latest: row[7]}
		for i, field := range []*int{&c.segments, &c.points, &c.times} {
			if *field, err = strconv.Atoi(row[3+i]); err != nil {
				t.Fatal(err)
			}
		}
		switch row[1] {
		case "track":
			tracks[row[0]] = append(tracks[row[0]], c)
		case "waypoints":
			waypoints[row[0]] = c
		}
	}
	return tracks, waypoints
}

func TestEveryRealFileHasTheTracksAnIndependentReaderFinds(t *testing.T) {
	tracks, waypoints := readCounts(t)
	files, err := filepath.Glob(filepath.Join(realTracks(t), "*.gpx"))
	if err != nil || len(files) < 17 || len(files) != len(waypoints) {
		t.Fatalf("%d real files, %d counted: %v", len(files), len(waypoints), err)
	}
	for _, path := range files {
		name := filepath.Base(path)
		got, _ := realTrack(t, name)
		want, timed := tracks[name], 0
		for _, c := range want {
			if !strings.HasPrefix(c.earliest, "1901") {
				timed += c.times
			}
		}
		if w := waypoints[name]; timed == 0 && w.times > 0 {
			w.name, w.segments, w.points = "waypoints", w.times, w.times
			want = append(want, w)
		}
		if len(got) != len(want) {
			t.Errorf("%s: %d tracks, want %d", name, len(got), len(want))
			continue
		}
		for i, w := range want {
			checkTrack(t, name, got[i], w)
		}
	}
}

func checkTrack(t *testing.T, file string, got Track, want counted) {
	t.Helper()
	points, times := 0, 0
	for _, s := range got.Segments {
		points += len(s)
		for _, p := range s {
			if !p.At.IsZero() {
				times++
			}
		}
	}
	if strings.HasPrefix(want.earliest, "1901") {
		want.times, want.earliest, want.latest = 0, "", ""
	}
	if got.Name != want.name || got.From != file || len(got.Segments) != want.segments ||
		points != want.points || times != want.times {
		t.Errorf("%s: %q from %q with %d segments, %d points, %d times; want %+v",
			file, got.Name, got.From, len(got.Segments), points, times, want)
	}
	from, to, ok := Join([]Track{got}).Span()
	if ok != (want.times > 0) {
		t.Fatalf("%s: %q knows any time: %v, want %v", file, got.Name, ok, want.times > 0)
	}
	if earliest, latest := utc(t, want.earliest), utc(t, want.latest); !from.Equal(earliest) || !to.Equal(latest) {
		t.Errorf("%s: from %v to %v, want %v to %v", file, from, to, earliest, latest)
	}
}

// utc is the moment that text states, zero for "".
func utc(t *testing.T, text string) time.Time {
	t.Helper()
	if text == "" {
		return time.Time{}
	}
	if !strings.ContainsAny(text[10:], "Z+-") {
		text += "Z"
	}
	at, err := time.Parse(time.RFC3339, text)
	if err != nil {
		t.Fatal(err)
	}
	return at.UTC()
}

// wrapped puts points into the smallest GPX file.
func wrapped(points string) string {
	return `<gpx version="1.1"><trk><name>t</name><trkseg>` + points + `</trkseg></trk></gpx>`
}

func TestWhatIsOddCostsOnlyItself(t *testing.T) {
	const good = `<trkpt lat="45.5" lon="13.5"><time>2026-05-03T10:00:00Z</time></trkpt>`
	tests := []struct {
		name, file            string
		points, times         int
		finding               string // part of the only finding, "" for none
		firstTime, secondTime string
	}{
		{"a plain point", wrapped(good), 1, 1, "", "2026-05-03T10:00:00Z", ""},
		{"namespaces by prefix", `<g:gpx xmlns:g="http://www.topografix.com/GPX/1/1"><g:trk><g:trkseg>` +
			`<g:trkpt lat="45" lon="13"><g:time>2026-05-03T10:00:00Z</g:time></g:trkpt></g:trkseg></g:trk></g:gpx>`,
			1, 1, "", "2026-05-03T10:00:00Z", ""},
		{"a time of another namespace in the point", wrapped(`<trkpt lat="45" lon="13"><o:time>2020-01-01T00:00:00Z</o:time>` +
			`<time>2026-05-03T10:00:00Z</time><extensions><time>2021-01-01T00:00:00Z</time></extensions></trkpt>`),
			1, 1, "", "2026-05-03T10:00:00Z", ""},
		{"a local offset", wrapped(`<trkpt lat="45" lon="13"><time>2026-05-03T01:30:00.5+02:00</time></trkpt>`),
			1, 1, "", "2026-05-02T23:30:00.5Z", ""},
		{"an offset without a colon, a blank for the T", wrapped(`<trkpt lat="45" lon="13"><time> 2026-05-03 10:00:00 -0330 </time></trkpt>`),
			1, 1, "", "2026-05-03T13:30:00Z", ""},
		{"no zone", wrapped(`<trkpt lat="45" lon="13"><time>2026-05-03T10:00:00</time></trkpt>`),
			1, 1, "names no zone and is read as UTC, as the format asks: 1 point.", "2026-05-03T10:00:00Z", ""},
		{"an empty time", wrapped(good + `<trkpt lat="45" lon="13"><time/></trkpt>`), 2, 1, "Without a time", "2026-05-03T10:00:00Z", ""},
		{"a year nobody had receivers", wrapped(good + `<trkpt lat="45" lon="13"><time>1980-01-06T00:00:00Z</time></trkpt>`),
			2, 1, "before 1989 or after 2099", "2026-05-03T10:00:00Z", ""},
		{"a year to come", wrapped(good + `<trkpt lat="45" lon="13"><time>9026-05-03T10:00:00Z</time></trkpt>`),
			2, 1, "before 1989 or after 2099", "2026-05-03T10:00:00Z", ""},
		{"no time at all", wrapped(good + `<trkpt lat="45" lon="13"><time>at noon</time></trkpt>`),
			2, 1, "cannot be read", "2026-05-03T10:00:00Z", ""},
		{"north of the pole", wrapped(good + `<trkpt lat="90.1" lon="13"/><trkpt lat="45" lon="-180.5"/>`),
			1, 1, "no such latitude or longitude: 2 points", "2026-05-03T10:00:00Z", ""},
		{"0,0", wrapped(good + `<trkpt lat="0.000" lon="-0"/>`), 1, 1, "0,0", "2026-05-03T10:00:00Z", ""},
		{"positions in words", wrapped(good + `<trkpt lat="NaN" lon="13"/><trkpt lat="0x2D" lon="13"/><trkpt lat="45,5" lon="13"/><trkpt lon="13"/>`),
			1, 1, "readable position: 4 points", "2026-05-03T10:00:00Z", ""},
		{"out of order", wrapped(good + `<trkpt lat="45.6" lon="13.5"><time>2026-05-03T09:00:00Z</time></trkpt>`),
			2, 2, "put in order: 1 point", "2026-05-03T09:00:00Z", "2026-05-03T10:00:00Z"},
		{"doubled", wrapped(good + good), 2, 2, "same time as the point before", "2026-05-03T10:00:00Z", ""},
		{"a route", `<gpx><rte><rtept lat="45" lon="13"><time>2026-05-03T10:00:00Z</time></rtept></rte>` + wrapped(good)[len(`<gpx version="1.1">`):],
			1, 1, "planned route is left aside", "2026-05-03T10:00:00Z", ""},
		{"waypoints beside a track", `<gpx><wpt lat="45" lon="13"><time>2026-05-03T11:00:00Z</time></wpt>` + wrapped(good)[len(`<gpx version="1.1">`):],
			1, 1, "Left aside because their times may be", "2026-05-03T10:00:00Z", ""},
		{"waypoints alone", `<gpx><wpt lat="45" lon="13"/><wpt lat="45" lon="13"><time>2026-05-03T11:00:00Z</time></wpt></gpx>`,
			1, 1, "", "2026-05-03T11:00:00Z", ""},
		{"nothing", `<gpx/>`, 0, 0, "holds no track", "", ""},
		{"an unescaped ampersand", strings.Replace(wrapped(good), ">t<", ">Trieste & Bari<", 1), 1, 1, "", "2026-05-03T10:00:00Z", ""},
		{"XML 1.1, blanks before the declaration", "\n <?xml version=\"1.1\" encoding=\"UTF-16\"?>" + wrapped(good), 1, 1, "", "2026-05-03T10:00:00Z", ""},
		{"control characters and broken UTF-8 in a name", strings.Replace(wrapped(good), ">t<", ">\x0b\xff\xc3<", 1), 1, 1, "", "2026-05-03T10:00:00Z", ""},
		{"it breaks off", wrapped(good + good[:40])[:170], 1, 1, "breaks off or is damaged at or after point 2", "2026-05-03T10:00:00Z", ""},
		{"overlapping elements", strings.Replace(wrapped(good+good), "</trkpt><trkpt", "</trkpt></trk><trkpt", 1), 1, 1, "breaks off or is damaged", "2026-05-03T10:00:00Z", ""},
		{"it goes too deep", strings.Replace(wrapped(good+"DEEP"), "DEEP", strings.Repeat("<a>", 1000), 1), 1, 1, "breaks off or is damaged", "2026-05-03T10:00:00Z", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tracks, findings, err := Read(strings.NewReader(tt.file), "odd.gpx")
			if err != nil {
				t.Fatal(err)
			}
			points := 0
			for _, track := range tracks {
				for _, s := range track.Segments {
					points += len(s)
				}
			}
			line := Join(tracks)
			times := line.Len()
			if tt.name == "doubled" {
				times++ // Join has dropped the double
			}
			if points != tt.points || times != tt.times {
				t.Errorf("%d points, %d times, want %d and %d", points, times, tt.points, tt.times)
			}
			from, to, _ := line.Span()
			if tt.secondTime == "" {
				tt.secondTime = tt.firstTime
			}
			if !from.Equal(utc(t, tt.firstTime)) || !to.Equal(utc(t, tt.secondTime)) {
				t.Errorf("from %v to %v, want %s to %s", from, to, tt.firstTime, tt.secondTime)
			}
			if tt.finding == "" && len(findings) > 0 || tt.finding != "" && (len(findings) != 1 || !strings.Contains(findings[0].Words, tt.finding)) {
				t.Errorf("findings %v, want %q", findings, tt.finding)
			}
			if broken := strings.HasPrefix(tt.finding, "breaks off"); len(findings) > 0 && findings[0].Damaged != broken {
				t.Errorf("damaged: %v, want %v", findings[0].Damaged, broken)
			}
		})
	}
}

func TestNamesAreReadInEveryEncoding(t *testing.T) {
	const name = "Rižana — Čačak"
	tests := []struct {
		label   string
		written encoding.Encoding
		name    string
	}{
		{"UTF-8", encoding.Nop, name},
		{"UTF-8", unicode.UTF8BOM, name},
		{"UTF-16", unicode.UTF16(unicode.LittleEndian, unicode.UseBOM), name},
		{"UTF-16", unicode.UTF16(unicode.BigEndian, unicode.UseBOM), name},
		{"UTF-16LE", unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM), name},
		{"utf-16be", unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM), name},
		{"windows-1250", charmap.Windows1250, name},
		{"cp1250", charmap.Windows1250, name},
		{"ISO-8859-2", charmap.ISO8859_2, "Rižana, Čačak"},
		{"iso-8859-15", charmap.ISO8859_15, "Café à Bari, 3 €, Košice, Ž"},
		{"ISO_8859-1", charmap.ISO8859_1, "Città di Bari, Forlì"},
		{"latin1", charmap.Windows1252, "Bari – Forlì “nave”"},
		{"Windows-1252", charmap.Windows1252, "Bari – Forlì “nave”"},
		{"windows-1251", charmap.Windows1251, "Котор"},
	}
	for _, tt := range tests {
		file := `<?xml version="1.0" encoding="` + tt.label + `"?>` + "\n" +
			`<gpx version="1.0"><trk><name>` + tt.name + `</name><trkseg><trkpt lat="45" lon="13"/></trkseg></trk></gpx>`
		bytes, err := tt.written.NewEncoder().String(file)
		if err != nil {
			t.Fatalf("%s: %v", tt.label, err)
		}
		// A byte at a time shows whether any reader on the way needs more at once.
		tracks, _, err := Read(iotest.OneByteReader(strings.NewReader(bytes)), "named.gpx")
		if err != nil || len(tracks) != 1 || tracks[0].Name != tt.name {
			t.Errorf("%s: read %+v, %v; want the name %q", tt.label, tracks, err, tt.name)
		}
	}
}

func TestWhatIsNoTrackIsRefusedForItsReason(t *testing.T) {
	disk := errors.New("the disk failed")
	tests := []struct {
		name string
		file io.Reader
		want error
	}{
		{"an empty file", strings.NewReader(""), ErrNotGPX},
		{"a picture", strings.NewReader("\xff\xd8\xff\xe0\x00\x10JFIF"), ErrNotGPX},
		{"another kind of XML", strings.NewReader("<?xml version='1.0'?><kml><trk/></kml>"), ErrNotGPX},
		{"text", strings.NewReader("45.5, 13.5\n45.6, 13.6\n"), ErrNotGPX},
		{"an unknown encoding", strings.NewReader("<?xml version='1.0' encoding='klingon'?><gpx/>"), ErrEncoding},
		{"broken before its first point", strings.NewReader("<gpx><trk><name>a"), ErrDamaged},
		{"a file without an end", io.MultiReader(strings.NewReader("<gpx><trk><name>"), endless{}), ErrTooLarge},
		{"more points than any track", io.MultiReader(strings.NewReader("<gpx><trk><trkseg>"), &repeated{text: `<trkpt lat="1" lon="1"/>`}), ErrTooLarge},
		{"a disk that fails at once", iotest.ErrReader(disk), disk},
		{"a disk that fails later", io.MultiReader(strings.NewReader(wrapped(`<trkpt lat="1" lon="1"/>`)[:70]), iotest.ErrReader(disk)), disk},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tracks, findings, err := read(tt.file, "no.gpx", limits{bytes: 1 << 20, points: 1000})
			if !errors.Is(err, tt.want) || tracks != nil || findings != nil {
				t.Errorf("%d tracks, %v, %v; want %v", len(tracks), findings, err, tt.want)
			}
		})
	}
}

// endless is a name that never ends.
type endless struct{}

func (endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = 'a'
	}
	return len(p), nil
}

// repeated is one text for ever.
type repeated struct {
	text string
	at   int
}

func (r *repeated) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = r.text[r.at]
		r.at = (r.at + 1) % len(r.text)
	}
	return len(p), nil
}

func TestEntitiesAreNeitherExpandedNorFetched(t *testing.T) {
	secret := filepath.Join(t.TempDir(), "secret")
	if err := os.WriteFile(secret, []byte("do not read me"), 0o600); err != nil {
		t.Fatal(err)
	}
	file := fmt.Sprintf(`<!DOCTYPE gpx [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;"><!ENTITY x SYSTEM "file://%s">]>`, secret) +
		strings.Replace(wrapped(`<trkpt lat="45" lon="13"/>`), ">t<", ">&b;&x;<", 1)
	tracks, _, err := Read(strings.NewReader(file), "entities.gpx")
	if err != nil || len(tracks) != 1 {
		t.Fatalf("%d tracks, %v", len(tracks), err)
	}
	if name := tracks[0].Name; strings.Contains(name, "read me") || strings.Contains(name, "ha") {
		t.Errorf("the name became %q", name)
	}
}

func TestElevationsAndLongNamesAreTakenAsFarAsTheyMakeSense(t *testing.T) {
	file := strings.Replace(wrapped(`<trkpt lat="45" lon="13"><ele> 12.5 </ele></trkpt><trkpt lat="45" lon="13"><ele>high</ele></trkpt>`+
		`<trkpt lat="45" lon="13"/>`), ">t<", ">"+strings.Repeat("č", 5000)+"<", 1)
	tracks, _, err := Read(strings.NewReader(file), "high.gpx")
	if err != nil {
		t.Fatal(err)
	}
	s := tracks[0].Segments[0]
	if s[0].Elevation == nil || *s[0].Elevation != 12.5 || s[1].Elevation != nil || s[2].Elevation != nil {
		t.Errorf("elevations %v %v %v", s[0].Elevation, s[1].Elevation, s[2].Elevation)
	}
	if n := len([]rune(tracks[0].Name)); n != maxName {
		t.Errorf("a name of 5000 letters was kept at %d", n)
	}
	if want := (place.LatLng{Lat: 45, Lng: 13}); s[0].LatLng != want {
		t.Errorf("at %v, want %v", s[0].LatLng, want)
	}
}

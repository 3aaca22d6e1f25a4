package gazetteer

import (
	"bufio"
	"bytes"
	"compress/flate"
	_ "embed"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"sync"

	"pairwall/sequence/place"
)

//go:embed towns.bin
var packed []byte

// Attribution must be shown wherever names from the table are: the licence asks
// for it.
const Attribution = "Place names from GeoNames (https://www.geonames.org), " +
	"CC BY 4.0 (https://creativecommons.org/licenses/by/4.0/), reduced to a table of towns."

// Town is one place with people in it. Country is its ISO 3166-1 alpha-2 code
// (XK for Kosovo, which has none of its own), CountryName that country's English
// name, People its inhabitants, 0 where nobody counted. Positions are good to
// 0.00001 degree, about a metre, and mark the middle of the town.
type Town struct {
	Name        string
	Country     string
	CountryName string
	place.LatLng
	People int
}

// table is all towns, by latitude. Columns take 7 MB where a slice of Towns
// would take 12.
type table struct {
	codes     []string // of countries
	countries []string // their names
	country   []uint8  // index of each town's
	lat, lng  []int32  // 1/100,000 degree
	people    []int32
	names     string // each followed by a line feed
	ends      []uint32
	space     []vector
}

// towns unpacks the table when it is first asked for. It is part of the program:
// if it cannot be read, the program was built wrong.
var towns = sync.OnceValue(func() *table {
	t, err := decode(packed)
	if err != nil {
		panic("gazetteer: towns.bin: " + err.Error())
	}
	return t
})

const (
	magic = "pairwall towns 1\n"
	// most is far beyond all towns there are; it bounds what a broken table can
	// make us allocate.
	most = 1 << 20
)

var errTable = errors.New("not a table of towns")

// decode reads the form that derive writes: magic, and deflated (RFC 1951)
//
//	number of countries, for each its code and its name and a line feed
//	number of towns
//	for each town the index of its country, one byte
//	for each the latitude less that of the town before, 1/100,000 degree
//	for each the longitude
//	for each the inhabitants
//	for each the name and a line feed
//
// Numbers are variable-length integers as in encoding/binary, positions signed.
func decode(data []byte) (*table, error) {
	body, ok := bytes.CutPrefix(data, []byte(magic))
	if !ok {
		return nil, errTable
	}
	r := bufio.NewReader(flate.NewReader(bytes.NewReader(body)))
	t := &table{}
	if err := t.readCountries(r); err != nil {
		return nil, err
	}
	n, err := binary.ReadUvarint(r)
	if err != nil || n > most {
		return nil, errTable
	}
	t.country = make([]uint8, n)
	if _, err := io.ReadFull(r, t.country); err != nil {
		return nil, err
	}
	for _, c := range t.country {
		if int(c) >= len(t.codes) {
			return nil, errTable
		}
	}
	if err := t.readNumbers(r, int(n)); err != nil {
		return nil, err
	}
	return t, t.readNames(r, int(n))
}

func (t *table) readCountries(r *bufio.Reader) error {
	n, err := binary.ReadUvarint(r)
	if err != nil || n > math.MaxUint8+1 {
		return errTable
	}
	for range n {
		line, err := r.ReadString('\n')
		if err != nil || len(line) < 4 {
			return errTable
		}
		t.codes = append(t.codes, line[:2])
		t.countries = append(t.countries, line[2:len(line)-1])
	}
	return nil
}

func (t *table) readNumbers(r *bufio.Reader, n int) error {
	t.lat, t.lng, t.people = make([]int32, n), make([]int32, n), make([]int32, n)
	before := int64(0)
	for i := range n {
		step, err := binary.ReadVarint(r)
		if err != nil || step < -180e5 || step > 180e5 || before+step < -90e5 || before+step > 90e5 || i > 0 && step < 0 {
			return fmt.Errorf("%w: latitude of town %d", errTable, i)
		}
		before += step
		t.lat[i] = int32(before)
	}
	for i := range n {
		lng, err := binary.ReadVarint(r)
		if err != nil || lng < -180e5 || lng > 180e5 {
			return fmt.Errorf("%w: longitude of town %d", errTable, i)
		}
		t.lng[i] = int32(lng)
	}
	for i := range n {
		people, err := binary.ReadUvarint(r)
		if err != nil || people > math.MaxInt32 {
			return fmt.Errorf("%w: inhabitants of town %d", errTable, i)
		}
		t.people[i] = int32(people)
	}
	t.space = make([]vector, n)
	for i := range n {
		t.space[i] = inSpace(t.position(i))
	}
	return nil
}

func (t *table) readNames(r io.Reader, n int) error {
	const longest = 256
	var all strings.Builder
	if _, err := io.Copy(&all, io.LimitReader(r, int64(n)*longest+1)); err != nil {
		return err
	}
	t.names = all.String()
	t.ends = make([]uint32, 0, n)
	for i := range len(t.names) {
		if t.names[i] == '\n' {
			t.ends = append(t.ends, uint32(i))
		}
	}
	if len(t.ends) != n || n > 0 && int(t.ends[n-1]) != len(t.names)-1 || n == 0 && t.names != "" {
		return fmt.Errorf("%w: %d names for %d towns", errTable, len(t.ends), n)
	}
	return nil
}

func (t *table) position(i int) place.LatLng {
	return place.LatLng{Lat: float64(t.lat[i]) / 1e5, Lng: float64(t.lng[i]) / 1e5}
}

func (t *table) name(i int) string {
	start := 0
	if i > 0 {
		start = int(t.ends[i-1]) + 1
	}
	return t.names[start:t.ends[i]]
}

func (t *table) town(i int) Town {
	c := t.country[i]
	return Town{
		Name: t.name(i), Country: t.codes[c], CountryName: t.countries[c],
		LatLng: t.position(i), People: int(t.people[i]),
	}
}

package main

import (
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
	"strings"
)

// city is one record of the source. Latitude and longitude are in 1/100,000
// degree; people is 0 where the source does not know.
type city struct {
	name, country, feature string
	lat, lng               int64
	people                 uint64
}

// The fields of a record that matter here, as the package's own reader numbers
// them. Positions are differences from the record before.
const (
	fieldName    = 2
	fieldCountry = 3
	fieldFeature = 7
	fieldPeople  = 9
	fieldLng     = 10
	fieldLat     = 11
)

// The wire types of protocol buffers that occur (Protocol Buffers, "Encoding").
const (
	wireVarint = 0
	wireBytes  = 2
)

var errShort = errors.New("it ends in the middle of a record")

// readCities reads records, each with its length before it.
func readCities(source []byte) ([]city, error) {
	var cities []city
	var lat, lng int64
	for len(source) > 0 {
		record, rest, err := counted(source)
		if err != nil {
			return nil, err
		}
		source = rest
		c, err := readCity(record)
		if err != nil {
			return nil, fmt.Errorf("record %d: %w", len(cities)+1, err)
		}
		lat, lng = lat+c.lat, lng+c.lng
		c.lat, c.lng = lat, lng
		cities = append(cities, c)
	}
	return cities, nil
}

// counted splits off as many bytes as the number before them says.
func counted(b []byte) (part, rest []byte, err error) {
	n, size := binary.Uvarint(b)
	if size <= 0 || n > uint64(len(b)-size) {
		return nil, nil, errShort
	}
	b = b[size:]
	return b[:n], b[n:], nil
}

func readCity(record []byte) (city, error) {
	var c city
	for len(record) > 0 {
		key, size := binary.Uvarint(record)
		if size <= 0 {
			return c, errShort
		}
		record = record[size:]
		field, wire := key>>3, key&7
		switch wire {
		case wireVarint:
			n, size := binary.Uvarint(record)
			if size <= 0 {
				return c, errShort
			}
			record = record[size:]
			c.number(field, n)
		case wireBytes:
			text, rest, err := counted(record)
			if err != nil {
				return c, err
			}
			record = rest
			c.text(field, string(text))
		default:
			return c, fmt.Errorf("wire type %d is not expected", wire)
		}
	}
	return c, nil
}

func (c *city) number(field, n uint64) {
	signed := int64(n>>1) ^ -int64(n&1)
	switch field {
	case fieldPeople:
		c.people = n
	case fieldLng:
		c.lng = signed
	case fieldLat:
		c.lat = signed
	}
}

func (c *city) text(field uint64, s string) {
	switch field {
	case fieldName:
		c.name = strings.TrimSpace(s)
	case fieldCountry:
		c.country = s
	case fieldFeature:
		c.feature = s
	}
}

// leftOut are GeoNames' feature codes of what nobody would name as the town a
// photograph was taken in: sections of towns, and places abandoned, destroyed or
// only historical.
var leftOut = []string{"PPLX", "PPLQ", "PPLW", "PPLH", "PPLCH"}

// inhabited keeps towns and villages and orders them by latitude, as the
// gazetteer searches them.
func inhabited(cities []city) []city {
	kept := slices.DeleteFunc(slices.Clone(cities), func(c city) bool {
		return slices.Contains(leftOut, c.feature)
	})
	slices.SortFunc(kept, func(a, b city) int {
		for _, d := range []int64{a.lat - b.lat, a.lng - b.lng} {
			if d != 0 {
				return int(max(-1, min(1, d)))
			}
		}
		return strings.Compare(a.name+a.country, b.name+b.country)
	})
	return kept
}

package main

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/language"
	"golang.org/x/text/language/display"
)

// magic opens the table; its digit is the form's version.
const magic = "pairwall towns 1\n"

// encode writes the form that gazetteer's decode reads: column by column, since
// like lies next to like that way and packs well.
func encode(towns []city) ([]byte, error) {
	countries, err := countryNames(towns)
	if err != nil {
		return nil, err
	}
	codes := make([]string, 0, len(countries))
	for code := range countries {
		codes = append(codes, code)
	}
	slices.Sort(codes)

	var b []byte
	b = binary.AppendUvarint(b, uint64(len(codes)))
	for _, code := range codes {
		b = append(b, code+countries[code]+"\n"...)
	}
	b = binary.AppendUvarint(b, uint64(len(towns)))
	for _, t := range towns {
		i, _ := slices.BinarySearch(codes, t.country)
		b = append(b, byte(i))
	}
	lat := int64(0)
	for _, t := range towns {
		b = binary.AppendVarint(b, t.lat-lat)
		lat = t.lat
	}
	for _, t := range towns {
		b = binary.AppendVarint(b, t.lng)
	}
	for _, t := range towns {
		b = binary.AppendUvarint(b, t.people)
	}
	for _, t := range towns {
		b = append(b, t.name+"\n"...)
	}

	packed := bytes.NewBufferString(magic)
	w, err := flate.NewWriter(packed, flate.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(b); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return packed.Bytes(), nil
}

// countryNames gives each country's English name and refuses whatever the form
// cannot hold.
func countryNames(towns []city) (map[string]string, error) {
	names := map[string]string{}
	english := display.English.Regions()
	for _, t := range towns {
		if t.name == "" || strings.ContainsFunc(t.name, unicode.IsControl) ||
			t.lat < -90e5 || t.lat > 90e5 || t.lng < -180e5 || t.lng > 180e5 || t.people > math.MaxInt32 {
			return nil, fmt.Errorf("cannot be in the table: %+v", t)
		}
		if names[t.country] != "" {
			continue
		}
		region, err := language.ParseRegion(t.country)
		if err != nil || len(t.country) != 2 {
			return nil, fmt.Errorf("%s: no such country: %q", t.name, t.country)
		}
		names[t.country] = english.Name(region)
	}
	if len(names) > math.MaxUint8+1 {
		return nil, fmt.Errorf("%d countries do not fit into a byte", len(names))
	}
	return names, nil
}

package header

import (
	"bytes"
	"encoding/xml"
	"math"
	"slices"
	"strconv"
	"strings"

	"pairwall/sequence/place"
)

// maxPacket bounds an XMP packet; one that says what a photographer wrote takes
// some tens of kilobytes.
const maxPacket = 1 << 20

// Written is what people and programs wrote into a file beside its EXIF, as XMP
// or IPTC.
type Written struct {
	Caption  string
	Keywords []string
	// Original and Created are dates as written: of taking, and of making, which
	// of a scan can be either.
	Original, Created string
	Position          *place.LatLng
}

// The names we read. Source: XMP Specification parts 1 and 2 (ISO 16684-1:2019),
// Exif 2.32 metadata for XMP (CIPA DC-010-2020).
const (
	spaceRDF   = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
	spaceDC    = "http://purl.org/dc/elements/1.1/"
	spaceEXIF  = "http://ns.adobe.com/exif/1.0/"
	spaceImage = "http://ns.adobe.com/photoshop/1.0/"
)

// readXMP reads a packet as far as it is sound. Simple properties are attributes
// or elements; captions come in several languages, of which the default or the
// first is taken.
func readXMP(packet []byte) (w Written) {
	if len(packet) == 0 || len(packet) > maxPacket {
		return Written{}
	}
	values := map[xml.Name][]string{}
	add := func(name xml.Name, value string, first bool) {
		if value = oneLine(value); value == "" || len(values) > 1000 || len(values[name]) > 1000 {
			return
		}
		if first {
			values[name] = slices.Insert(values[name], 0, value)
		} else {
			values[name] = append(values[name], value)
		}
	}
	decoder := xml.NewDecoder(bytes.NewReader(packet))
	decoder.Strict = false
	var stack []xml.StartElement
	var text strings.Builder
	for {
		token, err := decoder.Token()
		if err != nil || len(stack) > 64 {
			break
		}
		switch t := token.(type) {
		case xml.StartElement:
			if t.Name == (xml.Name{Space: spaceRDF, Local: "Description"}) {
				for _, a := range t.Attr {
					add(a.Name, a.Value, false)
				}
			}
			stack = append(stack, t.Copy())
			text.Reset()
		case xml.CharData:
			text.Write(t)
		case xml.EndElement:
			if name, first, is := propertyOf(stack); is {
				add(name, text.String(), first)
			}
			text.Reset()
			stack = stack[:max(len(stack)-1, 0)]
		}
	}
	first := func(space, local string) string {
		if list := values[xml.Name{Space: space, Local: local}]; len(list) > 0 {
			return list[0]
		}
		return ""
	}
	w.Caption = first(spaceDC, "description")
	w.Keywords = values[xml.Name{Space: spaceDC, Local: "subject"}]
	w.Original = first(spaceEXIF, "DateTimeOriginal")
	// Not xmp:CreateDate, which is when a program made its document.
	w.Created = first(spaceImage, "DateCreated")
	w.Position = xmpPosition(first(spaceEXIF, "GPSLatitude"), first(spaceEXIF, "GPSLongitude"))
	return w
}

// propertyOf is the property whose value the innermost element holds: itself, or
// the one around the list it is an item of. first is true of the default
// language.
func propertyOf(stack []xml.StartElement) (name xml.Name, first, is bool) {
	n := len(stack)
	description := xml.Name{Space: spaceRDF, Local: "Description"}
	switch {
	case n >= 2 && stack[n-2].Name == description:
		return stack[n-1].Name, false, true
	case n >= 4 && stack[n-1].Name == (xml.Name{Space: spaceRDF, Local: "li"}) && stack[n-4].Name == description:
		for _, a := range stack[n-1].Attr {
			first = first || a.Name.Local == "lang" && a.Value == "x-default"
		}
		return stack[n-3].Name, first, true
	}
	return xml.Name{}, false, false
}

// xmpPosition reads "45,39.5N" or "45,39,30N" (CIPA DC-010, GPSCoordinate).
func xmpPosition(latitude, longitude string) *place.LatLng {
	lat, okLat := xmpDegrees(latitude, "N", "S")
	lng, okLng := xmpDegrees(longitude, "E", "W")
	p := place.LatLng{Lat: lat, Lng: lng}
	if !okLat || !okLng || !p.Valid() {
		return nil
	}
	return &p
}

func xmpDegrees(text, positive, negative string) (float64, bool) {
	sign := 1.0
	number, found := strings.CutSuffix(text, positive)
	if !found {
		if number, found = strings.CutSuffix(text, negative); !found {
			return 0, false
		}
		sign = -1
	}
	parts := strings.Split(number, ",")
	if len(parts) > 3 {
		return 0, false
	}
	sum := 0.0
	for i, part := range parts {
		v, err := strconv.ParseFloat(strings.TrimSpace(part), 64)
		if err != nil || !(v >= 0) || i > 0 && v >= 60 {
			return 0, false
		}
		sum += v / math.Pow(60, float64(i))
	}
	return sign * sum, true
}

// oneLine joins a text's lines and leaves out what cannot be shown.
func oneLine(text string) string {
	return strings.Join(strings.FieldsFunc(strings.ToValidUTF8(text, ""), func(r rune) bool { return r <= ' ' || r == 0x7F }), " ")
}

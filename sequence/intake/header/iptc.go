package header

import (
	"bytes"
	"encoding/binary"
	"unicode/utf8"
)

// readIPTC reads the records of an IPTC block. Source: IPTC-NAA Information
// Interchange Model 4.2 (2014), 1.5 and chapter 6.
func readIPTC(data []byte) (w Written) {
	var date, clock string
	latin := true
	for range 10_000 {
		if len(data) < 5 || data[0] != 0x1C {
			break
		}
		record, number := data[1], data[2]
		length := int(binary.BigEndian.Uint16(data[3:]))
		if length > len(data)-5 { // longer ones say so in another way; nothing we read is
			break
		}
		value := data[5 : 5+length]
		data = data[5+length:]
		word := func() string {
			if latin && !utf8.Valid(value) {
				value = wideLatin(value)
			}
			return oneLine(string(value))
		}
		switch {
		case record == 1 && number == 90: // ESC % G announces UTF-8
			latin = !bytes.Equal(value, []byte("\x1b%G"))
		case record == 2 && number == 25 && len(w.Keywords) < 1000:
			if k := word(); k != "" {
				w.Keywords = append(w.Keywords, k)
			}
		case record == 2 && number == 55:
			date = word()
		case record == 2 && number == 60:
			clock = word()
		case record == 2 && number == 120:
			w.Caption = word()
		}
	}
	w.Created = date
	if len(date) == 8 && len(clock) >= 6 {
		w.Created = date + "T" + clock
	}
	return w
}

// wideLatin turns Latin-1 into UTF-8.
func wideLatin(text []byte) []byte {
	var wide []byte
	for _, b := range text {
		wide = utf8.AppendRune(wide, rune(b))
	}
	return wide
}

// iptcIn finds the IPTC block among the resources that programs keep in a JPEG's
// APP13: a sign, a number, a name, a length and data, both padded to two.
func iptcIn(data []byte) []byte {
	data, found := bytes.CutPrefix(data, []byte("Photoshop 3.0\x00"))
	if !found {
		return nil
	}
	for len(data) >= 12 && string(data[:4]) == "8BIM" {
		number := binary.BigEndian.Uint16(data[4:])
		name := (int(data[6]) + 2) / 2 * 2
		if len(data) < 6+name+4 {
			return nil
		}
		data = data[6+name:]
		length := int64(binary.BigEndian.Uint32(data))
		data = data[4:]
		if length > int64(len(data)) {
			return nil
		}
		if number == 0x0404 {
			return data[:length]
		}
		data = data[min(length+length&1, int64(len(data))):]
	}
	return nil
}

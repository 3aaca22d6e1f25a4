package pages

import "pairwall/sequence"

// ContactStyle is how a contact sheet is laid out: every photo the same room,
// in the order given, with its number below.
type ContactStyle struct {
	Sheet   Sheet
	Columns int
	Margin  Length
	Gap     Length // between photos, across
	Foot    Length // below each, for its number and caption
	Head    Length // above the first row, for the title
}

// FirstContactStyle puts 35 photos on A4.
var FirstContactStyle = ContactStyle{Sheet: Sheets[0], Columns: 5, Margin: 12, Gap: 4, Foot: 9, Head: 12}

// Contact is one photo on a contact sheet.
type Contact struct {
	Photo   sequence.PhotoID
	Picture Rect
	Foot    Rect
}

// LayContacts divides photos into sheets. The room of each is a square, so that
// lying and standing pictures are judged at the same size.
//
// Complexity: O(n).
func (s ContactStyle) LayContacts(photos []Proportion) [][]Contact {
	side := (s.Sheet.Width - 2*s.Margin - Length(s.Columns-1)*s.Gap) / Length(s.Columns)
	rows := int((s.Sheet.Height - 2*s.Margin - s.Head + tiny) / (side + s.Foot))
	var sheets [][]Contact
	for i, p := range photos {
		at := i % (s.Columns * rows)
		if at == 0 {
			sheets = append(sheets, nil)
		}
		room := Rect{s.Margin + Length(at%s.Columns)*(side+s.Gap), s.Margin + s.Head + Length(at/s.Columns)*(side+s.Foot), Size{side, side}}
		picture := room.Centred(room.Fitted(p.Width, p.Height))
		picture.Y = room.Bottom() - picture.Height // numbers stand close below their pictures
		last := len(sheets) - 1
		sheets[last] = append(sheets[last], Contact{p.Photo, picture, Rect{room.X, room.Bottom(), Size{side, s.Foot}}})
	}
	return sheets
}

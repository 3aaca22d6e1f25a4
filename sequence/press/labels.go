package press

import (
	"fmt"
	"strconv"
	"strings"

	"pairwall/sequence/pages"
)

// Label is what one address label says.
type Label struct {
	From []string // the sender, line by line; nil for none
	To   []string // the addressee, line by line
	Foot string   // what the maker knows the parcel by: order number and copies; "" for nothing
}

// Measures on a label, in millimetres; common practice. Type of 3.5 mm is 10
// points, of 2.1 mm 6 points, the least that is read without a glass.
const (
	labelEdge    pages.Length = 3
	labelLeast   pages.Length = 2.1
	labelSmall   pages.Length = 1.9
	labelTall    pages.Length = 90 // from here on the sender has a block of its own
	handwritten  pages.Length = 6  // room for a line written by hand
	handwriteMin pages.Length = 4.4
)

// labelMost is the largest type on a label: it grows with it.
func labelMost(s pages.Size) pages.Length { return max(3.0, min(5.5, s.Height*0.1)) }

// Doubts says of each line of an address on a label of that size why it will not
// be printed: such a line stays blank, to be written by hand. An address that
// does not fit stays blank as a whole.
func (l Letters) Doubts(label Label, size pages.Size) []string {
	var doubts []string
	for _, line := range label.To {
		if why := l.Unset(line); why != "" {
			doubts = append(doubts, why)
		}
	}
	if _, fits := l.address(label, size); !fits {
		doubts = append(doubts, fmt.Sprintf("The address does not fit a label of %s × %s.", size.Width, size.Height))
	}
	return doubts
}

// address sets the addressee. A line that cannot be set is an empty one.
func (l Letters) address(label Label, size pages.Size) (fitted, bool) {
	room := l.addressRoom(label, pages.Rect{Size: size})
	lines := make([]string, len(label.To))
	by := 0
	for i, line := range label.To {
		if l.Unset(line) == "" {
			lines[i] = Tidied(line)
		} else {
			by++
		}
	}
	least := labelLeast
	if by > 0 { // a hand needs more room than a type
		least = handwriteMin / leading
	}
	return l.fit(lines, room.Size, max(least, labelMost(size)), least)
}

// addressRoom is where the addressee stands.
func (l Letters) addressRoom(label Label, at pages.Rect) pages.Rect {
	room := at.Inset(edge(at.Size))
	if at.Height >= labelTall {
		top := at.Height * 0.4
		room.Y, room.Height = room.Y+top, room.Height-top
	} else if len(label.From) > 0 {
		down := labelSmall*pages.Length(len(l.sender(label, room.Width)))*leading + 1
		room.Y, room.Height = room.Y+down, room.Height-down
	}
	if label.Foot != "" {
		room.Height -= labelSmall + 0.6
	}
	return room
}

// edge is what stays white around a label.
func edge(s pages.Size) pages.Length {
	if s.Height < 30 {
		return labelEdge * 0.7
	}
	return labelEdge
}

// sender is the sender in one or two small lines above the address.
func (l Letters) sender(label Label, room pages.Length) []string {
	return l.Break(strings.Join(tidied(label.From), " · "), labelSmall, room, 2)
}

func tidied(lines []string) []string {
	all := make([]string, len(lines))
	for i, line := range lines {
		all[i] = Tidied(line)
	}
	return all
}

// Labels adds sheets of labels, the first on label first of the first sheet,
// everything shifted by what the maker's printer is off.
//
// Errors: those of pages.LabelSheet.Stick and pages.Shift.Check.
func (d *Document) Labels(s pages.LabelSheet, first int, shift pages.Shift, labels []Label) error {
	return d.onLabels(s, first, shift, len(labels), func(k *Ink, i int, at pages.Rect) { k.label(labels[i], at) })
}

// onLabels has draw draw on one label after the other.
func (d *Document) onLabels(s pages.LabelSheet, first int, shift pages.Shift, count int, draw func(*Ink, int, pages.Rect)) error {
	if err := shift.Check(); err != nil {
		return err
	}
	all, err := s.Stick(count, first)
	if err != nil {
		return err
	}
	for from := 0; from < len(all); {
		to := from
		for to < len(all) && all[to].Page == all[from].Page {
			to++
		}
		err := d.Page(s.Sheet, func(k *Ink) error {
			return k.From(shift.X, shift.Y, func() error {
				for i := from; i < to; i++ {
					draw(k, i, all[i].Label)
				}
				return nil
			})
		})
		if err != nil {
			return err
		}
		from = to
	}
	return nil
}

func (k *Ink) label(label Label, at pages.Rect) {
	l := k.doc.letters
	inner := at.Inset(edge(at.Size))
	switch {
	case len(label.From) == 0:
	case at.Height >= labelTall:
		k.senderBlock(label.From, inner, at)
	default:
		lines := l.sender(label, inner.Width)
		for i, line := range lines {
			k.Letter(line, labelSmall, inner.X, inner.Y+labelSmall*(0.8+leading*pages.Length(i)), 0.2)
		}
		y := inner.Y + labelSmall*leading*pages.Length(len(lines)) + 0.2
		k.Line(hair, 0.5, inner.X, y, inner.Right(), y)
	}
	if label.Foot != "" {
		foot := l.Break(Tidied(label.Foot), labelSmall, inner.Width, 1)
		for _, line := range foot {
			k.Letter(line, labelSmall, inner.Right()-l.Width(line, labelSmall), inner.Bottom()-labelSmall*0.25, 0.2)
		}
	}
	room := l.addressRoom(label, at)
	if set, fits := l.address(label, at.Size); fits {
		k.address(label, set, room)
		return
	}
	for y := room.Y + handwritten; y <= room.Bottom(); y += handwritten {
		k.Line(hair, 0.6, room.X, y, room.Right(), y)
	}
}

// address prints an address in the middle of its room's height, and rules where a
// line has to be written by hand.
func (k *Ink) address(label Label, set fitted, room pages.Rect) {
	y := room.Y + (room.Height-k.doc.letters.height(len(set.lines), set.size))/2 + set.size*0.8
	for i, line := range set.lines {
		if line == "" && label.To[set.of[i]] != "" {
			k.Line(hair, 0.6, room.X, y+set.size*0.2, room.Right(), y+set.size*0.2)
		}
		k.Text(line, set.size, room.X, y)
		y += set.size * leading
	}
}

// senderBlock is the sender on a tall label: a block of its own and a rule below.
func (k *Ink) senderBlock(from []string, inner, at pages.Rect) {
	room := pages.Rect{X: inner.X, Y: inner.Y, Size: pages.Size{Width: inner.Width * 0.7, Height: at.Height*0.4 - 4*labelEdge}}
	set, fits := k.doc.letters.fit(tidied(from), room.Size, 3.2, labelLeast)
	if !fits {
		set = fitted{lines: k.doc.letters.Break(strings.Join(tidied(from), " · "), labelLeast, room.Width, 6), size: labelLeast}
	}
	for i, line := range set.lines {
		k.Text(line, set.size, room.X, room.Y+set.size*(0.8+leading*pages.Length(i)))
	}
	y := at.Y + at.Height*0.4 - labelEdge
	k.Line(hair, 0.5, inner.X, y, inner.Right(), y)
}

// LabelTest adds a test sheet: the edge, the middle and the number of every label,
// to be laid on a sheet of labels and held against the light.
//
// Errors: those of Labels.
func (d *Document) LabelTest(s pages.LabelSheet, shift pages.Shift) error {
	return d.onLabels(s, 1, shift, s.Count(), func(k *Ink, i int, at pages.Rect) {
		k.Frame(at, hair, 0)
		x, y := at.X+at.Width/2, at.Y+at.Height/2
		const arm pages.Length = 4
		k.Line(hair, 0, x-arm, y, x+arm, y)
		k.Line(hair, 0, x, y-arm, x, y+arm)
		k.Text(strconv.Itoa(i+1), 4, at.X+labelEdge, at.Y+labelEdge+3)
		if i > 0 {
			return
		}
		words := fmt.Sprintf("Print at 100 %% and hold it with a sheet of labels against the light. Shift now: %s to the right, %s down. Frames too far left by 1 mm: add 1 to the right.", shift.X, shift.Y)
		room := pages.Rect{X: at.X + labelEdge, Y: y + arm, Size: pages.Size{Width: at.Width - 2*labelEdge, Height: at.Bottom() - y - arm - 1}}
		if set, fits := k.doc.letters.fit([]string{words}, room.Size, 2.6, 1.4); fits {
			for n, line := range set.lines {
				k.Text(line, set.size, room.X, room.Y+set.size*(0.8+leading*pages.Length(n)))
			}
		}
	})
}

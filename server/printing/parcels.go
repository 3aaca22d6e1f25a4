package printing

import (
	"fmt"
	"io"
	"strings"
	"time"

	"pairwall/sequence/edition"
	"pairwall/sequence/edition/dispatch"
	"pairwall/sequence/edition/orders"
	"pairwall/sequence/edition/post"
	"pairwall/sequence/pages"
	"pairwall/sequence/press"
)

// Batch is parcels that something is printed for.
type Batch struct {
	Title   string
	Made    time.Time
	Sender  orders.Addressee
	Parcels []dispatch.ToPack
}

// HandLabel is a label on which something has to be written by hand.
type HandLabel struct {
	Order  int64    `json:"order"`
	Number string   `json:"number"`
	Name   string   `json:"name"`
	Why    []string `json:"why"` // sentences
}

// Labelled are the parcels that are posted, each with its label.
func (b Batch) Labelled(style pages.LabelStyle) (labels []press.Label, of []dispatch.ToPack) {
	var from []string
	if style.Sender {
		from = b.Sender.Label("") // the country is told: parcels come back from abroad
	}
	for _, p := range b.Parcels {
		if p.InPerson() {
			continue
		}
		label := press.Label{From: from, To: p.Label}
		if style.Foot {
			label.Foot = foot(p)
		}
		labels, of = append(labels, label), append(of, p)
	}
	return labels, of
}

// foot is what the maker knows a parcel by.
func foot(p dispatch.ToPack) string {
	words := p.Number + " · " + strings.Join(p.Marks, ", ")
	if p.Parts > 1 {
		words += fmt.Sprintf(" · parcel %d of %d", p.Part, p.Parts)
	}
	return words
}

// ByHand lists the labels that are not printed whole, and why.
func (p *Press) ByHand(b Batch, style pages.LabelStyle) ([]HandLabel, error) {
	letters, err := p.letters()
	if err != nil {
		return nil, err
	}
	list := []HandLabel{}
	labels, of := b.Labelled(style)
	for i, label := range labels {
		if why := letters.Doubts(label, style.Sheet.Label); len(why) > 0 {
			list = append(list, HandLabel{of[i].Order, of[i].Number, of[i].Name, why})
		}
	}
	return list, nil
}

// document makes a file that draw draws.
func (p *Press) document(out io.Writer, title string, made time.Time, draw func(*press.Document, press.Letters) error) error {
	letters, err := p.letters()
	if err != nil {
		return err
	}
	d := press.Begin(out, press.About{Title: title, Made: made}, letters)
	if err := draw(d, letters); err != nil {
		return err
	}
	return d.End()
}

// Labels makes a PDF of address labels.
//
// Errors: those of press.Document.Labels; Unreadable when out fails.
func (p *Press) Labels(out io.Writer, b Batch, style pages.LabelStyle) error {
	return p.document(out, b.Title, b.Made, func(d *press.Document, _ press.Letters) error {
		labels, _ := b.Labelled(style)
		return d.Labels(style.Sheet, style.First, style.Shift, labels)
	})
}

// LabelTest makes a PDF of the test sheet.
//
// Errors: those of Labels.
func (p *Press) LabelTest(out io.Writer, b Batch, style pages.LabelStyle) error {
	return p.document(out, b.Title, b.Made, func(d *press.Document, _ press.Letters) error { return d.LabelTest(style.Sheet, style.Shift) })
}

// settable is a text as it can be printed, or a word that it cannot.
func settable(l press.Letters, text string) string {
	if l.Unset(text) != "" {
		return "(cannot be set; see the screen)"
	}
	return press.Tidied(text)
}

// PackingList makes a PDF of what goes into which parcel, in shelf order.
//
// Error: Unreadable when out fails.
func (p *Press) PackingList(out io.Writer, b Batch) error {
	return p.document(out, b.Title, b.Made, func(d *press.Document, l press.Letters) error {
		columns := []press.Column{{Name: "Copies", Width: 26}, {Name: "Order", Width: 22}, {Name: "For"}, {Name: "Packed in", Width: 32}, {Name: "Weighs", Width: 18, Right: true}, {Name: "Goes by", Width: 26}}
		var rows [][]string
		for _, one := range b.Parcels {
			name, where := settable(l, one.Name), settable(l, one.To.Name())
			if one.InPerson() {
				where = "handed over"
			}
			row := []string{strings.Join(one.Marks, ", "), settable(l, one.Number), strings.Trim(name+", "+where, ", "), "", "", ""}
			if one.Parts > 1 {
				row[1] += fmt.Sprintf(" (%d of %d)", one.Part, one.Parts)
			}
			if one.Wish != "" {
				row[2] += " – “" + settable(l, one.Wish) + "”"
			}
			if one.Posted != nil {
				var things []string
				for _, c := range one.Posted.Parcel.Contents[1:] { // the copies come first
					things = append(things, strings.TrimPrefix(fmt.Sprintf("%d × %s", c.Count, settable(l, c.Name)), "1 × "))
				}
				row[3], row[4], row[5] = strings.Join(things, ", "), one.Posted.Parcel.Mass.String(), settable(l, one.Posted.Choice.Service)
			} else if !one.InPerson() {
				row[5] = "ask at the post"
			}
			rows = append(rows, row)
		}
		return d.Table("Packing list: "+settable(l, b.Title), columns, rows)
	})
}

// mostMarks is how many copies a slip names one by one: some four lines.
const mostMarks = 24

// Thanks makes a PDF of thank-you slips.
//
// Errors: those of press.Document.Slips; Unreadable when out fails.
func (p *Press) Thanks(out io.Writer, b Batch, words string) error {
	return p.document(out, b.Title, b.Made, func(d *press.Document, l press.Letters) error {
		slips := make([]press.Slip, len(b.Parcels))
		for i, one := range b.Parcels {
			copies := strings.Join(one.Marks, ", ")
			if len(one.Marks) > mostMarks {
				copies = fmt.Sprintf("%d copies", len(one.Marks))
			}
			slips[i] = press.Slip{Words: words, Foot: settable(l, b.Title) + ", " + copies}
			if one.Name != "" && l.Unset(one.Name) == "" {
				slips[i].To = press.Tidied(one.Name) + ","
			}
		}
		return d.Slips(slips)
	})
}

// Declared is a parcel's customs declaration with who sends it to whom.
type Declared struct {
	Number      string
	To          []string
	Declaration post.Declaration
}

// Customs makes a PDF of what customs forms have to say, one sheet for each.
//
// Error: Unreadable when out fails.
func (p *Press) Customs(out io.Writer, b Batch, list []Declared) error {
	return p.document(out, b.Title, b.Made, func(d *press.Document, l press.Letters) error {
		for _, one := range list {
			if err := d.Letter(declared(l, b.Sender.Label(""), one)); err != nil {
				return err
			}
		}
		return nil
	})
}

func declared(l press.Letters, from []string, one Declared) []press.Paragraph {
	d := one.Declaration
	title := string(d.Form)
	if d.Form == post.NoForm {
		title = "CN 22 or CN 23"
	}
	sheet := []press.Paragraph{{Words: "Customs declaration, " + title + ": what to copy onto the form, or to attach"}, {Words: "Order " + settable(l, one.Number)}, {}}
	block := func(name string, lines []string) {
		for i, line := range lines {
			if i > 0 {
				name = "\u00a0"
			}
			sheet = append(sheet, press.Paragraph{Name: name, Words: settable(l, line)})
		}
		sheet = append(sheet, press.Paragraph{})
	}
	block("From", from)
	block("To", one.To)
	add := func(name, words string) { sheet = append(sheet, press.Paragraph{Name: name, Words: words}) }
	add("Category", string(d.Category))
	for _, item := range d.Items {
		sheet = append(sheet, press.Paragraph{})
		add("Contents", item.Words)
		add("Quantity", fmt.Sprint(item.Quantity))
		add("Net weight", item.Mass.String())
		add("Value", said(item.Value))
		add("HS tariff number", item.HS)
		origin := item.Origin.Name()
		if origin == "" {
			origin = "not said yet: where the copies were printed"
		}
		add("Country of origin", origin)
	}
	sheet = append(sheet, press.Paragraph{})
	add("Total weight", d.Mass.String())
	add("Total value", said(d.Value))
	if d.SDR != "" && d.Rate != nil {
		words := fmt.Sprintf("%s, at %s %s for one, %s", d.SDR, d.Rate.Worth, d.Rate.Currency, d.Rate.Day)
		if d.Rate.Source != "" {
			words += " (" + settable(l, d.Rate.Source) + ")"
		}
		add("In SDR", words)
	}
	sheet = append(sheet, press.Paragraph{})
	add("Date and signature", strings.Repeat("_", 34))
	sheet = append(sheet, press.Paragraph{})
	for _, words := range append([]string{d.Need.Why}, append(d.Doubts, d.Caution)...) {
		if words != "" {
			sheet = append(sheet, press.Paragraph{Words: words})
		}
	}
	return sheet
}

func said(m edition.Money) string {
	if m.Currency == "" {
		return "not said yet"
	}
	return m.String()
}

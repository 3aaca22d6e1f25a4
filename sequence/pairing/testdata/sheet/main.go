// Sheet brings in the photographs of some folders and draws picture sheets to be
// looked at: for each kind and each relation the ten best pairs, as they would
// hang, with the reasons below; and an arrangement by each ordering.
//
//	go run ./sequence/pairing/testdata/sheet -out /tmp/sheets ../shared/photos/rome-2024 ../shared/photos/photos-cc0
package main

import (
	"cmp"
	"context"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	_ "image/jpeg"
	"image/png"
	"io/fs"
	"log"
	"os"
	"path/filepath"
	"slices"

	xdraw "golang.org/x/image/draw"
	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/sequence/pairing"
)

// Sizes in pixels.
const (
	height = 190 // of a picture
	width  = 285
	gutter = 4
	words  = 62 // below a spread
	margin = 16
	best   = 10
	letter = 7 // of the fixed font
)

func main() {
	out := flag.String("out", "/tmp/sheets", "the folder the sheets go to")
	flag.Parse()
	s := sheets{out: *out}
	if err := s.bring(flag.Args()); err != nil {
		log.Fatal(err)
	}
	s.measures = pairing.New(s.photos)
	for _, kind := range pairing.Vocabulary() {
		if err := s.save("best-"+string(kind), s.bestBy(kind)); err != nil {
			log.Fatal(err)
		}
	}
	for _, ordering := range pairing.Orderings() {
		spreads, rule, err := s.arranged(ordering)
		if err == nil {
			fmt.Printf("%s: %s\n", cmp.Or(string(ordering), "fitting"), rule)
			err = s.save("order-"+cmp.Or(string(ordering), "fitting"), spreads)
		}
		if err != nil {
			log.Fatal(err)
		}
	}
}

type sheets struct {
	out      string
	photos   []sequence.Photo
	pictures map[sequence.PhotoID]image.Image
	measures *pairing.Measures
}

// spread is a pair as it would hang, with what is said of it.
type spread struct {
	left, right sequence.PhotoID
	score       float64
	words       string
}

func (s *sheets) bring(folders []string) error {
	cards := filepath.Join(s.out, "cards")
	s.pictures = make(map[sequence.PhotoID]image.Image)
	for _, folder := range folders {
		err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			photo, err := intake.Read(context.Background(), path, cards)
			if err != nil {
				fmt.Println("not read:", path, err)
				return nil
			}
			photo.Number = sequence.PhotoID(len(s.photos) + 1)
			file, err := os.Open(intake.CardPath(cards, photo.Hash, 400))
			if err != nil {
				return err
			}
			defer file.Close()
			picture, _, err := image.Decode(file)
			s.photos, s.pictures[photo.Number] = append(s.photos, photo), picture
			fmt.Printf("%3d %s\n", photo.Number, photo.Name)
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// bestBy lists the best pairs by one kind or relation, each photo in at most two.
func (s *sheets) bestBy(kind pairing.Kind) []spread {
	var all []spread
	for i, p := range s.photos {
		for _, q := range s.photos[:i] {
			j, err := s.measures.Pair(p.Number, q.Number, pairing.Balance{string(kind): 1})
			if err != nil {
				log.Fatal(err)
			}
			if j.Judged && !j.Alike {
				all = append(all, s.spreadOf(p.Number, q.Number, j))
			}
		}
	}
	slices.SortStableFunc(all, func(x, y spread) int { return cmp.Compare(y.score, x.score) })
	used := make(map[sequence.PhotoID]int)
	var list []spread
	for _, x := range all {
		if len(list) < best && used[x.left] < 2 && used[x.right] < 2 {
			used[x.left]++
			used[x.right]++
			list = append(list, x)
		}
	}
	return list
}

func (s *sheets) spreadOf(one, other sequence.PhotoID, j pairing.Judgement) spread {
	left, right := j.Left, one
	if left == one {
		right = other
	}
	return spread{left, right, j.Score, j.Reasons + " [" + j.LeftWhy + "]"}
}

func (s *sheets) arranged(ordering pairing.Ordering) (spreads []spread, rule string, err error) {
	table := make([]sequence.PhotoID, len(s.photos))
	for i, p := range s.photos {
		table[i] = p.Number
	}
	p, err := s.measures.Propose(sequence.Sequence{}, pairing.Plan{Scope: pairing.Table, Table: table, Ordering: ordering})
	if err != nil {
		return nil, "", err
	}
	said := make(map[sequence.SpreadID]pairing.Judgement)
	for _, proposed := range p.Spreads {
		said[proposed.Spread] = proposed.Judgement
	}
	for _, hung := range p.Sequence.Spreads {
		spreads = append(spreads, spread{hung.Left, hung.Right, said[hung.ID].Score, said[hung.ID].Reasons})
	}
	for _, left := range p.Left {
		fmt.Printf("  left: %d, %s\n", left.Photo, left.Why)
	}
	return spreads, p.Rule, nil
}

func (s *sheets) save(name string, spreads []spread) error {
	const columns = 2
	if len(spreads) == 0 {
		fmt.Println("no pairs:", name)
		return nil
	}
	rows := (len(spreads) + columns - 1) / columns
	cellWidth, cellHeight := 2*width+gutter+margin, height+words
	sheet := image.NewRGBA(image.Rect(0, 0, columns*cellWidth+margin, rows*cellHeight+margin))
	draw.Draw(sheet, sheet.Rect, image.NewUniform(color.Gray{235}), image.Point{}, draw.Src)
	for k, x := range spreads {
		at := image.Pt(margin+k%columns*cellWidth, margin+k/columns*cellHeight)
		s.hang(sheet, at, x.left, true)
		s.hang(sheet, at.Add(image.Pt(width+gutter, 0)), x.right, false)
		s.write(sheet, at.Add(image.Pt(0, height+14)), fmt.Sprintf("%d | %d  %.2f  %s", x.left, x.right, x.score, x.words))
	}
	file, err := os.Create(filepath.Join(s.out, name+".png"))
	if err != nil {
		return err
	}
	return cmp.Or(png.Encode(file, sheet), file.Close())
}

// hang draws a photo into its page, against the gutter.
func (s *sheets) hang(sheet draw.Image, at image.Point, photo sequence.PhotoID, left bool) {
	picture := s.pictures[photo]
	if picture == nil {
		return
	}
	size := picture.Bounds().Size()
	scale := min(float64(width)/float64(size.X), float64(height)/float64(size.Y))
	w, h := int(scale*float64(size.X)), int(scale*float64(size.Y))
	if left {
		at.X += width - w
	}
	at.Y += (height - h) / 2
	xdraw.CatmullRom.Scale(sheet, image.Rect(at.X, at.Y, at.X+w, at.Y+h), picture, picture.Bounds(), draw.Src, nil)
}

// write breaks a sentence into lines as wide as a spread.
func (s *sheets) write(sheet draw.Image, at image.Point, sentence string) {
	const most = (2*width + gutter) / letter
	d := font.Drawer{Dst: sheet, Src: image.Black, Face: basicfont.Face7x13}
	for line := 0; sentence != "" && line < 3; line++ {
		part := []rune(sentence)
		n := min(most, len(part))
		d.Dot = fixed.P(at.X, at.Y+line*14)
		d.DrawString(string(part[:n]))
		sentence = string(part[n:])
	}
}

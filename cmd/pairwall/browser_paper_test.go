package main

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp/kb"

	"pairwall/sequence"
	"pairwall/sequence/intake"
	"pairwall/sequence/pages"
	"pairwall/sequence/pages/code"
)

// photographed hangs small prints of the title's own photographs on a wall of
// paper, in rows, 0 for the room between two spreads, and photographs it from
// one side. The print of torn has no code that can be read.
func (a *app) photographed(torn sequence.PhotoID, rows ...[]sequence.PhotoID) string {
	a.t.Helper()
	const scale = 7 // pixels to the millimetre: codes of 63 pixels
	title, err := a.store.Title(a.t.Context(), a.title)
	if err != nil {
		a.t.Fatal(err)
	}
	flat := image.NewRGBA(image.Rect(0, 0, 3100, 60+720*len(rows)))
	draw.Draw(flat, flat.Rect, image.NewUniform(color.Gray{Y: 168}), image.Point{}, draw.Src)
	for r, row := range rows {
		x := 80
		for k, number := range row {
			if number == 0 {
				x += 25 * scale
				continue
			}
			width := a.drawPrint(flat, image.Pt(x, 60+720*r+(k*37)%15), scale, code.TagOf(title), number, number == torn)
			x += width + 6*scale
		}
	}
	path := filepath.Join(a.t.TempDir(), "wall.jpg")
	file, err := os.Create(path)
	if err != nil {
		a.t.Fatal(err)
	}
	defer file.Close()
	if err := jpeg.Encode(file, fromOneSide(flat), &jpeg.Options{Quality: 88}); err != nil {
		a.t.Fatal(err)
	}
	return path
}

// drawPrint draws one small print and returns its width in pixels.
func (a *app) drawPrint(on *image.RGBA, at image.Point, scale float64, tag code.Tag, number sequence.PhotoID, torn bool) int {
	a.t.Helper()
	photo, err := a.store.Photo(a.t.Context(), a.title, number)
	if err != nil {
		a.t.Fatal(err)
	}
	file, err := os.Open(intake.CardPath(filepath.Join(a.data, "cards"), photo.Hash, 400))
	if err != nil {
		a.t.Fatal(err)
	}
	defer file.Close()
	picture, err := jpeg.Decode(file)
	if err != nil {
		a.t.Fatal(err)
	}
	made, err := code.Of(tag, number)
	if err != nil {
		a.t.Fatal(err)
	}
	print := pages.FirstPrintStyle.Print(pages.Proportion{Photo: number, Width: float64(photo.Width), Height: float64(photo.Height)})
	px := func(l pages.Length) int { return int(math.Round(l.Mm() * scale)) }
	area := func(r pages.Rect) image.Rectangle {
		return image.Rect(px(r.X), px(r.Y), px(r.Right()), px(r.Bottom())).Add(at)
	}
	draw.Draw(on, area(print.Cut), image.NewUniform(color.Gray{Y: 245}), image.Point{}, draw.Src)
	in := area(print.Picture)
	for y := in.Min.Y; y < in.Max.Y; y++ {
		for x := in.Min.X; x < in.Max.X; x++ {
			on.Set(x, y, picture.At((x-in.Min.X)*picture.Bounds().Dx()/in.Dx(), (y-in.Min.Y)*picture.Bounds().Dy()/in.Dy()))
		}
	}
	module := print.Code.Width / code.Side
	for y, row := range made.Modules() {
		for x, dark := range row {
			if dark && (!torn || x < 8 && y < 8 || x > 12 && y < 8 || x < 8 && y > 12 || x == 6 || y == 6) {
				draw.Draw(on, area(pages.Rect{X: print.Code.X + pages.Length(x)*module, Y: print.Code.Y + pages.Length(y)*module, Size: pages.Size{Width: module, Height: module}}),
					image.NewUniform(color.Gray{Y: 25}), image.Point{}, draw.Src)
			}
		}
	}
	return px(print.Cut.Width)
}

// fromOneSide shows a flat picture in perspective and in light from one side.
func fromOneSide(flat *image.RGBA) *image.RGBA {
	w, h := flat.Rect.Dx(), flat.Rect.Dy()
	out := image.NewRGBA(flat.Rect)
	for y := range h {
		for x := range w {
			u, v := float64(x)/float64(w), float64(y)/float64(h)-0.5
			depth := 1 + 0.12*(1-u)
			fx, fy := int(float64(w)*(1-(1-u)*(1.06*1/depth+0.03))), int(float64(h)*(0.5+v*depth))
			if fx < 0 || fy < 0 || fx >= w || fy >= h {
				out.SetRGBA(x, y, color.RGBA{150, 150, 150, 255})
				continue
			}
			c := flat.RGBAAt(fx, fy)
			lit := 0.72 + 0.28*u
			out.SetRGBA(x, y, color.RGBA{uint8(float64(c.R) * lit), uint8(float64(c.G) * lit), uint8(float64(c.B) * lit), 255})
		}
	}
	return out
}

func TestAWallTypedAsOneReadsItOffIsHungAndItsSlipsPointAtTheirPlace(t *testing.T) {
	a := startApp(t)
	b := a.visit(desktop)
	const field = `textarea[name="hanging"]`
	b.click(group("paper"))
	b.click(act("paper-wall"))
	b.bringAxe()
	b.passes("the empty sheet", panel("paper-wall"))

	b.write(field, "12+470 / 3+19 / 8")
	b.says(".paper-slips", "There is no photo 470 in this title.")
	b.says(".paper-slips mark", "470")
	b.there(act("hang-so") + "[disabled]")
	b.passes("a slip", panel("paper-wall"))
	b.tabTo(act("go-to-slip"))
	b.key(kb.Enter)
	b.until("the place is chosen in the text", call(`(s) => { const f = document.querySelector(s); return document.activeElement === f && f.value.slice(f.selectionStart, f.selectionEnd) === "470"; }`, field))
	b.key("7")
	b.gone(".paper-slips li")
	b.says("[data-outcome]", "2 spreads.")
	b.passes("what was read", panel("paper-wall"))

	b.tabTo(`[data-number="12"]`)
	b.key(kb.Enter)
	b.click(act("other-side"))
	b.until("the text follows", call(`(s) => document.querySelector(s).value === "7+12 / 3+19 / 8"`, field))
	b.there(act("hang-so") + ":not([disabled])")
	b.click(act("hang-so"))
	b.sees("[-] (7 12) (3 19) [8]")
	b.gone(panel("paper-wall"))
	b.click(act("undo"))
	b.sees("[-] [-]")
}

func TestAPhotographOfThePaperWallIsReadCorrectedAndHung(t *testing.T) {
	a := startApp(t)
	a.hang("[-] (5 6) [-]")
	path := a.photographed(9, []sequence.PhotoID{1, 0, 2, 3, 0, 4, 5}, []sequence.PhotoID{7, 8, 0, 9, 10, 0, 11})
	if keep := os.Getenv("PAIRWALL_SHOTS"); keep != "" {
		copyFile(t, path, filepath.Join(keep, "paper wall.jpg"))
	}
	b := a.visit(desktop)
	b.click(group("paper"))
	b.click(act("paper-wall"))
	b.drop(b.spot(".paper-take"), path)
	b.there(`[data-reading="done"]`)
	b.hears("9 codes read in 1 photograph.")
	const field = `textarea[name="hanging"]`
	reads := func(text string) {
		b.t.Helper()
		told := ""
		b.wait("the text is "+text, func() bool {
			told = read[string](b, call(`(s) => document.querySelector(s).value`, field))
			return told == text
		}, func() string { return fmt.Sprintf("; it is %q", told) })
	}
	reads("1 / 2+3 / 4+5 / 7+8 / 10+ / 11")
	b.says("[data-outcome]", "6. They would lie on the table")

	b.click(`[data-mark="?"]`)
	b.write(".paper-chosen input", "9")
	b.key(kb.Enter)
	reads("1 / 2+3 / 4+5 / 7+8 / 9+ / 10+ / 11")
	b.there(`[data-chosen-number="9"]`)
	b.click(act("face-next"))
	reads("1 / 2+3 / 4+5 / 7+8 / 9+10 / 11")
	b.there(`.paper-label[data-mark="9"][aria-pressed="true"]`)
	b.bringAxe()
	if violations := read[[]string](b, call(runAxe, "")); len(violations) > 0 {
		t.Errorf("with a photograph: %v", violations)
	}
	b.tabTo(`.paper-label[data-mark="4"]`)
	b.key(kb.Enter)
	b.there(`[data-chosen-number="4"]`)

	b.write(`.paper-foot input`, "As it hung on Thursday")
	b.key(kb.Enter)
	b.gone(panel("paper-wall"))
	b.hears("Kept as As it hung on Thursday")
	b.sees("[-] (5 6) [-]")
	versions, err := a.store.Versions(t.Context(), a.title)
	if err != nil {
		t.Fatal(err)
	}
	kept := false
	for _, v := range versions {
		kept = kept || v.Name == "As it hung on Thursday" && notation(v.Sequence) == "[1] (2 3) (4 5) (7 8) (9 10) [11]"
	}
	if !kept {
		t.Errorf("it was not kept: %+v", versions)
	}
	if photos, err := a.store.Photos(t.Context(), a.title); err != nil || len(photos) != allPhotos {
		t.Errorf("the title has %d photos, %v", len(photos), err)
	}
}

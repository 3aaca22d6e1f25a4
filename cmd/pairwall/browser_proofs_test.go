package main

import (
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	xdraw "golang.org/x/image/draw"

	"pairwall/sequence"
	"pairwall/sequence/colour"
	"pairwall/sequence/edition/quotes"
	"pairwall/sequence/intake"
	"pairwall/sequence/pages"
)

// proofOf prints a photo alone on its page, leaning by so much of a*, and
// photographs it on a dark table, where a grey card may lie on its left.
func (a *app) proofOf(number sequence.PhotoID, lean float64, grey bool) string {
	a.t.Helper()
	photo, err := a.store.Photo(a.t.Context(), a.title, number)
	if err != nil {
		a.t.Fatal(err)
	}
	from, err := os.Open(intake.CardPath(filepath.Join(a.data, "cards"), photo.Hash, 1600))
	if err != nil {
		a.t.Fatal(err)
	}
	defer from.Close()
	card, err := jpeg.Decode(from)
	if err != nil {
		a.t.Fatal(err)
	}
	book := pages.Lay(pages.FirstFormat, pages.FirstPlan, sequence.Sequence{Opening: number}, map[sequence.PhotoID]sequence.Photo{number: photo})
	shown := book.Pages[0].Shown
	const k, left, top = 5.0, 250, 120 // pixels to the millimetre, and where the page lies
	trim := book.Format.Trim
	shot := image.NewRGBA(image.Rect(0, 0, int(k*trim.Width.Mm())+2*left, int(k*trim.Height.Mm())+2*top))
	draw.Draw(shot, shot.Rect, image.NewUniform(color.RGBA{64, 60, 56, 255}), image.Point{}, draw.Src)
	if grey {
		draw.Draw(shot, image.Rect(40, 400, 200, 620), image.NewUniform(color.RGBA{118, 118, 118, 255}), image.Point{}, draw.Src)
	}
	white := image.NewUniform(color.RGBA{231, 231, 231, 255})
	draw.Draw(shot, image.Rect(left, top, left+int(k*trim.Width.Mm()), top+int(k*trim.Height.Mm())), white, image.Point{}, draw.Src)
	at := image.Rect(left+int(k*shown.Picture.X.Mm()), top+int(k*shown.Picture.Y.Mm()), left+int(k*shown.Picture.Right().Mm()), top+int(k*shown.Picture.Bottom().Mm()))
	xdraw.CatmullRom.Scale(shot, at, card, card.Bounds(), draw.Src, nil)
	for y := at.Min.Y; y < at.Max.Y; y++ {
		for x := at.Min.X; x < at.Max.X; x++ {
			p := shot.Pix[shot.PixOffset(x, y):]
			light := [3]float64{colour.LinearSRGB(p[0]), colour.LinearSRGB(p[1]), colour.LinearSRGB(p[2])}
			for c, v := range colour.D50FromLinear(light).Plus(colour.LabD50{A: lean}).Linear() {
				p[c] = colour.EncodeSRGB(0.8 * v) // as bright as the paper
			}
		}
	}
	path := filepath.Join(a.t.TempDir(), "proof.jpg")
	file, err := os.Create(path)
	if err != nil {
		a.t.Fatal(err)
	}
	defer file.Close()
	if err := jpeg.Encode(file, shot, &jpeg.Options{Quality: 90}); err != nil {
		a.t.Fatal(err)
	}
	return path
}

func TestAProofIsMeasuredJudgedAndComparedWithTheNextRound(t *testing.T) {
	a := startApp(t)
	a.hang("[9] (1 2) (3 4) [-]")
	b := a.visit(desktop)
	b.bringAxe()
	b.click(act("proofs"))
	b.says(panel("proofs"), "When a proof comes, begin a round")
	b.passes("no round yet", panel("proofs"))

	b.click(act("begin-round"))
	b.says("[data-round] h3", "Round 1")
	b.says("[data-round]", "the version “Proof 1”")
	b.giveFile(`[data-round] .photographs input[type="file"]`, a.proofOf(9, 6, false))
	b.says("[data-photograph] .told", "lean pink: +")
	b.says("[data-photograph] .printer", "less magenta")
	b.says("[data-photograph]", "no spectrophotometer")
	b.until("the photograph is there", `document.querySelector("[data-photograph] img").naturalWidth > 500`)
	b.click("[data-photograph] " + act("shift-map"))
	b.until("the map has fields", `document.querySelectorAll(".shift-map rect").length > 20`)

	b.click("[data-photograph] " + act("grey-card"))
	b.click(`[data-photograph] [name="card-x"]`)
	b.keyWith("a", chromedp.ModifierCtrl)
	b.key("5")
	b.click("[data-photograph] " + act("by-card"))
	b.there(`[data-photograph][data-base="card"]`)
	b.passes("a round with a photograph", panel("proofs"))

	b.click(act("check-list"))
	b.click(`[data-question="trim"] input[value="not good"]`)
	b.says(act("check-list"), "1 of")
	b.click(`.verdict input[value="go with changes"]`)
	b.says("[data-round] h3", "print, once it is changed")
	b.tabTo(`.verdict [name="changes"]`)
	b.key("less magenta in the midtones", kb.Tab)
	b.hears("It is kept.")
	b.passes("the check list", panel("proofs"))

	b.click(act("begin-round"))
	b.says("[data-round] h3", "Round 2")
	b.until("each round has a check list of its own", `document.querySelectorAll('[data-question="trim"] input:checked').length === 2`)
	b.giveFile(`[data-round="2"] .photographs input[type="file"]`, a.proofOf(9, 0, true))
	b.says(`[data-round="2"] .since`, "Better: ")
	b.says(`[data-round="2"] `+act("grey-card"), "There may be a grey card in it")
	b.there(`[data-round="2"] [data-photograph][data-base="paper"]`) // it was not used unasked
	b.click(`[data-round="2"] ` + act("grey-card"))
	b.says(`[data-round="2"] [data-photograph]`, "The ring lies on what may be a grey card")
	b.click(`[data-round="2"] ` + act("by-card"))
	b.there(`[data-round="2"] [data-photograph][data-base="card"]`)
	b.click(`[data-round="2"] ` + act("take-out-photograph"))
	b.gone(`[data-round="2"] [data-photograph]`)
	b.click(`[data-round="2"] ` + act("put-back-photograph"))
	b.there(`[data-round="2"] [data-photograph]`)
	b.allow("404") // the browser logs that the page was not found
	b.giveFile(`[data-round="2"] .photographs input[type="file"]`, a.proofOf(5, 0, false))
	b.says(panel("proofs")+" .trouble", "The page was not found in this photograph")
	b.click(`[data-round="2"] ` + act("take-out-round"))
	b.gone(`[data-round="2"]`)
	b.click(act("put-back-round"))
	b.there(`[data-round="2"]`)

	b.reload()
	b.there(card(1))
	b.click(act("proofs"))
	b.says(`[data-round="1"] h3`, "print, once it is changed")
	b.until("what is to be changed is kept", `document.querySelector('[data-round="1"] [name="changes"]').value === "less magenta in the midtones"`)
}

func TestProofsAreSeenInAnotherWindowAndBesideThePrinterAsked(t *testing.T) {
	a := startApp(t)
	a.hang("[9] (1 2) (3 4) [-]")
	if err := a.store.KeepPrinter(t.Context(), a.title, 0, 0, quotes.Printer{Name: "Tipografia Immaginaria"}); err != nil {
		t.Fatal(err)
	}
	if err := a.store.KeepQuote(t.Context(), a.title, 0, 0, quotes.Quote{Printer: 1, Currency: "EUR"}); err != nil {
		t.Fatal(err)
	}
	b := a.visit(desktop)
	second := b.beside()
	second.bringAxe()
	second.click(act("proofs"))
	second.says(panel("proofs"), "When a proof comes, begin a round")
	b.click(act("proofs"))
	b.click(act("begin-round"))
	second.says("[data-round] h3", "Round 1")
	b.giveFile(`[data-round] .photographs input[type="file"]`, a.proofOf(9, 6, false))
	second.says("[data-photograph] .told", "lean pink: +")

	// What is being written in one window stays when the other one's news comes.
	second.write(kept("came"), "two sheets")
	b.until("the printer asked is offered", `document.querySelector('[data-round] datalist option').value === "Tipografia Immaginaria"`)
	b.retypes(kept("printer"), "tipografia immaginaria")
	second.says("[data-round]", "tipografia immaginaria is one of the title’s printers")
	second.until("what is written is still there", call(`(s) => document.querySelector(s).value === "two sheets"`, kept("came")))
	second.key(kb.Tab)
	b.until("it is kept", call(`(s) => document.querySelector(s).value === "two sheets"`, kept("came")))

	second.click(act("to-quotes"))
	second.click(partOf("asked"))
	second.says(`[data-printer="1"] `+act("to-proofs"), "Proof 1: undecided")
	b.click(`.verdict input[value="go with changes"]`)
	second.says(`[data-printer="1"] `+act("to-proofs"), "Proof 1: print, once it is changed")
	second.passes("a printer with a proof", panel("quotes"))
	second.click(partOf("given"))
	second.says(`[data-quote="1"] `+act("to-proofs"), "Proof 1: print, once it is changed")
	second.click(act("to-proofs"))
	second.says("[data-round] h3", "print, once it is changed")

	b.retypes(kept("printer"), "somebody else")
	second.gone(act("to-quotes"))
}

func TestProofsAreReadOnATelephone(t *testing.T) {
	a := startApp(t)
	a.hang("[9] (1 2) (3 4) [-]")
	b := a.visit(phone)
	b.bringAxe()
	b.click(act("proofs"))
	b.click(act("begin-round"))
	b.giveFile(`[data-round] .photographs input[type="file"]`, a.proofOf(9, 5, false))
	b.there("[data-photograph] .told")
	b.wait("nothing stands out to the side", func() bool { return read[string](b, standsOut) == "" }, func() string { return read[string](b, standsOut) })
	b.passes("proofs on a telephone", panel("proofs"))
}

// standsOut names what of the panel reaches beyond its right edge.
const standsOut = `[...document.querySelectorAll('[data-panel="proofs"] *')].filter((e) => e.getBoundingClientRect().right > innerWidth).map((e) => e.tagName + "." + e.getAttribute("class")).join(" ")`

package main

import (
	"testing"

	"github.com/chromedp/chromedp/kb"
)

func TestATitleIsCheckedBeforePrint(t *testing.T) {
	a := startApp(t)
	a.hang("[9] (1 2) (3 4) (5 6) (7 8) [-]")
	b := a.visit(desktop)
	b.bringAxe()

	b.click(act("checks"))
	b.says(panel("checks"), "No printer's profile is known")
	b.says(panel("checks"), "9 photos on them")
	b.gone(panel("checks") + ` [data-misfit="colours"]`)
	b.passes("the check", panel("checks"))

	b.giveFile(panel("checks")+` input[type="file"]`, "/usr/share/color/icc/ghostscript/default_cmyk.icc")
	b.says("[data-inks]", "Artifex CMYK SWOP Profile")
	b.there(panel("checks") + ` [data-misfit="colours"]`)
	b.tabTo(panel("checks") + ` [data-misfit="colours"] ` + act("see-where"))
	b.key(kb.Enter)
	b.until("the picture of where is there", `document.querySelector(".beyond img")?.naturalWidth === 400 || document.querySelector(".beyond img")?.naturalHeight === 400`)
	b.typed("ink-limit", "150")
	b.says(panel("checks")+` [data-misfit="ink"]`, "more than the 150 % the printer allows")
	b.passes("the check with inks", panel("checks"))

	b.click(act("drop-inks"))
	b.gone(panel("checks") + ` [data-misfit="colours"]`)
	b.click(panel("checks") + ` [data-misfit] ` + act("show-on-wall"))
	b.gone(panel("checks"))
}

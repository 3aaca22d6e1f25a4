package server

import (
	"net/http"
	"slices"

	"pairwall/sequence"
	"pairwall/server/route"
	"pairwall/store"
)

// Addresses that others begin with.
const (
	titleAt   = "/api/titles/{title}"
	pagesAt   = titleAt + "/pages"
	versionAt = titleAt + "/versions/{version}"
	lineAt    = titleAt + "/lines/{line}"
	readingAt = titleAt + "/readings/{reading}"
	tracksAt  = titleAt + "/tracks"
	bringAt   = titleAt + "/brings/{bring}"
	inksAt    = titleAt + "/inks"
	printsAt  = titleAt + "/printings"
	inquiryAt = titleAt + "/inquiry"
	coverAt   = titleAt + "/cover"
)

// routes is the whole API.
func routes() []route.Line[*Server] {
	return slices.Concat(wallRoutes(), weekRoutes(), readingRoutes(), bookRoutes(), fileRoutes(), factRoutes(), pageRoutes(), printingRoutes(), printerRoutes(), copyRoutes(), proofRoutes(), coverRoutes(), parcelRoutes(), sentRoutes())
}

// wallRoutes are about titles and what hangs on their walls.
func wallRoutes() []route.Line[*Server] {
	return []route.Line[*Server]{
		route.Gives("GET", "/api/titles", "Lists the titles.", (*Server).listTitles),
		route.Takes("POST", "/api/titles", "Begins a title.", (*Server).createTitle, sequence.Conflict).Answering(http.StatusCreated),
		route.Gives("GET", titleAt, "Gives a title with its photos, its wall, the files refused and what was brought in.",
			(*Server).showTitle, sequence.NotFound),
		route.Takes("PATCH", titleAt, "Changes a title's name or how much each kind of evidence counts.",
			(*Server).amendTitle, sequence.NotFound, sequence.Conflict),

		route.Takes("POST", titleAt+"/changes", "Makes a change on the wall.", (*Server).applyChange, sequence.NotFound, sequence.Stale),
		route.Takes("POST", titleAt+"/undo", "Takes back the last act.", (*Server).undo, sequence.NotFound, sequence.Stale),
		route.Takes("POST", titleAt+"/redo", "Does again what was taken back last.", (*Server).redo, sequence.NotFound, sequence.Stale),

		route.Gives("GET", titleAt+"/partners", "Proposes photos to face one photo, with reasons.",
			(*Server).listPartners, sequence.NotFound).Asking(partnerQuery()...),
		route.Takes("POST", titleAt+"/arrangement", "Proposes an arrangement; nothing changes until its change is made.",
			(*Server).arrange, sequence.NotFound),
		route.Takes("POST", titleAt+"/arrangement/accept", "Gives the change that takes some spreads of an arrangement proposed; nothing changes until it is made.",
			(*Server).accept, sequence.NotFound, sequence.Stale),
		route.Gives("GET", titleAt+"/apart", "Lists the pairs that are never to face each other.", (*Server).listApart, sequence.NotFound),
		route.Takes("PUT", titleAt+"/apart", "Keeps a pair apart, or lets it be proposed again.", (*Server).keepApart, sequence.NotFound),
		route.Gives("GET", titleAt+"/losses", "Tells what would be lost with photos on the wall, those first that could best be spared.",
			(*Server).listLosses, sequence.NotFound).Asking(
			route.Parameter{Name: "photo", Kind: "integer", Doc: "Only of this photo, which need not be on the wall."}),
		route.Gives("GET", titleAt+"/photos/{photo}/feelings", "Offers the maker's own words for another photo, the likeliest first.",
			(*Server).suggestFeelings, sequence.NotFound),

		route.Gives("GET", titleAt+"/hung", "Lists the photos that are or once were on the wall, from its journal and its versions.",
			(*Server).listHung, sequence.NotFound),
	}
}

// weekRoutes are about the weeks a wall has hung.
func weekRoutes() []route.Line[*Server] {
	return []route.Line[*Server]{
		route.Gives("GET", titleAt+"/versions", "Lists the versions, newest first, each with what it changed.",
			(*Server).listVersions, sequence.NotFound),
		route.Takes("POST", titleAt+"/versions", "Keeps the present wall under a name.",
			(*Server).keepVersion, sequence.NotFound).Answering(http.StatusCreated),
		route.Gives("GET", versionAt, "Gives a version with its wall and how the present wall differs from it.",
			(*Server).showVersion, sequence.NotFound),
		route.Takes("PATCH", versionAt, "Names a version, says why it was kept, lays a slip in it, or notes that it was looked at.",
			(*Server).amendVersion, sequence.NotFound),
		route.Takes("POST", versionAt+"/bring-back", "Makes a version the present wall, as one change that can be undone.",
			(*Server).bringBack, sequence.NotFound, sequence.Stale),

		route.Takes("POST", titleAt+"/lines", "Begins a line of work from a version beside the present one, and goes over to it.",
			(*Server).beginLine, sequence.NotFound, sequence.Stale, sequence.Conflict),
		route.Takes("PATCH", lineAt, "Gives a line of work another name.", (*Server).nameLine, sequence.NotFound, sequence.Conflict),
		route.Takes("POST", lineAt+"/go-over", "Goes over to another line of work as it was left, as one change that can be undone.",
			(*Server).goOver, sequence.NotFound, sequence.Stale),
		route.Takes("POST", titleAt+"/aside", "Keeps a state made beside the wall as a version, and leaves the wall as it is.",
			(*Server).keepAside, sequence.NotFound, sequence.Stale, sequence.Conflict).Answering(http.StatusCreated),

		route.Takes("POST", titleAt+"/comparison", "Tells what distinguishes two walls; nothing changes.",
			(*Server).compare, sequence.NotFound),
		route.Gives("GET", titleAt+"/settled", "Tells from the journal which pairs of the present line of work have held and which pages never rest.",
			(*Server).lookBack, sequence.NotFound, sequence.Damaged),
		route.Gives("GET", titleAt+"/thinning", "Tells which versions kept by themselves a rule would let go; nothing goes.",
			(*Server).previewThinning, sequence.NotFound, sequence.Damaged).Asking(
			route.Parameter{Name: "keep", Kind: "string", Required: true, Doc: "Of these the last stays: of each day, each week, or none."},
			route.Parameter{Name: "older", Kind: "integer", Doc: "Only those that are at least so many days old."}),
		route.Takes("POST", titleAt+"/thinning", "Takes versions away that the program kept by itself; their states stay in the journal.",
			(*Server).thinOut, sequence.NotFound, sequence.Conflict),
		route.Takes("POST", titleAt+"/thinning/put-back", "Keeps the ends of sittings as versions again that only the journal has.",
			(*Server).putBack, sequence.NotFound, sequence.Damaged),
	}
}

// readingRoutes are about the wall of paper, typed or photographed.
func readingRoutes() []route.Line[*Server] {
	return []route.Line[*Server]{
		route.Takes("POST", titleAt+"/hangings", "Reads a wall that was typed as one reads it off, and tells what would change; nothing changes until its change is made.",
			(*Server).readHanging, sequence.NotFound),
		route.Gives("POST", titleAt+"/readings", "Takes photographs of the paper wall and begins to read them; they are no photos of the title.",
			(*Server).readWall, sequence.NotFound, sequence.Invalid, sequence.TooLarge, route.WrongMedia).Uploading().Asking(
			route.Parameter{Name: "long", Kind: "number", Doc: "The longer side of the small prints' pictures in millimetres; 70 when left out."}),
		route.Gives("GET", readingAt, "Gives what was read off photographs of the paper wall.", (*Server).showReading, sequence.NotFound),
		route.Gives("DELETE", readingAt, "Stops reading, and forgets the photographs.", (*Server).dropReading, sequence.NotFound),
		route.Sends("/shots/{title}/{reading}/{shot}.jpg", "Gives a photograph of the paper wall, from 1, as long as it is being read and corrected.",
			"image/jpeg", (*Server).shotView, sequence.NotFound),
	}
}

// bookRoutes are about the format and how the wall sits on its pages.
func bookRoutes() []route.Line[*Server] {
	return []route.Line[*Server]{
		route.Gives("GET", "/api/formats", "Lists the trim sizes that have a name, and what a format begins with.", (*Server).listFormats),
		route.Gives("GET", pagesAt, "Gives the format and the page plan.", (*Server).showPages, sequence.NotFound),
		route.Takes("PUT", pagesAt, "Keeps a format and a page plan.", (*Server).savePages, sequence.NotFound, sequence.Stale),
		route.Takes("POST", pagesAt+"/undo", "Takes back the last act on format or page plan.", (*Server).undoPages, sequence.NotFound, sequence.Stale),
		route.Takes("POST", pagesAt+"/redo", "Does again what was taken back last of format or page plan.", (*Server).redoPages, sequence.NotFound, sequence.Stale),
		route.Gives("GET", titleAt+"/book", "Lays the wall out on its pages and tells what does not fit.", (*Server).showBook, sequence.NotFound),
		route.Takes("POST", titleAt+"/book", "Lays the wall out by another format or plan, to look at; nothing changes.", (*Server).tryBook, sequence.NotFound),
		route.Sends("/fonts/{face}.ttf", "Gives a face that is printed with, from 1.", "font/ttf", (*Server).font, sequence.NotFound),
	}
}

// fileRoutes are about where photographs lie.
func fileRoutes() []route.Line[*Server] {
	return []route.Line[*Server]{
		route.Gives("GET", "/api/folders", "Lists the folders in a folder of this machine.", (*Server).listFolders, sequence.NotFound).Asking(
			route.Parameter{Name: "path", Kind: "string", Doc: "The folder; the home folder when left out."}),
		route.Takes("POST", titleAt+"/brings", "Begins to bring in the photographs of folders.",
			(*Server).startBring, sequence.NotFound).Answering(http.StatusAccepted),
		route.Gives("POST", titleAt+"/files", "Takes dropped files and begins to bring them in.",
			(*Server).dropFiles, sequence.NotFound, sequence.Invalid, sequence.TooLarge, route.WrongMedia).Uploading(),
		route.Gives("DELETE", bringAt, "Stops bringing in; what came in stays.",
			(*Server).cancelBring, sequence.NotFound).Answering(http.StatusAccepted),
		route.Gives("POST", bringAt+"/go-on", "Brings in again from the same folders or files.",
			(*Server).goOnBring, sequence.NotFound, sequence.Conflict).Answering(http.StatusAccepted),

		route.Gives("GET", titleAt+"/originals", "Tells which originals are missing or not as they were.",
			(*Server).lookAtOriginals, sequence.NotFound),
		route.Takes("POST", titleAt+"/originals", "Begins to look below a folder for originals that are missing or have changed, by their content.",
			(*Server).findOriginals, sequence.NotFound, sequence.Conflict).Answering(http.StatusAccepted),
		route.Gives("DELETE", titleAt+"/originals", "Stops looking for originals; what was found stays found.",
			(*Server).cancelSearch, sequence.NotFound).Answering(http.StatusAccepted),
	}
}

// factRoutes are about what can be known of photographs.
func factRoutes() []route.Line[*Server] {
	return []route.Line[*Server]{
		route.Gives("GET", "/api/towns", "Finds towns by a name, or the nearest to a position with a label for it.", (*Server).listTowns).Asking(townQuery()...),
		route.Gives("GET", tracksAt, "Lists the tracks, the earliest first.", (*Server).listTracks, sequence.NotFound),
		route.Gives("POST", tracksAt, "Takes GPX files and keeps their points.", (*Server).addTracks,
			sequence.NotFound, sequence.Invalid, sequence.TooLarge, sequence.Damaged, sequence.Unsupported, route.WrongMedia).Uploading().Answering(http.StatusCreated),
		route.Gives("DELETE", tracksAt+"/{track}", "Takes a track away; what was borrowed from it stays.", (*Server).removeTrack, sequence.NotFound),
		route.Takes("POST", titleAt+"/borrowings", "Proposes places from tracks or from a phone's photos; nothing changes until its change is made.",
			(*Server).borrow, sequence.NotFound),
		route.Gives("POST", "/api/packs", "Takes a packed title in beside the others.", (*Server).unpack,
			sequence.Invalid, sequence.Damaged, sequence.Unsupported, sequence.Unreadable, route.WrongMedia).Uploading().Answering(http.StatusCreated),
		route.Gives("GET", titleAt+"/prints", "Lays small prints out on sheets; nothing is made yet.", (*Server).planPrints,
			sequence.NotFound).Asking(printQuery()...),
		route.Gives("GET", titleAt+"/piles", "Gives the photos that are nearly the same picture, in piles with the sharpest first.",
			(*Server).listPiles, sequence.NotFound),
		route.Takes("PATCH", titleAt+"/rolls/{roll}", "Gives the change that numbers a roll's frames backwards; nothing changes until it is made.",
			(*Server).reverseRoll, sequence.NotFound),
	}
}

// pageRoutes are about the way from the wall to paper.
func pageRoutes() []route.Line[*Server] {
	return []route.Line[*Server]{
		route.Gives("GET", titleAt+"/check", "Looks through a title before it is printed: what does not fit, the most harmful first.", (*Server).check,
			sequence.NotFound, sequence.Damaged, sequence.Unsupported, sequence.TooLarge, sequence.Unreadable),
		route.Gives("GET", inksAt, "Gives the colour profile of the printer's inks, when there is one.", (*Server).showInks, sequence.NotFound),
		route.Gives("POST", inksAt, "Takes an ICC profile of a printer's four inks in place of the one there was.", (*Server).takeInks,
			sequence.NotFound, sequence.Invalid, sequence.TooLarge, sequence.Damaged, sequence.Unsupported, route.WrongMedia).Uploading().Answering(http.StatusCreated),
		route.Takes("PATCH", inksAt, "Says how much ink the printer allows.", (*Server).limitInks, sequence.NotFound),
		route.Gives("DELETE", inksAt, "Takes the printer's profile away.", (*Server).dropInks, sequence.NotFound),
	}
}

// printingRoutes make PDFs in the background.
func printingRoutes() []route.Line[*Server] {
	return []route.Line[*Server]{
		route.Gives("GET", titleAt+"/print-terms", "Tells of a book what can be said before it is printed: creep by every formula, what PDF/X-4 asks and cannot be met, pages whose originals cannot be printed.",
			(*Server).showPrintTerms, sequence.NotFound),
		route.Gives("GET", printsAt, "Lists the PDFs that are being made and wait to be fetched, the oldest first.", (*Server).listPrintings, sequence.NotFound),
		route.Takes("POST", printsAt, "Begins to make a PDF: pages (for a printer), spreads (to look at), dummy (to fold or cut at home) or test (a few pages at true size). Events tell how far it is.",
			(*Server).startPrinting, sequence.NotFound, sequence.Conflict).Answering(http.StatusAccepted),
		route.Gives("DELETE", printsAt+"/{printing}", "Stops a PDF that is being made; throws one away that is.", (*Server).stopPrinting, sequence.NotFound),
	}
}

// sentRoutes answer with something other than values made for the request.
func sentRoutes() []route.Line[*Server] {
	return []route.Line[*Server]{
		route.Sends(titleAt+"/events", "Streams what happens to a title, as server-sent events.",
			"text/event-stream", (*Server).events, sequence.NotFound),
		route.Sends("/cards/{title}/{photo}/{size}.jpg", "Gives a card's image; size is 160, 400 or 1600: the longer side in pixels.",
			"image/jpeg", (*Server).card, sequence.NotFound, sequence.Damaged, sequence.Unsupported, sequence.TooLarge),
		route.Sends("/beyond/{title}/{photo}.png", "Shows where the printer's inks do not reach a photo's colours: there it keeps them, and is paled elsewhere.",
			"image/png", (*Server).beyond, sequence.NotFound, sequence.Damaged, sequence.Unsupported, sequence.TooLarge).Asking(
			route.Parameter{Name: "round", Kind: "integer", Doc: "Any number: with another one a browser asks anew after the profile has changed."}),
		route.Sends("/print/{title}/{kind}.pdf", "Makes a PDF: cards (small prints for a real wall), contact (a contact sheet), spreads (the book as a reader sees it) cover (the simple cover, for a printer) or strip (a test strip to measure a proof by). No positions are in it.",
			"application/pdf", (*Server).printed, sequence.NotFound, sequence.Damaged, sequence.Unsupported, sequence.TooLarge, sequence.Unreadable).Asking(printQuery()...),
		route.Sends("/out/{title}/printed/{printing}.pdf", "Gives a PDF that was made in the background. No positions are in it.",
			"application/pdf", (*Server).madePrinting, sequence.NotFound, sequence.Conflict),
		route.Sends("/previews/{title}/{bring}/{place}.jpg", "Gives the small picture that a photograph on its way in carries of itself.",
			"image/jpeg", (*Server).preview, sequence.NotFound, sequence.Damaged, sequence.Unsupported, sequence.TooLarge),
		route.Sends("/out/{title}/packed.zip", "Packs a title into one file; positions stay at home unless asked for.",
			"application/zip", (*Server).packed, sequence.NotFound, sequence.Unreadable).Asking(packQuery()...),
		route.Sends("/out/{title}/order.{form}", "Gives the order of the pages, as csv or json; no positions are in it.",
			"*/*", (*Server).ordered, sequence.NotFound, sequence.Unreadable),
		route.Sends("/", "Gives the page.", "text/html", (*Server).page),
		route.Sends("/static/{hash}/*", "Gives a file of the page, under the hash of its build.",
			"*/*", (*Server).static, sequence.NotFound),
		route.Sends("/api", "Gives this description.", "application/json", (*Server).describe),
	}
}

// changed is what every act on the wall answers, and what its event carries.
type changed struct {
	Entry  sequence.Entry              `json:"entry"`
	Wall   store.Wall                  `json:"wall"`
	Labels map[sequence.PhotoID]string `json:"labels,omitempty"` // of the photos whose place the act states
}

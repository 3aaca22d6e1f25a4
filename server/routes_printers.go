package server

import (
	"net/http"

	"pairwall/sequence"
	"pairwall/server/route"
)

// printerRoutes are about what printers are asked for, what they answer, and what
// a copy has to sell for. Each answers with all of it, worked out anew.
func printerRoutes() []route.Line[*Server] {
	seen := route.Parameter{Name: "seen", Kind: "integer", Required: true, Doc: "The act the entry was seen after."}
	return []route.Line[*Server]{
		route.Gives("GET", inquiryAt, "Gives the specification, the printers, their quotes side by side and the price.", (*Server).showInquiry, sequence.NotFound),
		route.Takes("PUT", inquiryAt+"/specification", "Says what the specification asks for beyond what the title knows.",
			(*Server).keepWishes, sequence.NotFound, sequence.Stale),
		route.Takes("PUT", inquiryAt+"/terms", "Says how quotes are compared.", (*Server).keepTerms, sequence.NotFound, sequence.Stale),
		route.Takes("PUT", inquiryAt+"/price", "Says what a copy is to sell for, and how.", (*Server).keepPrice, sequence.NotFound, sequence.Stale),

		route.Takes("POST", inquiryAt+"/printers", "Adds a printer.", (*Server).addPrinter, sequence.NotFound).Answering(http.StatusCreated),
		route.Takes("PUT", inquiryAt+"/printers/{printer}", "Changes a printer, or notes that it was asked or has answered.",
			(*Server).changePrinter, sequence.NotFound, sequence.Stale),
		route.Gives("DELETE", inquiryAt+"/printers/{printer}", "Takes a printer out; it can be put back.",
			(*Server).takeOutPrinter, sequence.NotFound, sequence.Stale, sequence.Conflict).Asking(seen),
		route.Takes("POST", inquiryAt+"/quotes", "Adds a quote as it came.", (*Server).addQuote, sequence.NotFound).Answering(http.StatusCreated),
		route.Takes("PUT", inquiryAt+"/quotes/{quote}", "Changes a quote.", (*Server).changeQuote, sequence.NotFound, sequence.Stale),
		route.Gives("DELETE", inquiryAt+"/quotes/{quote}", "Takes a quote out; it can be put back.",
			(*Server).takeOutQuote, sequence.NotFound, sequence.Stale).Asking(seen),
		route.Takes("POST", inquiryAt+"/put-back", "Puts a printer or a quote back that was taken out.",
			(*Server).putBackDealing, sequence.NotFound, sequence.Conflict),
		route.Gives("POST", inquiryAt+"/undo", "Takes back the last act on any of it.", (*Server).undoInquiry, sequence.NotFound, sequence.Conflict),
		route.Gives("POST", inquiryAt+"/redo", "Does again what was taken back last.", (*Server).redoInquiry, sequence.NotFound, sequence.Conflict),

		route.Sends("/print/{title}/specification.pdf", "Makes a PDF of the letter that asks for a quote.",
			"application/pdf", (*Server).specified, sequence.NotFound, sequence.Unreadable).Asking(
			route.Parameter{Name: "printer", Kind: "integer", Doc: "The number of the printer it goes to."}),
	}
}

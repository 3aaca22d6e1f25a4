package server

import (
	"net/http"

	"pairwall/sequence"
	"pairwall/server/route"
)

// proofRoutes are about rounds of proofs and what photographs of them tell. Each
// answers with all of it.
func proofRoutes() []route.Line[*Server] {
	const at = titleAt + "/proofs"
	const photographAt = at + "/photographs/{photograph}"
	return []route.Line[*Server]{
		route.Gives("GET", at, "Gives the rounds of proofs, what photographs of them tell, and the check list.", (*Server).showProofs, sequence.NotFound),
		route.Takes("POST", at, "Begins a round, and keeps the wall behind it as a version.", (*Server).addRound, sequence.NotFound).Answering(http.StatusCreated),
		route.Takes("PUT", at+"/{round}", "Writes a round anew.", (*Server).changeRound, sequence.NotFound, sequence.Stale),
		route.Gives("DELETE", at+"/{round}", "Takes a round out; it can be put back.", (*Server).takeOutRound, sequence.NotFound),
		route.Gives("POST", at+"/{round}/put-back", "Puts a round back.", (*Server).putBackRound, sequence.NotFound),
		route.Gives("POST", at+"/{round}/photographs", "Takes the photograph of a page of a proof and measures it.", (*Server).measureProof,
			sequence.NotFound, sequence.Damaged, sequence.Unsupported, sequence.TooLarge, sequence.Unreadable, sequence.Cancelled, route.WrongMedia).Asking(
			route.Parameter{Name: "page", Kind: "integer", Required: true, Doc: "Which page of the book it shows; 0: the test strip."}).Uploading().Answering(http.StatusCreated),
		route.Takes("POST", photographAt+"/again", "Measures a photograph once more, told what else lies in it.", (*Server).measureAgain,
			sequence.NotFound, sequence.Damaged, sequence.Cancelled),
		route.Gives("DELETE", photographAt, "Takes a photograph out; it can be put back.", (*Server).takeOutPhotograph, sequence.NotFound),
		route.Gives("POST", photographAt+"/put-back", "Puts a photograph back.", (*Server).putBackPhotograph, sequence.NotFound),
		route.Sends(photographAt+"/picture", "Sends the photograph of a proof.", "image/jpeg", (*Server).proofPicture, sequence.NotFound),
	}
}

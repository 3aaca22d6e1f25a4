package server

import (
	"pairwall/sequence"
	"pairwall/server/route"
)

const parcelsAt = titleAt + "/parcels"

// parcelRoutes are about parcels, what is printed for them, and the money at the end.
func parcelRoutes() []route.Line[*Server] {
	return []route.Line[*Server]{
		route.Gives("GET", parcelsAt, "Gives the packing table: what is still to be packed in shelf order, what is held up and why, what is packed.",
			(*Server).showTable, sequence.NotFound),
		route.Takes("POST", parcelsAt, "Keeps a parcel that was packed; an order with all its copies in parcels is sent.",
			(*Server).packParcel, sequence.NotFound, sequence.Conflict),
		route.Takes("POST", parcelsAt+"/weigh", "Tells what a scale's figure means for a parcel; nothing is kept.",
			(*Server).weighParcel, sequence.NotFound, sequence.Conflict),
		route.Gives("POST", parcelsAt+"/undo", "Takes back what was done last at the packing table.",
			(*Server).undoParcel, sequence.NotFound, sequence.Conflict),
		route.Takes("PUT", parcelsAt+"/{parcel}", "Changes what a packed parcel weighs, how it goes and its tracking number.",
			(*Server).changeParcel, sequence.NotFound),
		route.Gives("DELETE", parcelsAt+"/{parcel}", "Takes a parcel apart; its order is open again.", (*Server).unpackParcel, sequence.NotFound),

		route.Gives("GET", titleAt+"/labels", "Tells how many labels there will be, and which of them a hand has to finish.",
			(*Server).planLabels, sequence.NotFound).Asking(batchQuery()...),
		route.Sends("/print/{title}/parcels/{kind}.pdf", "Makes a PDF for parcels: labels, label-test, packing-list, thanks or customs.",
			"application/pdf", (*Server).sendParcelPrint, sequence.NotFound, sequence.Unreadable, sequence.TooLarge).Asking(batchQuery()...),

		route.Gives("GET", titleAt+"/money", "Gives the book of money, every row of it with where it is from, and the sums.", (*Server).showMoney, sequence.NotFound),
		route.Takes("PUT", titleAt+"/money", "Keeps the book of money.", (*Server).saveBook, sequence.NotFound, sequence.Stale),
		route.Sends("/out/{title}/money.{form}", "Gives the money, every row as csv or all of it as json.", "*/*", (*Server).sendMoney, sequence.NotFound, sequence.Unreadable),
	}
}

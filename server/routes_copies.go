package server

import (
	"net/http"

	"pairwall/sequence"
	"pairwall/server/route"
)

// Addresses that others begin with.
const (
	ordersAt = titleAt + "/orders"
	orderAt  = ordersAt + "/{order}"
	postAt   = titleAt + "/post"
)

// copyRoutes are about the edition, who ordered of it, and what it takes to send.
func copyRoutes() []route.Line[*Server] {
	return []route.Line[*Server]{
		route.Gives("GET", "/api/countries", "Lists countries and currencies with their codes.", (*Server).listCountries),
		route.Gives("GET", titleAt+"/edition", "Gives the edition with all its copies, and what one copy weighs and measures.",
			(*Server).showEdition, sequence.NotFound),
		route.Takes("PUT", titleAt+"/edition", "Decides about the edition; orders that wait get the copies that become free.",
			(*Server).saveEdition, sequence.NotFound, sequence.Stale, sequence.Conflict),
		route.Takes("POST", titleAt+"/copies", "Says where copies are that no order has, and what they are for.",
			(*Server).moveCopies, sequence.NotFound, sequence.Conflict),

		route.Gives("GET", ordersAt, "Lists the orders as they were entered, each with its address as a label has it, and the tables they were read from.",
			(*Server).listOrders, sequence.NotFound),
		route.Takes("POST", ordersAt, "Enters an order and gives it copies.", (*Server).enterOrder, sequence.NotFound, sequence.Conflict).Answering(http.StatusCreated),
		route.Takes("PUT", orderAt, "Changes an order; its copies follow.", (*Server).changeOrder, sequence.NotFound, sequence.Stale, sequence.Conflict),
		route.Gives("GET", orderAt+"/person", "Gives all that is kept of the person who made an order, of every title.",
			(*Server).showPerson, sequence.NotFound, sequence.Conflict),
		route.Takes("POST", orderAt+"/erase", "Erases the person who made an order out of every title, the free room of the data file and the backups.",
			(*Server).erasePerson, sequence.NotFound, sequence.Conflict),
		route.Gives("GET", orderAt+"/declarations", "Gives what a customs form says of each parcel of an order.",
			(*Server).showDeclarations, sequence.NotFound),
		route.Gives("POST", titleAt+"/order-lists", "Reads a table of orders; nothing is kept unless it is to be taken.", (*Server).readOrders,
			sequence.NotFound, sequence.Invalid, sequence.TooLarge, sequence.Damaged, route.WrongMedia).Uploading().Answering(http.StatusOK).Asking(
			route.Parameter{Name: "reading", Kind: "string", Doc: "How it is read, as JSON; what is left out is found, or remembered."},
			route.Parameter{Name: "take", Kind: "integer", Doc: "1: keeps the orders that are not known yet, all or none."}),
		route.Gives("DELETE", titleAt+"/order-lists/{list}", "Takes a table of orders back as if it had never been read.",
			(*Server).takeBackOrders, sequence.NotFound, sequence.Conflict),

		route.Gives("GET", postAt, "Gives the packing, the limits, the prices, the rates and the sender.", (*Server).showPost, sequence.NotFound),
		route.Takes("PUT", postAt, "Keeps the packing, the limits, the prices, the rates and the sender.", (*Server).savePost, sequence.NotFound, sequence.Stale),
		route.Gives("POST", postAt+"/prices", "Reads a price table; it is kept once the post is saved with it.", (*Server).readPrices,
			sequence.NotFound, sequence.Invalid, sequence.TooLarge, sequence.Damaged, route.WrongMedia).Uploading().Answering(http.StatusOK),
		route.Gives("GET", titleAt+"/postage", "Tells how each order that is not sent yet goes for the least, and what all of it costs.",
			(*Server).showPostage, sequence.NotFound),
		route.Takes("POST", titleAt+"/postage/what-if", "Tells what another paper or another number of pages would do to the postage.",
			(*Server).showWhatIf, sequence.NotFound),

		route.Sends("/out/{title}/orders.{form}", "Gives the orders, as csv or json.", "*/*", (*Server).sendOrders, sequence.NotFound, sequence.Unreadable),
		route.Sends("/out/{title}/prices.csv", "Gives the price table.", "text/csv", (*Server).sendPrices, sequence.NotFound, sequence.Unreadable),
	}
}

// Package dispatch is the packing table: which parcels are still to be packed, in
// the order in which the copies lie on the shelf, which are packed, and what is
// held up and why.
//
// In come orders, the parcels packed so far and what parcels are made with; out go
// the table as it lies now and what a scale's figure means. Like package orders it
// holds what is personal: it must never know of a network, a file or a log.
package dispatch

// Package ledger is the money of an edition: what came in, what went out, and what
// is left.
//
// In come orders, packed parcels and what the maker entered; out go rows, each
// with where it is from, and sums of nothing but rows. It is no bookkeeping in the
// sense of any law: a tax adviser gets the rows as a table. The package must never
// know of persons: of an order it takes number, channel and country.
package ledger

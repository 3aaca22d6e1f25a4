// Package orders is who wants copies and where they live: orders, addresses as
// each country writes them, and tables of orders from any shop.
//
// In come the bytes of a table and what its columns mean, or an order as it was
// typed; out go orders, what is wrong with a row, and the lines of an address.
// What it holds is personal: the package must never know of a network, a file or
// a log, and what it says of a bad row goes to the maker only.
package orders

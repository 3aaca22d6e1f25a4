// Package quotes is how a title is offered to printers and what comes back: one
// specification made from the title itself, the letter that asks, the quotes as
// they were given, what each of them costs in good copies, and what a copy has
// to sell for.
//
// In come the title's format and page count, the maker's wishes and what printers
// said; out go lines of words, amounts and doubts. What a printer did not say is
// missing everywhere, and never zero. All arithmetic is exact until an amount is
// shown, and is then rounded once (see edition.Money). The package must never
// know of files, of SQL, of HTTP or of points.
package quotes

// Package edition is what was printed and what becomes of it: paper, weight and
// thickness of a copy, money, the numbered copies and where each of them is.
//
// In come page counts, sizes and grammages, and what the maker does with copies;
// out go weights, thicknesses, amounts and the state of the edition, or why
// something cannot be done. The package must never know of files, of SQL, of HTTP
// or of points. Printers are asked and compared in edition/quotes; orders are read
// in edition/orders; parcels, postage and declarations stand in edition/post.
package edition

// Package pairing finds which photographs could face each other, says why, and
// proposes arrangements of many at once.
//
// In come a title's photos as they were measured, and how much each kind of
// evidence counts for the maker (see package evidence below it). Out come judgements
// of pairs, each with its measures in numbers and words and a side for each photo;
// partners for one photo; an arrangement: the best pairs of all, in an order, as a
// change that the maker may take, take in part or leave; what would be lost with a
// photo; and the maker's own words, suggested for another.
//
// Three rules hold throughout. Missing evidence is not evidence against a pair:
// it takes the title's typical value, and is said to be missing. The scales come
// from the title itself, so that a walk through one town and a journey of two
// thousand kilometres are both judged by what is near in them. And nothing is
// placed, only proposed.
//
// The package must never know of files, the store or the screen. Its solvers,
// in the folders below it, never see a photograph.
package pairing

// Package borrowing proposes places for photographs that know when they were
// taken but not where: from tracks somebody carried along, and from photographs
// of a phone taken about the same time.
//
// In come a title's photos, tracks, and what the maker allows; out go a clock
// for each camera, a proposal for each photo with a sentence from what and how
// sure, a sentence for each photo left without, and the change that would state
// all of it. Nothing is stated before the maker takes that change.
//
// A date that is a scanner's lends nothing and borrows nothing. The package
// never knows a file, a store or the screen.
package borrowing

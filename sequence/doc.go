// Package sequence is the domain of Pairwall: photographs of one title, the
// spreads they face each other in, the order of those spreads, and the changes
// that lead from one state to the next.
//
// In come values (a photo as intake measured it, a change as the maker made
// it); out go values (the next sequence, its inverse change, the difference
// between two versions). The package does no input or output: it must never
// know of files, databases, HTTP or the screen.
package sequence

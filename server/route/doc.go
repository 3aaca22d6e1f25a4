// Package route is how a request reaches the method that answers it and how the
// answer goes back: lines of a routes table, the checks on what is asked and
// sent, JSON in both directions, and the one place where errors become
// responses.
//
// In come requests and methods with typed bodies; out go responses, and lines
// that a description of the API can be made from.
//
// The package must never know what is asked for or how it is answered.
package route

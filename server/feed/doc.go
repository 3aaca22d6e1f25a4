// Package feed tells every window of the browser what happens, as one stream of
// server-sent events for each (WHATWG HTML, section 9.2).
//
// In come events by name, with what they carry as JSON; out goes, to every
// reader, each event in one order, or the word to fetch the state anew where
// some were lost. Publishing never waits for a reader.
//
// The package must never know what an event means.
package feed

// Package gate keeps everybody out but this machine's own browser and programs.
//
// In come addresses to listen on and requests; out go listeners that no other
// machine reaches, a refusal for what a page elsewhere may have caused, and the
// headers that keep our own page to itself.
//
// The package must never know what a request asks for.
package gate

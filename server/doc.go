// Package server puts the wall on this machine's own browser: it turns requests
// into calls of the store, changes into events for every open window, and
// folders of files into photos of a title.
//
// In come HTTP requests from this machine and nobody else; out go JSON, card
// images and one stream of events per window. The routes table in routes.go is
// both the router and the published description (openapi.json). The package
// must never know how anything is stored, measured or decoded, and must never
// send a file it did not bring in.
package server

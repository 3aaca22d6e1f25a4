// Package printing makes the files that are printed at home, sent to a friend or
// to a printer: small prints for a real wall, contact sheets, the book as single
// pages, as spreads, as a dummy.
//
// In come a title as it is now and what is wanted of it; out goes a PDF, made of
// card images or of originals stripped of their positions. Where things lie is decided in package
// pages, and package press puts them on paper; this package fetches what they
// need. It must never know of HTTP or of windows.
package printing

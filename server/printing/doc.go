// Package printing makes the files that are printed at home or sent to a friend:
// small prints for a real wall, contact sheets, the spreads as they hang.
//
// In come a title as it is now and what is wanted of it; out goes a PDF, made of
// card images, which carry no positions. Where things lie is decided in package
// pages, and package press puts them on paper; this package fetches what they
// need. It must never know of HTTP or of windows.
package printing

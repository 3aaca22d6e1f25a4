// Package pages is the geometry of paper: sizes, bindings, where each photo
// lies on its page, how small prints share a sheet.
//
// In come sizes and what is to be placed, in millimetres and as proportions;
// out go rectangles in millimetres, counted from a sheet's or a page's top left
// corner, and what does not fit. The package must never know of points, pixels
// of a file, PDF or the screen: package press turns its rectangles into ink.
package pages

// Package wallshot reads a wall of small prints off photographs of it.
//
// In come grey pictures; out go the codes of the prints with the corners they
// have in the picture, then, on numbers alone, the wall undone of perspective,
// several photographs joined, and the prints in rows and spreads. The package
// must never know of files, of the title's photos beyond their numbers and
// proportions, or of the wall on the screen.
//
// It lies below pages, not intake, because what it looks for is what pages
// prints: the code and the measures of a small print. Files are decoded by
// intake's workers before they come here.
package wallshot

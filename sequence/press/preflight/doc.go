// Package preflight reads a PDF that somebody else made and tells what a press
// would meet in it: its boxes, fonts, pictures, colours and what it says of
// itself; and it judges a cover by that.
//
// In come the bytes of a file nobody vouches for, and a cover as it is to be;
// out go facts as values, and findings. Look belongs in a worker process: the
// library below it believes more than we would.
//
// The package draws nothing: what cannot be known without drawing it says.
package preflight

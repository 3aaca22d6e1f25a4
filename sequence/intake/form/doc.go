// Package form measures what of a picture is neither colour nor tone: a
// fingerprint by which alike pictures are found, sharpness, how much of it is
// edges, where its visual weight lies, a level line, how its lines run, and the
// black or white border that a film scan may have around the picture itself.
//
// In comes a picture of sRGB pixels, best at a long side of 1600; out comes a
// sequence.Form whose fractions count over the whole picture as it came, though
// what lies in a scan's border is not measured. The same pixels give the same
// numbers.
//
// It must never know where a picture came from, what was measured of others,
// or what the numbers are used for.
package form

// Package colour says what colours a photograph holds and how near two sets of
// colours are.
//
// In come sRGB pixels (an image.Image, or three bytes) and Lab values; out come
// Lab colours (D65, 2 degree observer), palettes of at most eight weighted
// swatches, differences in ΔE00 units, tone figures, plain English colour words,
// a published colour feeling, and the bytes of an sRGB profile.
//
// It must never know where pixels come from, what a photograph is, what a
// profile embedded in a file says, or where results are kept: it is a leaf and
// imports no package of ours. Everything here is a function of its arguments:
// the same pixels give the same bits, on one kind of processor (some fuse a
// multiplication and an addition, and round once where others round twice).
package colour

// Package jpeg decodes JPEG files of the kinds that cameras, scanners and
// programs write: sequential and progressive, Huffman coded, 8 bits a channel;
// grey, YCbCr, RGB, CMYK and YCCK with any sampling.
//
// In comes a whole file in memory; out comes its picture in its own colours. It
// does two things a plain decoder does not. It decodes straight to a half, a
// quarter or an eighth of the size, out of the lowest frequencies of each block,
// for most of what a large photograph holds is not needed for a card. And it
// shows a damaged file as far as it goes, and says how far that is.
//
// It must never know what a picture is for, where its file lies, or what its
// colours are by a profile. Limits on size are for the caller, before.
//
// Source: ITU-T Recommendation T.81 (1992), whose tables and figures are named
// where they are used.
package jpeg

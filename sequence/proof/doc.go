// Package proof measures a proof against its page.
//
// In come a page as it should be and a photograph or scan of the proof, both as
// sRGB pixels; out go where the page lies in the photograph, how colours and
// tones of the print differ from what was wanted, how far that can be trusted,
// and the words for it. The package must never know of files, of titles, of
// who prints, nor of where findings are kept.
//
// The steps: find the page (features, or its edges), align it densely (refine),
// take out what light and camera did (base), compare patch by patch (compare),
// say it (words). Colours are Lab for D50 beside the white of the paper, as
// ISO 13655 has it. A photograph is no spectrophotometer: what cannot be told
// is not told.
package proof

// Package press makes PDF files of what package pages has laid out.
//
// In come rectangles in millimetres, pictures as JPEG files or samples somebody
// else opens, and typefaces as bytes; out goes a file on a writer, the same to the byte for
// the same input. This is the only room that knows of points. It must never
// know where pictures lie, nor who asked for the file.
package press

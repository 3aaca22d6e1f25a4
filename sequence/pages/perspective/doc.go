// Package perspective is the geometry of a flat thing photographed at an angle:
// places, the four corners of something rectangular, and the maps between a
// plane and its picture.
//
// In come coordinates, out go coordinates; it knows of no picture and no paper.
package perspective

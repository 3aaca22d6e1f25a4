// Package track knows where somebody was from what a receiver or a phone wrote
// down along the way, and lends that to photographs that do not know it.
//
// In come GPX files, and photographs that know both a wall-clock time and a
// position; out go positions with a radius and a sentence that says from what
// they were borrowed, and how far a camera's clock is off. Nothing is invented:
// no position is given across a gap longer than the maker allows, and a clock
// that several offsets explain equally well "cannot be told".
//
// The package never knows a photo's file, a store, a map or the present moment.
// It imports only package place.
package track

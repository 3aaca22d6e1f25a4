// Package piles finds photographs that are nearly the same picture: bursts, a
// second try, the same frame scanned twice.
//
// In come a title's photos with the fingerprint and sharpness that were measured
// of them and the times they were taken at; out go piles of their numbers, the
// sharpest on top, each with a sentence. Nothing is removed, hidden or decided.
//
// The package never knows a file, a pixel, the wall or how a pile is drawn.
package piles

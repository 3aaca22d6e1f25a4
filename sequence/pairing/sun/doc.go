// Package sun says how high the sun stood when and where a picture was taken.
//
// In come a position and a clock with its offset; out come degrees above the
// horizon and whether the sun was rising. It must never know a photograph.
package sun

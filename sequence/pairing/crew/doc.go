// Package crew shares work out among the processor's cores.
//
// In comes a number of pieces and what is to be done with a run of them; nothing
// comes out. It must never know what the work is.
package crew

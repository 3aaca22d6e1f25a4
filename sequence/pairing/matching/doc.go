// Package matching finds the best way of putting things together two by two.
//
// In comes a graph: n vertices and a whole-number weight for each pair that may
// be made. Out come the pairs of greatest total weight, and a certificate by
// which anybody can check, without trusting the solver, that no other choice of
// pairs weighs more.
//
// It must never know what the vertices stand for. A pair that is refused, or a
// vertex that is already taken, is told to it by leaving edges out.
package matching

//go:build !unix

package wasm

import "context"

// withMemory has nothing to change where memory cannot be mapped: decoders then
// keep it in slices.
func withMemory(ctx context.Context) context.Context { return ctx }

// Package wasm decodes HEIC and AVIF with the decoders of others, compiled to
// WebAssembly and run in a sandbox: whatever a file makes them do, they reach
// nothing but their own memory, of which there is a ceiling.
//
// In comes a whole file in memory; out comes its picture in its own colours: HEIC
// upright, with its brightness and colours as stored; AVIF as RGB, not yet
// turned.
//
// It must never know what a picture is for, or what its colours are by a profile.
package wasm

//go:build unix

package wasm

import (
	"context"
	"syscall"

	"github.com/tetratelabs/wazero/experimental"
)

// withMemory makes decoders take their memory from the system directly. It grows
// in place: as an ordinary slice it would be copied each time, and what a large
// picture takes would be taken several times over.
func withMemory(ctx context.Context) context.Context {
	return experimental.WithMemoryAllocator(ctx, experimental.MemoryAllocatorFunc(func(_, most uint64) experimental.LinearMemory {
		// Addresses only; nothing is taken before it is made accessible.
		all, err := syscall.Mmap(-1, 0, int(most), syscall.PROT_NONE, syscall.MAP_PRIVATE|syscall.MAP_ANON)
		if err != nil {
			return &mapped{}
		}
		return &mapped{all: all}
	}))
}

// mapped is a run of addresses of which the first are accessible.
type mapped struct {
	all []byte
	has uint64
}

// Reallocate gives access to the first size bytes, nil if the system refuses.
func (m *mapped) Reallocate(size uint64) []byte {
	if size > uint64(len(m.all)) {
		return nil
	}
	if size > m.has {
		if syscall.Mprotect(m.all[m.has:size], syscall.PROT_READ|syscall.PROT_WRITE) != nil {
			return nil
		}
		m.has = size
	}
	return m.all[:size:len(m.all)]
}

// Free gives everything back.
func (m *mapped) Free() {
	if m.all != nil {
		_ = syscall.Munmap(m.all) // it fails only for what was never mapped
		m.all = nil
	}
}

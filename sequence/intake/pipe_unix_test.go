//go:build unix

package intake

import "syscall"

func makePipe(path string) error { return syscall.Mkfifo(path, 0o644) }

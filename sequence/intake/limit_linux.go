package intake

import (
	"os"
	"syscall"
)

// confine makes the system refuse this process more memory than the ceiling
// and some slack beyond what it holds now, and keeps it from leaving a core
// file behind.
//
// The limit is on data, not on address space: Go sets far more addresses aside
// than it ever fills.
func confine(memory int64) error {
	most := uint64(dataNow() + memory + ceilingSlack(memory))
	var now syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_DATA, &now); err != nil {
		return err
	}
	most = min(most, now.Max)
	if err := syscall.Setrlimit(syscall.RLIMIT_DATA, &syscall.Rlimit{Cur: most, Max: most}); err != nil {
		return err
	}
	return syscall.Setrlimit(syscall.RLIMIT_CORE, &syscall.Rlimit{})
}

// dataNow is how much data, in bytes, this process has been given already; 0
// if the system does not tell.
func dataNow() int64 {
	status, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	return statusBytes(status, "VmData:")
}

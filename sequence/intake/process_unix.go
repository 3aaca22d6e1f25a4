//go:build unix

package intake

import (
	"os"
	"os/exec"
	"runtime"
	"syscall"
)

// setApart gives a worker a process group of its own: it can be ended with all
// it may have started, and the terminal's interrupt does not reach it.
func setApart(command *exec.Cmd) {
	command.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
}

// giveWay lets whatever the maker is doing come before reading, here and in other
// programs. Where the system refuses, nothing is lost.
func giveWay(process *os.Process) {
	const gently = 5 // of 19
	_ = syscall.Setpriority(syscall.PRIO_PGRP, process.Pid, gently)
}

// end stops a worker and its group at once.
func end(process *os.Process) {
	syscall.Kill(-process.Pid, syscall.SIGKILL)
	process.Kill()
}

// largestSize is the most a process that is over ever had in memory, in bytes.
func largestSize(state *os.ProcessState) int64 {
	usage, ok := state.SysUsage().(*syscall.Rusage)
	if !ok {
		return 0
	}
	if runtime.GOOS == "darwin" || runtime.GOOS == "ios" {
		return int64(usage.Maxrss) // bytes there, kilobytes elsewhere
	}
	return int64(usage.Maxrss) << 10
}

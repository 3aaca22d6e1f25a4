//go:build !unix

package intake

import (
	"os"
	"os/exec"
)

// setApart has nothing to do: there are no process groups here, and workers
// start no processes of their own.
func setApart(command *exec.Cmd) {}

// giveWay does nothing here.
func giveWay(process *os.Process) {}

// end stops a worker at once.
func end(process *os.Process) { process.Kill() }

// largestSize is not told by this system.
func largestSize(state *os.ProcessState) int64 { return 0 }

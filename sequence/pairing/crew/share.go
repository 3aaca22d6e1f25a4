package crew

import (
	"runtime"
	"sync"
)

// Share splits 0..n-1 into runs and works on them side by side; it returns when all
// are done. The runs are many and short, for the work of one piece may grow with its
// number. Which core does what, and when, is left to chance: the work must not mind.
func Share(n int, work func(from, to int)) {
	workers := runtime.GOMAXPROCS(0)
	run := max(1, n/(workers*8))
	starts := make(chan int)
	var group sync.WaitGroup
	for range workers {
		group.Go(func() {
			for from := range starts {
				work(from, min(from+run, n))
			}
		})
	}
	for from := 0; from < n; from += run {
		starts <- from
	}
	close(starts)
	group.Wait()
}

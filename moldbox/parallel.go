package moldbox

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// each runs job for 0 to n-1, as many at a time as there are processors, and
// waits for all.
func each(n int, job func(i int)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				job(i)
			}
		})
	}
	wait.Wait()
}

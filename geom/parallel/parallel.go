// Package parallel runs the jobs of a loop on several processors, or shares one.
package parallel

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// For runs job(0) to job(n-1) on the given number of workers (0: all
// processors), waits for those it has begun and returns ctx's error if ctx
// ended on the way.
func For(ctx context.Context, n, workers int, job func(i int)) error {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	pause, pauses := ctx.Value(pauseKey{}).(func())
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(workers, n) {
		group.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				job(i)
				if pauses {
					pause()
				}
			}
		})
	}
	group.Wait()
	return ctx.Err()
}

package geom

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// parallel runs job(0) .. job(n-1) on the given number of workers (0: all
// processors) and returns ctx's error if it was cancelled on the way.
func parallel(ctx context.Context, n, workers int, job func(i int)) error {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	workers = min(workers, n)
	var next atomic.Int64
	var group sync.WaitGroup
	for range workers {
		group.Add(1)
		go func() {
			defer group.Done()
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				job(i)
			}
		}()
	}
	group.Wait()
	return ctx.Err()
}

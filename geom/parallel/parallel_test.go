package parallel

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"
)

// Every job runs once, whatever the number of workers, and none after the end
// of the context.
func TestFor(t *testing.T) {
	for _, workers := range []int{0, 1, 3, 100} {
		var runs [40]atomic.Int32
		if err := For(context.Background(), len(runs), workers, func(i int) { runs[i].Add(1) }); err != nil {
			t.Fatal(err)
		}
		for i := range runs {
			if n := runs[i].Load(); n != 1 {
				t.Errorf("%d workers ran job %d %d times", workers, i, n)
			}
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	var count atomic.Int32
	err := For(ctx, 1000, 2, func(int) { count.Add(1); stop() })
	if n := count.Load(); !errors.Is(err, context.Canceled) || n > 2 {
		t.Errorf("%v after %d jobs, want an end after those begun", err, n)
	}
}

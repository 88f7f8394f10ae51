package parallel

import (
	"context"
	"sync/atomic"
	"testing"
)

// For pauses after each job where it is to, and Pause does too.
func TestPause(t *testing.T) {
	var pauses atomic.Int32
	ctx := WithPause(context.Background(), func() { pauses.Add(1) })
	within, cancel := context.WithCancel(ctx)
	defer cancel()
	if err := For(within, 7, 2, func(int) {}); err != nil || pauses.Load() != 7 {
		t.Errorf("%d pauses for 7 jobs, %v", pauses.Load(), err)
	}
	Pause(within)
	Pause(context.Background())
	if pauses.Load() != 8 {
		t.Errorf("%d pauses, want 8", pauses.Load())
	}
}

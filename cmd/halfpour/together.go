package main

import (
	"context"
	"errors"
	"sync"
)

// together runs the jobs at once and waits for all of them. The first failure
// stops the others; it is what comes back, not their being stopped.
func together(ctx context.Context, jobs []func(context.Context) error) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	errs := make([]error, len(jobs))
	var wait sync.WaitGroup
	for i, job := range jobs {
		wait.Add(1)
		go func() {
			defer wait.Done()
			if errs[i] = job(ctx); errs[i] != nil {
				cancel(errs[i])
			}
		}()
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil && !errors.Is(err, context.Canceled) {
			return err
		}
	}
	return errors.Join(errs...)
}

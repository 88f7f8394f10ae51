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

// atMost lets only n of the jobs run at a time.
func atMost(n int, jobs []func(context.Context) error) []func(context.Context) error {
	free := make(chan struct{}, n)
	limited := make([]func(context.Context) error, len(jobs))
	for i, job := range jobs {
		limited[i] = func(ctx context.Context) error {
			select {
			case free <- struct{}{}:
			case <-ctx.Done():
				return ctx.Err()
			}
			defer func() { <-free }()
			return job(ctx)
		}
	}
	return limited
}

package main

import (
	"context"
	"errors"
	"testing"
)

func TestTogetherReportsTheFirstFailure(t *testing.T) {
	broken := errors.New("broken")
	err := together(context.Background(), []func(context.Context) error{
		func(ctx context.Context) error { <-ctx.Done(); return ctx.Err() },
		func(context.Context) error { return broken },
	})
	if !errors.Is(err, broken) {
		t.Errorf("got %v", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := together(ctx, []func(context.Context) error{func(ctx context.Context) error { return ctx.Err() }}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: got %v", err)
	}
}

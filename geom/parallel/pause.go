package parallel

import "context"

type pauseKey struct{}

// WithPause has every For under ctx call pause between two jobs. A program that
// has one thread alone lets go of it there.
func WithPause(ctx context.Context, pause func()) context.Context {
	return context.WithValue(ctx, pauseKey{}, pause)
}

// Pause calls what WithPause has been given, if anything: for what takes long
// without a For.
func Pause(ctx context.Context) {
	if pause, ok := ctx.Value(pauseKey{}).(func()); ok {
		pause()
	}
}

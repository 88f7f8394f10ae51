package parallel

import "context"

// Sharer shares work with another engine, which does the same work from the same
// input: each does some of the pieces and hands the other what they come to.
type Sharer interface {
	// Piece does a piece here, by do, or returns what the other engine has made of
	// it: nil means that it was done here. Each name is asked for once. pack makes
	// bytes of what do has made.
	Piece(ctx context.Context, name string, do func() error, pack func() ([]byte, error)) ([]byte, error)
}

type sharerKey struct{}

// sharing is a Sharer, and what is before the names of its pieces.
type sharing struct {
	Sharer
	of string
}

// WithSharer has every Share under ctx go through a Sharer.
func WithSharer(ctx context.Context, s Sharer) context.Context {
	return context.WithValue(ctx, sharerKey{}, sharing{s, ""})
}

// Of sets what the pieces under ctx are of, where there are pieces of the same name;
// "" where there are none.
func Of(ctx context.Context, what string) context.Context {
	if s, ok := ctx.Value(sharerKey{}).(sharing); ok && what != "" {
		return context.WithValue(ctx, sharerKey{}, sharing{s.Sharer, s.of + what + "/"})
	}
	return ctx
}

// Share returns what do comes to, a piece of work that takes long: it calls do, or
// takes it from where WithSharer says that it has been done. All that matters of T
// must be exported. No piece may be within another.
func Share[T any](ctx context.Context, name string, do func() (T, error)) (made T, err error) {
	s, ok := ctx.Value(sharerKey{}).(sharing)
	if !ok {
		return do()
	}
	there, err := s.Piece(ctx, s.of+name, func() (err error) { made, err = do(); return err }, func() ([]byte, error) { return pack(made) })
	if err != nil || there == nil {
		return made, err
	}
	if made, err = unpack[T](there); err != nil {
		return do()
	}
	return made, nil
}

// Shared reports whether the pieces under ctx are shared.
func Shared(ctx context.Context) bool {
	_, ok := ctx.Value(sharerKey{}).(sharing)
	return ok
}

// Pieces is how many workers a For of n pieces should have: all where they are
// shared, so that none waits for one that is done elsewhere.
func Pieces(ctx context.Context, n int) int {
	if Shared(ctx) {
		return n
	}
	return 0
}

//go:build !js

package crew

// Start starts a helper beside this engine; nil where there is none: here, a build
// has all processors by itself.
func Start(func() (Order, error)) (leader *Engine, stop func()) { return nil, nil }

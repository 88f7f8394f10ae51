package heat

import (
	"context"
	"sync"

	"halfpour/geom"
)

// Cells keeps what scenes are cut into, for others in the same box with the same bodies
// in it: of what substances and how hot they are does not matter. It may be used by
// several goroutines.
type Cells struct {
	mu   sync.Mutex
	kept map[cellsKey]*grid
}

type cellsKey struct {
	box    geom.Box
	cell   float64
	bodies int
}

// grid is a scene's, cut anew if there is none yet or c is nil.
func (c *Cells) grid(ctx context.Context, s *Scene, h float64, workers int) (*grid, error) {
	if c == nil {
		return newGrid(ctx, s, h, workers)
	}
	key := cellsKey{s.Box, h, len(s.Bodies)}
	c.mu.Lock()
	g := c.kept[key]
	c.mu.Unlock()
	if g != nil {
		of := *g
		of.scene = s
		return &of, nil
	}
	g, err := newGrid(ctx, s, h, workers)
	if err != nil {
		return nil, err
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.kept == nil {
		c.kept = map[cellsKey]*grid{}
	}
	c.kept[key] = g
	return g, nil
}

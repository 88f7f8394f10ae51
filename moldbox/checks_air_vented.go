package moldbox

import (
	"context"
	"math"

	"halfpour/geom"
	"halfpour/geom/column"
)

// AirPocket is air that would stay in a cavity without vents.
type AirPocket struct {
	Top    geom.Vec // its highest point, mold coordinates
	HeadAt geom.Vec // the same place in the head file's coordinates
	Height float64  // mm
	Volume float64  // mm³
	Vent   int      // index of the vent in VentsAt that frees it; below 0: none does
}

// noVent is of a pocket that stays.
const noVent = -1

// airOf looks for the air that every cavity would hold without its vents, and
// for the vents that free it. left is what stays with them.
func (b *builder) airOf(ctx context.Context, left [][]column.Pocket) error {
	for i := range b.cavities {
		c := &b.cavities[i]
		if c.AlikeTo < i {
			from := &b.cavities[c.AlikeTo]
			for _, p := range from.Air {
				p.Top = p.Top.Add(c.Eye.Sub(from.Eye))
				c.Air = append(c.Air, p)
			}
			continue
		}
		bare, err := b.pocketsIn(ctx, i, b.metal(c, nil))
		if err != nil {
			return err
		}
		for _, p := range bare {
			c.Air = append(c.Air, AirPocket{p.Top, *b.parts[i].inFile(p.Top), p.Height, p.Volume, b.freedBy(c, p, left[c.AlikeTo])})
		}
	}
	return nil
}

// freedBy returns the vent that starts in a pocket, or nearest to its roof;
// none if the pocket's top is in air that stays.
func (b *builder) freedBy(c *Placed, p column.Pocket, left []column.Pocket) int {
	for _, q := range left {
		if q.Box.Grow(airStep).Contains(p.Top) {
			return noVent
		}
	}
	vent, least := noVent, math.Inf(1)
	for k, at := range c.VentsAt {
		for _, q := range append([]geom.Vec{p.Top}, p.Reach...) {
			if d := q.Dist(at); d < least {
				vent, least = k, d
			}
		}
	}
	return vent
}

package moldbox

import (
	"context"
	"fmt"
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
		bare, err := b.pockets(ctx, i, b.metal(c, nil))
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

// airStep is how far apart the lines are on which air is looked for, mm: half
// the least that a vent may be deep.
const airStep = 0.25

// airShare is the share of a head that may stay empty: as much as the weight of a
// head that nobody has weighed yet is given to be less (its fill factor is taken as
// 0.96 to 1). With more air than that the casting weighs less than is told.
const airShare = 0.04

// pocketStop is how many times the volume of a pocket that is told of makes a
// casting that is not worth its metal (common practice, no source).
const pocketStop = 10

// pockets returns the air that stays in a cavity while it is cast, of which metal
// fills that room: the mold stands on edge, metal comes in at the gate, and air
// leaves by sprue and vents.
func (b *builder) pockets(ctx context.Context, i int, metal geom.Solid) ([]column.Pocket, error) {
	c := &b.cavities[i]
	// A branch ends in the runner, which is open.
	end := c.Sprue.BoundingBox().Grow(1)
	end.Min.Y = b.row.tops[i] - 0.3
	open := geom.Union(geom.Block(end), b.overEdge())
	return column.Pockets(ctx, metal, column.Pour{
		Up: geom.Vec{Y: 1}, Source: c.GateAt, Open: open, Step: airStep, Least: b.spec.Checks.Air,
	})
}

// overEdge is all above the top edge, and a little below.
func (b *builder) overEdge() geom.Solid {
	return geom.HalfSpace(geom.Vec{Y: -1}, 0.05-b.row.inside.Max.Y)
}

// trapped says which air stays. A wire that leaves the head there lets some of
// it out along its bed.
func (b *builder) trapped(i int, left []column.Pocket) []Finding {
	p, c, limit := b.parts[i], &b.cavities[i], b.spec.Checks.Air
	var fs []Finding
	all := 0.0
	for _, pocket := range left {
		all += pocket.Volume
	}
	share := all / (p.weighed.head * math.Pow(p.shrink, 3))
	for _, pocket := range left {
		at := pocket.Top
		f := Finding{Severity: Warn, Code: "air-trapped", Cavity: c.Name, At: &at, HeadAt: p.inFile(at),
			Value: pocket.Volume, Limit: limit, Unit: "mm³",
			Message: fmt.Sprintf("air stays in a pocket %.2g mm high, and there is no clear path for a vent", pocket.Height)}
		if !meetsParting(pocket) {
			f.Message = fmt.Sprintf("air stays in a pocket %.2g mm high away from the parting plane, where no vent can reach it", pocket.Height)
			f.Cause = AirOffParting
		}
		switch {
		case share > airShare:
			f.Severity = Stop
			f.Message += fmt.Sprintf("; %.0f %% of the head stays empty", 100*share)
		case p.bedDistance(at.Sub(p.move)) < 2*leastRubber:
			f.Message += "; some may leave along the wire"
		case pocket.Volume >= pocketStop*limit:
			f.Severity = Stop
		}
		fs = append(fs, f)
	}
	return fs
}

func meetsParting(p column.Pocket) bool {
	return p.Box.Min.Z <= airStep/2 && p.Box.Max.Z >= -airStep/2
}

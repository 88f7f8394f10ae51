package moldbox

import (
	"context"
	"fmt"
	"math"
	"sort"

	"halfpour/geom"
	"halfpour/geom/column"
)

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

// pockets returns the air that stays in a cavity while it is cast: the mold
// stands on edge, metal comes in at the gate, and air leaves by sprue and vents.
func (b *builder) pockets(ctx context.Context, i int) ([]column.Pocket, error) {
	return b.pocketsIn(ctx, i, b.cavities[i].Metal)
}

// pocketsIn is pockets with the metal's room as given.
func (b *builder) pocketsIn(ctx context.Context, i int, metal geom.Solid) ([]column.Pocket, error) {
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

// mostPocketVents bounds how often vents are added to a cavity.
const mostPocketVents = 12

// ventPockets adds vents until no pocket is left that one can free, and returns
// what stays.
func (b *builder) ventPockets(ctx context.Context, i int, v *venting, vents []vent) (_ []vent, left []column.Pocket, err error) {
	for range mostPocketVents {
		if left, err = b.pockets(ctx, i); err != nil {
			return vents, nil, err
		}
		added := false
		for _, p := range left {
			if ch, ok := v.free(p, vents); ok {
				vents, added = append(vents, ch), true
				break // it may free others too
			}
		}
		if !added {
			return vents, left, nil
		}
		b.setVents(i, vents)
	}
	left, err = b.pockets(ctx, i)
	return vents, left, err
}

// free looks for a vent out of a pocket: from the highest place of its roof in
// the parting plane, where a vent can be cut, or from below it when there is
// no way from there.
func (v *venting) free(p column.Pocket, own []vent) (vent, bool) {
	var roof []geom.Vec
	for _, at := range p.Reach {
		if math.Abs(at.Z) <= airStep/2 && at.Y > p.Spill {
			at.Z = 0
			roof = append(roof, at)
		}
	}
	sort.SliceStable(roof, func(i, j int) bool { return roof[i].Y > roof[j].Y })
	const most = 6 // places tried, a vent's width apart
	var tried []geom.Vec
	for _, at := range roof {
		near := false
		for _, q := range tried {
			near = near || q.Dist(at) < v.spec.Width
		}
		if near || len(tried) == most || v.others.distance(at) < leastRubber+v.spec.Width/2 {
			continue
		}
		tried = append(tried, at)
		if ch, ok := v.route(at); ok {
			return ch, true
		}
		if way, ok := v.around(at, own); ok {
			return v.make(way...), true
		}
	}
	return vent{}, false
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

// runnerAir says which air stays in the runner itself.
func (b *builder) runnerAir(ctx context.Context) error {
	if b.runner == nil {
		return nil
	}
	left, err := column.Pockets(ctx, b.runner.Metal, column.Pour{
		Up: geom.Vec{Y: 1}, Source: b.runner.Foot, Open: b.overEdge(), Step: airStep, Least: b.spec.Checks.Air,
	})
	for _, pocket := range left {
		at := pocket.Top
		b.findings = append(b.findings, Finding{Severity: Warn, Code: "air-trapped", At: &at,
			Value: pocket.Volume, Limit: b.spec.Checks.Air, Unit: "mm³",
			Message: "air stays in the runner", Cause: AirInRunner})
	}
	return err
}

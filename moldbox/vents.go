package moldbox

import (
	"context"
	"math"
	"slices"

	"halfpour/geom"
	"halfpour/geom/column"
)

// cutVents plans the vents of the runner and of one cavity after the other: from
// the high points of its outline, and then from what pockets of air are left. It
// returns those that stay, of each cavity that is like no earlier one.
func (b *builder) cutVents(ctx context.Context) ([][]column.Pocket, error) {
	b.ventRunner(ctx)
	ways := make([][]vent, len(b.parts))
	stay := make([][]column.Pocket, len(b.parts))
	clean := make([]bool, len(b.parts)) // no pockets from the outline's vents on
	for i := range b.parts {
		c := &b.cavities[i]
		v := b.venting(ctx, i)
		vents, findings := v.plan(c.Name)
		b.setVents(i, vents)
		if twin := b.twin(i, ways, vents); twin == i || !clean[twin] {
			outline := len(vents)
			var err error
			if vents, stay[i], err = b.ventPockets(ctx, i, v, vents); err != nil {
				return nil, err
			}
			findings = append(findings, b.trapped(i, stay[i])...)
			clean[i] = len(vents) == outline && len(stay[i]) == 0
		} else {
			clean[i] = true
		}
		ways[i] = vents
		c.AlikeTo = b.twin(i, ways, vents)
		b.findings = append(b.findings, findings...)
	}
	return stay, b.runnerAir(ctx)
}

// vent is a channel in the parting plane, from a head to the top edge or into
// the same head higher up.
type vent struct {
	way   []geom.Vec // from the head's outline on
	solid geom.Solid
}

// ventRunner cuts a vent from each end of the runner's arms, and says what metal
// fills of all.
func (b *builder) ventRunner(ctx context.Context) {
	f, r := b.row.feed, b.runner
	if r == nil {
		return
	}
	v := &venting{ctx: ctx, spec: b.spec.Vents, head: r.Solid, inside: b.row.inside, corner: b.spec.Frame.Corner, end: b.beyond()}
	for i := range b.cavities {
		v.others = append(v.others, present(b.cavities[i].Head, b.cavities[i].Bed)...)
	}
	var vents []geom.Solid
	for row := range f.rows {
		for _, end := range f.ends(row) {
			side := math.Copysign(0.5, end.X-f.x)
			from := end.Add(geom.Vec{X: side, Y: math.Sqrt(1 - side*side)}.Mul(f.arm))
			if ch, ok := v.upward(from); ok {
				vents = append(vents, ch.solid)
				v.others = append(v.others, ch.solid)
				continue
			}
			b.findings = append(b.findings, Finding{Severity: Warn, Code: "runner-vent", At: &from,
				Message: "no clear path up for a vent from an end of the runner: its air can only leave against the metal"})
		}
	}
	if len(vents) > 0 {
		r.Vent = geom.Union(vents...)
	}
	r.Metal = geom.Intersect(geom.Union(r.Solid, r.Vent), geom.HalfSpace(geom.Vec{Y: 1}, b.row.inside.Max.Y))
}

// venting is what cavity i's vents need to know. Under a runner, to which its air
// rises and which has vents of its own, none has to be cut.
func (b *builder) venting(ctx context.Context, i int) *venting {
	v := &venting{
		ctx:  ctx,
		spec: b.spec.Vents, neck: max(b.spec.Sprue.GateWidth, leastRubber), part: b.parts[i], head: b.cavities[i].Head,
		inside: b.row.inside, corner: b.spec.Frame.Corner, end: b.beyond(),
	}
	for j := range b.cavities {
		if j != i {
			v.others = append(v.others, b.cavities[j].Head)
		}
		v.others = append(v.others, b.cavities[j].channels()...)
	}
	v.others = append(v.others, b.runner.channels()...)
	if b.runner != nil {
		v.spec.Count = 0
	}
	return v
}

// mostPocketVents bounds how often vents are added to a cavity.
const mostPocketVents = 12

// ventPockets adds vents until no pocket is left that one can free, and returns
// what stays.
func (b *builder) ventPockets(ctx context.Context, i int, v *venting, vents []vent) (_ []vent, left []column.Pocket, err error) {
	for range mostPocketVents {
		if left, err = b.pockets(ctx, i, b.cavities[i].Metal); err != nil {
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
	left, err = b.pockets(ctx, i, b.cavities[i].Metal)
	return vents, left, err
}

// setVents puts the vents on cavity i.
func (b *builder) setVents(i int, vents []vent) {
	c := &b.cavities[i]
	var solids []geom.Solid
	c.VentsAt, c.Vent = nil, nil
	for _, ch := range vents {
		c.VentsAt = append(c.VentsAt, ch.way[0])
		solids = append(solids, ch.solid)
	}
	if len(solids) > 0 {
		c.Vent = geom.Union(solids...)
	}
	c.Metal = b.metal(c, c.Vent)
}

// metal is what metal fills of a cavity up to the top edge; vent may be nil.
func (b *builder) metal(c *Placed, vent geom.Solid) geom.Solid {
	level := geom.HalfSpace(geom.Vec{Y: 1}, b.row.inside.Max.Y)
	return geom.Subtract(geom.Intersect(geom.Union(c.Head, c.Sprue, vent), level), c.Wire)
}

// twin returns the first cavity that i is a copy of when it has these vents,
// or i itself.
func (b *builder) twin(i int, ways [][]vent, vents []vent) int {
	p := b.parts[i]
	for j := range i {
		q := b.parts[j]
		move := p.move.Sub(q.move)
		if q.kind == p.kind && math.Abs(b.row.tops[i]-b.row.tops[j]-move.Y) < 1e-6 && sameVents(ways[j], vents, move) {
			return j
		}
	}
	return i
}

// sameVents reports whether b are the vents a moved.
func sameVents(a, b []vent, move geom.Vec) bool {
	return slices.EqualFunc(a, b, func(v, w vent) bool {
		return slices.EqualFunc(v.way, w.way, func(p, q geom.Vec) bool { return p.Add(move).Dist(q) < 1e-6 })
	})
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

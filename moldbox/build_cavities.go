package moldbox

import (
	"context"
	"fmt"
	"math"

	"halfpour/geom"
	"halfpour/geom/column"
)

// placeCavities moves the parts to their places and puts the sprues on.
func (b *builder) placeCavities() {
	for i, p := range b.parts {
		p.move = b.row.at[i]
		place := p.toPart.Then(geom.Move(p.move))
		sprue, top, end := b.spec.branch(), b.row.tops[i], b.beyond()
		throat := top - p.gate.at.Add(p.move).Y - b.spec.Sprue.height()
		if b.row.feed != nil {
			end, throat = top, 0
		}
		depth, _ := p.neckDepth(sprue)
		gate := p.gate.at.Add(p.move)
		c := Placed{
			Name: p.Name, Scale: p.scale, Shrink: p.shrink,
			Head: place.Solid(p.Cavity.Head), Eye: p.move, GateAt: gate,
			Sprue:      sprue.solid(gate, top, end, depth),
			toEdge:     sprue.solid(gate, top, top, depth),
			Throat:     max(0, throat),
			ToMold:     place.Point,
			HeadVolume: p.weighed.head, WireInHead: p.inHead, MetalVolume: p.metal,
		}
		if c.Name == "" {
			c.Name = fmt.Sprintf("cavity %d", i+1)
		}
		b.layWires(p, &c)
		b.cavities = append(b.cavities, c)
	}
}

// checkCavities looks at each cavity by itself.
func (b *builder) checkCavities(ctx context.Context) {
	for i, p := range b.parts {
		b.findings = append(b.findings, checkCavity(ctx, p, &b.cavities[i], b.spec.branch())...)
	}
}

// cutVents plans the vents of one cavity after the other: from the high points
// of its outline, and then from what pockets of air are left. It returns those
// that stay, of each cavity that is like no earlier one.
func (b *builder) cutVents(ctx context.Context) ([][]column.Pocket, error) {
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

// venting is what cavity i's vents need to know.
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
	v.spec.Count = b.ventsBeside()
	return v
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
	hollow := []geom.Solid{c.Head, c.Sprue}
	if vent != nil {
		hollow = append(hollow, vent)
	}
	level := geom.HalfSpace(geom.Vec{Y: 1}, b.row.inside.Max.Y)
	return geom.Subtract(geom.Intersect(geom.Union(hollow...), level), c.Wire)
}

// ventsBeside is how many vents a cavity is to have at least: none under a
// runner, to which its air rises and which has vents of its own.
func (b *builder) ventsBeside() int {
	if b.runner != nil {
		return 0
	}
	return b.spec.Vents.Count
}

// channels are the solids of a cavity besides its head.
func (c *Placed) channels() []geom.Solid {
	var s []geom.Solid
	for _, part := range []geom.Solid{c.Bed, c.Sprue, c.Vent} {
		if part != nil {
			s = append(s, part)
		}
	}
	return s
}

// hollows are all that is not rubber, keys and marking aside.
func (b *builder) hollows() []geom.Solid {
	var s []geom.Solid
	for i := range b.cavities {
		s = append(s, b.cavities[i].Head)
		s = append(s, b.cavities[i].channels()...)
	}
	return append(s, b.runner.channels()...)
}

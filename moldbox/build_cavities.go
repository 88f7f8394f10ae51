package moldbox

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"halfpour/geom"
)

// placeCavities moves the parts to their places and puts the sprues on.
func (b *builder) placeCavities() {
	for i, p := range b.parts {
		p.move = b.row.at[i]
		place := p.toPart.Then(geom.Move(p.move))
		top, end := b.row.tops[i], b.beyond()
		throat := top - p.gate.at.Add(p.move).Y - b.spec.Sprue.height()
		if b.row.feed != nil {
			end, throat = top, 0
		}
		gate := p.gate.at.Add(p.move)
		c := Placed{
			Name: cmp.Or(p.Name, fmt.Sprintf("cavity %d", i+1)), Scale: p.scale, Shrink: p.shrink,
			Head: place.Solid(p.Cavity.Head), Eye: p.move, GateAt: gate,
			Sprue:      p.sprue.solid(gate, top, end, p.gate.depth),
			toEdge:     p.sprue.solid(gate, top, top, p.gate.depth),
			Throat:     max(0, throat),
			ToMold:     place.Point,
			HeadVolume: p.weighed.head, WireInHead: p.inHead, MetalVolume: p.metal,
		}
		b.layWires(p, &c)
		b.cavities = append(b.cavities, c)
	}
}

// beyond is the y at which sprues and vents end, past the middle of the top
// edge's wall, which leans, at the height of the funnel.
func (b *builder) beyond() float64 {
	f := b.spec.Frame
	mouth := b.spec.Sprue.Mouth
	if feed := b.row.feed; feed != nil {
		mouth = feed.funnel(b.spec.Sprue).Mouth
	}
	return b.row.inside.Max.Y + f.Wall + 1 + mouth/2*math.Tan(f.Draft)
}

// height is from the gate to the top edge of the rubber, the rise left out.
func (s SprueSpec) height() float64 { return s.GateLength + s.Length }

// solid returns funnel, throat and neck over a gate in mold coordinates. top
// is the rubber's edge, end where the funnel ends beyond it, depth how far the
// neck reaches into the head.
func (s SprueSpec) solid(gate geom.Vec, top, end, depth float64) geom.Solid {
	parts := s.funnel(gate.X, gate.Y+s.GateLength, top, end)

	// The neck's section is a slot with round sides: it stands upright on the
	// parting plane and prints without overhang there.
	w, t := s.GateWidth/2, s.GateThickness/2
	neck := geom.DraftedBlock{
		Base: geom.Box{
			Min: geom.Vec{X: -w, Y: -t, Z: -depth},
			Max: geom.Vec{X: w, Y: t, Z: s.GateLength + seam},
		},
		Corner: math.Min(w, t),
	}.Solid()
	upright := geom.FromAxes(geom.Vec{X: 1}, geom.Vec{Z: -1}, geom.Vec{Y: 1})
	parts = append(parts, upright.Then(geom.Move(gate)).Solid(neck))
	return geom.Union(parts...)
}

// funnel is funnel and throat over x, from bottom up.
func (s SprueSpec) funnel(x, bottom, top, end float64) []geom.Solid {
	at := func(y float64) geom.Vec { return geom.Vec{X: x, Y: y} }
	narrow := top - s.Length
	var parts []geom.Solid
	if narrow-bottom > seam {
		parts = append(parts, geom.Frustum(at(bottom), at(narrow+seam), s.Throat/2, s.Throat/2))
	} else {
		narrow = bottom
	}
	slope := (s.Mouth - s.Throat) / 2 / (top - narrow)
	return append(parts, geom.Frustum(at(narrow), at(end), s.Throat/2, s.Mouth/2+slope*(end-top)))
}

// layWires puts the wires of a part into its cavity. A stretch that leaves the
// mold gets a bed through the rubber's edge into the frame's wall, as a funnel
// does; one that is too short to leave is found.
func (b *builder) layWires(p *part, c *Placed) {
	there := p.turn.Then(geom.Move(p.move))
	var wires, beds []geom.Solid
	for i, w := range p.wires {
		beyond := b.spec.Frame.Wall + 1 + w.axis.wire/2 + w.fit
		inner, lacks := w.axis.cutAt(b.row.inside, beyond, there)
		if lacks > 0 {
			b.findings = append(b.findings, tooShortToLeave(p, c, w, lacks))
		}
		bed := []geom.Solid{w.cutTo(inner).bed(there)}
		for _, r := range p.relief[i] {
			to := geom.Move(p.move)
			bed = append(bed, to.Solid(r.cut))
			c.relief[r.half()] = append(c.relief[r.half()], to.Solid(r.deep))
		}
		placed := PlacedWire{
			Name: w.name, Keeper: w.keeper, Wire: w.solid(there), Bed: geom.Union(bed...),
			Diameter: w.axis.wire, Volume: w.volume(), InHead: p.shares[i], Length: w.axis.length(), Cut: w.stretches(),
		}
		c.Wires = append(c.Wires, placed)
		wires, beds = append(wires, placed.Wire), append(beds, placed.Bed)
	}
	if len(wires) > 0 {
		c.Wire, c.Bed = geom.Union(wires...), geom.Union(beds...)
	}
}

func tooShortToLeave(p *part, c *Placed, w partWire, lacks float64) Finding {
	at := p.turn.Point(w.axis.pieces[w.axis.out-1].to).Add(p.move)
	what, cause := "the last stretch of "+w.called(), Cause("")
	if w.hook() && len(p.Hook.Points) == 0 {
		what, cause = "the shank of "+w.called(), ShortShank
	}
	return Finding{Severity: Stop, Code: "wire-ends-inside", Cavity: c.Name, At: &at, HeadAt: p.inFile(at),
		Value: lacks, Limit: 0, Unit: "mm",
		Message: fmt.Sprintf("%s should leave the mold but ends %.1f mm short of its edge", what, lacks),
		Cause:   cause}
}

// channels are the runner's solids.
func (r *Runner) channels() []geom.Solid {
	if r == nil {
		return nil
	}
	return present(r.Solid, r.Vent)
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

// channels are the solids of a cavity besides its head.
func (c *Placed) channels() []geom.Solid { return present(c.Bed, c.Sprue, c.Vent) }

// present leaves out solids that are nil.
func present(solids ...geom.Solid) []geom.Solid {
	return slices.DeleteFunc(solids, func(s geom.Solid) bool { return s == nil })
}

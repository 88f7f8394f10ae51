package moldbox

import (
	"context"
	"math"
	"slices"

	"halfpour/geom"
)

// rubberVolume integrates the rubber of a half to a share of it; of what comes out only
// volumes are set. What the cavities take is measured by itself, of cavities that are
// alike once, and what the marks take is reckoned, as long as none of them meets another
// one or a key.
func (m *Mold) rubberVolume(ctx context.Context, h Half, share float64) (geom.Integral, error) {
	hollows := m.hollowsIn(h)
	if !m.keepApart(h, hollows) {
		return geom.Integrate(ctx, h.Rubber(), geom.IntegrateOptions{RelTol: share})
	}
	// All cavities together may be off by half of it, the room that they are in by the
	// other half.
	rubber, err := geom.Integrate(ctx, geom.Subtract(h.Fill, h.bare), geom.IntegrateOptions{RelTol: share / 2})
	if err != nil {
		return geom.Integral{}, err
	}
	each := geom.IntegrateOptions{Coarse: true, RelTol: leastShare, AbsTol: share / 2 * rubber.Best / float64(len(hollows))}
	marks := m.markVolume(h)
	sum := geom.Integral{Lo: rubber.Lo - marks, Best: rubber.Best - marks, Hi: rubber.Hi - marks, Error: rubber.Error}
	taken := make([]geom.Integral, len(hollows))
	for i, s := range hollows {
		if like := m.Cavities[i].AlikeTo; like < i && m.standAlike(h, hollows, like, i) {
			taken[i] = taken[like]
		} else if taken[i], err = aboveFloor(ctx, geom.Intersect(h.Fill, geom.Subtract(s, h.bare)), each); err != nil {
			return geom.Integral{}, err
		}
		sum.Lo, sum.Best, sum.Hi = sum.Lo-taken[i].Hi, sum.Best-taken[i].Best, sum.Hi-taken[i].Lo
		sum.Error += taken[i].Error
	}
	return sum, nil
}

// offFloor is where measuring begins over a floor, mm: cells that a floor does not touch
// need not be as small as those along an edge with it.
const offFloor = 1e-6

// aboveFloor integrates what of a solid is over the floor of a half.
func aboveFloor(ctx context.Context, s geom.Solid, opt geom.IntegrateOptions) (geom.Integral, error) {
	opt.Within = s.BoundingBox()
	opt.Within.Min.Z = max(opt.Within.Min.Z, offFloor)
	v, err := geom.Integrate(ctx, s, opt)
	size := opt.Within.Size()
	v.Hi += offFloor * size.X * size.Y
	return v, err
}

// markVolume is what the marks of a half take of its rubber, mm³: they are prisms.
func (m *Mold) markVolume(h Half) float64 {
	sum := 0.0
	for _, mk := range m.made.by.marks(h) {
		sum += mk.shape.Area() * m.Spec.Marking.Relief
	}
	return sum
}

// voidVolume integrates what is not rubber, as rubberVolume does.
func (m *Mold) voidVolume(ctx context.Context, opt geom.IntegrateOptions) (geom.Integral, error) {
	hollows := [2][]geom.Solid{m.hollowsIn(m.Left), m.hollowsIn(m.Right)}
	if !m.keepApart(m.Left, hollows[0]) || !m.keepApart(m.Right, hollows[1]) {
		return geom.Integrate(ctx, m.Void, opt)
	}
	var gaps []geom.Solid
	for _, k := range m.Keys {
		gaps = append(gaps, k.gap(m.Spec.Keys.Clearance))
	}
	opt.AbsTol /= float64(len(m.Cavities) + 1)
	sum, err := geom.Integrate(ctx, geom.Intersect(m.Block, geom.Union(gaps...)), opt)
	if err != nil {
		return sum, err
	}
	marks := m.markVolume(m.Left) + m.markVolume(m.Right)
	sum.Lo, sum.Best, sum.Hi = sum.Lo+marks, sum.Best+marks, sum.Hi+marks
	taken := make([]geom.Integral, len(m.Cavities))
	for i := range taken {
		c := &m.Cavities[i]
		if like := c.AlikeTo; like < i && m.standAlike(m.Left, hollows[0], like, i) && m.standAlike(m.Right, hollows[1], like, i) {
			taken[i] = taken[like]
		} else if taken[i], err = geom.Integrate(ctx, geom.Intersect(m.Block, geom.Union(append(c.channels(), c.Head)...)), opt); err != nil {
			return sum, err
		}
		sum.Lo, sum.Best, sum.Hi = sum.Lo+taken[i].Lo, sum.Best+taken[i].Best, sum.Hi+taken[i].Hi
		sum.Error += taken[i].Error
	}
	return sum, nil
}

// leastShare asks for an absolute error alone.
const leastShare = 1e-12

// hollowsIn are what each cavity takes out of a half, in its print coordinates.
func (m *Mold) hollowsIn(h Half) []geom.Solid {
	hollows := make([]geom.Solid, len(m.Cavities))
	for i := range m.Cavities {
		c := &m.Cavities[i]
		all := append(c.channels(), c.Head)
		hollows[i] = h.InMold().Solid(geom.Union(append(all, c.relief[h.index()]...)...))
	}
	return hollows
}

// keepApart reports whether it is certain that each hollow and each mark takes rubber of
// its own: nothing else is in it, and marks stand on the floor.
func (m *Mold) keepApart(h Half, hollows []geom.Solid) bool {
	b := m.made.by
	if b == nil || b.runner != nil {
		return false
	}
	var small []geom.Solid
	for _, k := range b.keys {
		small = append(small, h.InMold().Solid(k.ball(b.spec.Keys.Clearance)))
	}
	if !b.onFloor(b.marks(h), h) || !disjoint(geom.Intersect(h.Fill, h.Marking, geom.Union(small...)), mostHalvings) {
		return false
	}
	for i, s := range hollows {
		for _, other := range slices.Concat(hollows[:i], small, []geom.Solid{h.Marking}) {
			if !disjoint(geom.Intersect(h.Fill, s, other), mostHalvings) {
				return false
			}
		}
	}
	return true
}

// onFloor reports whether marks stand side by side on the floor of a half, whole and
// within the rubber.
func (b *builder) onFloor(marks []mark, h Half) bool {
	var boxes []geom.Box
	for _, mk := range marks {
		low, high := mk.outline.Bounds()
		box := geom.BoxOf(geom.Vec{X: low.X, Y: low.Y}, geom.Vec{X: high.X, Y: high.Y})
		for i := range 8 {
			if insideRounded(h.Inside, b.spec.Frame.Corner, box.Corner(i)) < 0 {
				return false
			}
		}
		if slices.ContainsFunc(boxes, func(other geom.Box) bool { return !box.Intersect(other).IsEmpty() }) {
			return false
		}
		boxes = append(boxes, box)
	}
	return b.spec.Marking.Relief <= h.FillHeight
}

// mostHalvings is how often a box is halved to see that nothing is in it.
const mostHalvings = 21

// disjoint reports whether it is certain that nothing is in a solid.
func disjoint(s geom.Solid, halvings int) bool {
	return emptyIn(s, s.BoundingBox(), halvings)
}

func emptyIn(s geom.Solid, box geom.Box, halvings int) bool {
	if box.IsEmpty() {
		return true
	}
	s, values := geom.PruneBySign(s, box)
	if values.Lo >= 0 || values.Hi < 0 || halvings == 0 {
		return values.Lo >= 0
	}
	low, high := box, box
	switch size, mid := box.Size(), box.Centre(); max(size.X, size.Y, size.Z) {
	case size.X:
		low.Max.X, high.Min.X = mid.X, mid.X
	case size.Y:
		low.Max.Y, high.Min.Y = mid.Y, mid.Y
	default:
		low.Max.Z, high.Min.Z = mid.Z, mid.Z
	}
	return emptyIn(s, low, halvings-1) && emptyIn(s, high, halvings-1)
}

// standAlike reports whether two cavities that are alike take the same of a half: at
// the same height, and where only the long walls are about them.
func (m *Mold) standAlike(h Half, hollows []geom.Solid, i, k int) bool {
	corner := m.Spec.Frame.Corner
	lo, hi := h.Inside.Min.X+corner, h.Inside.Max.X-corner
	for _, of := range []int{i, k} {
		if box := geom.Intersect(h.Fill, hollows[of]).BoundingBox(); box.Min.X < lo || box.Max.X > hi {
			return false
		}
	}
	return math.Abs(m.Cavities[i].Eye.Y-m.Cavities[k].Eye.Y) < 1e-9
}

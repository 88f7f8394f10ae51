package moldbox

import (
	"math"

	"halfpour/geom"
)

// route looks for a way up from a point of the outline: straight up into the
// head when there is more of it above, else to the top edge, straight up or
// leaning as little as possible.
func (v *venting) route(from geom.Vec) (vent, bool) {
	if above, ok := v.headAbove(from); ok {
		to := geom.Vec{X: from.X, Y: above}
		if !v.others.free(from, to, leastRubber+v.spec.Width/2) {
			return vent{}, false
		}
		return v.make(from, to.Add(geom.Vec{Y: v.into(to, geom.Vec{Y: 1})})), true
	}
	return v.upward(from)
}

// upward looks for a way from a point to the top edge, straight up or leaning
// as little as possible.
func (v *venting) upward(from geom.Vec) (vent, bool) {
	const step, most = 0.5, 25 // mm; a vent that leans more is too long to clear
	for lean := 0.0; lean <= most && v.ctx.Err() == nil; lean += step {
		for _, side := range []float64{1, -1} {
			if lean == 0 && side < 0 {
				continue
			}
			if way, ok := v.lean(from, from.X+side*lean); ok {
				return v.make(way...), true
			}
		}
	}
	return vent{}, false
}

// leastRise is how steeply a vent must rise, height over width, for air to
// leave it by itself.
const leastRise = 0.5

// lean tries ways from a point to x at the top edge: straight, or leaning
// first and then upright.
func (v *venting) lean(from geom.Vec, x float64) ([]geom.Vec, bool) {
	margin := v.corner + v.spec.Width
	if x < v.inside.Min.X+margin || x > v.inside.Max.X-margin {
		return nil, false
	}
	edge := v.inside.Max.Y
	dx := math.Abs(x - from.X)
	if dx == 0 {
		return v.open(from, geom.Vec{X: x, Y: v.end})
	}
	for _, rise := range []float64{(edge - from.Y) / dx, 2, 1, leastRise} {
		y := from.Y + rise*dx
		if rise < leastRise || y > edge+1e-9 {
			continue
		}
		elbow := geom.Vec{X: x, Y: y}
		if way, ok := v.open(from, elbow, geom.Vec{X: x, Y: v.end}); ok {
			return way, true
		}
	}
	return nil, false
}

// open checks a way: clear of everything else all along, and leaving the own
// head steadily.
func (v *venting) open(way ...geom.Vec) ([]geom.Vec, bool) {
	gap := leastRubber + v.spec.Width/2
	gone := 0.0
	for i := 1; i < len(way); i++ {
		a, b := way[i-1], way[i]
		if !v.others.free(a, b, gap) || !v.leaves(a, b, gone, gap) {
			return nil, false
		}
		gone += a.Dist(b)
	}
	return way, true
}

// leaves reports whether the way from a to b gets away from the own head:
// after s mm at least 0.4·s from it, until gap is reached.
func (v *venting) leaves(a, b geom.Vec, gone, gap float64) bool {
	length := a.Dist(b)
	for s := 0.0; s < length; s += 0.3 {
		want := math.Min(gap, 0.4*(gone+s)) - 0.05
		if d := v.head.Evaluate(a.Lerp(b, s/length)); d < want {
			return false
		} else if d > gap {
			s += d - gap
		}
	}
	return true
}

// headAbove returns the lower edge of the next stretch of head over a point.
func (v *venting) headAbove(from geom.Vec) (float64, bool) {
	p := from.Sub(v.part.move)
	for _, sp := range v.part.cut.column(p.X) {
		if sp.lo > p.Y+leastProminence {
			return sp.lo + v.part.move.Y, true
		}
	}
	return 0, false
}

// into is how far a channel must run on from a point of the outline to end
// well inside the head, at most 2 mm.
func (v *venting) into(at, dir geom.Vec) float64 {
	for d := 0.3; d < 2; d += 0.1 {
		if v.head.Evaluate(at.Add(dir.Mul(d))) < -0.3 {
			return d
		}
	}
	return 0.6
}

// make cuts the channel: a flat bar per stretch, a disc at each elbow. Its
// start is set back into the head.
func (v *venting) make(way ...geom.Vec) vent {
	v.planned = append(v.planned, way[0])
	w, d := v.spec.Width/2, v.spec.Depth/2
	var parts []geom.Solid
	for i := 1; i < len(way); i++ {
		a, b := way[i-1], way[i]
		dir := b.Sub(a).Unit()
		back := 0.0
		if i == 1 {
			back = v.into(a, dir.Neg())
		} else {
			up := geom.Vec{Z: d}
			parts = append(parts, geom.Frustum(a.Sub(up), a.Add(up), w, w))
		}
		bar := geom.Block(geom.Box{Min: geom.Vec{X: -back, Y: -w, Z: -d}, Max: geom.Vec{X: a.Dist(b), Y: w, Z: d}})
		across := geom.Vec{X: -dir.Y, Y: dir.X}
		parts = append(parts, geom.FromAxes(dir, across, geom.Vec{Z: 1}).Then(geom.Move(a)).Solid(bar))
	}
	return vent{way, geom.Union(parts...)}
}

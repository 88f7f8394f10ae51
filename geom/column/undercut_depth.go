package column

import (
	"context"
	"math"

	"halfpour/geom"
)

// SharpUndercut is Undercut with the greatest depth measured on the solid that
// the grid was cut from. The error is that of ctx.
func (c *Grid) SharpUndercut(ctx context.Context, s geom.Solid, d Draw) (Undercut, error) {
	u := Undercut{Map: make([]float32, c.NX*c.NY)}
	all := c.overhangs(d, u.Map)
	for _, o := range all {
		u.Room += (o.gap.Hi - o.gap.Lo) * c.Step * c.Step
	}
	for _, o := range c.deepest(all) {
		for _, share := range []float64{0, 0.5} { // the gap's bottom and its middle
			h := o.gap.Lo + share*(o.gap.Hi-o.gap.Lo)
			l := c.levelSearch(ctx, s, d, h)
			at, edge := l.measure(c.At(o.i, o.j, d.height(h)), o.depth, c.Step)
			if depth := at.Dist(edge); depth > u.Depth {
				u.Depth, u.At, u.Edge = depth, at, edge
			}
		}
	}
	return u, ctx.Err()
}

// mostMeasured is how many overhangs are measured of those that may be the
// deepest.
const mostMeasured = 4

// deepest returns some of the overhangs that the lines cannot tell from the
// deepest, spread over all of them.
func (c *Grid) deepest(all []overhang) []overhang {
	most := 0.0
	for _, o := range all {
		most = max(most, o.depth)
	}
	var near []overhang
	for _, o := range all {
		if o.depth >= most-c.Step {
			near = append(near, o)
		}
	}
	if len(near) <= mostMeasured {
		return near
	}
	var out []overhang
	for k := range mostMeasured {
		out = append(out, near[(2*k+1)*len(near)/(2*mostMeasured)])
	}
	return out
}

// levelSearch looks from a point under an overhang for the nearest way out at
// its own height.
type levelSearch struct {
	ctx             context.Context // when it has ended, everywhere is out
	s               geom.Solid
	up, side, ahead geom.Vec
	high            float64 // of all that is over the point's height
	stride          float64 // along a way: what is narrower may be missed
}

// levelSearch is for points at height h over the parting plane.
func (c *Grid) levelSearch(ctx context.Context, s geom.Solid, d Draw, h float64) levelSearch {
	l := levelSearch{ctx: ctx, s: s, up: c.back.Direction(geom.Vec{Z: 1}), side: c.back.Direction(geom.Vec{X: 1}),
		ahead: c.back.Direction(geom.Vec{Y: 1}), stride: c.Step / 2}
	if d.Down {
		l.up = l.up.Neg()
	}
	for _, x := range c.all {
		l.high = max(l.high, max(x.Hi-d.From, d.From-x.Lo))
	}
	l.high -= h
	return l
}

// measure goes back from q into the body and out from there past the edge.
func (l levelSearch) measure(q geom.Vec, about, step float64) (at, edge geom.Vec) {
	most := about + 2*step
	at = q
	for range 3 { // the way out from the body's surface may lead elsewhere than from q
		way, _ := l.nearestOut(at, most)
		back := l.into(at, way.Neg(), 2*step)
		at = at.Sub(way.Mul(back))
		if back < 1e-3 {
			break
		}
	}
	way, far := l.nearestOut(at, most+2*step)
	return at, at.Add(way.Mul(far))
}

// nearestOut tries ways all round and then closer by the best.
func (l levelSearch) nearestOut(q geom.Vec, most float64) (way geom.Vec, far float64) {
	const turns = 24
	turn := func(a float64) geom.Vec {
		sin, cos := math.Sincos(a)
		return l.side.Mul(cos).Add(l.ahead.Mul(sin))
	}
	best := 0.0
	far = math.Inf(1)
	try := func(a float64) {
		if t := l.out(q, turn(a), min(most, far)); t < far {
			best, far = a, t
		}
	}
	for k := range turns {
		try(2 * math.Pi * float64(k) / turns)
	}
	for d := math.Pi / turns; d > 0.004; d /= 2 {
		a := best
		try(a - d)
		try(a + d)
	}
	if math.IsInf(far, 1) {
		return turn(best), 0
	}
	return turn(best), far
}

// out returns how far along a level way the first place is that nothing is
// over, to 1e-4 mm; +Inf when there is none before most.
func (l levelSearch) out(q, way geom.Vec, most float64) float64 {
	last := 0.0
	for t := 0.0; t < most+l.stride; t += l.stride {
		if l.free(q.Add(way.Mul(t))) {
			for t-last > 1e-4 {
				if m := (t + last) / 2; l.free(q.Add(way.Mul(m))) {
					t = m
				} else {
					last = m
				}
			}
			return t
		}
		last = t
	}
	return math.Inf(1)
}

// free reports whether nothing of the body is over a point.
func (l levelSearch) free(p geom.Vec) bool {
	at := func(h float64) float64 { return l.s.Evaluate(p.Add(l.up.Mul(h))) }
	for _, v := range geom.March(at, 0, l.high, at(0), 0.02) {
		if v < 0 {
			return false
		}
	}
	return true
}

// into returns how far along a level way the body begins, at most most.
func (l levelSearch) into(q, way geom.Vec, most float64) float64 {
	at := func(t float64) float64 { return l.s.Evaluate(q.Add(way.Mul(t))) }
	for t, v := range geom.March(at, 0, most, at(0), 1e-4) {
		if v < 1e-4 {
			return t
		}
	}
	return 0
}

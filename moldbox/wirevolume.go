package moldbox

import (
	"math"

	"halfpour/geom"
)

// wireStep is the length of wire taken as one slice where the head's skin is
// near, mm.
const wireStep = 0.08

// within returns how much of the wire lies in a head that stands in the hook's
// plane, mm³. It sums slices across the axis: whole ones where the head's
// distance is more than the wire's radius, sampled discs where the skin cuts
// the wire. The saddle where the wire meets the ring is taken as in volume; the
// rest is good to about 0.1 % of the wire.
func (a wireAxis) within(head geom.Solid) float64 {
	r := a.wire / 2
	ring := arc(geom.Vec{}, geom.Vec{X: a.ring}, 2*math.Pi)
	sum := a.sliced(ring, 0, head)
	for i, p := range a.pieces {
		skip := 0.0
		if i == 0 { // the ring holds what lies before its outside
			skip = a.ring + r - p.from.Norm()
		}
		sum += a.sliced(p, skip, head)
	}
	if last := a.pieces[len(a.pieces)-1].to; head.Evaluate(last) <= -r {
		sum += 2.0 / 3 * math.Pi * r * r * r
	}
	return sum
}

// sliced is the part of one piece, from skip mm on, that lies in the head.
func (a wireAxis) sliced(p piece, skip float64, head geom.Solid) float64 {
	r, length := a.wire/2, p.length()
	sum := 0.0
	for s := skip; s < length; {
		step := math.Min(wireStep, length-s)
		at := (s + step/2) / length
		d := head.Evaluate(p.at(at))
		free := math.Abs(d) - r - step/2 // further along, nothing changes
		if free > step {
			step = math.Min(free, length-s)
		}
		switch {
		case d >= r:
		case d <= -r:
			sum += step
		default:
			sum += step * a.discShare(p, at, head)
		}
		s += step
	}
	return sum * math.Pi * r * r
}

// discShare is the share of the wire's section at t that lies in the head, by
// equal areas of the disc; in an arc the outer ones weigh more, as they sweep a
// longer way.
func (a wireAxis) discShare(p piece, t float64, head geom.Solid) float64 {
	const rings, spokes = 3, 10
	r, c := a.wire/2, p.at(t)
	out, bend := p.across(t)
	soft := r / rings // a sample's share fades over this distance from the skin
	sum := 0.0
	for i := range rings {
		rho := r * math.Sqrt((float64(i)+0.5)/rings)
		for j := range spokes {
			sin, cos := math.Sincos(2 * math.Pi * (float64(j) + 0.5) / spokes)
			d := head.Evaluate(c.Add(out.Mul(rho * cos)).Add(geom.Vec{Z: rho * sin}))
			sum += (1 + bend*rho*cos) * math.Min(1, math.Max(0, 0.5-d/soft))
		}
	}
	return sum / (rings * spokes)
}

// across returns the unit vector in the plane across the axis, away from the
// centre of an arc, and the arc's curvature.
func (p piece) across(t float64) (out geom.Vec, bend float64) {
	if p.sweep == 0 {
		d := p.to.Sub(p.from).Unit()
		return geom.Vec{X: -d.Y, Y: d.X}, 0
	}
	d := p.at(t).Sub(p.centre)
	return d.Unit(), 1 / d.Norm()
}

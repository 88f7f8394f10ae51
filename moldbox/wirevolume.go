package moldbox

import (
	"context"
	"math"

	"halfpour/geom"
)

// volume is of the whole wire in mm³, by Pappus: its section times the way of
// its centre, counted from the outside of the eye ring, with the saddle there,
// a round end at each free end, and the exact difference of a ball joint from
// a mitre at sharp corners (turn angle φ): r³(2φ/3 - 4/3·tan(φ/2)), up to 150°
// where that still makes sense.
func (a wireAxis) volume() float64 {
	r := a.wire / 2
	l, ends := 0.0, 2.0/3*math.Pi
	if a.ring > 0 {
		l = 2*math.Pi*a.ring - a.saddleFrom()
	} else {
		ends *= 2
	}
	for i, p := range a.pieces {
		l += p.length()
		if i > 0 && p.straight() && a.pieces[i-1].straight() {
			phi := math.Min(turnBetween(a.pieces[i-1], p), 150*math.Pi/180)
			ends += 2.0/3*phi - 4.0/3*math.Tan(phi/2)
		}
	}
	return math.Pi*r*r*l + r*r*r*ends + a.saddle()
}

// saddleFrom is how much of the first piece lies before the outside of the
// eye ring.
func (a wireAxis) saddleFrom() float64 { return a.ring + a.wire/2 - a.pieces[0].from.Norm() }

// saddle is the volume in mm³ between the eye ring and the wire's section at
// its outside, r off the ring's axis: over the disc, r less the ring's own
// depth there, √(r²-z²), gives (π - 8/3)r³, and the ring's curve, y²/2(R+r) to
// the second order, π·r⁴/8(R+r). It is the same for a ring that lies in the
// plane and one that stands across.
func (a wireAxis) saddle() float64 {
	if a.ring == 0 {
		return 0
	}
	r := a.wire / 2
	return (math.Pi-8.0/3)*r*r*r + math.Pi*r*r*r*r/(8*(a.ring+r))
}

// wireStep is the length of wire taken as one slice where the head's surface is
// near, mm.
const wireStep = 0.08

// within returns how much of the wire lies in a head that stands in the hook's
// plane, mm³. It sums slices across the axis: whole ones where the head's
// distance is more than the wire's radius, sampled discs where the surface cuts
// the wire. The saddle at the eye counts when its middle is in the head. The
// rest is good to about 0.1 % of the wire.
func (a wireAxis) within(ctx context.Context, head geom.Solid) float64 {
	sum := 0.0
	if a.ring > 0 {
		sum += a.ringWithin(ctx, head)
	} else {
		sum += a.endWithin(a.pieces[0].from, head)
	}
	for i, p := range a.pieces {
		skip := 0.0
		if i == 0 && a.ring > 0 { // the ring holds what lies before its outside
			skip = a.saddleFrom()
		}
		sum += a.sliced(ctx, p, skip, head)
	}
	return sum + a.endWithin(a.pieces[len(a.pieces)-1].to, head)
}

// ringWithin is the eye ring's part in the head. A ring across is turned into
// the plane with the head round it.
func (a wireAxis) ringWithin(ctx context.Context, head geom.Solid) float64 {
	saddle := 0.0
	if head.Evaluate(a.way().Mul(a.ring+a.wire/2)) < 0 {
		saddle = a.saddle()
	}
	if a.across {
		head = geom.Rotate(a.way(), math.Pi/2).Solid(head)
	}
	return saddle + a.sliced(ctx, arc(geom.Vec{}, geom.Vec{X: a.ring}, 2*math.Pi), 0, head)
}

// endWithin is a round end's part in the head: all of it or nothing.
func (a wireAxis) endWithin(end geom.Vec, head geom.Solid) float64 {
	r := a.wire / 2
	if head.Evaluate(end) > -r {
		return 0
	}
	return 2.0 / 3 * math.Pi * r * r * r
}

// sliced is the part of one piece, from skip mm on, that lies in the head.
func (a wireAxis) sliced(ctx context.Context, p piece, skip float64, head geom.Solid) float64 {
	r, length := a.wire/2, p.length()
	sum := 0.0
	for s := skip; s < length && ctx.Err() == nil; {
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
	soft := r / rings // a sample's share fades over this distance from the surface
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

package moldbox

import (
	"math"

	"halfpour/geom"
)

// ring is the radius of the eye ring's axis.
func (h Hook) ring() float64 { return (h.EyeInside + h.Wire) / 2 }

// straight reports whether the eye is in line with the shank.
func (h Hook) straight() bool { return h.Leg == 0 }

// cornerRadius is the radius, in wires, of the axis in the corner between leg
// and shank: an inside radius of one wire (common practice, no source).
const cornerRadius = 1.5

// piece is a part of a wire's axis in the hook's plane: straight, or with a
// sweep an arc, counter-clockwise when the sweep is positive.
type piece struct {
	from, to geom.Vec
	centre   geom.Vec
	sweep    float64
}

func line(from, to geom.Vec) piece { return piece{from: from, to: to} }

// arc turns from about centre.
func arc(centre, from geom.Vec, sweep float64) piece {
	r := from.Sub(centre)
	s, c := math.Sincos(sweep)
	to := centre.Add(geom.Vec{X: r.X*c - r.Y*s, Y: r.X*s + r.Y*c})
	return piece{from, to, centre, sweep}
}

func (p piece) length() float64 {
	if p.sweep == 0 {
		return p.from.Dist(p.to)
	}
	return math.Abs(p.sweep) * p.from.Dist(p.centre)
}

// at returns the point at t of 0..1 along the piece.
func (p piece) at(t float64) geom.Vec {
	if p.sweep == 0 {
		return p.from.Lerp(p.to, t)
	}
	return arc(p.centre, p.from, t*p.sweep).to
}

func (p piece) solid(r float64) geom.Solid {
	if p.sweep == 0 {
		return geom.Capsule(p.from, p.to, r)
	}
	return geom.TubeArc(p.centre, geom.Vec{Z: 1}, p.from, p.sweep, r)
}

// wireAxis is the axis of a hook's wire: the eye ring about the origin and the
// pieces after it, in the hook's plane (x towards the tail, y to the back).
type wireAxis struct {
	ring   float64
	wire   float64
	pieces []piece
}

// axis lays the wire out.
func (h Hook) axis() wireAxis {
	a := wireAxis{ring: h.ring(), wire: h.Wire}
	switch {
	case len(h.Points) > 0:
		a.pieces = h.pointPieces()
	default:
		a.pieces = h.usualPieces()
	}
	return a
}

// usualPieces are leg, corner, shank, bend and point.
func (h Hook) usualPieces() []piece {
	start := h.ring() + h.intoRing()
	shankAt := geom.Vec{X: start}
	var ps []piece
	end := geom.Vec{X: h.Shank}
	if !h.straight() {
		s, c := math.Sincos(h.LegAngle)
		down := geom.Vec{X: -c, Y: -s}
		corner := down.Mul(h.Leg)
		turn := math.Pi - h.LegAngle
		tan := math.Tan(turn / 2)
		// The corner takes at most half of what is straight on either side.
		radius := math.Min(cornerRadius*h.Wire, math.Min(h.Leg-start, h.Shank)/2/tan)
		legEnd := corner.Sub(down.Mul(radius * tan))
		centre := legEnd.Add(geom.Vec{X: -down.Y, Y: down.X}.Mul(radius))
		bend := arc(centre, legEnd, turn)
		ps = append(ps, line(down.Mul(start), legEnd), bend)
		shankAt, end = bend.to, corner.Add(geom.Vec{X: h.Shank})
	}
	bend := arc(end.Add(geom.Vec{Y: h.Gape / 2}), end, math.Pi)
	ps = append(ps, line(shankAt, end), bend)
	if h.Point > 0 {
		ps = append(ps, line(bend.to, bend.to.Sub(geom.Vec{X: h.Point})))
	}
	return ps
}

// intoRing is how far outside the ring's axis the wire's axis starts, so that
// its round end lies in the ring and does not touch it from within.
func (h Hook) intoRing() float64 { return 0.2 * h.Wire }

// pointPieces joins the given points, starting where they leave the ring; when
// the first point is outside, the wire runs from the ring straight to it.
func (h Hook) pointPieces() []piece {
	start := h.ring() + h.intoRing()
	pts := []geom.Vec{{}}
	for _, p := range h.Points {
		if v := (geom.Vec{X: p[0], Y: p[1]}); v != pts[len(pts)-1] {
			pts = append(pts, v)
		}
	}
	first := 1 // the first point beyond the start circle
	for first < len(pts)-1 && pts[first].Norm() <= start {
		first++
	}
	a, b := pts[first-1], pts[first]
	ps := []piece{line(leaves(a, b, start), b)}
	for i := first; i+1 < len(pts); i++ {
		ps = append(ps, line(pts[i], pts[i+1]))
	}
	return ps
}

// leaves returns where the way from a to b last crosses the circle of radius r
// about the origin; a is inside, b outside.
func leaves(a, b geom.Vec, r float64) geom.Vec {
	d := b.Sub(a)
	// |a + t d|² = r², the greater root.
	p, q := a.Dot(d)/d.Dot(d), (a.Dot(a)-r*r)/d.Dot(d)
	t := -p + math.Sqrt(math.Max(0, p*p-q))
	return a.Lerp(b, math.Min(1, t))
}

// solid returns a tube of radius r along the axis, eye ring included. Its box
// is tight.
func (a wireAxis) solid(r float64, place geom.Placement) geom.Solid {
	parts := []geom.Solid{place.Solid(geom.Torus(geom.Vec{}, geom.Vec{Z: 1}, a.ring, r))}
	for _, p := range a.pieces {
		parts = append(parts, place.Solid(p.solid(r)))
	}
	return geom.Union(parts...)
}

// length is of the axis in mm: the ring's circle, and the rest from there.
func (a wireAxis) length() float64 {
	l := 2*math.Pi*a.ring + a.pieces[0].from.Norm() - a.ring
	for _, p := range a.pieces {
		l += p.length()
	}
	return l
}

// Volume returns the volume of the hook's wire in mm³, eye ring included; 0 for
// a hook whose dimensions Spec.Validate refuses.
func (h Hook) Volume() float64 {
	c := new(checker)
	if h.check(c, "hook"); len(c.errs) > 0 {
		return 0
	}
	return h.axis().volume()
}

// volume is of the whole wire in mm³, by Pappus: its section times the way of
// its centre, counted from the outside of the eye ring, with a round end at
// the point and the exact difference of a ball joint from a mitre at sharp
// corners (turn angle φ): r³(2φ/3 - 4/3·tan(φ/2)). The saddle where the wire
// meets the ring is left out; it is below r³/2.
func (a wireAxis) volume() float64 {
	r := a.wire / 2
	l := 2*math.Pi*a.ring - (a.ring + r - a.pieces[0].from.Norm())
	joints := 2.0 / 3 * math.Pi
	for i, p := range a.pieces {
		l += p.length()
		if i > 0 && p.sweep == 0 && a.pieces[i-1].sweep == 0 {
			phi := turnBetween(a.pieces[i-1], p)
			joints += 2.0/3*phi - 4.0/3*math.Tan(phi/2)
		}
	}
	return math.Pi*r*r*l + r*r*r*joints
}

// turnBetween is the angle by which the way turns from one straight piece to
// the next, at most 150° where the joint's formula still makes sense.
func turnBetween(a, b piece) float64 {
	u, v := a.to.Sub(a.from), b.to.Sub(b.from)
	return math.Min(math.Atan2(u.Cross(v).Norm(), u.Dot(v)), 150*math.Pi/180)
}

// along samples the axis after the ring, at most step mm apart.
func (a wireAxis) along(step float64) []geom.Vec {
	var ps []geom.Vec
	for _, p := range a.pieces {
		n := int(math.Ceil(p.length()/step)) + 1
		for i := 0; i <= n; i++ {
			ps = append(ps, p.at(float64(i)/float64(n)))
		}
	}
	return ps
}

package moldbox

import (
	"math"
	"slices"

	"halfpour/geom"
)

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

func (p piece) straight() bool { return p.sweep == 0 }

func (p piece) length() float64 {
	if p.straight() {
		return p.from.Dist(p.to)
	}
	return math.Abs(p.sweep) * p.radius()
}

// radius is of an arc's axis; 0 for a straight piece.
func (p piece) radius() float64 {
	if p.straight() {
		return 0
	}
	return p.from.Dist(p.centre)
}

// at returns the point at t of 0..1 along the piece.
func (p piece) at(t float64) geom.Vec {
	if p.straight() {
		return p.from.Lerp(p.to, t)
	}
	return arc(p.centre, p.from, t*p.sweep).to
}

// along is the unit direction of the way at t of 0..1.
func (p piece) along(t float64) geom.Vec {
	if p.straight() {
		return p.to.Sub(p.from).Unit()
	}
	out := p.at(t).Sub(p.centre).Unit()
	return geom.Vec{X: -out.Y, Y: out.X}.Mul(math.Copysign(1, p.sweep))
}

// across returns the unit vector in the plane across the axis, away from the
// centre of an arc, and the arc's curvature.
func (p piece) across(t float64) (out geom.Vec, bend float64) {
	if p.straight() {
		d := p.along(t)
		return geom.Vec{X: -d.Y, Y: d.X}, 0
	}
	d := p.at(t).Sub(p.centre)
	return d.Unit(), 1 / d.Norm()
}

func (p piece) solid(r float64) geom.Solid {
	if p.straight() {
		return geom.Capsule(p.from, p.to, r)
	}
	return geom.TubeArc(p.centre, geom.Vec{Z: 1}, p.from, p.sweep, r)
}

// turnBetween is the angle by which the way turns from one straight piece to
// the next.
func turnBetween(a, b piece) float64 {
	u, v := a.to.Sub(a.from), b.to.Sub(b.from)
	return math.Atan2(u.Cross(v).Norm(), u.Dot(v))
}

// signedTurn is turnBetween, negative where the way turns right.
func signedTurn(a, b piece) float64 {
	return math.Copysign(turnBetween(a, b), a.along(1).Cross(b.along(0)).Z)
}

const fullTurn = 2 * math.Pi

// rounded joins points by straight pieces and bends of an inside radius of
// bend. A bend takes no more than half of a stretch that has one at both ends,
// so it may come out tighter; one tighter than the wire can be is left a sharp
// corner.
// Points that fall together count once; a single one makes no piece.
func rounded(points []geom.Vec, wire, bend float64) []piece {
	points = slices.CompactFunc(slices.Clone(points), func(p, q geom.Vec) bool { return p.Dist(q) < 1e-6 })
	var ps []piece
	from, last := points[0], len(points)-1
	for i := 1; i < last; i++ {
		corner := points[i]
		in, out := line(points[i-1], corner), line(corner, points[i+1])
		phi := turnBetween(in, out)
		tan := math.Tan(phi / 2)
		radius := math.Min(bend+wire/2, math.Min(share(in, i == 1), share(out, i+1 == last))/tan)
		if phi < 1e-6 {
			continue // straight on
		}
		if radius < wire/2 {
			ps, from = append(ps, line(from, corner)), corner
			continue
		}
		u := in.along(0)
		side := geom.Vec{X: -u.Y, Y: u.X}.Mul(math.Copysign(1, u.Cross(out.along(0)).Z))
		start := corner.Sub(u.Mul(radius * tan))
		turn := arc(start.Add(side.Mul(radius)), start, math.Copysign(phi, u.Cross(out.along(0)).Z))
		if from.Dist(start) > 1e-9 {
			ps = append(ps, line(from, start))
		}
		ps, from = append(ps, turn), turn.to
	}
	if from.Dist(points[last]) > 1e-9 {
		ps = append(ps, line(from, points[last]))
	}
	return ps
}

// share is how much of a stretch a bend at one end of it may take: half, or
// all but a tenth when the other end has none.
func share(p piece, alone bool) float64 {
	if alone {
		return 0.9 * p.length()
	}
	return p.length() / 2
}

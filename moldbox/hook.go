package moldbox

import (
	"cmp"
	"math"

	"halfpour/geom"
)

// Hook is a planar wire lying in the parting plane, by its usual dimensions,
// or by Points. The eye's centre is the origin; the leg runs down from the eye
// to the shank, the shank runs towards the tail, the bend turns up and the
// point comes back towards the nose on the eye's side.
type Hook struct {
	Name      string
	Wire      float64 // wire diameter
	EyeInside float64 // diameter of the eye's opening
	EyeAcross bool    // the eye's ring stands across the parting plane; false: it lies in it
	EyeRubber float64 // rubber that is to part the eye's opening from metal
	Leg       float64 // from the eye's centre to the shank's axis; 0 for a straight hook
	LegAngle  float64 // between leg and shank, radians: π/2 for a 90° jig hook
	Shank     float64 // length of the straight shank behind the leg
	Gape      float64 // between the axes of shank and point: the bend's diameter
	Point     float64 // straight length from the bend towards the point
	Fit       float64 // bed radius is wire/2 + Fit

	// Points, when given, replaces Leg..Point: the wire's axis after the eye
	// as (x, y) in the hook's own plane, x towards the tail and y towards the
	// back, the eye's centre at (0, 0).
	Points [][2]float64
	Bend   float64 // inside radius of the bends at Points; 0: one wire

	// body, when set, is the hook as drawn: what is above is measured of it.
	body *laidBody

	// Leaves says that the wire leaves the mold through its edge: by the
	// shank, with bend and point outside, or by the last stretch of Points. A drawn
	// body does so by its longest straight stretch.
	Leaves bool
}

// ringRadius is of the eye ring's axis.
func (h Hook) ringRadius() float64 { return (h.EyeInside + h.Wire) / 2 }

// straight reports whether the eye is in line with the shank.
func (h Hook) straight() bool { return h.Leg == 0 }

// cornerRadius is the radius, in wires, of the axis in the corner between leg
// and shank: an inside radius of one wire (common practice, no source).
const cornerRadius = 1.5

// axis lays the wire out.
func (h Hook) axis() wireAxis {
	a := wireAxis{ring: h.ringRadius(), across: h.EyeAcross, wire: h.Wire}
	if len(h.Points) > 0 {
		a.pieces = h.pointPieces()
		a.out = len(a.pieces)
		if h.body != nil {
			a.out = 1 + a.longestAt()
		}
	} else {
		a.pieces = h.usualPieces()
		a.out = h.shankIndex() + 1
	}
	if !h.Leaves {
		a.out = 0
	}
	return a
}

// shankIndex is where the shank is among usualPieces.
func (h Hook) shankIndex() int {
	if h.straight() {
		return 0
	}
	return 2
}

// usualPieces are leg, corner, shank, bend and point.
func (h Hook) usualPieces() []piece {
	start := h.ringRadius() + h.intoRing()
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
	start := h.ringRadius() + h.intoRing()
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
	from := leaves(pts[first-1], pts[first], start)
	return rounded(append([]geom.Vec{from}, pts[first:]...), h.Wire, bendOf(h.Bend, h.Wire))
}

// bendOf is the inside radius of a wire's bends: as given, or one wire (common
// practice, no source).
func bendOf(given, wire float64) float64 { return cmp.Or(given, wire) }

// leaves returns where the way from a to b last crosses the circle of radius r
// about the origin; a is inside, b outside.
func leaves(a, b geom.Vec, r float64) geom.Vec {
	d := b.Sub(a)
	// |a + t d|² = r², the greater root.
	p, q := a.Dot(d)/d.Dot(d), (a.Dot(a)-r*r)/d.Dot(d)
	t := -p + math.Sqrt(math.Max(0, p*p-q))
	return a.Lerp(b, math.Min(1, t))
}

// Volume returns the volume of the hook's wire in mm³, eye ring included; 0 for
// a hook whose dimensions Spec.Validate refuses.
func (h Hook) Volume() float64 {
	c := new(checker)
	if h.check(c, "Hook"); len(c.errs) > 0 {
		return 0
	}
	if h.body != nil {
		return h.body.volume
	}
	return h.axis().volume()
}

// Outside is how far the wire reaches, mm: the size of the hook's box along the shank,
// from the eye or the corner to the outside of the bend.
func (h Hook) Outside() float64 {
	a := h.axis()
	return a.tube(a.wire/2, geom.Identity()).BoundingBox().Size().X
}

// EyeTop is from the eye's centre to the far side of its ring, across the shank, mm.
func (h Hook) EyeTop() float64 {
	if h.EyeAcross {
		return h.ringRadius()*math.Sin(h.LegAngle) + h.Wire/2
	}
	return h.ringRadius() + h.Wire/2
}

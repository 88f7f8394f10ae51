package moldbox

import (
	"math"

	"halfpour/geom"
)

// wireAxis is the axis of a wire in the hook's plane (x towards the tail, y to
// the back): with an eye, its ring about the origin; then the pieces. The wire
// has a round end at its last point, and without an eye at its first too.
type wireAxis struct {
	ring   float64 // radius of the eye ring's axis; 0: no eye
	across bool    // the ring stands across the plane, on the way of the first piece
	wire   float64 // diameter
	pieces []piece
	out    int // 1 + index of the straight piece that leaves the mold; 0: none does
}

// eyeWeb is the thickness of the web that closes the opening of an eye that
// stands across: one line of a 0.4 mm nozzle, and a seal coat of 0.1 mm on both
// sides (common practice, no source). In
// the rubber it is the slit between the posts that shut the opening off, by
// which the ring goes in.
const eyeWeb = 0.6

// way is the unit direction in which the wire leaves its eye.
func (a wireAxis) way() geom.Vec { return a.pieces[0].from.Unit() }

// ringAxis is the unit normal of the eye ring's plane.
func (a wireAxis) ringAxis() geom.Vec {
	if !a.across {
		return geom.Vec{Z: 1}
	}
	w := a.way()
	return geom.Vec{X: -w.Y, Y: w.X}
}

// tube returns a tube of radius r along the axis, eye ring included. Its box
// is tight.
func (a wireAxis) tube(r float64, place geom.Transform) geom.Solid {
	return geom.Union(a.tubes(r, len(a.pieces), place)...)
}

// tubes are the ring's and the first n pieces'.
func (a wireAxis) tubes(r float64, n int, place geom.Transform) []geom.Solid {
	var parts []geom.Solid
	if a.ring > 0 {
		parts = append(parts, place.Solid(geom.Torus(geom.Vec{}, a.ringAxis(), a.ring, r)))
	}
	for _, p := range a.pieces[:n] {
		parts = append(parts, place.Solid(p.solid(r)))
	}
	return parts
}

// bed is the hollow in the rubber for the wire: a tube wider by fit and, in an
// eye that stands across, the web.
func (a wireAxis) bed(fit float64, place geom.Transform) geom.Solid {
	return geom.Union(a.bedParts(fit, len(a.pieces), place)...)
}

func (a wireAxis) bedParts(fit float64, n int, place geom.Transform) []geom.Solid {
	parts := a.tubes(a.wire/2+fit, n, place)
	if a.ring > 0 && a.across {
		half := a.ringAxis().Mul(eyeWeb / 2)
		parts = append(parts, place.Solid(geom.Frustum(half.Neg(), half, a.ring, a.ring)))
	}
	return parts
}

// stays is the number of pieces that lie in the rubber whatever its outline.
func (a wireAxis) stays() int {
	if a.out > 0 {
		return a.out - 1
	}
	return len(a.pieces)
}

// stayBox is around all of the bed that stays in the rubber: of a stretch that
// leaves the mold, its beginning.
func (a wireAxis) stayBox(fit float64, place geom.Transform) geom.Box {
	b := geom.EmptyBox()
	for _, s := range a.bedParts(fit, a.stays(), place) {
		b = b.Union(s.BoundingBox())
	}
	if a.out > 0 {
		b = b.Union(place.Solid(geom.Ball(a.pieces[a.out-1].from, a.wire/2+fit)).BoundingBox())
	}
	return b
}

// cutAt is the axis within a rectangle: the stretch that leaves it is taken on
// to beyond mm past its edge, what follows is left out. lacks is by how much
// that stretch by itself ends before the edge.
func (a wireAxis) cutAt(edge geom.Box, beyond float64, place geom.Transform) (inner wireAxis, lacks float64) {
	if a.out == 0 {
		return a, 0
	}
	p := a.pieces[a.out-1]
	from, dir := place.Point(p.from), place.Direction(p.along(0))
	run := math.Inf(1)
	for _, side := range []struct{ at, way, lo, hi float64 }{
		{from.X, dir.X, edge.Min.X, edge.Max.X}, {from.Y, dir.Y, edge.Min.Y, edge.Max.Y},
	} {
		switch {
		case side.way > 1e-9:
			run = math.Min(run, (side.hi-side.at)/side.way)
		case side.way < -1e-9:
			run = math.Min(run, (side.lo-side.at)/side.way)
		}
	}
	inner = a
	inner.pieces = append(append([]piece{}, a.pieces[:a.out-1]...), line(p.from, p.from.Add(p.along(0).Mul(run+beyond))))
	return inner, math.Max(0, run-p.length())
}

// length is of the axis in mm: the ring's circle, and the rest from there.
func (a wireAxis) length() float64 {
	l := 0.0
	if a.ring > 0 {
		l = 2*math.Pi*a.ring + a.pieces[0].from.Norm() - a.ring
	}
	for _, p := range a.pieces {
		l += p.length()
	}
	return l
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

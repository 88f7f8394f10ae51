package placing

import (
	"cmp"
	"context"
	"math"
	"slices"

	"halfpour/geom"
	"halfpour/geom/parallel"
)

// Plane is a plane in which a head mirrors.
type Plane struct {
	Normal geom.Vec // unit
	At     float64  // along Normal from the file's origin, in the file's unit

	Share float64 // of the surface that mirrors, to a 250th of the head's size
	Off   float64 // how far the rest is off at most, in the file's unit
}

// mirrors is how near a mirrored point must come to the surface, as a share of
// the head's size (common practice, no source: finer is the chord of a coarse
// mesh).
const mirrors = 1.0 / 250

const (
	startPoints, finePoints = 150, 2500
	startDirections         = 300
	refined                 = 14 // of the starts
)

// mirrorPlanes finds the planes in which the surface mirrors best, the best
// first. Each is a least squares fit of the mirrored surface onto the surface, in
// which what is off by more counts for less (Geman-McClure weights), from starts
// through the middle of the surface in all directions.
func mirrorPlanes(ctx context.Context, s *surface) ([]Plane, error) {
	type start struct {
		plane Plane
		cost  float64
	}
	starts := make([]start, startDirections)
	few := s.few(startPoints)
	err := parallel.For(ctx, len(starts), 0, func(i int) {
		n := halfSphere(i, len(starts))
		if i < 3 {
			n = []geom.Vec{{X: 1}, {Y: 1}, {Z: 1}}[i]
		}
		p := Plane{Normal: n, At: s.mid.Dot(n)}
		starts[i] = start{p, s.cost(p, few, 0.05*s.size)}
	})
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(starts, func(a, b start) int { return cmp.Compare(a.cost, b.cost) })
	var apart []Plane
	for _, c := range starts {
		if len(apart) < refined && !slices.ContainsFunc(apart, func(p Plane) bool { return p.near(c.plane, 12*math.Pi/180) }) {
			apart = append(apart, c.plane)
		}
	}
	if err := parallel.For(ctx, len(apart), 0, func(i int) { apart[i] = s.refine(apart[i]) }); err != nil {
		return nil, err
	}
	list := best(apart, 2*alikeShare)
	if err := parallel.For(ctx, len(list), 0, func(i int) { list[i] = s.finish(list[i]) }); err != nil {
		return nil, err
	}
	return best(list, 1), nil
}

// best are planes that differ, the best first, whose shares are within some of
// the best one's.
func best(planes []Plane, within float64) (list []Plane) {
	slices.SortStableFunc(planes, func(a, b Plane) int { return cmp.Compare(b.Share, a.Share) })
	for _, p := range planes {
		if p.Share >= planes[0].Share-within && !slices.ContainsFunc(list, func(q Plane) bool { return p.near(q, 3*math.Pi/180) }) {
			list = append(list, p)
		}
	}
	return list
}

// near reports whether two planes face alike.
func (p Plane) near(q Plane, angle float64) bool {
	return math.Abs(p.Normal.Dot(q.Normal)) > math.Cos(angle)
}

// halfSphere is one of n directions spread evenly over half of all.
func halfSphere(i, n int) geom.Vec {
	z := (float64(i) + 0.5) / float64(n)
	sin, cos := math.Sincos(math.Pi * (3 - math.Sqrt(5)) * float64(i))
	r := math.Sqrt(1 - z*z)
	return geom.Vec{X: r * cos, Y: r * sin, Z: z}
}

// mirror is the point on the other side of the plane.
func (p Plane) mirror(v geom.Vec) geom.Vec {
	return v.Sub(p.Normal.Mul(2 * (v.Dot(p.Normal) - p.At)))
}

// cost is the mean of how far mirrored points are off, at most the width.
func (s *surface) cost(p Plane, spots []spot, width float64) float64 {
	sum := 0.0
	for _, q := range spots {
		sum += math.Min(width, math.Abs(s.solid.Evaluate(p.mirror(q.at))))
	}
	return sum / float64(len(spots))
}

// refine fits a plane by Gauss-Newton steps on few points, ever less patient with
// what is off, and finish on many.
func (s *surface) refine(p Plane) Plane {
	for _, width := range []float64{0.05, 0.05, 0.05, 0.02, 0.02, 0.02, 0.008, 0.008, 0.008, 0.004, 0.004} {
		p = s.step(p, s.few(500), width*s.size)
	}
	if math.IsNaN(p.At + p.Normal.Norm()) { // a solid without a surface to fit to
		return Plane{Normal: geom.Vec{X: 1}}
	}
	return s.judge(p, 500)
}

func (s *surface) finish(p Plane) Plane {
	for range 5 {
		p = s.step(p, s.few(finePoints), 0.004*s.size)
	}
	return s.judge(p, finePoints)
}

// step is one step: of the normal's two tilts and the plane's place, for the
// residuals d(mirror(q)).
func (s *surface) step(p Plane, spots []spot, width float64) Plane {
	e1, e2 := beside(p.Normal)
	var a [3][3]float64
	var b [3]float64
	for _, q := range spots {
		d, grad := geom.Gradient(s.solid, p.mirror(q.at))
		w := 1 / (1 + d*d/width/width)
		w *= w
		from := q.at.Sub(s.mid) // so that tilting turns the plane about the middle
		h := q.at.Dot(p.Normal) - p.At
		var j [3]float64
		for k, e := range []geom.Vec{e1, e2} {
			j[k] = -2 * grad.Dot(p.Normal.Mul(e.Dot(from)).Add(e.Mul(h))) / s.size
		}
		j[2] = 2 * grad.Dot(p.Normal)
		for r := range 3 {
			for c := range 3 {
				a[r][c] += w * j[r] * j[c]
			}
			b[r] -= w * j[r] * d
		}
	}
	trace := a[0][0] + a[1][1] + a[2][2]
	for r := range 3 {
		a[r][r] += 1e-3*trace + 1e-12 // a body of revolution has planes without number
	}
	x := solve3(a, b)
	tilt := e1.Mul(x[0] / s.size).Add(e2.Mul(x[1] / s.size))
	if t := tilt.Norm(); t > 0.2 {
		tilt = tilt.Mul(0.2 / t)
	}
	n := p.Normal.Add(tilt).Unit()
	off := s.mid.Dot(p.Normal) - p.At // of the middle from the plane, kept by the tilt
	return Plane{Normal: n, At: s.mid.Dot(n) - off + x[2]}
}

// solve3 solves a·x = b with a positive matrix, by Cramer's rule.
func solve3(a [3][3]float64, b [3]float64) (x [3]float64) {
	column := func(c int) geom.Vec { return geom.Vec{X: a[0][c], Y: a[1][c], Z: a[2][c]} }
	p, q, r, v := column(0), column(1), column(2), geom.Vec{X: b[0], Y: b[1], Z: b[2]}
	det := p.Dot(q.Cross(r))
	return [3]float64{v.Dot(q.Cross(r)) / det, p.Dot(v.Cross(r)) / det, p.Dot(q.Cross(v)) / det}
}

// judge says how much of the surface mirrors in a plane, by n points.
func (s *surface) judge(p Plane, n int) Plane {
	spots := s.few(n)
	good := 0
	p.Off = 0
	for _, q := range spots {
		d := math.Abs(s.solid.Evaluate(p.mirror(q.at)))
		if d <= mirrors*s.size {
			good++
		} else {
			p.Off = math.Max(p.Off, d)
		}
	}
	p.Share = float64(good) / float64(len(spots))
	return p
}

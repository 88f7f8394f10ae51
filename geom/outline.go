package geom

import "math"

// Vec2 is a point or a direction in a plane, in mm.
type Vec2 struct{ X, Y float64 }

// Add returns a + b.
func (a Vec2) Add(b Vec2) Vec2 { return Vec2{a.X + b.X, a.Y + b.Y} }

// Sub returns a - b.
func (a Vec2) Sub(b Vec2) Vec2 { return Vec2{a.X - b.X, a.Y - b.Y} }

// Mul returns a scaled by k.
func (a Vec2) Mul(k float64) Vec2 { return Vec2{a.X * k, a.Y * k} }

// Dot returns the scalar product.
func (a Vec2) Dot(b Vec2) float64 { return a.X*b.X + a.Y*b.Y }

// Cross returns the z of the vector product: positive when b is to the left
// of a.
func (a Vec2) Cross(b Vec2) float64 { return a.X*b.Y - a.Y*b.X }

// Norm returns the length.
func (a Vec2) Norm() float64 { return math.Sqrt(a.Dot(a)) }

// Outline is a flat shape: closed loops of points, the last joined to the
// first, filled by the non-zero rule. A loop the other way round within
// another makes a hole; loops the same way may overlap or cross and count as
// one shape. Loops of fewer than three points enclose nothing.
type Outline [][]Vec2

// Polygon returns the outline of one loop.
func Polygon(ps ...Vec2) Outline { return Outline{ps} }

// RoundedRectangle is a polygon with 48 sides round its corners, each a step of
// 7.5°: within 0.22 % of r of the curve.
func RoundedRectangle(low, high Vec2, r float64) []Vec2 {
	r = max(0, min(r, min(high.X-low.X, high.Y-low.Y)/2))
	const steps = 12
	var ps []Vec2
	for q, c := range []Vec2{
		{X: high.X - r, Y: high.Y - r}, {X: low.X + r, Y: high.Y - r},
		{X: low.X + r, Y: low.Y + r}, {X: high.X - r, Y: low.Y + r},
	} {
		for i := range steps + 1 {
			sin, cos := math.Sincos((float64(q) + float64(i)/steps) * math.Pi / 2)
			ps = append(ps, c.Add(Vec2{X: r * cos, Y: r * sin}))
		}
	}
	return ps
}

// Circle is a polygon of 48 sides.
func Circle(at Vec2, r float64) []Vec2 {
	v := Vec2{X: r, Y: r}
	return RoundedRectangle(at.Sub(v), at.Add(v), r)
}

// Transform returns a copy with every point moved by f.
func (o Outline) Transform(f func(Vec2) Vec2) Outline {
	out := make(Outline, len(o))
	for i, loop := range o {
		out[i] = make([]Vec2, len(loop))
		for j, p := range loop {
			out[i][j] = f(p)
		}
	}
	return out
}

// Move returns the outline shifted by d.
func (o Outline) Move(d Vec2) Outline {
	return o.Transform(func(p Vec2) Vec2 { return p.Add(d) })
}

// Mirror returns the outline with left and right exchanged about x = 0, as
// text must stand in a frame so that it reads right in the rubber. The loops
// turn the other way, which the non-zero rule does not mind.
func (o Outline) Mirror() Outline {
	return o.Transform(func(p Vec2) Vec2 { return Vec2{-p.X, p.Y} })
}

// Bounds returns the least and greatest corner of the box around the points.
// For an outline without points low is +Inf and high is -Inf.
func (o Outline) Bounds() (low, high Vec2) {
	r := emptyRect()
	for _, loop := range o {
		for _, p := range loop {
			r = r.include(p)
		}
	}
	return r.min, r.max
}

// Area returns the filled area in mm², each part counted once however many
// loops cover it.
func (o Outline) Area() float64 { return enclosed(o.boundary()) }

// enclosed is the area within the edges of a boundary.
func enclosed(es []edge2) float64 {
	sum := 0.0
	for _, e := range es {
		sum += e.a.Sub(es[0].a).Cross(e.b.Sub(es[0].a))
	}
	return sum / 2
}

// Winding returns how often the loops go round p counter-clockwise (Sunday's
// crossing rule, half-open in y so that a vertex counts once). Non-zero is
// filled. On the outline itself it may fall either way.
func (o Outline) Winding(p Vec2) int {
	w := 0
	for _, loop := range o {
		for i, b := range loop {
			a := loop[(i+len(loop)-1)%len(loop)]
			w += windingStep(a, b, p)
		}
	}
	return w
}

// windingStep is what the edge from a to b adds to the winding of p: the sign
// with which it crosses the ray from p towards +X.
func windingStep(a, b, p Vec2) int {
	up, down := a.Y <= p.Y && b.Y > p.Y, a.Y > p.Y && b.Y <= p.Y
	if !up && !down {
		return 0
	}
	side := b.Sub(a).Cross(p.Sub(a))
	switch {
	case up && side > 0:
		return 1
	case down && side < 0:
		return -1
	}
	return 0
}

// rect is an axis-aligned rectangle; it is empty when max is below min.
type rect struct{ min, max Vec2 }

func emptyRect() rect {
	inf := math.Inf(1)
	return rect{Vec2{inf, inf}, Vec2{-inf, -inf}}
}

// footprint is the box seen along z.
func footprint(b Box) rect {
	return rect{Vec2{b.Min.X, b.Min.Y}, Vec2{b.Max.X, b.Max.Y}}
}

func (r rect) include(p Vec2) rect {
	return rect{
		Vec2{min(r.min.X, p.X), min(r.min.Y, p.Y)},
		Vec2{max(r.max.X, p.X), max(r.max.Y, p.Y)},
	}
}

func (r rect) union(s rect) rect { return r.include(s.min).include(s.max) }

func (r rect) grow(d float64) rect {
	v := Vec2{d, d}
	return rect{r.min.Sub(v), r.max.Add(v)}
}

func (r rect) centre() Vec2 { return r.min.Add(r.max).Mul(0.5) }

func (r rect) halfDiagonal() float64 { return 0.5 * r.max.Sub(r.min).Norm() }

func (r rect) contains(p Vec2) bool {
	return p.X >= r.min.X && p.X <= r.max.X && p.Y >= r.min.Y && p.Y <= r.max.Y
}

func (r rect) overlaps(s rect) bool {
	return r.min.X <= s.max.X && s.min.X <= r.max.X && r.min.Y <= s.max.Y && s.min.Y <= r.max.Y
}

// corner returns corner i of 0..3, counter-clockwise from min.
func (r rect) corner(i int) Vec2 {
	switch i {
	case 0:
		return r.min
	case 1:
		return Vec2{r.max.X, r.min.Y}
	case 2:
		return r.max
	}
	return Vec2{r.min.X, r.max.Y}
}

// distance2 is the squared distance from p, 0 inside.
func (r rect) distance2(p Vec2) float64 {
	dx := max(0, max(r.min.X-p.X, p.X-r.max.X))
	dy := max(0, max(r.min.Y-p.Y, p.Y-r.max.Y))
	return dx*dx + dy*dy
}

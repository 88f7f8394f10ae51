package geom

import (
	"context"
	"math"
)

// IntegrateOptions says how well to measure. The zero value measures the whole
// solid to 0.05 %.
type IntegrateOptions struct {
	Within  Box     // only this part counts; the zero value takes the solid's box
	RelTol  float64 // wanted error relative to the volume; 0 means 5e-4
	AbsTol  float64 // or wanted error in mm³, whichever is looser
	Workers int     // 0 means all processors; the result is the same for any
}

// Integral is the volume of a solid. The true volume is in [Lo, Hi] for
// certain, by the laws of Solid and Slab; Best is the estimate to use, and
// Error what it is expected to be off by, drawn from what a cruder rule makes
// of the same cells and from the change between refinements. Volumes are mm³.
type Integral struct {
	Lo, Best, Hi float64
	Error        float64
	Area         float64 // of the skin within the box, mm², an estimate
	Centroid     Vec     // of the estimate, mm
	Cells        int     // leaves of the last refinement
}

// Integrate measures the volume of s. It refines until the certified bracket,
// or the change of the estimate, is within what was asked; each refinement
// quarters the thickness of the skin that is taken as flat and halves the cell
// at edges. It stops early with ctx's error.
func Integrate(ctx context.Context, s Solid, opt IntegrateOptions) (Integral, error) {
	box := opt.Within
	if box == (Box{}) {
		box = s.BoundingBox()
	}
	box = box.Intersect(s.BoundingBox())
	if box.IsEmpty() || box.Volume() == 0 {
		return Integral{}, nil
	}
	relTol := opt.RelTol
	if relTol <= 0 {
		relTol = 5e-4
	}
	side := math.Cbrt(box.Volume())
	w := integrator{flat: side / 512, edge: side / 64}
	if relTol > 1e-3 {
		w.edge *= 2
	}
	var last Integral
	for pass := 0; ; pass++ {
		sum, err := w.run(ctx, s, box, opt.Workers)
		if err != nil {
			return Integral{}, err
		}
		want := math.Max(relTol*sum.Best, opt.AbsTol)
		if pass > 0 {
			// Halved cells and quartered slabs leave about a quarter of the
			// error, a third of the change; twice that, and a little for luck.
			change := math.Abs(sum.Best - last.Best)
			sum.Error = math.Min(sum.Error, 0.6*change+2e-5*sum.Best)
		}
		sum.Error = math.Min(sum.Error, 0.5*(sum.Hi-sum.Lo))
		if sum.Hi-sum.Lo <= want || sum.Error <= want || pass == maxRefinements {
			return sum, nil
		}
		last = sum
		w.flat /= 4
		w.edge /= 2
	}
}

// maxRefinements ends the refinement of solids whose volume is near nothing.
const maxRefinements = 7

// integrator is one refinement: skins within a slab of half thickness flat are
// taken as planes, and cells of size edge are not split further.
type integrator struct{ flat, edge float64 }

// run splits the box into tasks of one fixed shape, so that the sum does not
// depend on the number of workers.
func (w integrator) run(ctx context.Context, s Solid, box Box, workers int) (Integral, error) {
	tasks := w.tasks(s, box)
	parts := make([]tally, len(tasks))
	err := parallel(ctx, len(tasks), workers, func(i int) {
		w.measure(ctx, tasks[i], &parts[i])
	})
	if err != nil {
		return Integral{}, err
	}
	var sum tally
	for i := range parts {
		sum.add(&parts[i])
	}
	return sum.integral(), nil
}

// measured is a box to measure and the solid narrowed to it.
type measured struct {
	box    Box
	solid  Solid
	values Interval
}

func measuredIn(s Solid, b Box) measured {
	s, values := Narrow(s, b)
	return measured{b, s, values}
}

// tasks cuts the box into near-cubic cells.
func (w integrator) tasks(s Solid, box Box) []measured {
	size := box.Size()
	cell := math.Max(math.Cbrt(box.Volume()/256), w.edge)
	count := func(l float64) int { return int(math.Max(1, math.Ceil(l/cell))) }
	nx, ny, nz := count(size.X), count(size.Y), count(size.Z)
	tasks := make([]measured, 0, nx*ny*nz)
	at := func(lo, l float64, i, n int) float64 { return lo + l*float64(i)/float64(n) }
	for k := 0; k < nz; k++ {
		for j := 0; j < ny; j++ {
			for i := 0; i < nx; i++ {
				b := Box{
					Vec{at(box.Min.X, size.X, i, nx), at(box.Min.Y, size.Y, j, ny), at(box.Min.Z, size.Z, k, nz)},
					Vec{at(box.Min.X, size.X, i+1, nx), at(box.Min.Y, size.Y, j+1, ny), at(box.Min.Z, size.Z, k+1, nz)},
				}
				tasks = append(tasks, measuredIn(s, b))
			}
		}
	}
	return tasks
}

// measure adds the part of m's solid in its box to t.
func (w integrator) measure(ctx context.Context, m measured, t *tally) {
	if m.values.Lo >= 0 {
		return
	}
	if m.values.Hi < 0 {
		t.full(m.box)
		return
	}
	size := m.box.Size()
	h := math.Max(size.X, math.Max(size.Y, size.Z))
	if slab, ok := SlabOf(m.solid, m.box); ok && (slab.W <= w.flat || h <= w.edge) {
		t.slab(m.solid, m.box, slab)
		return
	}
	if h <= w.edge {
		t.edge(m.solid, m.box)
		return
	}
	if ctx.Err() != nil {
		return
	}
	c := m.box.Centre()
	for i := 0; i < 8; i++ {
		w.measure(ctx, measuredIn(m.solid, BoxOf(m.box.Corner(i), c)), t)
	}
}

// tally is the running sum of one task.
type tally struct {
	lo, best, hi, area float64
	crude              float64 // the volume by one plane a cell, to judge best by
	moment             Vec
	cells              int
}

func (t *tally) add(u *tally) {
	t.lo += u.lo
	t.best += u.best
	t.hi += u.hi
	t.crude += u.crude
	t.area += u.area
	t.moment = t.moment.Add(u.moment)
	t.cells += u.cells
}

func (t *tally) integral() Integral {
	const rounding = 1e-11 // of a million sums of terms of one sign
	out := Integral{Lo: t.lo * (1 - rounding), Best: t.best, Hi: t.hi * (1 + rounding), Area: t.area, Cells: t.cells}
	out.Error = math.Abs(t.best-t.crude) + 2e-5*t.best
	if t.best > 0 {
		out.Centroid = t.moment.Mul(1 / t.best)
	}
	return out
}

func (t *tally) full(b Box) {
	v := b.Volume()
	t.lo += v
	t.best += v
	t.hi += v
	t.crude += v
	t.moment = t.moment.Add(b.Centre().Mul(v))
	t.cells++
}

// slab takes the skin as a plane within the slab.
func (t *tally) slab(s Solid, b Box, l Slab) {
	if l.W == 0 {
		v := cutBoxVolume(b, l.N, l.D)
		t.lo += v
		t.hi += v
		t.crude += v
		t.cut(b, l.N, l.D, v)
		return
	}
	t.lo += cutBoxVolume(b, l.N, l.D-l.W)
	t.hi += cutBoxVolume(b, l.N, l.D+l.W)
	t.crude += cutBoxVolume(b, l.N, l.D)
	d := meanPlane(s, b, l)
	t.cut(b, l.N, d, cutBoxVolume(b, l.N, d))
}

// meanPlane moves the slab's middle plane to the mean height of the skin over
// the cell. The four points at (±h/√12, ±h/√12) average a quadratic surface over
// a square of side h exactly.
func meanPlane(s Solid, b Box, l Slab) float64 {
	c := b.Centre()
	q := c.Sub(l.N.Mul(l.N.Dot(c) - l.D)).Max(b.Min).Min(b.Max)
	q = q.Sub(l.N.Mul(l.N.Dot(q) - l.D))
	u := Vec{1, 0, 0}
	if math.Abs(l.N.X) > 0.6 {
		u = Vec{0, 1, 0}
	}
	u = u.Sub(l.N.Mul(l.N.Dot(u))).Unit()
	w := l.N.Cross(u)
	size := b.Size()
	h := math.Cbrt(size.X*size.Y*size.Z) / math.Sqrt(12)
	u, w = u.Mul(h), w.Mul(h)
	sum := 0.0
	for _, p := range [4]Vec{q.Add(u).Add(w), q.Add(u).Sub(w), q.Sub(u).Add(w), q.Sub(u).Sub(w)} {
		sum += s.Evaluate(p)
	}
	return math.Max(l.D-l.W, math.Min(l.D+l.W, l.D-sum/4))
}

// cut adds the estimate of a cell that a plane cuts.
func (t *tally) cut(b Box, n Vec, d, best float64) {
	const step = 1e-4 // of the cell: dV/dD is the area of the section
	dd := step * b.HalfDiagonal()
	t.area += (cutBoxVolume(b, n, d+dd) - cutBoxVolume(b, n, d-dd)) / (2 * dd)
	t.best += best
	t.moment = t.moment.Add(cutBoxCentroid(b, n, d, best).Mul(best))
	t.cells++
}

// edge takes a smallest cell in which no slab is known: nothing is certain,
// and the estimate cuts each of eight sub-cells by its own tangent plane.
func (t *tally) edge(s Solid, b Box) {
	t.hi += b.Volume()
	n, d := tangentPlane(s, b)
	t.crude += cutBoxVolume(b, n, d)
	c := b.Centre()
	for i := 0; i < 8; i++ {
		sub := BoxOf(b.Corner(i), c)
		n, d := tangentPlane(s, sub)
		t.cut(sub, n, d, cutBoxVolume(sub, n, d))
	}
}

// tangentPlane is the plane n·p = d that the skin near the middle of b looks
// like from there.
func tangentPlane(s Solid, b Box) (n Vec, d float64) {
	m := b.Centre()
	v, n := Grade(s, m)
	if n == (Vec{}) {
		n = Vec{Z: 1}
	}
	return n, n.Dot(m) - v
}

// cutBoxCentroid is the centroid of the part of b with n·p < d, near enough
// for a small cell: the cut is taken along the axis nearest to n.
func cutBoxCentroid(b Box, n Vec, d, volume float64) Vec {
	c := b.Centre()
	whole := b.Volume()
	if volume <= 0 || volume >= whole {
		return c
	}
	shift := 0.5 * (1 - volume/whole)
	size := b.Size()
	a := n.Abs()
	switch {
	case a.X >= a.Y && a.X >= a.Z:
		c.X -= math.Copysign(shift*size.X, n.X)
	case a.Y >= a.Z:
		c.Y -= math.Copysign(shift*size.Y, n.Y)
	default:
		c.Z -= math.Copysign(shift*size.Z, n.Z)
	}
	return c
}

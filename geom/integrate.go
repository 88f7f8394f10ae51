package geom

import (
	"context"
	"math"

	"halfpour/geom/parallel"
)

// IntegrateOptions says how well to measure. The zero value measures the whole
// solid to 0.05 %.
type IntegrateOptions struct {
	Within  Box     // only this part counts; the zero value takes the solid's box
	RelTol  float64 // wanted error relative to the volume; 0 means 5e-4
	AbsTol  float64 // or wanted error in mm³, whichever is looser
	Coarse  bool    // begin with larger cells, as for a RelTol over 0.1 %: for an AbsTol that is much of the volume
	Moments bool    // the centroid and the second moments are wanted too
	Workers int     // 0 means all processors; the result is the same for any
}

// Integral is the volume of a solid. The true volume is in [Lo, Hi] for
// certain, by the laws of Solid and Slab; Best is the estimate to use, and
// Error what it is expected to be off by, drawn from what a cruder rule makes
// of the same cells and from the change between refinements. Volumes are mm³.
type Integral struct {
	Lo, Best, Hi float64
	Error        float64
	Area         float64 // of the surface within the box, mm², an estimate

	// Centroid and second moments about it, if asked for, are of the estimate:
	// mm, and mm⁵ for ∫x², ∫y², ∫z² (Square) and ∫yz, ∫zx, ∫xy (Product), x, y,
	// z from the centroid.
	Centroid, Square, Product Vec

	Cells int // leaves of the last refinement
}

// Integrate measures the volume of s. It refines until the certified bracket,
// or the change of the estimate, is within what was asked; each refinement
// quarters the thickness of the surface that is taken as flat and halves the cell
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
	w := integrator{flat: side / 512, edge: side / 64, moments: opt.Moments}
	switch {
	case relTol > 1e-2:
		w.edge *= 4
	case opt.Coarse || relTol > 1e-3:
		w.edge *= 2
	}
	tasks, err := w.tasks(ctx, s, box, opt.Workers)
	if err != nil {
		return Integral{}, err
	}
	var last Integral
	for pass := 0; ; pass++ {
		sum, err := w.run(ctx, tasks, opt.Workers)
		if err != nil {
			return Integral{}, err
		}
		want := max(relTol*sum.Best, opt.AbsTol)
		if pass > 0 {
			// Halved cells and quartered slabs leave about a quarter of the
			// error, a third of the change; twice that, and a little for luck.
			change := math.Abs(sum.Best - last.Best)
			sum.Error = min(sum.Error, 0.6*change+2e-5*sum.Best)
		}
		sum.Error = min(sum.Error, 0.5*(sum.Hi-sum.Lo))
		if sum.Hi-sum.Lo <= want || sum.Error <= want || pass == maxRefinements {
			return sum, nil
		}
		last = sum
		w.flat /= 4
		w.edge /= 2
	}
}

// VolumeIn estimates the volume of s in upright boxes that do not overlap, mm³,
// by one pass over cells of about the given size, mm, with surfaces taken as plane
// within an eighth of that either way. It asks no more of s than it must, but knows no
// bounds: see Integrate. When ctx ends early the result means nothing.
func VolumeIn(ctx context.Context, s Solid, boxes []Box, cell float64) float64 {
	w := integrator{flat: cell / 8, edge: cell}
	var t tally
	for _, b := range boxes {
		w.upright(ctx, measuredIn(s, b), &t)
	}
	return t.best.volume
}

// upright cuts an upright box across until its parts are about as high as wide,
// as measuring wants them.
func (w integrator) upright(ctx context.Context, m measured, t *tally) {
	size := m.box.Size()
	if m.values.Sign() != 0 || size.Z <= 1.5*size.X {
		w.measure(ctx, m, t)
		return
	}
	low, top := m.box, m.box
	low.Max.Z = m.box.Centre().Z
	top.Min.Z = low.Max.Z
	w.upright(ctx, measuredIn(m.solid, low), t)
	w.upright(ctx, measuredIn(m.solid, top), t)
}

// maxRefinements ends the refinement of solids whose volume is near nothing.
const maxRefinements = 7

// integrator is one refinement: surfaces within a slab of half thickness flat are
// taken as planes, and cells of size edge are not split further.
type integrator struct {
	flat, edge float64
	moments    bool // all moments are wanted
}

// run adds up the tasks in their order, so that the sum does not depend on the number of
// workers.
func (w integrator) run(ctx context.Context, tasks []measured, workers int) (Integral, error) {
	parts := make([]tally, len(tasks))
	for i := range parts {
		parts[i].moments = w.moments
	}
	err := parallel.For(ctx, len(tasks), workers, func(i int) {
		if tasks[i].like == nil {
			w.measure(ctx, tasks[i], &parts[i])
		}
	})
	if err != nil {
		return Integral{}, err
	}
	sum := tally{moments: w.moments}
	for i, m := range tasks {
		if m.like != nil {
			parts[i] = parts[m.like.at]
			parts[i].best = parts[i].best.moved(m.like.by)
		}
		sum.add(&parts[i])
	}
	return sum.integral(), nil
}

// oddShift moves the cells off planes at round numbers.
const oddShift = 0.0381966

// measured is a box to measure and the solid pruned to it.
type measured struct {
	box    Box
	solid  Solid
	values Interval
	like   *likeTask // another task that has the same and is measured; nil when none has
	shown  bool      // it is the like of another
}

// likeTask is a task and the way from it.
type likeTask struct {
	at int
	by Vec
}

func measuredIn(s Solid, b Box) measured {
	s, values := PruneBySign(s, b)
	return measured{box: b, solid: s, values: values}
}

// mostTasksAlong bounds the cells along an axis: a box as flat as a mesh's
// smallest number would have no end of them.
const mostTasksAlong = 256

// tasks cuts the box into near-cubic cells. Where s has the same in several places, whole
// cells go into the way between them, and what they hold is found to be alike.
func (w integrator) tasks(ctx context.Context, s Solid, box Box, workers int) ([]measured, error) {
	size := box.Size()
	longest := max(size.X, size.Y, size.Z)
	cell := max(math.Cbrt(box.Volume()/256), w.edge, longest/mostTasksAlong)
	var ways []Vec
	if r := newRepeats(s); r != nil {
		ways = r.ways()
	}
	steps := wholeSteps(ways, cell)
	xs, ys, zs := cuts(box.Min.X, box.Max.X, cell, steps.X), cuts(box.Min.Y, box.Max.Y, cell, steps.Y), cuts(box.Min.Z, box.Max.Z, cell, steps.Z)
	nx, ny, nz := len(xs)-1, len(ys)-1, len(zs)-1
	tasks := make([]measured, nx*ny*nz)
	err := parallel.For(ctx, len(tasks), workers, func(n int) {
		i, j, k := n%nx, n/nx%ny, n/nx/ny
		tasks[n] = measuredIn(s, Box{Vec{xs[i], ys[j], zs[k]}, Vec{xs[i+1], ys[j+1], zs[k+1]}})
	})
	if err != nil {
		return nil, err
	}
	for _, way := range ways {
		i, j, k := stepsIn(way.X, steps.X), stepsIn(way.Y, steps.Y), stepsIn(way.Z, steps.Z)
		for n := range tasks {
			x, y, z := n%nx-i, n/nx%ny-j, n/nx/ny-k
			if x < 0 || x >= nx || y < 0 || y >= ny || z < 0 || z >= nz {
				continue
			}
			from := x + nx*(y+ny*z)
			a, b := &tasks[from], &tasks[n]
			if a.like == nil && b.like == nil && !b.shown && from != n && b.values.Sign() == 0 && a.box.movedTo(b.box, way) && alike(a.solid, b.solid, way) {
				b.like, a.shown = &likeTask{from, way}, true
			}
		}
	}
	return tasks, nil
}

// cuts returns where a range is cut: evenly into parts of about the size of a cell, or, with
// step, into whole steps and a rest.
func cuts(from, to, cell, step float64) []float64 {
	list := []float64{from}
	if step > 0 {
		n := int(math.Ceil((to-from)/step - oddShift))
		for i := 1; i < n; i++ {
			list = append(list, from+(float64(i)+oddShift)*step)
		}
		return append(list, to)
	}
	n := int(max(1, math.Ceil((to-from)/cell)))
	for i := 1; i < n; i++ {
		list = append(list, from+(to-from)*(float64(i)+oddShift)/float64(n))
	}
	return append(list, to)
}

// stepsIn returns how many steps a way is; none where there are no steps.
func stepsIn(way, step float64) int {
	if step == 0 {
		return 0
	}
	return int(math.Round(way / step))
}

// movedTo reports whether c is b moved by a way.
func (b Box) movedTo(c Box, by Vec) bool {
	return b.Min.Add(by).Dist(c.Min) <= alikeWithin && b.Max.Add(by).Dist(c.Max) <= alikeWithin
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
	if key, ok := measuredFacets(m.solid); ok {
		if sum, ok := key.measure(m.solid, m.box, w.moments); ok {
			t.exact(m.box, &sum.cellSum, sum.loose)
			return
		}
	}
	size := m.box.Size()
	h := max(size.X, max(size.Y, size.Z))
	thickness := 2 * w.flat
	if h <= w.edge {
		thickness = math.Inf(1)
	}
	if parts, ok := sheetsOf(m.solid, m.box, thickness); ok {
		t.sheets(m.box, parts)
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
	moments      bool // all moments are wanted
	lo, hi, area float64
	crude        float64 // the volume by one plane a part, to judge the estimate by
	best         moments
	cells        int
}

func (t *tally) add(u *tally) {
	t.lo += u.lo
	t.hi += u.hi
	t.crude += u.crude
	t.area += u.area
	t.best.add(&u.best)
	t.cells += u.cells
}

func (t *tally) integral() Integral {
	const rounding = 1e-11 // of a million sums of terms of one sign
	out := Integral{Lo: t.lo * (1 - rounding), Best: t.best.volume, Hi: t.hi * (1 + rounding), Area: t.area, Cells: t.cells}
	out.Error = math.Abs(out.Best-t.crude) + 2e-5*out.Best
	if t.moments && out.Best > 0 {
		out.Centroid = t.best.first.Mul(1 / out.Best)
		about := t.best.moved(out.Centroid.Neg())
		out.Square, out.Product = about.square, about.cross
	}
	return out
}

func (t *tally) full(b Box) {
	m := momentsOfBox(b.Size())
	t.exact(b, &cellSum{moments: m}, 0)
}

// exact adds a cell of which all is known but rounding, and that the volume is
// at most by loose too large.
func (t *tally) exact(b Box, c *cellSum, loose float64) {
	v := min(max(c.volume, 0), b.Volume())
	slack := cellRounding * b.Volume()
	t.lo += max(v-loose-slack, 0)
	t.hi += v + slack
	t.crude += v
	if c.volume > 0 && c.volume != v {
		c.moments.scale(v / c.volume)
	}
	t.take(b, c)
}

// cellRounding bounds what is left out of a cell, of its volume: rounding, and
// planes moved off corners.
const cellRounding = 1e-8

// take adds the estimate of a cell.
func (t *tally) take(b Box, c *cellSum) {
	if t.moments {
		m := c.moved(b.Min)
		t.best.add(&m)
	} else {
		t.best.volume += c.volume
	}
	t.area += c.area
	t.cells++
}

// sheets takes the surface as planes within the slabs of the parts. The bracket
// moves the planes to the slabs' sides.
func (t *tally) sheets(b Box, h *sheets) {
	thick := false
	var low, mean, high [mostSheets]Slab
	for i, l := range h.slabs {
		thick = thick || l.W > 0
		move := l.W * float64(h.sense[i])
		low[i], mean[i], high[i] = l, l, l
		low[i].D, high[i].D = l.D-move, l.D+move
		if l.W > 0 {
			mean[i].D = meanPlane(h.parts[i], b, l)
		}
	}
	n := len(h.slabs)
	if !thick {
		c := h.measure(b, mean[:n], t.moments)
		t.exact(b, &c, 0)
		return
	}
	slack := cellRounding * b.Volume()
	t.lo += max(h.volume(b, low[:n])-slack, 0)
	t.hi += h.volume(b, high[:n]) + slack
	t.crude += h.volume(b, h.slabs)
	c := h.measure(b, mean[:n], t.moments)
	t.take(b, &c)
}

// volume is measure for the volume alone.
func (h *sheets) volume(b Box, planes []Slab) float64 {
	if len(planes) == 1 {
		v := cutBoxVolume(b, planes[0].N, planes[0].D)
		if h.holds&1 != 0 { // solid outside of the sheet
			v = b.Volume() - v
		}
		return v
	}
	c := h.measure(b, planes, false)
	return min(max(c.volume, 0), b.Volume())
}

// meanPlane moves the slab's middle plane to the mean height of the surface over
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
	return max(l.D-l.W, min(l.D+l.W, l.D-sum/4))
}

// edge takes a smallest cell of which no sheets are known: nothing is certain,
// and the estimate cuts each of eight sub-cells by its own tangent plane.
func (t *tally) edge(s Solid, b Box) {
	t.hi += b.Volume()
	n, d := tangentPlane(s, b)
	t.crude += cutBoxVolume(b, n, d)
	c := b.Centre()
	one := sheets{holds: 0b10}
	for i := 0; i < 8; i++ {
		sub := BoxOf(b.Corner(i), c)
		n, d := tangentPlane(s, sub)
		sum := one.measure(sub, []Slab{{N: n, D: d}}, t.moments)
		t.take(sub, &sum)
	}
	t.cells -= 7
}

// tangentPlane is the plane n·p = d that the surface near the middle of b looks
// like from there.
func tangentPlane(s Solid, b Box) (n Vec, d float64) {
	m := b.Centre()
	v, n := Gradient(s, m)
	if n == (Vec{}) {
		n = Vec{Z: 1}
	}
	return n, n.Dot(m) - v
}

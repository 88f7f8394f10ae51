package picture

import "slices"

// rasterBand is a strip of rows of a raster while it is drawn.
type rasterBand struct {
	width, lo, hi int       // the rows from lo up to hi
	near          []float32 // 0 where there is nothing
	on            []int32

	// With a plane, what is nearer is left out and counted: how many surfaces that
	// face the viewer more than such that face away. Where there are more, the
	// sample is inside the mesh on the plane.
	plane *cutPlane
	wound []int16

	left, right int // all that was drawn is in the columns from left up to right
}

// begin makes b an empty strip, with a plane for a mesh that is cut.
func (b *rasterBand) begin(width, lo, hi int, plane *cutPlane) {
	for first := 0; b.left < b.right && first < len(b.on); first += b.width {
		clear(b.near[first+b.left : first+b.right])
		clear(b.on[first+b.left : first+b.right])
		if b.plane != nil {
			clear(b.wound[first+b.left : first+b.right])
		}
	}
	b.width, b.lo, b.hi, b.plane = width, lo, hi, plane
	b.left, b.right = width, 0
	n := width * (hi - lo)
	b.near, b.on = slices.Grow(b.near[:0], n)[:n], slices.Grow(b.on[:0], n)[:n]
	if plane != nil {
		b.wound = slices.Grow(b.wound[:0], n)[:n]
	}
}

// touch says that samples of columns from lo up to hi may be drawn.
func (b *rasterBand) touch(lo, hi int) { b.left, b.right = min(b.left, lo), max(b.right, hi) }

// take lays the strip of a mesh that is cut over what is there, its cut face
// included.
func (b *rasterBand) take(cut *rasterBand, mesh int) {
	if cut.left >= cut.right {
		return
	}
	b.touch(cut.left, cut.right)
	for y := range b.hi - b.lo {
		for x := cut.left; x < cut.right; x++ {
			k := y*b.width + x
			near, t := cut.near[k], cut.on[k]
			if cut.wound[k] > 0 {
				near, t = float32(cut.plane.near(x, b.lo+y)), capOf(uint16(mesh))
			}
			if t != 0 && near > b.near[k] {
				b.near[k], b.on[k] = near, t
			}
		}
	}
}

// narrow is up to how many samples of a row are sooner tried than reckoned with.
const narrow = 12

// within are the samples of [from, end) where the edge function, whose value is at
// x0, is not negative.
func (e *rasterEdge) within(from, end, x0 int) (int, int) {
	switch {
	case e.dx > 0 && e.value < 0:
		from = max(from, x0+int((-e.value+e.dx-1)/e.dx))
	case e.dx < 0 && e.value >= 0:
		end = min(end, x0+int(e.value/-e.dx)+1)
	case e.dx <= 0 && e.value < 0:
		end = from
	}
	return from, end
}

// fill draws triangle t; one that faces away is only counted, before a plane.
func (r *rasterBand) fill(t int32, a, b, c spot) {
	facing, area := int16(1), doubleArea(a, b, c)
	if area < 0 {
		facing, b, c, area = -1, c, b, -area
	}
	y0, y1 := sampleRange(min(a.y, b.y, c.y), max(a.y, b.y, c.y), r.lo, r.hi)
	x0, x1 := sampleRange(min(a.x, b.x, c.x), max(a.x, b.x, c.x), 0, r.width)
	if x0 >= x1 || y0 >= y1 {
		return
	}
	r.touch(x0, x1)
	ea, eb, ec := newRasterEdge(b, c, x0, y0), newRasterEdge(c, a, x0, y0), newRasterEdge(a, b, x0, y0)

	// The weight of a corner is its edge's value over the doubled area.
	weight := 1 / float64(area)
	na, nb, nc := float64(a.near)*weight, float64(b.near)*weight, float64(c.near)*weight
	dx := na*float64(ea.dx) + nb*float64(eb.dx) + nc*float64(ec.dx)
	for y := y0; y < y1; y++ {
		va, vb, vc := ea.value, eb.value, ec.value
		near := na*float64(va-ea.bias) + nb*float64(vb-eb.bias) + nc*float64(vc-ec.bias)
		row := (y - r.lo) * r.width
		from, end := x0, x1
		if x1-x0 > narrow { // a sliver has few of the samples in its box
			from, end = ea.within(from, end, x0)
			from, end = eb.within(from, end, x0)
			from, end = ec.within(from, end, x0)
			if from > x0 {
				skip := int64(from - x0)
				va, vb, vc, near = va+skip*ea.dx, vb+skip*eb.dx, vc+skip*ec.dx, near+float64(skip)*dx
			}
		}
		if x1-x0 > narrow && r.plane == nil { // all are within
			cover(r.near[row+from:row+max(from, end)], r.on[row+from:], t+1, near, dx)
			from = end
		}
		for x := from; x < end; x++ {
			if va|vb|vc >= 0 {
				k := row + x
				if r.plane != nil && near > r.plane.near(x, y) {
					r.wound[k] += facing
				} else if facing > 0 && float32(near) > r.near[k] {
					r.near[k], r.on[k] = float32(near), t+1
				}
			}
			va, vb, vc, near = va+ea.dx, vb+eb.dx, vc+ec.dx, near+dx
		}
		ea.value, eb.value, ec.value = ea.value+ea.dy, eb.value+eb.dy, ec.value+ec.dy
	}
}

// cover draws a row of samples that are on one thing, where nothing is nearer.
func cover(nearest []float32, on []int32, thing int32, near, dx float64) {
	on = on[:len(nearest)]
	for k := range nearest {
		if n := float32(near); n > nearest[k] {
			nearest[k], on[k] = n, thing
		}
		near += dx
	}
}

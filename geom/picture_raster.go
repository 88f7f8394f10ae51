package geom

import (
	"context"
	"math"
)

// perSide is the number of samples along the side of a pixel.
const perSide = 2

// raster holds, for each sample, what is nearest there.
type raster struct {
	width, height int       // in samples
	near          []float32 // as view.project has it; meaningless without a triangle
	triangle      []int32   // -1: none
	spots         []spot    // of the model's vertices
}

// Corners are held on a lattice finer than the samples, so that neighbours
// agree to the last bit on which of them has a sample on their common edge.
const (
	latticeBits = 8
	latticeStep = 1 << latticeBits
)

// spot is a vertex in the picture.
type spot struct {
	x, y int64 // lattice steps; sample centres are at odd halves of a sample
	near float32
}

// bandRows is the height in samples of the strips that are drawn in parallel.
const bandRows = 32

func rasterize(ctx context.Context, s Scene, m *model, v *view) (*raster, error) {
	r := &raster{width: s.Width * perSide, height: s.Height * perSide}
	r.near = make([]float32, r.width*r.height)
	r.triangle = make([]int32, r.width*r.height)

	r.spots = make([]spot, len(m.vertices))
	spots := r.spots
	if err := parallel(ctx, jobsFor(len(spots)), s.Workers, func(i int) {
		lo, hi := jobRange(i, len(spots))
		for k := lo; k < hi; k++ {
			x, y, near := v.project(m.vertices[k])
			spots[k] = spot{
				int64(math.Round(x * perSide * latticeStep)),
				int64(math.Round(y * perSide * latticeStep)),
				float32(near),
			}
		}
	}); err != nil {
		return nil, err
	}

	// Each job lists its triangles by band; a band takes the lists in the
	// order of the jobs, so that no race decides between equals.
	bands := (r.height + bandRows - 1) / bandRows
	lists := make([][][]int32, jobsFor(len(m.triangles)))
	if err := parallel(ctx, len(lists), s.Workers, func(i int) {
		lists[i] = make([][]int32, bands)
		lo, hi := jobRange(i, len(m.triangles))
		for t := lo; t < hi; t++ {
			r.list(lists[i], int32(t), spots, m.triangles[t])
		}
	}); err != nil {
		return nil, err
	}
	return r, parallel(ctx, bands, s.Workers, func(b int) {
		lo, hi := b*bandRows, min((b+1)*bandRows, r.height)
		for i := lo * r.width; i < hi*r.width; i++ {
			r.triangle[i] = -1
		}
		for _, l := range lists {
			for _, t := range l[b] {
				i := m.triangles[t]
				r.fill(t, spots[i[0]], spots[i[1]], spots[i[2]], lo, hi)
			}
		}
	})
}

// list enters a triangle in the bands that it may touch. Those that face away
// or are seen on edge touch none.
func (r *raster) list(bands [][]int32, t int32, spots []spot, i [3]int32) {
	a, b, c := spots[i[0]], spots[i[1]], spots[i[2]]
	if doubleArea(a, b, c) <= 0 {
		return
	}
	lo, hi := sampleRange(min(a.y, b.y, c.y), max(a.y, b.y, c.y), 0, r.height)
	if lo >= hi {
		return
	}
	for k := lo / bandRows; k <= (hi-1)/bandRows; k++ {
		bands[k] = append(bands[k], t)
	}
}

// doubleArea is positive for a triangle that faces the viewer; y points down.
func doubleArea(a, b, c spot) int64 {
	return (c.x-a.x)*(b.y-a.y) - (b.x-a.x)*(c.y-a.y)
}

// sampleRange returns which samples of [from, to) have their centres within
// [lo, hi].
func sampleRange(lo, hi int64, from, to int) (int, int) {
	const half = latticeStep / 2
	first := (lo + half - 1) >> latticeBits
	end := ((hi - half) >> latticeBits) + 1
	return int(max(first, int64(from))), int(min(end, int64(to)))
}

// fill draws triangle t into the rows [lo, hi).
func (r *raster) fill(t int32, a, b, c spot, lo, hi int) {
	y0, y1 := sampleRange(min(a.y, b.y, c.y), max(a.y, b.y, c.y), lo, hi)
	x0, x1 := sampleRange(min(a.x, b.x, c.x), max(a.x, b.x, c.x), 0, r.width)
	if x0 >= x1 || y0 >= y1 {
		return
	}
	ea, eb, ec := newRasterEdge(b, c, x0, y0), newRasterEdge(c, a, x0, y0), newRasterEdge(a, b, x0, y0)

	// The weight of a corner is its edge's value over the doubled area.
	area := 1 / float64(doubleArea(a, b, c))
	na, nb, nc := float64(a.near)*area, float64(b.near)*area, float64(c.near)*area
	dx := na*float64(ea.dx) + nb*float64(eb.dx) + nc*float64(ec.dx)
	for y := y0; y < y1; y++ {
		va, vb, vc := ea.value, eb.value, ec.value
		near := na*float64(va-ea.bias) + nb*float64(vb-eb.bias) + nc*float64(vc-ec.bias)
		row := y * r.width
		for x := x0; x < x1; x++ {
			if va|vb|vc >= 0 {
				if k := row + x; r.triangle[k] < 0 || float32(near) > r.near[k] {
					r.near[k], r.triangle[k] = float32(near), t
				}
			}
			va, vb, vc, near = va+ea.dx, vb+eb.dx, vc+ec.dx, near+dx
		}
		ea.value, eb.value, ec.value = ea.value+ea.dy, eb.value+eb.dy, ec.value+ec.dy
	}
}

// rasterEdge is the edge function of one side, not negative within (Pineda,
// SIGGRAPH 1988). Its bias gives a sample on the edge itself to one of the
// two triangles there.
type rasterEdge struct{ value, dx, dy, bias int64 }

func newRasterEdge(p, q spot, x, y int) rasterEdge {
	const half = latticeStep / 2
	dx, dy := q.x-p.x, q.y-p.y
	e := rasterEdge{dx: dy * latticeStep, dy: -dx * latticeStep}
	if !(dy > 0 || dy == 0 && dx < 0) {
		e.bias = -1
	}
	sx, sy := int64(x)*latticeStep+half, int64(y)*latticeStep+half
	e.value = (sx-p.x)*dy - (sy-p.y)*dx + e.bias
	return e
}

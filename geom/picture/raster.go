package picture

import (
	"context"
	"math"
	"sync"

	"halfpour/geom/parallel"
)

// perSide is the number of samples along the side of a pixel.
const perSide = 2

// raster holds, for each sample, what is nearest there: 0 for nothing, the cut face of a
// mesh as capOf has it, else 1 more than the number of a triangle, and after model.turn
// the number of its face.
type raster struct {
	width, height int // in samples of whole cells
	columns       int // of cells
	only          []int32
	tiles         [][]tile // by band
	spots         []spot   // of the model's vertices
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

func rasterize(ctx context.Context, s Scene, m *model, v *view, planes []*cutPlane) (*raster, error) {
	columns, rows := s.cells()
	r := &raster{width: columns * cellSide, height: rows * cellSide, columns: columns, only: make([]int32, columns*rows)}

	m.number = make([]int32, len(m.triangles))
	r.spots = make([]spot, len(m.vertices))
	spots := r.spots
	if err := parallel.For(ctx, jobsFor(len(spots)), s.Workers, func(i int) {
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
	bands := (rows + bandCells - 1) / bandCells
	r.tiles = make([][]tile, bands)
	lists := make([][][]int32, jobsFor(len(m.triangles)))
	if err := parallel.For(ctx, len(lists), s.Workers, func(i int) {
		lists[i] = make([][]int32, bands)
		lo, hi := jobRange(i, len(m.triangles))
		for t := lo; t < hi; t++ {
			r.list(lists[i], int32(t), spots, m.triangles[t], planes[m.mesh[t]])
		}
	}); err != nil {
		return nil, err
	}
	room := sync.Pool{New: func() any { return &[2]rasterBand{} }}
	return r, parallel.For(ctx, bands, s.Workers, func(i int) {
		strips, _ := room.Get().(*[2]rasterBand)
		defer room.Put(strips)
		whole, cut := &strips[0], &strips[1]
		whole.begin(r.width, i*bandRows, min((i+1)*bandRows, r.height), nil)
		mesh := -1 // that cut holds
		for _, l := range lists {
			for _, t := range l[i] {
				k := int(m.mesh[t])
				if mesh >= 0 && k != mesh {
					whole.take(cut, mesh)
					mesh = -1
				}
				to := whole
				if planes[k] != nil {
					if mesh < 0 {
						mesh = k
						cut.begin(r.width, whole.lo, whole.hi, planes[k])
					}
					to = cut
				}
				v := m.triangles[t]
				to.fill(t, spots[v[0]], spots[v[1]], spots[v[2]])
			}
		}
		if mesh >= 0 {
			whole.take(cut, mesh)
		}
		r.keep(whole, m)
	})
}

// list enters a triangle in the bands that it may touch. Those that are seen on
// edge touch none, and those that face away only count before a plane that cuts the mesh.
func (r *raster) list(bands [][]int32, t int32, spots []spot, i [3]int32, plane *cutPlane) {
	a, b, c := spots[i[0]], spots[i[1]], spots[i[2]]
	if area := doubleArea(a, b, c); area == 0 || area < 0 && (plane == nil || plane.hides(a) && plane.hides(b) && plane.hides(c)) {
		return
	}
	lo, hi := sampleRange(min(a.y, b.y, c.y), max(a.y, b.y, c.y), 0, r.height)
	left, right := sampleRange(min(a.x, b.x, c.x), max(a.x, b.x, c.x), 0, r.width)
	if lo >= hi || left >= right {
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

package picture

import "sync/atomic"

// Most of a picture shows large facets. So of each cell a raster keeps what all its
// samples are on, and only of those with several faces, in a tile, what each is on.

// cellSide is the side of a cell in samples.
const cellSide = perSide * perCell

// tile is what the samples of a cell are on, in rows.
type tile struct {
	near [cellSide * cellSide]float32 // as view.project has it; 0 where there is nothing
	on   [cellSide * cellSide]int32
}

// mixed and what is less stand for cells with a tile: tile n of their band is mixed - n.
const mixed = -1 << 17

// bandCells is the height of a band in cells.
const bandCells = bandRows / cellSide

// tile is that of cell k, nil for a cell of one thing.
func (r *raster) tile(k int) *tile {
	if on := r.only[k]; on <= mixed {
		return &r.tiles[k/r.columns/bandCells][mixed-on]
	}
	return nil
}

// keep takes over a band that has been drawn, and marks the triangles that it shows.
func (r *raster) keep(b *rasterBand, m *model) {
	var several []int // cells
	last := int32(0)
	see := func(on int32) {
		if on > 0 && on != last {
			atomic.StoreInt32(&m.number[on-1], 1) // other bands may, too
			last = on
		}
	}
	for row := b.lo / cellSide; row < b.hi/cellSide; row++ {
		for column := b.left / cellSide; column*cellSide < b.right; column++ {
			k := row*r.columns + column
			on, only := b.only(column*cellSide, row*cellSide-b.lo)
			if r.only[k] = on; !only {
				r.only[k] = mixed - int32(len(several))
				several = append(several, k)
			}
			see(on)
		}
	}
	tiles := make([]tile, len(several))
	for i, k := range several {
		t := &tiles[i]
		first := (k/r.columns*cellSide-b.lo)*b.width + k%r.columns*cellSide
		for y := range cellSide {
			copy(t.on[y*cellSide:][:cellSide], b.on[first+y*b.width:])
			copy(t.near[y*cellSide:][:cellSide], b.near[first+y*b.width:])
		}
		for _, on := range t.on {
			see(on)
		}
	}
	r.tiles[b.lo/bandRows] = tiles
}

// only is what the first sample of a cell is on, and whether all are.
func (b *rasterBand) only(x, y int) (on int32, only bool) {
	first := y*b.width + x
	on = b.on[first]
	other := int32(0)
	for y := range cellSide {
		s := b.on[first+y*b.width:][:cellSide:cellSide]
		other |= (s[0] ^ on) | (s[1] ^ on) | (s[2] ^ on) | (s[3] ^ on)
	}
	return on, other == 0
}

// tell makes faces of the triangles in band i.
func (r *raster) tell(i int, number []int32) {
	lo := i * bandCells * r.columns
	cells := r.only[lo:min(lo+bandCells*r.columns, len(r.only))]
	for k, on := range cells {
		if on > 0 {
			cells[k] = number[on-1]
		}
	}
	for k := range r.tiles[i] {
		on := &r.tiles[i][k].on
		for s, t := range on {
			if t > 0 {
				on[s] = number[t-1]
			}
		}
	}
}

// depths are the depth of a thing's first sample in a cell and how it changes across and
// down.
func (sh *shader) depths(on int32, sx, sy int) (near, across, down float32) {
	if mesh, ok := capped(on); ok {
		p := sh.planes[mesh]
		return float32(p.near(sx, sy)), float32(p.dx), float32(p.dy)
	}
	f := &sh.model.faces[on]
	return f.near + (float32(sx)+0.5-f.x)*f.nearAcross + (float32(sy)+0.5-f.y)*f.nearDown, f.nearAcross, f.nearDown
}

// sample is what a sample is on, and how near that is.
func (sh *shader) sample(sx, sy int) (on int32, near float32) {
	k := sy/cellSide*sh.columns + sx/cellSide
	if t := sh.tile(k); t != nil {
		s := sy%cellSide*cellSide + sx%cellSide
		return t.on[s], t.near[s]
	}
	if on = sh.only[k]; on != 0 {
		near, _, _ = sh.depths(on, sx, sy)
	}
	return on, near
}

// patchSide is that of the four cells round a quad, in samples.
const patchSide = 2 * cellSide

// patch is what the samples of those cells are on.
type patch struct {
	x, y int // of the first sample in the picture
	near [patchSide * patchSide]float32
	on   [patchSide * patchSide]int32
}

// gather takes the samples of four cells, the first of them at column i and row j. Where
// that is outside of the picture, those that are outside mean nothing.
func (p *patch) gather(sh *shader, i, j int, cells *[4]int) {
	p.x, p.y = i*cellSide, j*cellSide
	for q, k := range cells {
		to := q/2*cellSide*patchSide + q%2*cellSide
		if t := sh.tile(k); t != nil {
			for y := range cellSide {
				copy(p.on[to:][:cellSide], t.on[y*cellSide:])
				copy(p.near[to:][:cellSide], t.near[y*cellSide:])
				to += patchSide
			}
			continue
		}
		on := sh.only[k]
		var near, across, down float32
		if on != 0 {
			near, across, down = sh.depths(on, k%sh.columns*cellSide, k/sh.columns*cellSide)
		}
		for y := range cellSide {
			row := near + float32(y)*down
			for x := range cellSide {
				p.on[to+x], p.near[to+x] = on, row+float32(x)*across
			}
			to += patchSide
		}
	}
}

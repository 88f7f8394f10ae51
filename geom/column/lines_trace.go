package column

import (
	"context"

	"halfpour/geom"
	"halfpour/geom/parallel"
)

const (
	columnTile = 12 // lines along a side of what one worker takes at a time
	columnLeaf = 2  // lines along a side of a cell that is not split further
)

// byValues cuts any solid by its values, tile by tile.
func (c lineCutter) byValues(ctx context.Context, s geom.Solid, r lineRange) (lineBlock, error) {
	block := newLineBlock(r)
	tx, ty := (r.i1-r.i0+columnTile-1)/columnTile, (r.j1-r.j0+columnTile-1)/columnTile
	err := parallel.For(ctx, tx*ty, c.workers, func(k int) {
		i, j := r.i0+k%tx*columnTile, r.j0+k/tx*columnTile
		tile := lineRange{i, min(i+columnTile, r.i1), j, min(j+columnTile, r.j1), r.z0, r.z1}
		columnCutter{ctx, c.Grid, block}.cut(s, tile)
	})
	if err == nil {
		err = ctx.Err() // a tile may have been left half cut
	}
	return block, err
}

// columnCutter cuts one tile. It works from below upwards in every line.
type columnCutter struct {
	ctx context.Context
	*Grid
	block lineBlock
}

// cut adds what the block holds. Its box is that of the lines themselves, not
// of the room between them.
func (c columnCutter) cut(s geom.Solid, r lineRange) {
	if c.ctx.Err() != nil {
		return
	}
	b := geom.Box{Min: geom.Vec{X: c.x(r.i0), Y: c.y(r.j0), Z: r.z0}, Max: geom.Vec{X: c.x(r.i1 - 1), Y: c.y(r.j1 - 1), Z: r.z1}}
	s, values := geom.PruneBySign(s, b)
	switch values.Sign() {
	case 1:
		return
	case -1:
		c.each(r, func(line *[]Stretch, _, _ float64) { addStretch(line, r.z0, r.z1) })
		return
	}
	across := max(r.i1-r.i0, r.j1-r.j0)
	if high := r.z1 - r.z0; across <= columnLeaf && high <= 2*columnLeaf*c.Step {
		c.each(r, func(line *[]Stretch, x, y float64) { c.trace(s, line, x, y, r.z0, r.z1) })
		return
	} else if high > c.Step*float64(across) {
		low, top := r, r
		low.z1 = (r.z0 + r.z1) / 2
		top.z0 = low.z1
		c.cut(s, low)
		c.cut(s, top)
		return
	}
	a, b2 := r, r
	if r.i1-r.i0 >= r.j1-r.j0 {
		a.i1 = (r.i0 + r.i1) / 2
		b2.i0 = a.i1
	} else {
		a.j1 = (r.j0 + r.j1) / 2
		b2.j0 = a.j1
	}
	c.cut(s, a)
	c.cut(s, b2)
}

func (c columnCutter) each(r lineRange, visit func(line *[]Stretch, x, y float64)) {
	for j := r.j0; j < r.j1; j++ {
		for i := r.i0; i < r.i1; i++ {
			visit(c.block.line(i, j), c.x(i), c.y(j))
		}
	}
}

// addStretch puts a stretch on top of a line, joined to the last where they
// touch.
func addStretch(line *[]Stretch, lo, hi float64) {
	if n := len(*line); n > 0 && (*line)[n-1].Hi >= lo {
		(*line)[n-1].Hi = hi
		return
	}
	*line = append(*line, Stretch{lo, hi})
}

// thinnestStretch is the share of the step between lines below which a stretch
// along a line may be missed.
const thinnestStretch = 0.1

// trace adds what is inside along a line, by its values.
func (c columnCutter) trace(s geom.Solid, line *[]Stretch, x, y, z0, z1 float64) {
	at := func(z float64) float64 { return s.Evaluate(geom.Vec{X: x, Y: y, Z: z}) }
	geom.Stretches(at, z0, z1, thinnestStretch*c.Step, 1e-5, 1e-6, func(lo, hi float64) { addStretch(line, lo, hi) })
}

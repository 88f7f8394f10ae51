package geom

import (
	"context"
	"fmt"
	"math"

	"halfpour/geom/parallel"
)

// SectionOptions says how fine a section is. Zero fields take the defaults.
type SectionOptions struct {
	// Tolerance is the greatest distance between the outline and the true
	// surface, mm in the plane; default 0.05.
	Tolerance float64
	// Cell is the grid's step, mm in the plane; default 0.25. Where solid or gap
	// is thinner than that, as in a sharp notch, it may be missed and the
	// outline be off by half a cell's diagonal.
	Cell    float64
	Workers int // 0: all processors; the outline does not depend on it
}

// sectionSteps bounds the grid's steps along one side of the window.
const sectionSteps = 20000

// Section cuts a solid by a plane. The transform takes the plane's own
// coordinates, as (x, y, 0), to space; low and high are the corners of the
// window in those coordinates. The outline is that of the part of the solid
// within the window: loops turn counter-clockwise round the solid and
// clockwise round its holes, and a solid that reaches beyond the window is
// closed along the window's edge. Where a plane lies in a flat face of the
// solid, rounding decides: cut a little beside it.
//
// The surface is found by marching squares on the cells that Range leaves, then
// followed within each cell by halving chords until they are true. A window
// without area, a step too fine for it, or a tolerance that is no positive
// number is an error, as is a cancelled context.
func Section(ctx context.Context, s Solid, plane Transform, low, high Vec2, opt SectionOptions) (Outline, error) {
	grid, err := newSectionGrid(low, high, opt)
	if err != nil {
		return nil, err
	}
	flat := plane.Inverse().Solid(s)
	tiles := grid.tiles()
	found := make([][]strand, len(tiles))
	err = parallel.For(ctx, len(tiles), opt.Workers, func(i int) {
		t := sectionTracer{sectionGrid: grid}
		t.descend(flat, tiles[i])
		found[i] = t.strands
	})
	if err != nil {
		return nil, err
	}
	return joinStrands(found, grid.tolerance), nil
}

// sectionGrid is the window cut into cells, with one more ring of cells round
// it whose outer nodes count as outside: it closes the outline at the edge.
// Nodes run from 0 to nx+2; node 1 and nx+1 are on the window's edge.
type sectionGrid struct {
	low, high    Vec2
	dx, dy       float64
	nx, ny       int
	lastX, lastY int // the outermost nodes
	tolerance    float64
}

func newSectionGrid(low, high Vec2, opt SectionOptions) (sectionGrid, error) {
	if opt.Tolerance == 0 {
		opt.Tolerance = 0.05
	}
	if opt.Cell == 0 {
		opt.Cell = 0.25
	}
	if !(opt.Tolerance > 0) || math.IsInf(opt.Tolerance, 1) {
		return sectionGrid{}, fmt.Errorf("section: tolerance must be a positive number of mm, got %g", opt.Tolerance)
	}
	if !(opt.Cell > 0) || math.IsInf(opt.Cell, 1) {
		return sectionGrid{}, fmt.Errorf("section: cell must be a positive number of mm, got %g", opt.Cell)
	}
	size := high.Sub(low)
	if !(size.X > 0 && size.Y > 0) {
		return sectionGrid{}, fmt.Errorf("section: window must have an area, got %g x %g mm", size.X, size.Y)
	}
	nx, ny := math.Ceil(size.X/opt.Cell), math.Ceil(size.Y/opt.Cell)
	if most := max(nx, ny); most > sectionSteps {
		return sectionGrid{}, fmt.Errorf("section: a window of %g x %g mm takes %.0f cells of %g mm a side, at most %d: enlarge the cell",
			size.X, size.Y, most, opt.Cell, sectionSteps)
	}
	return sectionGrid{
		low: low, high: high, dx: size.X / nx, dy: size.Y / ny,
		nx: int(nx), ny: int(ny), lastX: int(nx) + 2, lastY: int(ny) + 2,
		tolerance: opt.Tolerance,
	}, nil
}

// node returns the place of node (i, j); those beyond the window are on its
// edge.
func (g *sectionGrid) node(i, j int) Vec2 {
	p := Vec2{g.low.X + float64(max(i-1, 0))*g.dx, g.low.Y + float64(max(j-1, 0))*g.dy}
	if i > g.nx {
		p.X = g.high.X
	}
	if j > g.ny {
		p.Y = g.high.Y
	}
	return p
}

// beyond reports whether node (i, j) is outside the window.
func (g *sectionGrid) beyond(i, j int) bool {
	return i == 0 || j == 0 || i == g.lastX || j == g.lastY
}

// patchCells is a rectangle of cells: nodes i0..i1 and j0..j1.
type patchCells struct{ i0, j0, i1, j1 int }

// tiles are the pieces that workers take, in a fixed order.
func (g *sectionGrid) tiles() []patchCells {
	const side = 48
	var tiles []patchCells
	for j := 0; j < g.lastY; j += side {
		for i := 0; i < g.lastX; i += side {
			tiles = append(tiles, patchCells{i, j, min(i+side, g.lastX), min(j+side, g.lastY)})
		}
	}
	return tiles
}

// box returns the flat box of the cells' part in the window.
func (g *sectionGrid) box(c patchCells) Box {
	a, b := g.node(c.i0, c.j0), g.node(c.i1, c.j1)
	return Box{Vec{a.X, a.Y, 0}, Vec{b.X, b.Y, 0}}
}

// onEdge reports whether some of the cells are in the ring round the window.
func (g *sectionGrid) onEdge(c patchCells) bool {
	return c.i0 == 0 || c.j0 == 0 || c.i1 == g.lastX || c.j1 == g.lastY
}

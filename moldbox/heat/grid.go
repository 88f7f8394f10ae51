package heat

import (
	"context"
	"math"
	"slices"
	"sync/atomic"

	"halfpour/geom"
	"halfpour/geom/parallel"
)

// mostBlock is how many cells a block of one temperature may have along an
// edge.
const mostBlock = 8

// thinAtStop is for how many cells to both sides of a face of what stays blocks are one
// cell thick: none has to be split all ways because the face passes through it, and heat
// at the face is still followed cell by cell.
const thinAtStop = 2

// grid is the scene cut into cells: small cubes near the metal, joined to blocks
// where nothing is near, and cut into one part for each body they hold.
type grid struct {
	scene  *Scene
	lines  [3][]float64
	stops  [3][]int // those of lines, but the ends, in which a face of what stays lies
	cell   float64
	leaves []leaf
	leafAt []int32 // by cell
	parts  []gridPart
	middle int  // line of the parting
	halved bool // only what lies above the parting is computed
}

// leaf is a cell or a block of cells.
type leaf struct {
	lo, hi [3]int32
	first  int32 // of its parts
	cut    *cut  // nil for one body
}

// gridPart is what one leaf holds of one body.
type gridPart struct {
	leaf             int32
	body             int // len(scene.Bodies) for the fill
	volume           float64
	centre           geom.Vec
	away             geom.Vec // of the fill, from what is cast; of length 1
	bend             float64  // of the fill in a cut cell: by how much area grows with distance from what is cast, 1/mm
	fromHot          float64  // of the fill: about how far it is from what is cast or a wire, mm
	fromCast, spread float64  // of the fill: mean distance from what is cast, and how far the part reaches to both sides of it, mm
}

// size of the grid in cells.
func (g *grid) n(axis int) int { return len(g.lines[axis]) - 1 }

func (g *grid) index(i, j, k int) int { return i + g.n(0)*(j+g.n(1)*k) }

// box of a leaf.
func (g *grid) box(lo, hi [3]int32) geom.Box {
	at := func(q [3]int32) geom.Vec {
		return geom.Vec{X: g.lines[0][q[0]], Y: g.lines[1][q[1]], Z: g.lines[2][q[2]]}
	}
	return geom.Box{Min: at(lo), Max: at(hi)}
}

// newGrid cuts a scene into cells of about h mm near its metal. Of a scene that is
// its own mirror image at the parting it cuts the upper half alone: heat flows
// across the parting nowhere.
func newGrid(ctx context.Context, s *Scene, h float64, workers int) (*grid, error) {
	g := &grid{scene: s, cell: h}
	through := g.setLines(h)
	g.middle = through[2]
	g.halved = g.evenLines()
	for {
		alike, err := g.cutAll(ctx, through, workers)
		if err != nil {
			return nil, err
		}
		if alike || !g.halved {
			break
		}
		g.halved = false
	}
	g.number()
	return g, nil
}

// cutAll makes the leaves, block by block. It reports false when the scene is to
// be halved and is not its own mirror image.
func (g *grid) cutAll(ctx context.Context, through [3]int, workers int) (alike bool, err error) {
	var ranges [3][][2]int
	for a := range 3 {
		ranges[a] = blocks(g.n(a), through[a], mostBlock, func(i int) bool {
			return slices.ContainsFunc(g.stops[a], func(stop int) bool { return max(i-stop, stop-i) <= thinAtStop })
		})
	}
	if g.halved {
		ranges[2] = slices.DeleteFunc(ranges[2], func(r [2]int) bool { return r[0] < g.middle })
	}
	nx, ny := len(ranges[0]), len(ranges[1])
	found := make([][]leaf, nx*ny*len(ranges[2]))
	var odd atomic.Bool
	err = parallel.For(ctx, len(found), workers, func(i int) {
		if odd.Load() {
			return
		}
		var lo, hi [3]int32
		for a, at := range [3]int{i % nx, i / nx % ny, i / (nx * ny)} {
			lo[a], hi[a] = int32(ranges[a][at][0]), int32(ranges[a][at][1])
		}
		b := newBlocker(g, lo)
		b.split(lo, hi, b.all(lo, hi))
		if found[i] = b.leaves; b.odd {
			odd.Store(true)
		}
	})
	g.leaves = nil
	for _, leaves := range found {
		g.leaves = append(g.leaves, leaves...)
	}
	return !odd.Load(), err
}

// setLines lays the cells' faces and returns which of them pass through the
// parting, or anywhere.
func (g *grid) setLines(h float64) (through [3]int) {
	const margin, off = 3, 0.0381966 // mm; cells' faces off round numbers
	s := g.scene
	fine := geom.EmptyBox()
	var stops [3][]float64 // faces of what stays, so that few cells are cut
	for _, b := range s.Bodies {
		if b.Role != Fixed {
			fine = fine.Union(b.Solid.BoundingBox().Intersect(s.Box))
			continue
		}
		for _, part := range append(geom.PartsOf(b.Solid).Any, b.Solid) {
			box := part.BoundingBox()
			for a := range 3 {
				stops[a] = append(stops[a], along(box.Min, a), along(box.Max, a))
			}
		}
	}
	if fine.IsEmpty() {
		fine = geom.BoxOf(s.Box.Centre())
	}
	fine = fine.Grow(margin)
	c := fine.Centre()
	at := [3]float64{c.X + off*h, c.Y + off*h, s.Parting}
	lo, hi := [3]float64{s.Box.Min.X, s.Box.Min.Y, s.Box.Min.Z}, [3]float64{s.Box.Max.X, s.Box.Max.Y, s.Box.Max.Z}
	fineLo, fineHi := [3]float64{fine.Min.X, fine.Min.Y, fine.Min.Z}, [3]float64{fine.Max.X, fine.Max.Y, fine.Max.Z}
	for a := range 3 {
		at[a] = math.Max(lo[a], math.Min(hi[a], at[a]))
		g.lines[a] = axisLines(lo[a], hi[a], fineLo[a], fineHi[a], h, at[a], stops[a])
		for i, x := range g.lines[a] {
			if math.Abs(x-at[a]) < math.Abs(g.lines[a][through[a]]-at[a]) {
				through[a] = i
			}
			if i > 0 && i < len(g.lines[a])-1 && slices.ContainsFunc(stops[a], func(stop float64) bool { return math.Abs(x-stop) < 1e-6 }) {
				g.stops[a] = append(g.stops[a], i)
			}
		}
	}
	return through
}

// number numbers leaves and parts.
func (g *grid) number() {
	g.leafAt = make([]int32, g.n(0)*g.n(1)*g.n(2))
	for i := range g.leafAt {
		g.leafAt[i] = -1
	}
	for i := range g.leaves {
		l := &g.leaves[i]
		l.first = int32(len(g.parts))
		box := g.box(l.lo, l.hi)
		for k := l.lo[2]; k < l.hi[2]; k++ {
			for j := l.lo[1]; j < l.hi[1]; j++ {
				for x := l.lo[0]; x < l.hi[0]; x++ {
					g.leafAt[g.index(int(x), int(j), int(k))] = int32(i)
				}
			}
		}
		for p, body := range l.cut.bodies {
			part := gridPart{leaf: int32(i), body: body, volume: l.cut.volume[p], centre: box.Centre()}
			if l.cut.centre != nil {
				part.centre = l.cut.centre[p]
			}
			if body == len(g.scene.Bodies) {
				part.fromCast, part.spread, part.away, part.bend, part.fromHot = l.cut.castDistance, l.cut.castSpread, l.cut.away, l.cut.bend, l.cut.hotDistance
			}
			g.parts = append(g.parts, part)
		}
	}
}

package heat

import (
	"context"
	"math"

	"halfpour/geom"
	"halfpour/geom/parallel"
)

// mostBlock is how many cells a block of one temperature may have along an
// edge.
const mostBlock = 8

// grid is the scene cut into cells: small cubes near the metal, joined to blocks
// where nothing is near, and cut into one part for each body they hold.
type grid struct {
	scene  *Scene
	lines  [3][]float64
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

// newGrid cuts a scene into cells of about h mm near its metal.
func newGrid(ctx context.Context, s *Scene, h float64, workers int) (*grid, error) {
	g := &grid{scene: s, cell: h}
	through := g.setLines(h)
	g.middle = through[2]
	var ranges [3][][2]int
	for a := range 3 {
		ranges[a] = blocks(g.n(a), through[a], mostBlock)
	}
	nx, ny := len(ranges[0]), len(ranges[1])
	count := nx * ny * len(ranges[2])
	found := make([][]leaf, count)
	err := parallel.For(ctx, count, workers, func(i int) {
		var lo, hi [3]int32
		for a, at := range [3]int{i % nx, i / nx % ny, i / (nx * ny)} {
			lo[a], hi[a] = int32(ranges[a][at][0]), int32(ranges[a][at][1])
		}
		b := newBlocker(g)
		b.split(lo, hi, b.all(lo, hi))
		found[i] = b.leaves
	})
	if err != nil {
		return nil, err
	}
	for _, leaves := range found {
		g.leaves = append(g.leaves, leaves...)
	}
	g.fold()
	g.number()
	return g, nil
}

// setLines lays the cells' faces and returns which of them pass through the
// parting, or anywhere.
func (g *grid) setLines(h float64) (through [3]int) {
	const margin, off = 3, 0.0381966 // mm; cells' faces off round numbers
	s := g.scene
	fine := geom.EmptyBox()
	for _, b := range s.Bodies {
		if b.Role != Fixed {
			fine = fine.Union(b.Solid.BoundingBox().Intersect(s.Box))
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
		g.lines[a] = axisLines(lo[a], hi[a], fineLo[a], fineHi[a], h, at[a])
		for i, x := range g.lines[a] {
			if math.Abs(x-at[a]) < math.Abs(g.lines[a][through[a]]-at[a]) {
				through[a] = i
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

// blocker splits one block into leaves.
type blocker struct {
	g      *grid
	cutter cutter
	leaves []leaf
}

func newBlocker(g *grid) *blocker {
	b := &blocker{g: g}
	for _, body := range g.scene.Bodies {
		b.cutter.cast = append(b.cutter.cast, body.Role.Cast())
	}
	return b
}

// castLook is how far around what is cast a block is divided finer, mm: beyond,
// temperatures change slowly.
const castLook = 12

// all lists the bodies that matter in a block, pruned to it.
func (b *blocker) all(lo, hi [3]int32) []near {
	box := b.g.box(lo, hi)
	var list []near
	for i, body := range b.g.scene.Bodies {
		around := body.Solid.BoundingBox()
		if body.Role != Fixed {
			around = around.Grow(castLook)
		}
		if !around.Intersect(box).IsEmpty() {
			list = append(list, near{i, geom.PruneByValue(body.Solid, box)})
		}
	}
	return list
}

// nearest is the cast solid with the least value at a point.
func (b *blocker) nearest(bodies []near, p geom.Vec) geom.Solid {
	var best geom.Solid
	least := math.Inf(1)
	for _, n := range bodies {
		if b.cutter.cast[n.body] {
			if v := n.solid.Evaluate(p); v < least {
				least, best = v, n.solid
			}
		}
	}
	return best
}

// nearSkin is how far from the skin, in cells, flows in the fill are corrected.
const nearSkin = 4

// perDistance is how large a block may be for its distance from what is cast.
const perDistance = 0.6

// split makes leaves of a box of cells.
func (b *blocker) split(lo, hi [3]int32, bodies []near) {
	box := b.g.box(lo, hi)
	c, r := box.Centre(), box.HalfDiagonal()
	fill, cast, hot, surface := len(b.g.scene.Bodies), float64(castLook), float64(castLook), math.Inf(1)
	var here []near
	for _, n := range bodies {
		v := n.solid.Evaluate(c)
		if b.cutter.cast[n.body] {
			cast = math.Min(cast, v)
		}
		if b.g.scene.Bodies[n.body].Role != Fixed {
			hot = math.Min(hot, v)
		}
		if fill == len(b.g.scene.Bodies) {
			surface = math.Min(surface, math.Abs(v))
			switch {
			case v < -r:
				fill = n.body
			case v <= r:
				here = append(here, n)
			}
		}
	}
	single := hi[0]-lo[0] <= 1 && hi[1]-lo[1] <= 1 && hi[2]-lo[2] <= 1
	size := box.Size()
	large := math.Max(size.X, math.Max(size.Y, size.Z))
	apart := len(here) == 0
	fine := math.Abs(cast)-r >= large/perDistance || cast < 0 && surface-r >= large/2
	switch {
	case apart && (single || fine):
		whole := &cut{bodies: []int{fill}, volume: []float64{box.Volume()}, castDistance: math.Max(0, cast), castSpread: large / 2, hotDistance: math.Max(0, hot)}
		if fill == len(b.g.scene.Bodies) && cast < nearSkin*b.g.cell {
			_, whole.away = geom.Gradient(b.nearest(bodies, c), c)
		}
		b.leaves = append(b.leaves, leaf{lo: lo, hi: hi, cut: whole})
	case single:
		b.cutter.fill = fill
		for _, n := range here {
			if b.cutter.cast[n.body] {
				cast = castLook
			}
		}
		k := b.cutter.cut(box, here, cast)
		k.castSpread, k.hotDistance = math.Min(large/2, k.castDistance), math.Max(0, hot)
		b.leaves = append(b.leaves, leaf{lo: lo, hi: hi, cut: k})
	default:
		b.children(lo, hi, bodies)
	}
}

// children splits a box of cells along its longer edges.
func (b *blocker) children(lo, hi [3]int32, bodies []near) {
	var ends [3][][2]int32
	most := max(hi[0]-lo[0], hi[1]-lo[1], hi[2]-lo[2])
	half := int32(1)
	for half*2 < most {
		half *= 2
	}
	for a := range 3 {
		ends[a] = [][2]int32{{lo[a], hi[a]}}
		if hi[a]-lo[a] > half {
			border := lo[a] + half
			if a == 2 && int(hi[a]) <= b.g.middle { // as above the parting, mirrored
				border = hi[a] - half
			}
			ends[a] = [][2]int32{{lo[a], border}, {border, hi[a]}}
		}
	}
	for _, z := range ends[2] {
		for _, y := range ends[1] {
			for _, x := range ends[0] {
				lo, hi := [3]int32{x[0], y[0], z[0]}, [3]int32{x[1], y[1], z[1]}
				box := b.g.box(lo, hi)
				list := make([]near, 0, len(bodies))
				for _, n := range bodies {
					list = append(list, near{n.body, geom.PruneByValue(n.solid, box)})
				}
				b.split(lo, hi, list)
			}
		}
	}
}

package heat

import (
	"math"

	"halfpour/geom"
)

// near is a body that may matter in a box, with its solid pruned to it, and to
// the box's mirror image where the grid is halved.
type near struct {
	body        int
	solid, twin geom.Solid
	checked     bool // the twin is alike in the whole box, which the surface is not in
}

// blocker splits one block into leaves.
type blocker struct {
	g      *grid
	cutter cutter
	leaves []leaf
	odd    bool // the mirror image is another
}

func newBlocker(g *grid, lo [3]int32) *blocker {
	b := &blocker{g: g}
	b.cutter.origin = lo
	for _, body := range g.scene.Bodies {
		b.cutter.cast = append(b.cutter.cast, body.Role.Cast())
	}
	b.cutter.known = make([]map[int32]float64, len(g.scene.Bodies))
	return b
}

// castLook is how far the distance from what is cast is looked at, mm.
const castLook = 30

// all lists the bodies that matter in a block, pruned to it.
func (b *blocker) all(lo, hi [3]int32) []near {
	box := b.g.box(lo, hi)
	var list []near
	for i, body := range b.g.scene.Bodies {
		around := body.Solid.BoundingBox()
		if body.Role != Fixed {
			around = around.Grow(castLook)
		}
		twin := b.g.mirrorBox(box)
		if !around.Intersect(box).IsEmpty() || b.g.halved && !around.Intersect(twin).IsEmpty() {
			n := near{body: i, solid: geom.PruneByValue(body.Solid, box)}
			if b.g.halved {
				n.twin = geom.PruneByValue(body.Solid, twin)
			}
			list = append(list, n)
		}
	}
	return list
}

// nearSkin is how far from the skin, in cells, flows in the fill are corrected.
const nearSkin = 4

// perDistance is how far from what is cast a block must be for its size.
const perDistance = 0.7

// look is what the middle of a box shows.
type look struct {
	values  []float64 // of each body
	fill    int       // body that is where none of here is
	here    []near    // whose surface may be in the box
	cast    float64   // distance from what is cast, mm
	hot     float64   // from what is cast and wires
	surface float64   // from any surface that may show
}

func (b *blocker) look(c geom.Vec, box geom.Box, r float64, bodies []near) look {
	none := len(b.g.scene.Bodies)
	l := look{values: make([]float64, len(bodies)), fill: none, cast: castLook, hot: castLook, surface: math.Inf(1)}
	for i, n := range bodies {
		v := n.solid.Evaluate(c)
		l.values[i] = v
		role := b.g.scene.Bodies[n.body].Role
		if role.Cast() {
			l.cast = math.Min(l.cast, v)
		}
		if role != Fixed {
			l.hot = math.Min(l.hot, v)
		}
		if l.fill != none {
			continue
		}
		l.surface = math.Min(l.surface, math.Abs(v))
		inside, may := v < -r, v <= r
		if role == Fixed && may && !inside { // its faces lie in those of cells
			values := geom.Range(n.solid, box.Grow(-1e-6))
			inside, may = values.Hi <= 0, values.Lo < 0
		}
		if inside {
			l.fill = n.body
		} else if may {
			l.here = append(l.here, n)
		}
	}
	return l
}

// split makes leaves of a box of cells.
func (b *blocker) split(lo, hi [3]int32, bodies []near) {
	if b.odd {
		return
	}
	box := b.g.box(lo, hi)
	c, r := box.Centre(), box.HalfDiagonal()
	l := b.look(c, box, r, bodies)
	single := hi[0]-lo[0] <= 1 && hi[1]-lo[1] <= 1 && hi[2]-lo[2] <= 1
	size := box.Size()
	large := math.Max(size.X, math.Max(size.Y, size.Z))
	fine := l.cast-r >= perDistance*large || l.cast < 0 && l.surface-r >= large/2 && large < 2.5*b.g.cell
	if !single && (len(l.here) > 0 || !fine) {
		b.children(lo, hi, c, r, bodies, &l)
		return
	}
	for i, n := range bodies {
		b.odd = b.odd || !n.checked && b.unlike(n, c, l.values[i])
	}
	b.leaves = append(b.leaves, leaf{lo: lo, hi: hi, cut: b.cell(lo, box, large, bodies, &l)})
}

// cell is what a leaf holds.
func (b *blocker) cell(lo [3]int32, box geom.Box, large float64, bodies []near, l *look) *cut {
	if len(l.here) > 0 {
		far := l.cast
		for _, n := range l.here {
			if b.cutter.cast[n.body] {
				far = castLook
			}
		}
		b.cutter.fill = l.fill
		k := b.cutter.cut(box, lo, l.here, far)
		k.castSpread, k.hotDistance = math.Min(large/2, k.castDistance), math.Max(0, l.hot)
		return k
	}
	k := &cut{bodies: []int{l.fill}, volume: []float64{box.Volume()}, castDistance: math.Max(0, l.cast), castSpread: large / 2, hotDistance: math.Max(0, l.hot)}
	if l.fill == len(b.g.scene.Bodies) && l.cast < nearSkin*b.g.cell {
		_, k.away = geom.Gradient(b.nearest(bodies, l), box.Centre())
	}
	return k
}

// nearest is the cast solid with the least value.
func (b *blocker) nearest(bodies []near, l *look) geom.Solid {
	best := -1
	for i, n := range bodies {
		if b.cutter.cast[n.body] && (best < 0 || l.values[i] < l.values[best]) {
			best = i
		}
	}
	return bodies[best].solid
}

// children splits a box of cells along its longer edges. Bodies that cannot
// matter in it are left out.
func (b *blocker) children(lo, hi [3]int32, c geom.Vec, r float64, bodies []near, l *look) {
	var kept []near
	for i, n := range bodies {
		bound := r
		if role := b.g.scene.Bodies[n.body].Role; role.Cast() {
			bound = math.Max(0, math.Min(castLook, l.cast+r)) + r
		} else if role != Fixed {
			bound = math.Max(0, math.Min(castLook, l.hot+r)) + r
		}
		// A twin of the same value has no surface in the box either.
		if !n.checked && math.Abs(l.values[i]) > r {
			b.odd = b.odd || b.unlike(n, c, l.values[i])
			n.checked, n.twin = true, nil
		}
		if l.values[i] <= bound {
			kept = append(kept, n)
		}
	}
	var ends [3][][2]int32
	most := max(hi[0]-lo[0], hi[1]-lo[1], hi[2]-lo[2])
	half := int32(1)
	for half*2 < most {
		half *= 2
	}
	for a := range 3 {
		ends[a] = [][2]int32{{lo[a], hi[a]}}
		if hi[a]-lo[a] > half {
			ends[a] = [][2]int32{{lo[a], lo[a] + half}, {lo[a] + half, hi[a]}}
		}
	}
	for _, z := range ends[2] {
		for _, y := range ends[1] {
			for _, x := range ends[0] {
				lo, hi := [3]int32{x[0], y[0], z[0]}, [3]int32{x[1], y[1], z[1]}
				b.split(lo, hi, b.pruned(kept, lo, hi, half))
			}
		}
	}
}

// pruned prunes the bodies to a child, where that pays.
func (b *blocker) pruned(bodies []near, lo, hi [3]int32, half int32) []near {
	if half < 2 {
		return bodies
	}
	box := b.g.box(lo, hi)
	list := make([]near, len(bodies))
	for i, n := range bodies {
		list[i] = n
		list[i].solid = geom.PruneByValue(n.solid, box)
		if n.twin != nil {
			list[i].twin = geom.PruneByValue(n.twin, b.g.mirrorBox(box))
		}
	}
	return list
}

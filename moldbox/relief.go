package moldbox

import (
	"context"
	"math"

	"halfpour/geom"
	"halfpour/geom/column"
	"halfpour/geom/unionfind"
)

// relief is where the bed of a drawn body is widened towards the parting plane in one
// half, so that the half lets go of the body. Places are the part's.
type relief struct {
	right bool
	depth float64 // of the undercut that it takes away, mm, to about bedStep
	at    geom.Vec
	cut   geom.Solid // up to the parting plane
	deep  geom.Solid // the same, and on through that plane, to stand in a floor
}

// half is the half's place among left and right.
func (r relief) half() int {
	if r.right {
		return 1
	}
	return 0
}

const (
	reliefStep  = 0.1  // between the levels at which a bed is looked at, mm
	mostRelief  = 3.0  // how high over the plane a bed may hang, mm: of what hangs higher the slot is too deep
	leastRelief = 0.15 // undercut that is taken away, mm: rubber gives way to less
	reliefApart = 3    // lines between two places that are widened by themselves
	reliefRoom  = 0.3  // around such a place, mm
	reliefHead  = 1.0  // from metal, mm: a wider bed would let it out (common practice, no source)
	underFloor  = 1.0  // how far a relief goes on through the parting plane, mm
)

// reliefs looks for what of a bed hangs over in a half, and returns what takes it away: of
// every level of the bed there, a prism down to the parting plane. It leaves out what is
// near the head and the eye, where the rubber has to shut metal out.
func (p *part) reliefs(ctx context.Context, w partWire) ([]relief, error) {
	bed := w.cutTo(w.axis).bed(p.turn)
	grid, err := column.Cut(ctx, bed, column.Options{Step: bedStep})
	if err != nil {
		return nil, err
	}
	eye := geom.EmptyBox()
	if w.hook() {
		eye = p.opening().BoundingBox().Grow(w.axis.wire)
	}
	var list []relief
	for _, right := range []bool{false, true} {
		for _, o := range p.hanging(grid, right, eye) {
			r, err := o.relief(ctx, bed, right)
			if err != nil {
				return nil, err
			}
			list = append(list, r)
		}
	}
	return list, nil
}

// hangs is a place of a bed that hangs over in a half.
type hangs struct {
	box   geom.Box // of its lines, from the plane to the highest of the bed
	depth float64
	at    geom.Vec
}

// hanging finds the places that hang over, clear of head and eye.
func (p *part) hanging(grid *column.Grid, right bool, eye geom.Box) (list []hangs) {
	under := grid.Undercut(column.Draw{Down: right}).Map
	side := 1.0
	if right {
		side = -1
	}
	var lines []int
	for k, depth := range under {
		if depth == 0 {
			continue
		}
		at := grid.At(k%grid.NX, k/grid.NX, 0)
		if in := at; eye.Contains(geom.Vec{X: in.X, Y: in.Y, Z: eye.Centre().Z}) || p.head.Evaluate(at) < reliefHead {
			continue
		}
		lines = append(lines, k)
	}
	sets := unionfind.New(len(lines))
	for a, k := range lines {
		for b := a + 1; b < len(lines) && lines[b]/grid.NX-k/grid.NX <= reliefApart; b++ {
			if across := lines[b]%grid.NX - k%grid.NX; across <= reliefApart && across >= -reliefApart {
				sets.Join(int32(a), int32(b))
			}
		}
	}
	number := map[int32]int{}
	for a, k := range lines {
		root := sets.Root(int32(a))
		n, known := number[root]
		if !known {
			n, number[root] = len(list), len(list)
			list = append(list, hangs{box: geom.EmptyBox()})
		}
		h := &list[n]
		i, j := k%grid.NX, k/grid.NX
		high := 0.0
		for _, s := range grid.Line(i, j) {
			high = math.Max(high, math.Max(side*s.Lo, side*s.Hi))
		}
		h.box = h.box.Include(grid.At(i, j, 0)).Include(grid.At(i, j, side*high))
		if d := float64(under[k]); d > h.depth {
			h.depth, h.at = d, grid.At(i, j, side*high)
		}
	}
	kept := list[:0]
	for _, h := range list {
		if h.depth > leastRelief && math.Max(h.box.Max.Z, -h.box.Min.Z) <= mostRelief {
			kept = append(kept, h)
		}
	}
	return kept
}

// relief makes what takes a hanging place away.
func (h hangs) relief(ctx context.Context, bed geom.Solid, right bool) (relief, error) {
	side, high := 1.0, h.box.Max.Z
	if right {
		side, high = -1, -h.box.Min.Z
	}
	low := geom.Vec2{X: h.box.Min.X - reliefRoom, Y: h.box.Min.Y - reliefRoom}
	far := geom.Vec2{X: h.box.Max.X + reliefRoom, Y: h.box.Max.Y + reliefRoom}
	var cut, deep []geom.Solid
	for z := reliefStep; z < high; z += reliefStep {
		level := side * z
		o, err := geom.Section(ctx, bed, geom.Move(geom.Vec{Z: level}), low, far, geom.SectionOptions{Cell: 1.5 * bedStep, Tolerance: 0.01})
		if err != nil {
			return relief{}, err
		}
		if len(o) > 0 {
			cut, deep = append(cut, geom.Prism(o, 0, level)), append(deep, geom.Prism(o, -side*underFloor, level))
		}
	}
	return relief{right, h.depth, h.at, geom.Union(cut...), geom.Union(deep...)}, nil
}

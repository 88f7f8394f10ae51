package geom

import (
	"math"
	"sort"
)

// edge2 is one straight piece of the boundary of a flat shape, the filled side
// on its left.
type edge2 struct{ a, b Vec2 }

func (e edge2) bounds() rect { return emptyRect().include(e.a).include(e.b) }

// at returns the nearest point of e to p and where along e it lies, 0 to 1.
func (e edge2) at(p Vec2) (Vec2, float64) {
	d := e.b.Sub(e.a)
	t := p.Sub(e.a).Dot(d) / d.Dot(d)
	switch {
	case !(t > 0):
		return e.a, 0
	case t >= 1:
		return e.b, 1
	}
	return e.a.Add(d.Mul(t)), t
}

// boundary returns the edges between filled and empty, each once, the filled
// side on the left. Loops that overlap, cross or touch are cut where they
// meet, and what lies within the filled part is left out. Points nearer than
// 1e-11 of the outline's size are one point.
func (o Outline) boundary() []edge2 {
	a := newArrangement(o)
	// Rounding a crossing moves its edges by a hair, which can make a new
	// crossing beside it; two passes settle all but contrived input. Points
	// crowded as close as eps could go on cutting one another for ever.
	more := a.split()
	most := 2 * len(a.edges)
	for pass := 1; more && pass < 8 && len(a.edges) <= most; pass++ {
		more = a.split()
	}
	return a.surface()
}

// arrangement is a set of loops cut into edges that meet at ends only.
type arrangement struct {
	eps    float64
	points []Vec2
	cells  map[[2]int64][]int32 // points by lattice cell of size eps
	edges  [][2]int32
}

func newArrangement(o Outline) *arrangement {
	low, high := o.Bounds()
	size := max(high.Sub(low).Norm(), max(low.Norm(), high.Norm()))
	a := &arrangement{eps: 1e-11 * size, cells: map[[2]int64][]int32{}}
	for _, loop := range o {
		if len(loop) < 3 {
			continue
		}
		last := a.intern(loop[len(loop)-1])
		for _, p := range loop {
			next := a.intern(p)
			if next != last {
				a.edges = append(a.edges, [2]int32{last, next})
			}
			last = next
		}
	}
	return a
}

// intern returns the index of p, or of a point within eps seen before.
func (a *arrangement) intern(p Vec2) int32 {
	cx, cy := int64(math.Floor(p.X/a.eps)), int64(math.Floor(p.Y/a.eps))
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			for _, i := range a.cells[[2]int64{cx + dx, cy + dy}] {
				if a.points[i].Sub(p).Norm() <= a.eps {
					return i
				}
			}
		}
	}
	i := int32(len(a.points))
	a.points = append(a.points, p)
	key := [2]int64{cx, cy}
	a.cells[key] = append(a.cells[key], i)
	return i
}

func (a *arrangement) edge(i int) edge2 {
	return edge2{a.points[a.edges[i][0]], a.points[a.edges[i][1]]}
}

func (a *arrangement) all() []edge2 {
	es := make([]edge2, len(a.edges))
	for i := range es {
		es[i] = a.edge(i)
	}
	return es
}

// split cuts edges at the points where they meet others and reports whether
// any was cut.
func (a *arrangement) split() bool {
	es := a.all()
	tree := newEdgeTree(es)
	cuts := make([][]int32, len(es))
	found := false
	cut := func(i int, p int32) {
		if p != a.edges[i][0] && p != a.edges[i][1] {
			cuts[i], found = append(cuts[i], p), true
		}
	}
	for i, e := range es {
		tree.visit(e.bounds().grow(a.eps), func(j int) {
			for _, p := range a.edges[j] {
				if q, _ := e.at(a.points[p]); q.Sub(a.points[p]).Norm() <= a.eps {
					cut(i, p)
				}
			}
			if j > i {
				if p, ok := crossPoint(e, es[j], a.eps); ok {
					k := a.intern(p)
					cut(i, k)
					cut(j, k)
				}
			}
		})
	}
	if !found {
		return false
	}
	var next [][2]int32
	for i, e := range es {
		along := func(p int32) float64 { _, t := e.at(a.points[p]); return t }
		sort.Slice(cuts[i], func(x, y int) bool { return along(cuts[i][x]) < along(cuts[i][y]) })
		last := a.edges[i][0]
		for _, p := range append(cuts[i], a.edges[i][1]) {
			if p != last {
				next = append(next, [2]int32{last, p})
			}
			last = p
		}
	}
	a.edges = next
	return true
}

// crossPoint returns where two edges cross, the ends of each more than eps to
// either side of the other: edges that lie along one another have no such
// point, however rounding has bent them.
func crossPoint(e, f edge2, eps float64) (Vec2, bool) {
	u, v := e.b.Sub(e.a), f.b.Sub(f.a)
	lu, lv := u.Norm(), v.Norm()
	ea, eb := v.Cross(e.a.Sub(f.a))/lv, v.Cross(e.b.Sub(f.a))/lv
	fa, fb := u.Cross(f.a.Sub(e.a))/lu, u.Cross(f.b.Sub(e.a))/lu
	apart := func(x, y float64) bool { return x > eps && y < -eps || x < -eps && y > eps }
	if !apart(ea, eb) || !apart(fa, fb) {
		return Vec2{}, false
	}
	return e.a.Add(u.Mul(ea / (ea - eb))), true
}

// surface keeps the edges that have filled on one side only. Edges that lie on
// one another count together.
func (a *arrangement) surface() []edge2 {
	net := map[[2]int32]int{}
	var order [][2]int32
	for _, e := range a.edges {
		key, turn := e, 1
		if e[0] > e[1] {
			key, turn = [2]int32{e[1], e[0]}, -1
		}
		if _, seen := net[key]; !seen {
			order = append(order, key)
		}
		net[key] += turn
	}
	es := a.all()
	tree := newEdgeTree(es)
	var out []edge2
	for _, key := range order {
		e := edge2{a.points[key[0]], a.points[key[1]]}
		left, right := a.sides(tree, key, e, net[key])
		switch {
		case left != 0 && right == 0:
			out = append(out, e)
		case left == 0 && right != 0:
			out = append(out, edge2{e.b, e.a})
		}
	}
	return out
}

// sides returns the windings left and right of e, which stands for every edge
// between its two points, net of them forwards. A ray from its middle, across
// it, counts all others.
func (a *arrangement) sides(tree *edgeTree, key [2]int32, e edge2, net int) (left, right int) {
	mid, d := e.a.Add(e.b).Mul(0.5), e.b.Sub(e.a)
	steep := math.Abs(d.Y) >= math.Abs(d.X)
	ray := rect{mid, Vec2{mid.X, math.Inf(1)}}
	if steep {
		ray = rect{mid, Vec2{math.Inf(1), mid.Y}}
	}
	w := 0
	tree.visit(ray, func(j int) {
		k := a.edges[j]
		if k == key || k == [2]int32{key[1], key[0]} {
			return
		}
		f := tree.edges[j]
		if steep {
			w += windingStep(f.a, f.b, mid)
		} else {
			w -= windingStep(swap(f.a), swap(f.b), swap(mid))
		}
	})
	if (steep && d.Y > 0) || (!steep && d.X < 0) { // the ray leaves to the right
		return w + net, w
	}
	return w, w - net
}

func swap(p Vec2) Vec2 { return Vec2{p.Y, p.X} }

package geom

import (
	"context"
	"math"
)

// Simplify returns a manifold mesh with few triangles. It goes in turns: in the first,
// facets move by up to least mm, in each that follows by half as much again, until few
// triangles are left or a turn would take more than most mm. The turns add up, to three times
// the last at most. No vertex moves, and facets at those that are held only grow within their
// planes. from has the number that each triangle had in the mesh given. Facets may cross where
// parts of the mesh lie nearer to each other than they move: it is for looking at. It stops
// with ctx's error.
func Simplify(ctx context.Context, m *TriMesh, few int, least, most float64, held []bool) (out *TriMesh, from []int32, err error) {
	s := newSimplifier(m, make([]bool, len(m.Triangles)), 0)
	for d := least; s.live > few && d <= most; d *= 1.5 {
		s.budget += d
		for t := range s.gentle {
			if v := s.vertex[3*t : 3*t+3]; v[0] >= 0 {
				s.gentle[t] = !held[v[0]] && !held[v[1]] && !held[v[2]]
				s.dirty[v[0]], s.dirty[v[1]], s.dirty[v[2]] = true, true, true
			}
		}
		if err := s.pass(ctx); err != nil { // a second one takes half as long again, and finds a fiftieth more
			return nil, nil, err
		}
	}
	result := s.result()
	return result.TriMesh, result.from, nil
}

// simplify thins a manifold mesh by collapsing edges. A vertex moves
// onto a neighbour where that keeps every facet round it in its plane: to
// within budget (mm, summed over all that was ever collapsed there) where the
// facets are gentle, which promises that no other part of the mesh is near,
// and to rounding elsewhere, where the mesh then covers the same points as
// before. So flats and straight edges become few triangles, corners stay, and
// parts that lie close do not come to cross. What remains are vertices of the
// mesh given, so none leaves the surface. Where the mesh is open its boundary stays as
// it is. With blunt, needles go in the end. It stops with ctx's error.
func simplify(ctx context.Context, m *TriMesh, gentle []bool, budget float64, blunt bool) (*simplified, error) {
	s := newSimplifier(m, gentle, budget)
	for pass := 0; pass < thinningPasses; pass++ {
		before := s.live
		if err := s.pass(ctx); err != nil {
			return nil, err
		}
		if before-s.live < s.live/200 {
			break
		}
	}
	if blunt {
		s.blunt()
	}
	return s.result(), nil
}

// pass visits each vertex once round which something has changed since.
func (s *simplifier) pass(ctx context.Context) error {
	for v := range s.at {
		if v&1023 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		if s.dirty[v] {
			s.dirty[v] = false
			s.visit(int32(v))
		}
	}
	return nil
}

// simplified is what is left of a mesh.
type simplified struct {
	*TriMesh
	number []int32 // by vertex of the mesh given: its new number, -1 when it is gone
	from   []int32 // by triangle: its number in the mesh given

	crowded []Vec // where more than two triangles of the mesh given meet in one edge
}

const (
	thinningPasses = 12
	greatestRing   = 48    // vertices with more neighbours are left alone
	sliver         = 0.002 // mm: the plane of a facet lower than this is not trusted
	exact          = 2e-6  // mm: what rounding may move a facet
	leastQuality   = 0.05  // height over longest edge that thinning may bring about
	leastExact     = 0.003 // the same where the facets stay in their planes: it is soon undone
)

// simplifier is a triangle mesh in a corner table: corner 3t+i is corner i of
// triangle t, and across[c] is the corner that faces c over the opposite edge
// (Rossignac, Safonova & Szymczak, "3D compression made simple: Edgebreaker on
// a corner table", 2001).
type simplifier struct {
	at     []Vec
	vertex []int32   // by corner; -1 for a triangle that is gone
	across []int32   // by corner
	corner []int32   // by vertex: one of its corners, -1 when it is gone
	spent  []float32 // by triangle: how far it may be from where the mesh was, mm
	gentle []bool    // by triangle
	open   []uint8   // by vertex: how often the boundary of the mesh comes by, up to 2
	dirty  []bool
	stamp  []int32
	now    int32
	live   int
	budget float64

	crowded []Vec       // middles of edges that more than two triangles share
	ring    []ringFacet // scratch
}

// ringFacet is one facet round a vertex v: (v, a, b) counter-clockwise.
type ringFacet struct {
	corner int32 // of v
	a, b   int32
	at     Vec // of a; b is a of the next facet round v
	normal Vec
	low    float64 // the least height
	good   float64 // height over longest edge
}

func newSimplifier(m *TriMesh, gentle []bool, budget float64) *simplifier {
	n := len(m.Triangles)
	s := &simplifier{
		at:     m.Vertices,
		vertex: make([]int32, 3*n),
		corner: make([]int32, len(m.Vertices)),
		spent:  make([]float32, n),
		open:   make([]uint8, len(m.Vertices)),
		dirty:  make([]bool, len(m.Vertices)),
		stamp:  make([]int32, len(m.Vertices)),
		gentle: gentle,
		live:   n,
		budget: budget,
	}
	for v := range s.corner {
		s.corner[v] = -1
	}
	for t, tri := range m.Triangles {
		for i, v := range tri {
			s.vertex[3*t+i] = v
			s.corner[v] = int32(3*t + i)
			s.dirty[v] = true
		}
	}
	var crowded []int32
	s.across, crowded = oppositeCorners(m)
	for c, d := range s.across {
		if d < 0 {
			v := s.vertex[nextCorner(int32(c))]
			s.open[v] = min(2, s.open[v]+1)
		}
	}
	for _, e := range crowded {
		a, b := m.edgeEnds(e)
		s.crowded = append(s.crowded, a.Lerp(b, 0.5))
	}
	return s
}

func nextCorner(c int32) int32 {
	if c%3 == 2 {
		return c - 2
	}
	return c + 1
}

func prevCorner(c int32) int32 {
	if c%3 == 0 {
		return c + 2
	}
	return c - 1
}

// gather lists the facets round v in order; false when there are too many.
func (s *simplifier) gather(v int32) bool {
	s.ring = s.ring[:0]
	c := s.corner[v]
	for {
		if len(s.ring) == greatestRing {
			return false
		}
		next := nextCorner(c)
		a := s.vertex[next]
		s.ring = append(s.ring, ringFacet{corner: c, a: a, b: s.vertex[prevCorner(c)], at: s.at[a]})
		// Over the edge (v, b) lies the next facet.
		d := s.across[next]
		if d < 0 {
			return false
		}
		c = nextCorner(d)
		if c == s.corner[v] {
			break
		}
	}
	at := s.at[v]
	for i := range s.ring {
		f := &s.ring[i]
		f.normal, f.low, f.good = shape(at, f.at, s.after(i).at)
	}
	return true
}

// after is the facet that follows facet i round the vertex.
func (s *simplifier) after(i int) *ringFacet {
	if i++; i == len(s.ring) {
		i = 0
	}
	return &s.ring[i]
}

// shape returns a triangle's unit normal, its least height, and that over its
// longest edge.
func shape(a, b, c Vec) (Vec, float64, float64) {
	u, v, w := b.Sub(a), c.Sub(b), a.Sub(c)
	n := u.Cross(v)
	area := n.Norm()
	long := math.Sqrt(max(u.Dot(u), max(v.Dot(v), w.Dot(w))))
	if area == 0 || long == 0 {
		return Vec{}, 0, 0
	}
	low := area / long
	return n.Mul(1 / area), low, low / long
}

// newShape returns twice a triangle's area along its normal, the length of that, and
// the least height over the longest edge.
func newShape(a, b, c Vec) (n Vec, area, good float64) {
	u, v, w := b.Sub(a), c.Sub(b), a.Sub(c)
	n = u.Cross(v)
	area = n.Norm()
	if area == 0 {
		return n, 0, 0
	}
	return n, area, area / max(u.Dot(u), v.Dot(v), w.Dot(w))
}

// visit collapses v onto the neighbour that suits best, if any does.
func (s *simplifier) visit(v int32) {
	if s.corner[v] < 0 || s.open[v] > 0 || !s.gather(v) || len(s.ring) < 3 {
		return
	}
	spent, floor, allowed := 0.0, leastQuality, s.budget
	for i := range s.ring {
		f := &s.ring[i]
		t := f.corner / 3
		spent = max(spent, float64(s.spent[t]))
		floor = min(floor, f.good)
		if !s.gentle[t] {
			allowed = exact
		}
	}
	allowed = min(allowed, s.budget-spent)
	best, bestScore, bestCost := -1, -1.0, 0.0
	for j := range s.ring {
		if cost, score, ok := s.tryCollapse(v, j, allowed, floor, bestScore); ok {
			best, bestScore, bestCost = j, score, cost
		}
	}
	if best >= 0 && s.linked(v, s.ring[best].a) {
		s.collapse(v, best, float32(spent+bestCost))
	}
}

// tryCollapse looks at moving v onto the vertex a of ring facet j: how far the
// facets leave their planes, and a score, the greater the better the worst of the
// facets that come out and the less they move. It is not ok when the score is no
// greater than one known already.
func (s *simplifier) tryCollapse(v int32, j int, allowed, floor, known float64) (cost, score float64, ok bool) {
	u, target := s.ring[j].a, s.ring[j].at
	move := target.Sub(s.at[v])
	for i := range s.ring {
		f := &s.ring[i]
		d := math.Abs(move.Dot(f.normal))
		if f.low < sliver {
			d = move.Norm()
		}
		if d > cost {
			if d > allowed {
				return 0, 0, false
			}
			cost = d
		}
	}
	if cost <= exact {
		floor = min(floor, leastExact)
	}
	good, share := 1.0, 1.0
	if cost > 0 {
		share -= 0.5 * cost / s.budget
	}
	for i := range s.ring {
		f := &s.ring[i]
		if f.a == u || f.b == u {
			continue
		}
		n, area, q := newShape(target, f.at, s.after(i).at)
		good = min(good, q)
		if area == 0 || q < floor || good*share <= known {
			return 0, 0, false
		}
		if f.low >= sliver && n.Dot(f.normal) < leastTurn*area || f.low < sliver && !s.facesRing(n, area) {
			return 0, 0, false
		}
	}
	return cost, good * share, true
}

// leastTurn is the cosine of how far a collapse may turn a facet.
const leastTurn = 0.9

// facesRing reports whether n, of a length, looks the way some trusted facet of the
// ring does.
func (s *simplifier) facesRing(n Vec, length float64) bool {
	for i := range s.ring {
		if s.ring[i].low >= sliver && n.Dot(s.ring[i].normal) > leastTurn*length {
			return true
		}
	}
	return false
}

// linked is the link condition: v and u share just the two neighbours beside
// their edge, so that the collapse keeps the mesh manifold. u may be at the boundary of
// an open mesh, where that comes by it once.
func (s *simplifier) linked(v, u int32) bool {
	if s.open[u] > 1 {
		return false
	}
	s.now++
	for i := range s.ring {
		s.stamp[s.ring[i].a] = s.now
	}
	shared, seen := 0, 0
	see := func(w int32) {
		seen++
		if s.stamp[w] == s.now {
			shared++
		}
	}
	start := s.corner[u]
	for c := start; ; {
		see(s.vertex[nextCorner(c)])
		next := s.across[nextCorner(c)]
		if next < 0 { // at the boundary: the others are on the other side of where this began
			see(s.vertex[prevCorner(c)])
			for c = s.across[prevCorner(start)]; c >= 0 && seen <= 4*greatestRing; c = s.across[nextCorner(c)] {
				see(s.vertex[c])
			}
			break
		}
		if c = nextCorner(next); c == start {
			break
		}
		if seen > 4*greatestRing {
			return false
		}
	}
	tetrahedron := s.open[u] == 0 && seen == 3 && len(s.ring) == 3
	return shared == 2 && seen <= 4*greatestRing && !tetrahedron
}

// collapse moves v onto vertex a of ring facet j. The facets j and j-1, which
// share the edge, go.
func (s *simplifier) collapse(v int32, j int, spent float32) {
	u := s.ring[j].a
	n := len(s.ring)
	left, right := &s.ring[j], &s.ring[(j+n-1)%n]
	for i := range s.ring {
		f := &s.ring[i]
		s.vertex[f.corner] = u
		s.spent[f.corner/3] = spent
		s.dirty[f.a] = true
	}
	// Facet j is (v, u, b): its neighbours over (u, b) and (b, v) now meet.
	for _, c := range [2]int32{left.corner, right.corner} {
		outer, inner := s.across[c], s.across[s.farCorner(c, u, left.corner)]
		s.across[inner] = outer
		beside := inner
		if outer >= 0 {
			s.across[outer], beside = inner, outer
		}
		third := s.vertex[prevCorner(c)]
		if c == right.corner {
			third = s.vertex[nextCorner(c)]
		}
		s.corner[third] = s.cornerBeside(beside, third)
		s.corner[u] = s.cornerBeside(beside, u)
		t := c - c%3
		s.vertex[t], s.vertex[t+1], s.vertex[t+2] = -1, -1, -1
		s.live--
	}
	s.corner[v] = -1
	s.dirty[u] = true
}

// farCorner returns, for the corner c of v in a facet that goes, the corner of
// u in it, which faces the edge that v keeps.
func (s *simplifier) farCorner(c, u, left int32) int32 {
	if c == left {
		return nextCorner(c)
	}
	return prevCorner(c)
}

// cornerBeside returns the corner of vertex v in the triangle of corner c.
func (s *simplifier) cornerBeside(c, v int32) int32 {
	for k := 0; k < 2; k++ {
		c = nextCorner(c)
		if s.vertex[c] == v {
			break
		}
	}
	return c
}

// result returns what is left, vertices and triangles in their old order.
func (s *simplifier) result() *simplified {
	out := &simplified{
		TriMesh: &TriMesh{Triangles: make([][3]int32, 0, s.live)},
		crowded: s.crowded,
		number:  make([]int32, len(s.at)),
		from:    make([]int32, 0, s.live),
	}
	for v, c := range s.corner {
		out.number[v] = -1
		if c >= 0 {
			out.number[v] = int32(len(out.Vertices))
			out.Vertices = append(out.Vertices, s.at[v])
		}
	}
	for c := 0; c < len(s.vertex); c += 3 {
		if s.vertex[c] < 0 {
			continue
		}
		t := s.vertex[c : c+3]
		out.Triangles = append(out.Triangles, [3]int32{out.number[t[0]], out.number[t[1]], out.number[t[2]]})
		out.from = append(out.from, int32(c/3))
	}
	return out
}

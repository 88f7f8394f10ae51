package geom

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"halfpour/internal/unionfind"
)

// FaultRule names what a mesh breaks.
type FaultRule string

// The rules of Audit, in the order in which it reports them.
const (
	NoTriangles    FaultRule = "no-triangles"
	BadIndex       FaultRule = "bad-index"       // a corner that is no vertex
	NotFinite      FaultRule = "not-finite"      // a corner with a NaN or an infinity
	TooFar         FaultRule = "too-far"         // a corner farther than MostCoordinate along an axis
	EqualCorners   FaultRule = "equal-corners"   // a triangle with two corners in one place
	ZeroArea       FaultRule = "zero-area"       // three different corners on one line, exactly
	DuplicateFacet FaultRule = "duplicate-facet" // a triangle with the same corners as an earlier one, either way round
	OpenEdge       FaultRule = "open-edge"       // an edge of one triangle only
	CrowdedEdge    FaultRule = "crowded-edge"    // an edge of more than two triangles
	FlippedEdge    FaultRule = "flipped-edge"    // an edge that its two triangles run along in the same direction
	SplitVertex    FaultRule = "split-vertex"    // a vertex where fans of triangles meet that share no edge there
	InsideOut      FaultRule = "inside-out"      // a closed shell with negative volume that is not a hollow
	Shells         FaultRule = "shells"          // more than one shell; a note, not a fault
)

// MostCoordinate is how far a vertex may be from the origin along each axis, in
// mm: a thousand kilometres, which no solid needs. Squares and volumes of such
// lengths keep their digits.
const MostCoordinate = 1e9

// isNear reports whether p is finite and within MostCoordinate.
func isNear(p Vec) bool {
	return math.Abs(p.X) <= MostCoordinate && math.Abs(p.Y) <= MostCoordinate && math.Abs(p.Z) <= MostCoordinate
}

func tooFar(what string) string {
	return fmt.Sprintf("%s more than %g mm from the origin", what, MostCoordinate)
}

// Fault is one kind of defect of a mesh and the first place where it is seen.
type Fault struct {
	Rule     FaultRule
	Count    int // how many; shells in all for Shells
	Triangle int // index of the first triangle that has it
	At       Vec // near there, mm
}

// IsNote reports whether the fault is mere information: the mesh may still
// enclose a volume.
func (f Fault) IsNote() bool { return f.Rule == Shells }

// faultWords holds singular and plural.
var faultWords = map[FaultRule][2]string{
	BadIndex:       {"corner index out of range", "corner indices out of range"},
	NotFinite:      {"corner that is not a finite number", "corners that are not finite numbers"},
	TooFar:         {tooFar("corner"), tooFar("corners")},
	EqualCorners:   {"triangle with two equal corners", "triangles with two equal corners"},
	ZeroArea:       {"triangle without area", "triangles without area"},
	DuplicateFacet: {"duplicate triangle", "duplicate triangles"},
	OpenEdge:       {"open edge", "open edges"},
	CrowdedEdge:    {"edge shared by more than two triangles", "edges shared by more than two triangles"},
	FlippedEdge:    {"edge whose triangles face opposite ways", "edges whose triangles face opposite ways"},
	SplitVertex:    {"vertex where separate fans of triangles meet", "vertices where separate fans of triangles meet"},
	InsideOut:      {"shell turned inside out", "shells turned inside out"},
	Shells:         {"shell", "separate shells"},
}

// Error returns, say, "14 open edges; first at triangle 1043 near (12.4,
// -3.1, 8.0) mm".
func (f Fault) Error() string {
	if f.Rule == NoTriangles {
		return "no triangles"
	}
	words, where := faultWords[f.Rule][1], "; first at"
	if f.Count == 1 {
		words, where = faultWords[f.Rule][0], " at"
	}
	if f.Rule == Shells {
		where = "; the second begins at"
	}
	s := fmt.Sprintf("%d %s%s triangle %d", f.Count, words, where, f.Triangle)
	if f.At.IsFinite() && f.Rule != TooFar {
		s += fmt.Sprintf(" near (%.1f, %.1f, %.1f) mm", f.At.X, f.At.Y, f.At.Z)
	}
	return s
}

// Audit says what keeps m from being the skin of a solid: closed, facing
// outwards, every edge between two triangles, every vertex in one fan. Each
// rule broken is one Fault; a sound mesh gives none, or one Shells note. Edges
// are matched by vertex index: weld the mesh first if it may have vertices in
// the same place. It does not look for triangles that run through each other;
// SelfCrossings does.
//
// The answers are exact and their order is fixed. When indices or numbers are
// unfit, those faults alone come back.
func Audit(m *TriMesh) []Fault {
	a := &auditor{m: m, found: map[FaultRule]*Fault{}}
	switch {
	case len(m.Triangles) == 0:
		return []Fault{{Rule: NoTriangles}}
	case !a.checkCorners():
		return a.report()
	}
	a.checkFacets()
	a.checkEdges()
	a.checkFans()
	a.checkShells()
	return a.report()
}

type auditor struct {
	m     *TriMesh
	found map[FaultRule]*Fault
	folds []bool         // by triangle: two corners have the same index, so it has no part in the surface
	fans  unionfind.Sets // over corners 3·triangle + k: joined when in one fan
	shell unionfind.Sets // over triangles: joined when they share an edge
}

// record counts a fault; of several the one with the lowest triangle gives
// the place.
func (a *auditor) record(rule FaultRule, triangle int, at Vec) {
	f := a.found[rule]
	if f == nil {
		f = &Fault{Rule: rule, Triangle: math.MaxInt}
		a.found[rule] = f
	}
	f.Count++
	if triangle < f.Triangle {
		f.Triangle, f.At = triangle, at
	}
}

func (a *auditor) report() []Fault {
	var out []Fault
	for _, rule := range []FaultRule{BadIndex, NotFinite, TooFar, EqualCorners, ZeroArea, DuplicateFacet,
		OpenEdge, CrowdedEdge, FlippedEdge, SplitVertex, InsideOut, Shells} {
		if f := a.found[rule]; f != nil {
			out = append(out, *f)
		}
	}
	return out
}

// checkCorners reports whether every corner is a point that can be measured from.
func (a *auditor) checkCorners() bool {
	for t, corners := range a.m.Triangles {
		for _, v := range corners {
			if v < 0 || int(v) >= len(a.m.Vertices) {
				a.record(BadIndex, t, Vec{math.NaN(), math.NaN(), math.NaN()})
			} else if p := a.m.Vertices[v]; !p.IsFinite() {
				a.record(NotFinite, t, p)
			} else if !isNear(p) {
				a.record(TooFar, t, p)
			}
		}
	}
	return len(a.found) == 0
}

func (a *auditor) checkFacets() {
	a.folds = make([]bool, len(a.m.Triangles))
	for t, i := range a.m.Triangles {
		a.folds[t] = i[0] == i[1] || i[1] == i[2] || i[2] == i[0]
		p, q, r := a.m.Corners(t)
		if p == q || q == r || r == p {
			a.record(EqualCorners, t, p)
		} else if _, ok := seenAlong(p, q, r); !ok {
			a.record(ZeroArea, t, p)
		}
	}
}

// side is one triangle's side of an edge. Sides are kept by the lower of the
// edge's two vertices.
type side struct {
	high     int32 // the edge's other vertex
	opposite int32 // the triangle's third vertex
	from     int32 // 3·triangle + k; the side runs from corner k to the next
}

func compareSides(s, t side) int {
	switch {
	case s.high != t.high:
		return cmp.Compare(s.high, t.high)
	case s.opposite != t.opposite:
		return cmp.Compare(s.opposite, t.opposite)
	}
	return cmp.Compare(s.from, t.from)
}

// sidesByVertex sorts all sides by their lower vertex: those of v are
// sides[start[v]:start[v+1]].
func (a *auditor) sidesByVertex() (sides []side, start []int32) {
	start = make([]int32, len(a.m.Vertices)+2)
	for t, i := range a.m.Triangles {
		if !a.folds[t] {
			start[min(i[0], i[1])+2]++
			start[min(i[1], i[2])+2]++
			start[min(i[2], i[0])+2]++
		}
	}
	for v := 2; v < len(start); v++ {
		start[v] += start[v-1]
	}
	sides = make([]side, start[len(start)-1])
	for t, i := range a.m.Triangles {
		if a.folds[t] {
			continue
		}
		for k := range 3 {
			from, to := i[k], i[(k+1)%3]
			next := &start[min(from, to)+1] // ends up as the start of the next vertex
			sides[*next] = side{max(from, to), i[(k+2)%3], int32(3*t + k)}
			*next++
		}
	}
	return sides, start[:len(start)-1]
}

func (a *auditor) checkEdges() {
	a.fans, a.shell = unionfind.New(3*len(a.m.Triangles)), unionfind.New(len(a.m.Triangles))
	sides, start := a.sidesByVertex()
	for v := range a.m.Vertices {
		mine := sides[start[v]:start[v+1]]
		slices.SortFunc(mine, compareSides)
		for len(mine) > 0 {
			n := 1
			for n < len(mine) && mine[n].high == mine[0].high {
				n++
			}
			a.checkEdge(int32(v), mine[:n])
			mine = mine[n:]
		}
	}
}

// checkEdge looks at all sides of the edge between low and sides[0].high.
func (a *auditor) checkEdge(low int32, sides []side) {
	first := int(sides[0].from)
	up := 0 // sides that run from low to high
	for n, s := range sides {
		first = min(first, int(s.from))
		lowCorner, highCorner := a.ends(s, low)
		if s.from == lowCorner {
			up++
		}
		if n == 0 {
			continue
		}
		prev := sides[n-1]
		prevLow, prevHigh := a.ends(prev, low)
		a.fans.Join(lowCorner, prevLow)
		a.fans.Join(highCorner, prevHigh)
		a.shell.Join(s.from/3, prev.from/3)
		if s.opposite == prev.opposite && s.opposite > s.high { // at one of its three edges only
			a.record(DuplicateFacet, int(max(s.from, prev.from))/3, a.m.Vertices[low])
		}
	}
	var rule FaultRule
	switch {
	case len(sides) == 1:
		rule = OpenEdge
	case len(sides) > 2:
		rule = CrowdedEdge
	case up != 1:
		rule = FlippedEdge
	default:
		return
	}
	a.record(rule, first/3, a.m.Vertices[low].Lerp(a.m.Vertices[sides[0].high], 0.5))
}

// ends returns the two corners of a side, 3·triangle + k.
func (a *auditor) ends(s side, low int32) (lowCorner, highCorner int32) {
	t, k := s.from/3, s.from%3
	to := 3*t + (k+1)%3
	if a.m.Triangles[t][k] == low {
		return s.from, to
	}
	return to, s.from
}

// checkFans relies on a tree's root being its lowest corner.
func (a *auditor) checkFans() {
	const none, one, several = 0, 1, 2
	fans := make([]uint8, len(a.m.Vertices))
	for t, corners := range a.m.Triangles {
		if a.folds[t] {
			continue
		}
		for k, v := range corners {
			if c := int32(3*t + k); a.fans.Root(c) != c {
				continue
			}
			switch fans[v] {
			case none:
				fans[v] = one
			case one:
				fans[v] = several
				a.record(SplitVertex, t, a.m.Vertices[v])
			}
		}
	}
}

// checkShells counts shells and, when all are closed, finds those that are
// inside out. A shell of negative volume is a hollow as long as the mesh as a
// whole is positive and the shell lies in the box of the positive ones.
func (a *auditor) checkShells() {
	type shell struct {
		triangle int
		volume   float64
		box      Box
	}
	var shells []shell
	number := make([]int32, len(a.m.Triangles)) // of the shell, by its root
	// Volumes keep their digits when taken from a point of the mesh.
	origin, _, _ := a.m.Corners(0)
	for t := range a.m.Triangles {
		if a.folds[t] {
			continue
		}
		root := a.shell.Root(int32(t))
		if int(root) == t {
			number[t] = int32(len(shells))
			shells = append(shells, shell{triangle: t, box: EmptyBox()})
		}
		p, q, r := a.m.Corners(t)
		s := &shells[number[root]]
		s.volume += p.Sub(origin).Dot(q.Sub(origin).Cross(r.Sub(origin)))
		s.box = s.box.Include(p).Include(q).Include(r)
	}
	if n := len(shells); n > 1 {
		second := shells[1].triangle
		p, _, _ := a.m.Corners(second)
		a.found[Shells] = &Fault{Rule: Shells, Count: n, Triangle: second, At: p}
	}
	if a.found[OpenEdge] != nil || a.found[CrowdedEdge] != nil || a.found[FlippedEdge] != nil {
		return
	}
	sum, solid := 0.0, EmptyBox()
	for _, s := range shells {
		if sum += s.volume; s.volume > 0 {
			solid = solid.Union(s.box)
		}
	}
	for _, s := range shells {
		if hollow := sum > 0 && solid.Union(s.box) == solid; s.volume < 0 && !hollow {
			p, _, _ := a.m.Corners(s.triangle)
			a.record(InsideOut, s.triangle, p)
		}
	}
}

package geom

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"halfpour/geom/unionfind"
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

// Audit says what keeps m from being the surface of a solid: closed, facing
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

// checkEdges looks at every edge. What is wrong is recorded in the order of the
// edges' ends, the lower first.
func (a *auditor) checkEdges() {
	a.fans, a.shell = unionfind.New(3*len(a.m.Triangles)), unionfind.New(len(a.m.Triangles))
	type fault struct {
		rule      FaultRule
		triangle  int
		low, high int32
	}
	var faults []fault
	var sides []outEdge
	e := listEdges(a.m)
	for v := range a.m.Vertices {
		e.visit(int32(v), func(u int32, there, back []outEdge) {
			low, high := min(int32(v), u), max(int32(v), u)
			sides = append(append(sides[:0], there...), back...)
			first := slices.MinFunc(sides, func(s, t outEdge) int { return cmp.Compare(s.edge, t.edge) })
			a.joinAt(low, high, sides)
			f := fault{FlippedEdge, int(first.edge) / 3, low, high}
			switch n := len(sides); {
			case n == 1:
				f.rule = OpenEdge
			case n > 2:
				f.rule = CrowdedEdge
			case len(back) == 1:
				return
			}
			faults = append(faults, f)
		})
	}
	slices.SortFunc(faults, func(f, g fault) int { return cmp.Or(cmp.Compare(f.low, g.low), cmp.Compare(f.high, g.high)) })
	for _, f := range faults {
		a.record(f.rule, f.triangle, a.m.Vertices[f.low].Lerp(a.m.Vertices[f.high], 0.5))
	}
}

// joinAt joins what hangs together at an edge, and looks for triangles on the
// same corners there.
func (a *auditor) joinAt(low, high int32, sides []outEdge) {
	slices.SortFunc(sides, func(s, t outEdge) int {
		return cmp.Or(cmp.Compare(a.m.opposite(s.edge), a.m.opposite(t.edge)), cmp.Compare(s.edge, t.edge))
	})
	for n, s := range sides[1:] {
		prev := sides[n]
		lowCorner, highCorner := a.ends(s.edge, low)
		prevLow, prevHigh := a.ends(prev.edge, low)
		a.fans.Join(lowCorner, prevLow)
		a.fans.Join(highCorner, prevHigh)
		a.shell.Join(s.edge/3, prev.edge/3)
		if opposite := a.m.opposite(s.edge); opposite == a.m.opposite(prev.edge) && opposite > high { // at one of its three edges only
			a.record(DuplicateFacet, int(max(s.edge, prev.edge))/3, a.m.Vertices[low])
		}
	}
}

// ends returns the two corners of an edge, 3·triangle + k.
func (a *auditor) ends(edge, low int32) (lowCorner, highCorner int32) {
	if a.m.Triangles[edge/3][edge%3] == low {
		return edge, nextCorner(edge)
	}
	return nextCorner(edge), edge
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

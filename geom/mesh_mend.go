package geom

import (
	"cmp"
	"fmt"
	"slices"
)

// RepairKind names what Mend did to a mesh.
type RepairKind string

// The repairs of Mend, in the order in which it makes them.
const (
	LeftOutTwins  RepairKind = "left-out-twins"  // facets that stood twice, or walls of two facets face to face
	TurnedFacets  RepairKind = "turned-facets"   // facets that faced the other way than the rest of their shell
	JoinedCorners RepairKind = "joined-corners"  // corners a rounding apart
	SplitFacets   RepairKind = "split-facets"    // facets with a neighbour's corner amid an edge
	FilledHoles   RepairKind = "filled-holes"    // holes closed by a fan of facets
	LeftOutStrays RepairKind = "left-out-strays" // facets that hang on nothing, or on one edge, and hold nothing
)

// Repair is one kind of change that Mend made and the first place of it.
type Repair struct {
	Kind  RepairKind
	Count int // facets; corners for JoinedCorners, holes for FilledHoles
	At    Vec // near there, mm

	// Open is by how much volume the mesh might hold more or less than it does
	// after the repair, mm³; above 0 for holes and strays only. A surface that is
	// missing is taken to lie within a hemisphere about its boundary.
	Open float64
}

// repairWords holds singular and plural.
var repairWords = map[RepairKind][2]string{
	LeftOutTwins:  {"duplicate facet left out", "duplicate facets left out"},
	TurnedFacets:  {"facet that faced the other way turned over", "facets that faced the other way turned over"},
	JoinedCorners: {"corner joined to one a rounding apart", "corners joined to others a rounding apart"},
	SplitFacets:   {"facet split at a neighbour's corner on its edge", "facets split at neighbours' corners on their edges"},
	FilledHoles:   {"hole filled", "holes filled"},
	LeftOutStrays: {"stray facet left out", "stray facets left out"},
}

// String returns, say, "3 duplicate facets left out; first near (12.4, -3.1, 8.0) mm".
func (r Repair) String() string {
	words, where := repairWords[r.Kind][1], "; first near"
	if r.Count == 1 {
		words, where = repairWords[r.Kind][0], " near"
	}
	return fmt.Sprintf("%d %s%s (%.1f, %.1f, %.1f) mm", r.Count, words, where, r.At.X, r.At.Y, r.At.Z)
}

// Bounds on what is a small defect.
const (
	mostLoose = 4096 // edges without a neighbour: Mend compares each with each

	// aRounding is how far apart corners may lie that were meant to be one, in
	// parts of the mesh's diagonal: some five digits, as exporters write them.
	aRounding = 2e-5
)

// Mend returns m with the small defects put right that exporters leave behind,
// and what it did; m itself is not changed. A mesh that is closed already, or
// that has more open edges than a small defect explains, comes back as it is.
// Whether the result encloses a volume is for NewMeshSolid to say, and whether
// the volume is certain enough for the caller: the sum of Open.
//
// Indices must be in range and vertices finite. Shells that face inwards as a
// whole are left alone, since they may be hollows.
func Mend(m *TriMesh) (*TriMesh, []Repair) {
	if len(m.Triangles) == 0 {
		return m, nil
	}
	d := &mender{mesh: &TriMesh{Vertices: append([]Vec{}, m.Vertices...), Triangles: append([][3]int32{}, m.Triangles...)}}
	d.near = aRounding * m.BoundingBox().Size().Norm()
	d.leaveOutTwins()
	d.turnFacets()
	if n := len(d.loose()); n > 0 && n <= mostLoose {
		d.joinCorners()
		d.leaveOutTwins()
		d.splitFacets()
		if n := len(d.loose()); n > 0 && n <= mostLoose {
			d.fillHoles()
		}
	}
	if len(d.repairs) == 0 {
		return m, nil
	}
	return d.mesh, d.repairs
}

// Open returns the sum of Open of the repairs, mm³.
func Open(repairs []Repair) float64 {
	sum := 0.0
	for _, r := range repairs {
		sum += r.Open
	}
	return sum
}

// mender is a mesh being mended.
type mender struct {
	mesh    *TriMesh
	near    float64 // how far apart corners may be that are one, mm
	repairs []Repair
}

// done notes a repair.
func (d *mender) done(kind RepairKind, count int, at Vec, open float64) {
	if count == 0 {
		return
	}
	for i := range d.repairs {
		if d.repairs[i].Kind == kind { // made in two steps
			d.repairs[i].Count += count
			return
		}
	}
	d.repairs = append(d.repairs, Repair{kind, count, at, open})
}

// looseEdge is an edge of a triangle that no neighbour runs back along.
type looseEdge struct {
	from, to int32
	edge     int32 // 3*triangle + k
}

// loose returns the loose edges, at most one more than Mend works on, by their
// ends.
func (d *mender) loose() []looseEdge {
	open := d.mesh.openEdges()
	out := make([]looseEdge, len(open))
	for i, e := range open {
		t := d.mesh.Triangles[e/3]
		out[i] = looseEdge{t[e%3], t[(e%3+1)%3], e}
	}
	slices.SortFunc(out, func(a, b looseEdge) int {
		return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to), cmp.Compare(a.edge, b.edge))
	})
	return out[:min(len(out), mostLoose+1)]
}

// keep drops the triangles that are not wanted and those that have two equal
// corners.
func (d *mender) keep(wanted func(int) bool) {
	kept := d.mesh.Triangles[:0]
	for t, c := range d.mesh.Triangles {
		if wanted(t) && !isCollapsed(c) {
			kept = append(kept, c)
		}
	}
	d.mesh.Triangles = kept
}

// isNear reports whether two places may have been meant to be one.
func (d *mender) isNear(p, q Vec) bool { return p.Dist(q) <= d.near }

// nearSegment reports whether p lies on the way from a to b, but not at its
// ends, and how far along.
func (d *mender) nearSegment(p, a, b Vec) (float64, bool) {
	along := b.Sub(a)
	t := p.Sub(a).Dot(along) / along.Dot(along)
	if !(t > 0 && t < 1) || d.isNear(p, a) || d.isNear(p, b) {
		return 0, false
	}
	return t, p.Dist(a.Lerp(b, t)) <= d.near
}

// reachOf returns the greatest distance of the points from their mean.
func reachOf(points []Vec) (mean Vec, reach float64) {
	for _, p := range points {
		mean = mean.Add(p.Mul(1 / float64(len(points))))
	}
	for _, p := range points {
		reach = max(reach, p.Dist(mean))
	}
	return mean, reach
}

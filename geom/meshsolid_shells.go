package geom

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"halfpour/geom/unionfind"
)

// meshShell is a piece of a mesh that hangs together by its edges.
type meshShell struct {
	triangles []int32
	box       Box
	volume    float64 // below 0 for a hollow
	crowded   bool    // has an edge that belongs to more than two triangles
}

// errGrownTogether tells that shells share edges in such a way that they do
// not come apart into closed ones.
var errGrownTogether = errors.New("shells are grown together")

// partShells deals the shells of a mesh into groups of which the bodies, each
// with its hollows, are clear of each other: within a group the nearest
// triangle tells the sides apart, and the groups together are a union. Sheets
// are left out. None means that the mesh can stay as it is. The error is
// errGrownTogether, or names a shell that is inside out.
func partShells(whole *meshBody) ([]*TriMesh, error) {
	sets := whole.edges.joinAcross()
	if isOneShell(whole.mesh, sets) {
		return nil, nil
	}
	shells := listShells(whole.mesh, whole.edges, sets)
	for _, s := range shells {
		if s.crowded {
			if _, err := findEdges(whole.mesh.part(s.triangles)); err != nil {
				return nil, errGrownTogether
			}
		}
	}
	isHollow := func(s meshShell) bool { return s.volume < 0 }
	hasSheets := slices.ContainsFunc(shells, meshShell.isSheet)
	if !hasSheets && !anyOverlap(shells) && !slices.ContainsFunc(shells, isHollow) {
		return nil, nil
	}
	var bodies, hollows []meshShell
	for _, s := range shells {
		switch {
		case s.isSheet():
		case isHollow(s):
			hollows = append(hollows, s)
		default:
			bodies = append(bodies, s)
		}
	}
	// A hollow belongs to the least body around it.
	slices.SortStableFunc(bodies, func(a, b meshShell) int { return cmp.Compare(a.volume, b.volume) })
	solids := make([]*meshBody, len(bodies))
	for _, h := range hollows {
		if !dealHollow(whole.mesh, h, bodies, solids) {
			at, _, _ := whole.mesh.Corners(int(h.triangles[0]))
			return nil, fmt.Errorf("shell of %d triangles is inside out and in no other shell; first triangle is %d near (%.4g, %.4g, %.4g) mm; turn the shell over",
				len(h.triangles), h.triangles[0], at.X, at.Y, at.Z)
		}
	}
	groups := dealBodies(whole.mesh, bodies)
	if len(groups) == 1 && !hasSheets {
		return nil, nil
	}
	return groups, nil
}

// isSheet reports whether the shell is a sheet with two faces, which holds
// nothing: modellers leave them behind.
func (s meshShell) isSheet() bool {
	size := s.box.Size().Norm()
	return math.Abs(s.volume) <= 1e-12*size*size*size
}

// findShells returns the shells of a mesh whose edges are paired, in the order
// of their first triangles.
func findShells(m *TriMesh, e *meshEdges) []meshShell { return listShells(m, e, e.joinAcross()) }

// joinAcross joins triangles that share an edge: first what is in one chunk, side by side.
func (e *meshEdges) joinAcross() unionfind.Sets {
	f := unionfind.New(len(e.across))
	far := make([][][2]int32, chunksOf(len(f)))
	inChunks(len(f), func(chunk, from, to int) {
		for t := int32(from); t < int32(to); t++ {
			for _, u := range e.across[t] {
				switch {
				case u >= t:
				case u >= int32(from):
					f.Join(u, t)
				default:
					far[chunk] = append(far[chunk], [2]int32{u, t})
				}
			}
		}
	})
	for _, pairs := range far {
		for _, p := range pairs {
			f.Join(p[0], p[1])
		}
	}
	return f
}

func isOneShell(m *TriMesh, f unionfind.Sets) bool {
	roots := 0
	for t := range f {
		if int(f[t]) == t && !isCollapsed(m.Triangles[t]) {
			roots++
		}
	}
	return roots == 1
}

func listShells(m *TriMesh, e *meshEdges, f unionfind.Sets) []meshShell {
	var shells []meshShell
	number := make([]int32, len(f)) // of the shell, by root
	origin := m.BoundingBox().Centre()
	for i, corners := range m.Triangles {
		if isCollapsed(corners) {
			continue
		}
		root := f.Root(int32(i))
		if int(root) == i {
			number[i] = int32(len(shells))
			shells = append(shells, meshShell{box: EmptyBox()})
		}
		s := &shells[number[root]]
		var t triangle
		t.a, t.b, t.c = m.Corners(i)
		s.triangles = append(s.triangles, int32(i))
		s.crowded = s.crowded || slices.Contains(e.across[i][:], int32(i))
		s.box = s.box.Union(t.bounds())
		s.volume += t.a.Sub(origin).Dot(t.b.Sub(origin).Cross(t.c.Sub(origin))) / 6
	}
	return shells
}

func anyOverlap(shells []meshShell) bool {
	byX := slices.Clone(shells)
	slices.SortFunc(byX, func(a, b meshShell) int { return cmp.Compare(a.box.Min.X, b.box.Min.X) })
	for i := range byX {
		for j := i + 1; j < len(byX) && byX[j].box.Min.X <= byX[i].box.Max.X; j++ {
			if !byX[i].box.Intersect(byX[j].box).IsEmpty() {
				return true
			}
		}
	}
	return false
}

// dealHollow gives h to the first of the bodies that holds it. solids are
// those bodies without hollows, made when first needed.
func dealHollow(m *TriMesh, h meshShell, bodies []meshShell, solids []*meshBody) bool {
	at, _, _ := m.Corners(int(h.triangles[0]))
	for i := range bodies {
		b := &bodies[i]
		if b.box.Union(h.box) != b.box {
			continue
		}
		if solids[i] == nil {
			s, err := newMeshBody(m.part(b.triangles))
			if err != nil {
				continue
			}
			solids[i] = s
		}
		if solids[i].Evaluate(at) <= 0 {
			b.triangles = append(b.triangles, h.triangles...)
			return true
		}
	}
	return false
}

// dealBodies puts each body into the first group that it is clear of.
func dealBodies(m *TriMesh, bodies []meshShell) []*TriMesh {
	var groups [][]meshShell
	for _, b := range slices.Backward(bodies) { // the largest first
		inWay := func(o meshShell) bool { return !o.box.Intersect(b.box).IsEmpty() }
		i := slices.IndexFunc(groups, func(g []meshShell) bool { return !slices.ContainsFunc(g, inWay) })
		if i < 0 {
			i, groups = len(groups), append(groups, nil)
		}
		groups[i] = append(groups[i], b)
	}
	parts := make([]*TriMesh, len(groups))
	for i, g := range groups {
		var triangles []int32
		for _, b := range g {
			triangles = append(triangles, b.triangles...)
		}
		slices.Sort(triangles)
		parts[i] = m.part(triangles)
	}
	return parts
}

// part returns the mesh of some of the triangles, on the same vertices.
func (m *TriMesh) part(triangles []int32) *TriMesh {
	p := &TriMesh{Vertices: m.Vertices, Triangles: make([][3]int32, len(triangles))}
	for i, t := range triangles {
		p.Triangles[i] = m.Triangles[t]
	}
	return p
}

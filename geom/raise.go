package geom

import (
	"cmp"
	"math"
	"slices"
)

// A needle or a slit thinner than the finest cells stays unseen however they are
// split. There the mesh is raised to the landmark: a small triangle of it becomes a
// spike.

// missedBy returns those of the landmarks that are farther than limit from the mesh.
func missedBy(m *TriMesh, marks []unseenMark, limit float64) (missed []Vec) {
	if len(marks) == 0 {
		return nil
	}
	tree := newBVH(m)
	for _, p := range marks {
		if h := tree.nearest(p.at); !(h.square <= limit*limit) {
			missed = append(missed, p.at)
		}
	}
	return missed
}

// raise raises m to those of the points that are farther than limit from it,
// where all the way is within limit of the surface of s and the mesh does not come
// to cross itself.
func (m *TriMesh) raise(s Solid, points []Vec, limit float64) {
	for _, p := range points {
		for _, f := range m.feetOf(p, limit) {
			straight := true
			for share := 0.25; straight && share < 1; share += 0.25 {
				straight = math.Abs(s.Evaluate(f.at.Lerp(p, share))) <= limit
			}
			if !straight {
				continue
			}
			if at, spike := m.spike(f, p, limit/4); m.takes(f.base, at, spike) {
				m.Vertices = append(m.Vertices, at...)
				m.Triangles[f.base] = spike[0]
				m.Triangles = append(m.Triangles, spike[1:]...)
				break
			}
		}
	}
}

// foot is a place on a triangle from which a spike may rise.
type foot struct {
	base            int
	at              Vec
	far             float64 // from its tip
	oppositeCorners float64 // the tip's height over the triangle's plane, either way
}

// mostFeet is how many places are tried, within so many limits of a tip.
const (
	mostFeet  = 1000
	footReach = 16
)

// feetOf returns the places on m that are nearest to p, those of triangles that
// face it most first where one is as near as another; none when one is within limit.
func (m *TriMesh) feetOf(p Vec, limit float64) (list []foot) {
	for i := range m.Triangles {
		var t triangle
		t.a, t.b, t.c = m.Corners(i)
		if BoxOf(t.a, t.b, t.c).Distance(p) > footReach*limit {
			continue
		}
		way, _ := t.closest(p)
		d := way.Norm()
		if d <= limit {
			return nil
		}
		list = append(list, foot{i, p.Sub(way), d, math.Abs(t.unitNormal().Dot(way))})
	}
	slices.SortFunc(list, func(a, b foot) int {
		const same = 1e9 // of a mm: corners come out alike from all their triangles
		return cmp.Or(cmp.Compare(math.Round(a.far*same), math.Round(b.far*same)), cmp.Compare(b.oppositeCorners, a.oppositeCorners), a.base-b.base)
	})
	return list[:min(len(list), mostFeet)]
}

// spike returns what is to stand for a triangle that is raised to p, or the part
// of it within about reach of the foot: vertices, the last of them p, and triangles.
func (m *TriMesh) spike(f foot, p Vec, reach float64) (at []Vec, spike [][3]int32) {
	t, foot := m.Triangles[f.base], f.at
	a, b, c := m.Corners(f.base)
	if far := max(foot.Dist(a), foot.Dist(b), foot.Dist(c)); far > 2*reach {
		mid := a.Add(b).Add(c).Mul(1.0 / 3)
		foot = foot.Lerp(mid, min(1, reach/foot.Dist(mid)))
		room := min(reach, leastHeight(foot, a, b), leastHeight(foot, b, c), leastHeight(foot, c, a))
		share := -room / far / 2 // turned, so that each corner sees a side of the part broad on
		at = []Vec{foot.Lerp(a, share), foot.Lerp(b, share), foot.Lerp(c, share)}
		n := int32(len(m.Vertices))
		for i := range int32(3) {
			j, k := (i+1)%3, (i+2)%3
			spike = append(spike, [3]int32{t[i], t[j], n + k}, [3]int32{t[i], n + k, n + j})
		}
		t = [3]int32{n, n + 1, n + 2}
	}
	at = append(at, p)
	for i := range at {
		at[i] = at[i].rounded32()
	}
	tip := int32(len(m.Vertices) + len(at) - 1)
	return at, append(spike, [3]int32{t[0], t[1], tip}, [3]int32{t[1], t[2], tip}, [3]int32{t[2], t[0], tip})
}

// takes reports whether the spike can stand for a triangle: none of its own is
// too slender, nor crosses another or the rest of the mesh.
func (m *TriMesh) takes(base int, at []Vec, spike [][3]int32) bool {
	corners := func(t [3]int32) (p [3]Vec) {
		for i, v := range t {
			if n := int(v) - len(m.Vertices); n >= 0 {
				p[i] = at[n]
			} else {
				p[i] = m.Vertices[v]
			}
		}
		return p
	}
	all := EmptyBox()
	for i, t := range spike {
		p := corners(t)
		if leastHeight(p[0], p[1], p[2]) < minGap {
			return false
		}
		all = all.Union(BoxOf(p[:]...))
		for _, u := range spike[:i] {
			if _, crosses := trianglesCross(p, corners(u)); crosses {
				return false
			}
		}
	}
	for i, u := range m.Triangles {
		q := corners(u)
		if i == base || isCollapsed(u) || BoxOf(q[:]...).gap(all) > 0 {
			continue
		}
		for _, t := range spike {
			if _, crosses := trianglesCross(corners(t), q); crosses {
				return false
			}
		}
	}
	return true
}

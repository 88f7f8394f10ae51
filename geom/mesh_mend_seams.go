package geom

import (
	"cmp"
	"slices"

	"halfpour/geom/unionfind"
)

// rims returns the vertices at loose edges, in rising order.
func boundaryVertices(loose []looseEdge) []int32 {
	var list []int32
	for _, e := range loose {
		list = append(list, e.from, e.to)
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// joinCorners makes one of corners at loose edges that lie a rounding apart.
func (d *mender) joinCorners() {
	list := boundaryVertices(d.loose())
	v := d.mesh.Vertices
	slices.SortFunc(list, func(a, b int32) int { return cmp.Or(cmp.Compare(v[a].X, v[b].X), cmp.Compare(a, b)) })
	f := unionfind.New(len(v))
	for i, a := range list {
		for _, b := range list[i+1:] {
			if v[b].X-v[a].X > d.near {
				break
			}
			if d.isNear(v[a], v[b]) {
				f.Join(a, b)
			}
		}
	}
	count, first := 0, int32(len(v))
	for _, a := range list {
		if f.Root(a) != a {
			count, first = count+1, min(first, a)
		}
	}
	if count == 0 {
		return
	}
	for t, c := range d.mesh.Triangles {
		d.mesh.Triangles[t] = [3]int32{f.Root(c[0]), f.Root(c[1]), f.Root(c[2])}
	}
	d.keep(func(int) bool { return true })
	d.done(JoinedCorners, count, v[first], 0)
}

// splitFacets splits each triangle with a loose edge on which corners of other
// loose edges lie, so that the edges match: what modellers call T-joints.
func (d *mender) splitFacets() {
	count, at := 0, Vec{}
	for range 3 { // a triangle may have three such edges
		loose := d.loose()
		corners := boundaryVertices(loose)
		done := map[int32]bool{} // triangles split in this round
		for _, e := range loose {
			t := e.edge / 3
			if done[t] {
				continue
			}
			if on := d.cornersOn(e, corners); len(on) > 0 {
				if count == 0 {
					at = d.mesh.Vertices[on[0]]
				}
				done[t] = true
				count++
				d.split(e, on)
			}
		}
		if len(done) == 0 {
			break
		}
	}
	d.done(SplitFacets, count, at, 0)
}

// cornersOn returns the corners amid the edge, in its order.
func (d *mender) cornersOn(e looseEdge, corners []int32) []int32 {
	a, b := d.mesh.Vertices[e.from], d.mesh.Vertices[e.to]
	type place struct {
		along  float64
		corner int32
	}
	var on []place
	for _, v := range corners {
		if v == e.from || v == e.to || v == d.mesh.opposite(e.edge) {
			continue
		}
		if t, ok := d.nearSegment(d.mesh.Vertices[v], a, b); ok {
			on = append(on, place{t, v})
		}
	}
	slices.SortFunc(on, func(p, q place) int { return cmp.Or(cmp.Compare(p.along, q.along), cmp.Compare(p.corner, q.corner)) })
	var list []int32
	for _, p := range on {
		list = append(list, p.corner)
	}
	return list
}

// opposite returns the corner that edge 3*triangle + k lacks.
func (m *TriMesh) opposite(edge int32) int32 { return m.Triangles[edge/3][(edge%3+2)%3] }

// split makes a fan of the edge's triangle about the corner opposite.
func (d *mender) split(e looseEdge, on []int32) {
	top := d.mesh.opposite(e.edge)
	d.mesh.Triangles[e.edge/3] = [3]int32{e.from, on[0], top}
	for i, v := range on {
		next := e.to
		if i+1 < len(on) {
			next = on[i+1]
		}
		d.mesh.Triangles = append(d.mesh.Triangles, [3]int32{v, next, top})
	}
}

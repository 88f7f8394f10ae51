package geom

import "math"

// facesBore is the least cosine between a facet's outward normal and the way from the
// facet to a bore's line for the facet to be of the bore's wall: those around a mouth look
// along the line or away from it.
const facesBore = 0.3

// FillBore returns m with the bore along a line filled, as flat as its mouths' edges
// allow, and reports whether it could. The line runs inside the bore and, over the first
// and the last stretch, out of its mouths or on into the solid. No place of the wall or of
// the bore's floor is farther from it than reach. m must be closed; it is not changed.
func FillBore(m *TriMesh, line []Vec, reach float64) (*TriMesh, bool) {
	edges, err := findEdges(m)
	if err != nil || len(line) < 4 {
		return nil, false
	}
	b := boreWall{m, line, reach, EmptyBox()}
	for _, p := range line {
		b.box = b.box.Include(p)
	}
	b.box = b.box.Grow(reach)
	wall := b.facets(edges)
	if wall == nil {
		return nil, false
	}
	open := &mender{mesh: &TriMesh{Vertices: m.Vertices[:len(m.Vertices):len(m.Vertices)]}}
	for t, corners := range m.Triangles {
		if !wall[t] {
			open.mesh.Triangles = append(open.mesh.Triangles, corners)
		}
	}
	open.leaveOutFloors()
	loose := open.loose()
	if len(loose) == 0 || len(loose) > mostLoose {
		return nil, false
	}
	for _, loop := range holes(loose) {
		open.closeMouth(loop)
	}
	if _, err := findEdges(open.mesh); err != nil {
		return nil, false
	}
	return open.mesh.used(), true
}

// closeMouth cuts a loop into triangles or, where its projection crosses itself, closes it
// by a fan.
func (d *mender) closeMouth(loop []int32) {
	var mouth PolygonCutter
	for _, v := range loop {
		mouth.Points = append(mouth.Points, d.mesh.Vertices[v])
	}
	if !mouth.Cut() {
		middle, _ := reachOf(mouth.Points)
		d.fan(loop, middle)
		return
	}
	for _, t := range mouth.Triangles {
		d.mesh.Triangles = append(d.mesh.Triangles, [3]int32{loop[t[0]], loop[t[1]], loop[t[2]]})
	}
}

// boreWall tells which facets are of a bore's wall.
type boreWall struct {
	mesh  *TriMesh
	line  []Vec
	reach float64
	box   Box
}

// facets marks the facets of the wall: those beside the line that look at it, as far as
// they hang together with one beside its middle stretches. It returns nil without any.
func (b *boreWall) facets(edges *meshEdges) []bool {
	may := make([]bool, len(b.mesh.Triangles))
	var todo []int32
	wall := make([]bool, len(may))
	for t := range may {
		stretch, is := b.looksAtLine(t)
		may[t] = is
		if is && stretch > 0 && stretch < len(b.line)-2 {
			wall[t], todo = true, append(todo, int32(t))
		}
	}
	if todo == nil {
		return nil
	}
	for len(todo) > 0 {
		t := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, next := range edges.across[t] {
			if may[next] && !wall[next] {
				wall[next], todo = true, append(todo, next)
			}
		}
	}
	// What lies between corners of the wall fills its zigzag edge, or is its floor.
	corner := make([]bool, len(b.mesh.Vertices))
	for t, is := range wall {
		for _, v := range b.mesh.Triangles[t] {
			corner[v] = corner[v] || is
		}
	}
	for t, c := range b.mesh.Triangles {
		wall[t] = corner[c[0]] && corner[c[1]] && corner[c[2]]
	}
	return wall
}

// looksAtLine reports whether a facet lies beside the line and looks at it, and which
// stretch of it is nearest.
func (b *boreWall) looksAtLine(t int) (stretch int, is bool) {
	p, q, r := b.mesh.Corners(t)
	for _, corner := range [3]Vec{p, q, r} {
		if !b.box.Contains(corner) {
			return 0, false
		}
		if at, _ := b.foot(corner); at.Dist(corner) > b.reach {
			return 0, false
		}
	}
	middle := p.Add(q).Add(r).Mul(1.0 / 3)
	at, stretch := b.foot(middle)
	way := at.Sub(middle)
	return stretch, q.Sub(p).Cross(r.Sub(p)).Unit().Dot(way.Unit()) > facesBore
}

// foot is the point of the line that is nearest to p, and the stretch it is on.
func (b *boreWall) foot(p Vec) (foot Vec, stretch int) {
	least := math.Inf(1)
	for i := 1; i < len(b.line); i++ {
		from, way := b.line[i-1], b.line[i].Sub(b.line[i-1])
		t := 0.0
		if l := way.Dot(way); l > 0 {
			t = math.Max(0, math.Min(1, p.Sub(from).Dot(way)/l))
		}
		if at := from.Add(way.Mul(t)); at.Dist(p) < least {
			least, foot, stretch = at.Dist(p), at, i-1
		}
	}
	return foot, stretch
}

// leaveOutFloors leaves out the pieces with an open boundary but the largest of them: what
// is left of a bore whose wall is gone.
func (d *mender) leaveOutFloors() {
	shells := d.mesh.Shells()
	number := make([]int, len(d.mesh.Triangles))
	area := make([]float64, len(shells))
	for n, shell := range shells {
		for _, t := range shell {
			number[t] = n
			p, q, r := d.mesh.Corners(int(t))
			area[n] += q.Sub(p).Cross(r.Sub(p)).Norm()
		}
	}
	isOpen, largest := make([]bool, len(shells)), -1
	for _, e := range d.mesh.openEdges() {
		n := number[e/3]
		isOpen[n] = true
		if largest < 0 || area[n] > area[largest] {
			largest = n
		}
	}
	kept := d.mesh.Triangles[:0]
	for t, corners := range d.mesh.Triangles {
		if n := number[t]; !isOpen[n] || n == largest {
			kept = append(kept, corners)
		}
	}
	d.mesh.Triangles = kept
}

// used is the mesh without vertices that no triangle has.
func (m *TriMesh) used() *TriMesh {
	out, index := &TriMesh{}, make([]int32, len(m.Vertices))
	for _, t := range m.Triangles {
		for k, v := range t {
			if index[v] == 0 {
				out.Vertices = append(out.Vertices, m.Vertices[v])
				index[v] = int32(len(out.Vertices))
			}
			t[k] = index[v] - 1
		}
		out.Triangles = append(out.Triangles, t)
	}
	return out
}

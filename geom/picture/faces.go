package picture

import (
	"context"
	"math"
	"slices"

	"halfpour/geom/parallel"
)

// face is what shading asks of a triangle that is seen. Directions are in camera axes.
type face struct {
	facing vec3 // its own normal

	// The normal for shading, before it is made as long as 1, changes evenly over the
	// picture: it is base at x, y and changes by across and down from sample to sample.
	base, across, down vec3
	x, y               float32 // samples
	flat               bool    // it is base all over

	// Its depth changes evenly, too.
	near, nearAcross, nearDown float32

	calm bool // all at the triangle's corners lie nearly as it does
	mesh uint16
}

// calmCrease is the greatest crease up to which a vertex that has one normal has no line
// beside it, radians.
var calmCrease = math.Acos(creaseCosine) + 0.05

// normal is that for shading at a sample.
func (f *face) normal(sx, sy int) vec3 {
	if f.flat {
		return f.base
	}
	x, y := float32(sx)+0.5-f.x, float32(sy)+0.5-f.y
	return vec3{
		f.base.x + x*f.across.x + y*f.down.x,
		f.base.y + x*f.across.y + y*f.down.y,
		f.base.z + x*f.across.z + y*f.down.z,
	}.unit()
}

// facet is how a triangle lies.
type facet struct {
	normal vec3 // in camera axes
	area   float32
}

// turn makes the faces of the triangles that are seen, and has the raster tell them.
func (m *model) turn(ctx context.Context, s Scene, v *view, r *raster) error {
	seen, used := m.seen()
	n := len(m.triangles)
	facets := make([]facet, n) // that have a corner in common with one that is seen
	err := parallel.For(ctx, jobsFor(n), s.Workers, func(i int) {
		lo, hi := jobRange(i, n)
		for t := lo; t < hi; t++ {
			i := &m.triangles[t]
			if !used[i[0]] && !used[i[1]] && !used[i[2]] {
				continue
			}
			a, b, c := m.vertices[i[0]], m.vertices[i[1]], m.vertices[i[2]]
			w := b.Sub(a).Cross(c.Sub(a))
			area := w.Norm()
			if area > 0 {
				w = w.Mul(1 / area)
			}
			facets[t] = facet{v.turn(vec3{float32(w.X), float32(w.Y), float32(w.Z)}), float32(area)}
		}
	})
	if err != nil {
		return err
	}
	f := m.fans(used, facets)
	even := make([]vec3, len(used))
	err = parallel.For(ctx, jobsFor(len(even)), s.Workers, func(i int) {
		lo, hi := jobRange(i, len(even))
		for v := lo; v < hi; v++ {
			if used[v] {
				even[v] = f.even(v, s.Meshes[m.mesh[f.of(v)[0]]].Crease)
			}
		}
	})
	if err != nil {
		return err
	}
	err = parallel.For(ctx, jobsFor(len(seen)), s.Workers, func(i int) {
		lo, hi := jobRange(i, len(seen))
		for k := lo; k < hi; k++ {
			t := seen[k]
			mesh := m.mesh[t]
			crease := s.Meshes[mesh].Crease
			v, own := m.triangles[t], facets[t].normal
			face := r.face(v, own, f.corners(v, own, crease, even))
			face.mesh = mesh
			face.calm = crease <= calmCrease && even[v[0]] != vec3{} && even[v[1]] != vec3{} && even[v[2]] != vec3{}
			m.faces[k+1] = face
		}
	})
	if err != nil {
		return err
	}
	return parallel.For(ctx, len(r.tiles), s.Workers, func(i int) { r.tell(i, m.number) })
}

// seen numbers the faces of the triangles that are seen, in order, and tells which
// vertices they have.
func (m *model) seen() (list []int32, used []bool) {
	used = make([]bool, len(m.vertices))
	for t, n := range m.number {
		if n == 0 {
			continue
		}
		list = append(list, int32(t))
		m.number[t] = int32(len(list))
		for _, v := range m.triangles[t] {
			used[v] = true
		}
	}
	m.faces = make([]face, len(list)+1)
	return list, used
}

// fans lists the triangles around each vertex.
type fans struct {
	start, around []int32
	facets        []facet
}

// of are those of vertex v, in order.
func (f fans) of(v int) []int32 { return f.around[f.start[v]:f.start[v+1]] }

// fans are those of vertices that are used.
func (m *model) fans(used []bool, facets []facet) fans {
	start := make([]int32, len(m.vertices)+1)
	for _, t := range m.triangles {
		for _, v := range t {
			if used[v] {
				start[v+1]++
			}
		}
	}
	for v := range m.vertices {
		start[v+1] += start[v]
	}
	around := make([]int32, start[len(m.vertices)])
	next := slices.Clone(start)
	for i, t := range m.triangles {
		for _, v := range t {
			if used[v] {
				around[next[v]] = int32(i)
				next[v]++
			}
		}
	}
	return fans{start, around, facets}
}

// even is the mean, by area, of the normals of triangles around a vertex, where all
// are within half of crease of it, and so within crease of each other; else nothing.
func (f fans) even(v int, crease float64) vec3 {
	sum := vec3{}
	for _, t := range f.of(v) {
		sum = sum.add(f.facets[t].normal.mul(f.facets[t].area))
	}
	sum = sum.unit()
	least := float32(math.Cos(min(crease, math.Pi) / 2))
	for _, t := range f.of(v) {
		if !(f.facets[t].normal.dot(sum) >= least) {
			return vec3{}
		}
	}
	return sum
}

// corners are the normals for shading of a triangle at its corners: the mean, by area, of
// those around the corner that are within crease of its own.
func (f fans) corners(vertices [3]int32, own vec3, crease float64, even []vec3) (n [3]vec3) {
	if !(crease > 0) {
		return [3]vec3{own, own, own}
	}
	for k, v := range vertices {
		if n[k] = even[v]; n[k] == (vec3{}) {
			n[k] = f.within(int(v), own, crease)
		}
	}
	return n
}

// within is the mean, by area, of the normals of triangles around a vertex that are
// within crease of one.
func (f fans) within(v int, own vec3, crease float64) vec3 {
	least := float32(math.Cos(min(crease, math.Pi)))
	sum := vec3{}
	for _, t := range f.of(v) {
		if n := f.facets[t].normal; n.dot(own) >= least {
			sum = sum.add(n.mul(f.facets[t].area))
		}
	}
	if sum == (vec3{}) {
		return own
	}
	return sum.unit()
}

// leastShaded is the doubled area, in lattice steps, of triangles over which a normal is
// worth finding: a sixteenth of a sample. Over less, rounding would show.
const leastShaded = latticeStep * latticeStep / 8

// evenTurn is how far normals may be turned that shade alike, radians: a byte of one
// pixel in some thousand changes, by one.
const evenTurn = 1e-3

// face lays the normals at a triangle's corners over the picture.
func (r *raster) face(vertices [3]int32, facing vec3, n [3]vec3) face {
	a, b, c := r.spots[vertices[0]], r.spots[vertices[1]], r.spots[vertices[2]]
	f := face{facing: facing, base: n[0], x: float32(a.x) / latticeStep, y: float32(a.y) / latticeStep, near: a.near}
	area := doubleArea(a, b, c)
	k := latticeStep / float32(area)
	u, v := (a.near-c.near)*k, (b.near-c.near)*k
	f.nearAcross = u*float32(c.y-b.y) + v*float32(a.y-c.y)
	f.nearDown = u*float32(b.x-c.x) + v*float32(c.x-a.x)
	switch {
	case n[1].sub(n[0]).norm() < evenTurn && n[2].sub(n[0]).norm() < evenTurn:
		f.flat = true
		return f
	case area < leastShaded:
		f.base, f.flat = n[0].add(n[1]).add(n[2]).unit(), true
		return f
	}
	// The weights of corners a and b are edge functions over the area.
	p, q := n[0].sub(n[2]).mul(k), n[1].sub(n[2]).mul(k)
	f.across = p.mul(float32(c.y - b.y)).add(q.mul(float32(a.y - c.y)))
	f.down = p.mul(float32(b.x - c.x)).add(q.mul(float32(c.x - a.x)))
	return f
}

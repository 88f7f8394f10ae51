package picture

import (
	"context"
	"math"
	"slices"

	"halfpour/geom"
	"halfpour/geom/parallel"
)

// model is the meshes of a scene as one.
type model struct {
	vertices  []geom.Vec
	triangles [][3]int32
	mesh      []uint16  // per triangle, its mesh
	facing    []vec3    // per triangle, its normal in camera axes
	corners   [][3]vec3 // per triangle that is seen and corner, the normal for shading in camera axes
	weighted  []vec3    // normals as long as twice the facet's area
}

// vec3 is a direction in single precision: a picture has one for every corner.
type vec3 struct{ x, y, z float32 }

func (a vec3) dot(b vec3) float32 { return a.x*b.x + a.y*b.y + a.z*b.z }

func (a vec3) add(b vec3) vec3 { return vec3{a.x + b.x, a.y + b.y, a.z + b.z} }

func (a vec3) sub(b vec3) vec3 { return vec3{a.x - b.x, a.y - b.y, a.z - b.z} }

func (a vec3) mul(k float32) vec3 { return vec3{a.x * k, a.y * k, a.z * k} }

func (a vec3) norm() float32 { return float32(math.Sqrt(float64(a.dot(a)))) }

func (a vec3) unit() vec3 {
	n := a.norm()
	if n == 0 {
		return a
	}
	return a.mul(1 / n)
}

// trianglesPerJob splits work over triangles; a few hundred jobs at most.
const trianglesPerJob = 8192

func jobsFor(triangles int) int { return (triangles + trianglesPerJob - 1) / trianglesPerJob }

// jobRange returns the triangles of job i.
func jobRange(i, triangles int) (lo, hi int) {
	return i * trianglesPerJob, min((i+1)*trianglesPerJob, triangles)
}

func newModel(s Scene) *model {
	vertices, triangles := 0, 0
	for _, part := range s.Meshes {
		vertices, triangles = vertices+len(part.Mesh.Vertices), triangles+len(part.Mesh.Triangles)
	}
	m := &model{vertices: make([]geom.Vec, 0, vertices), triangles: make([][3]int32, 0, triangles), mesh: make([]uint16, 0, triangles)}
	for k, part := range s.Meshes {
		base := int32(len(m.vertices))
		m.vertices = append(m.vertices, part.Mesh.Vertices...)
		for _, t := range part.Mesh.Triangles {
			m.triangles = append(m.triangles, [3]int32{t[0] + base, t[1] + base, t[2] + base})
			m.mesh = append(m.mesh, uint16(k))
		}
	}
	return m
}

// turn finds the normals of all facets, and for shading those of the corners of
// facets that are seen.
func (m *model) turn(ctx context.Context, s Scene, v *view, r *raster) error {
	n := len(m.triangles)
	m.facing, m.weighted, m.corners = make([]vec3, n), make([]vec3, n), make([][3]vec3, n)
	err := parallel.For(ctx, jobsFor(n), s.Workers, func(i int) {
		lo, hi := jobRange(i, n)
		for t := lo; t < hi; t++ {
			i := m.triangles[t]
			a, b, c := m.vertices[i[0]], m.vertices[i[1]], m.vertices[i[2]]
			w := b.Sub(a).Cross(c.Sub(a))
			u := w.Unit()
			m.facing[t] = v.turn(vec3{float32(u.X), float32(u.Y), float32(u.Z)})
			m.weighted[t] = m.facing[t].mul(float32(w.Norm()))
		}
	})
	if err != nil {
		return err
	}
	seen := make([]bool, n)
	for _, t := range r.triangle {
		if t >= 0 {
			seen[t] = true
		}
	}
	f := m.fans()
	even := make([]vec3, len(m.vertices))
	err = parallel.For(ctx, jobsFor(len(even)), s.Workers, func(i int) {
		lo, hi := jobRange(i, len(even))
		for v := lo; v < hi; v++ {
			if around := f.of(v); slices.ContainsFunc(around, func(t int32) bool { return seen[t] }) {
				even[v] = m.even(around, s.Meshes[m.mesh[around[0]]].Crease)
			}
		}
	})
	if err != nil {
		return err
	}
	return parallel.For(ctx, jobsFor(n), s.Workers, func(i int) {
		lo, hi := jobRange(i, n)
		for t := lo; t < hi; t++ {
			if seen[t] {
				m.smooth(t, s.Meshes[m.mesh[t]].Crease, f, even)
			}
		}
	})
}

// flat reports whether triangle t, which is seen, has the same normal all over.
func (m *model) flat(t int32) bool {
	n := &m.corners[t]
	return n[0] == n[1] && n[1] == n[2]
}

// fans lists the triangles around each vertex.
type fans struct{ start, around []int32 }

// of are those of vertex v, in order.
func (f fans) of(v int) []int32 { return f.around[f.start[v]:f.start[v+1]] }

func (m *model) fans() fans {
	start := make([]int32, len(m.vertices)+1)
	for _, t := range m.triangles {
		for _, v := range t {
			start[v+1]++
		}
	}
	for v := range m.vertices {
		start[v+1] += start[v]
	}
	around := make([]int32, 3*len(m.triangles))
	next := slices.Clone(start)
	for i, t := range m.triangles {
		for _, v := range t {
			around[next[v]] = int32(i)
			next[v]++
		}
	}
	return fans{start, around}
}

// even is the mean, by area, of the normals of triangles around a vertex, where all
// are within half of crease of it, and so within crease of each other; else nothing.
func (m *model) even(around []int32, crease float64) vec3 {
	sum := vec3{}
	for _, t := range around {
		sum = sum.add(m.weighted[t])
	}
	sum = sum.unit()
	least := float32(math.Cos(min(crease, math.Pi) / 2))
	for _, t := range around {
		if !(m.facing[t].dot(sum) >= least) {
			return vec3{}
		}
	}
	return sum
}

// smooth sets the corner normals of triangle t: the mean, by area, of those
// around the corner that are within crease of t's own.
func (m *model) smooth(t int, crease float64, f fans, even []vec3) {
	own := m.facing[t]
	if !(crease > 0) {
		m.corners[t] = [3]vec3{own, own, own}
		return
	}
	for k, v := range m.triangles[t] {
		n := &m.corners[t][k]
		if *n = even[v]; *n == (vec3{}) {
			*n = m.within(f.of(int(v)), own, crease)
		}
	}
}

// within is the mean, by area, of the normals of triangles that are within crease of one.
func (m *model) within(around []int32, own vec3, crease float64) vec3 {
	least := float32(math.Cos(min(crease, math.Pi)))
	sum := vec3{}
	for _, u := range around {
		if m.facing[u].dot(own) >= least {
			sum = sum.add(m.weighted[u])
		}
	}
	if sum == (vec3{}) {
		return own
	}
	return sum.unit()
}

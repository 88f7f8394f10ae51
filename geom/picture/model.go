package picture

import (
	"math"

	"halfpour/geom"
)

// model is the meshes of a scene as one.
type model struct {
	vertices  []geom.Vec
	triangles [][3]int32
	mesh      []uint16 // per triangle, its mesh

	number []int32 // per triangle: of its face in faces, 0 when it is not seen
	faces  []face  // of the triangles that are seen, from the second on
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
	if len(s.Meshes) == 1 {
		only := s.Meshes[0].Mesh
		return &model{vertices: only.Vertices, triangles: only.Triangles, mesh: make([]uint16, len(only.Triangles))}
	}
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

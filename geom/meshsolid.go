package geom

import (
	"cmp"
	"errors"
	"fmt"
)

// MeshSolid is the solid inside a closed triangle mesh, by signed distance:
// exact wherever no shells overlap. Besides the two methods of a Solid it has
// all optional ones.
type MeshSolid struct {
	mesh   *TriMesh
	box    Box
	bodies []*meshBody
	shape  Solid // the union of the bodies
}

// NewMeshSolid returns the solid that m encloses. Shells that overlap, or lie
// in each other facing the same way, are united; a shell inside another and
// facing the other way is a hollow; sheets that hold nothing do not count. The
// mesh is kept, not copied, and must not be changed afterwards.
//
// It returns an error for a mesh without triangles, with an index out of
// range or a vertex that is not finite or beyond MostCoordinate, with an edge that no neighbour runs
// back along (the mesh is open, or a triangle is turned over), and for a mesh
// turned inside out. Triangles may be flat or have equal corners, and an edge
// may belong to four triangles or more.
//
// A shell that cuts through itself has wrong signs near the cut, and Mesh refuses
// it there: see CutsItself and NewCrossedMeshSolid.
func NewMeshSolid(m *TriMesh) (*MeshSolid, error) {
	if err := checkIndices(m); err != nil {
		return nil, err
	}
	body, err := newMeshBody(m)
	if err != nil {
		return nil, err
	}
	s := &MeshSolid{mesh: m, box: body.box, bodies: []*meshBody{body}, shape: body}
	groups, err := partShells(body)
	switch {
	case err == errGrownTogether:
		body.crossed = true
		return s, nil
	case err != nil:
		return nil, err
	case len(groups) == 0:
		return s, nil
	}
	s.bodies = s.bodies[:0]
	var children []Solid
	for _, g := range groups {
		part, err := newMeshBody(g)
		if err != nil {
			return nil, err
		}
		s.bodies, children = append(s.bodies, part), append(children, part)
	}
	s.shape = Union(children...)
	return s, nil
}

// NewCrossedMeshSolid is NewMeshSolid for a mesh with shells that cut through
// themselves, such as SelfCrossings finds. What the mesh winds round at least
// once is inside, by the winding number; that takes about as much time as the
// distance itself. Walls that lie inside count as surface for the distance, so
// that near them the depth is under-stated, and 0 at them.
func NewCrossedMeshSolid(m *TriMesh) (*MeshSolid, error) {
	if err := checkIndices(m); err != nil {
		return nil, err
	}
	body, err := newMeshBody(m)
	if err != nil {
		return nil, err
	}
	body.crossed = true
	return &MeshSolid{mesh: m, box: body.box, bodies: []*meshBody{body}, shape: body}, nil
}

// checkIndices also looks at the vertices that no triangle uses: a reader
// that makes up a vertex has gone wrong elsewhere too.
func checkIndices(m *TriMesh) error {
	if m == nil || len(m.Triangles) == 0 {
		return errors.New("mesh has no triangles")
	}
	if len(m.Triangles) > maxTriangles {
		return fmt.Errorf("mesh must have at most %d triangles, got %d", maxTriangles, len(m.Triangles))
	}
	faults := make([]error, chunksOf(len(m.Vertices))+chunksOf(len(m.Triangles)))
	inChunks(len(m.Vertices), func(chunk, from, to int) { faults[chunk] = checkVertices(m.Vertices, from, to) })
	inTriangles := faults[chunksOf(len(m.Vertices)):]
	inChunks(len(m.Triangles), func(chunk, from, to int) { inTriangles[chunk] = checkCorners(m, from, to) })
	return cmp.Or(faults...)
}

func checkVertices(vertices []Vec, from, to int) error {
	for i, p := range vertices[from:to] {
		if !p.IsFinite() {
			return fmt.Errorf("vertex %d must be finite, got (%g, %g, %g)", from+i, p.X, p.Y, p.Z)
		}
		if !isNear(p) {
			return fmt.Errorf("vertex %d must be within %g mm of the origin along each axis, got (%g, %g, %g)", from+i, MostCoordinate, p.X, p.Y, p.Z)
		}
	}
	return nil
}

func checkCorners(m *TriMesh, from, to int) error {
	n := int32(len(m.Vertices))
	for i, t := range m.Triangles[from:to] {
		for _, v := range t {
			if v < 0 || v >= n {
				return fmt.Errorf("triangle %d must use vertices 0 to %d, got %d", from+i, n-1, v)
			}
		}
	}
	return nil
}

// maxTriangles keeps slots within the bits of a bvhRef.
const maxTriangles = 1 << 27

// Mesh returns the mesh, which must not be changed.
func (s *MeshSolid) Mesh() *TriMesh { return s.mesh }

// BoundingBox returns the least box around the mesh.
func (s *MeshSolid) BoundingBox() Box { return s.box }

// Evaluate returns the signed distance to the mesh. Where shells overlap it
// under-states the depth.
func (s *MeshSolid) Evaluate(p Vec) float64 { return s.shape.Evaluate(p) }

// Gradient returns the value at p with the direction away from (outside) or to
// (inside) the nearest point of the mesh; within 1e-9 mm of the mesh, the
// normal there.
func (s *MeshSolid) Gradient(p Vec) (float64, Vec) { return Gradient(s.shape, p) }

// Range returns the values that the distance takes on b, or a little more.
// When the surface does not touch b, both ends have the sign of all values.
func (s *MeshSolid) Range(b Box) Interval { return Range(s.shape, b) }

// PruneByValue returns a solid that keeps the triangles that can be nearest to a point
// of b, or all of them while they are many.
func (s *MeshSolid) PruneByValue(b Box) Solid { return PruneByValue(s.shape, b) }

// Slab lays a slab round the triangles that touch b.
func (s *MeshSolid) Slab(b Box) (Slab, bool) { return SlabOf(s.shape, b) }

// Landmarks calls visit for the vertices of the mesh in b, some of them more
// than once.
func (s *MeshSolid) Landmarks(b Box, visit func(Vec)) {
	for _, body := range s.bodies {
		body.Landmarks(b, visit)
	}
}

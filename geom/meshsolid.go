package geom

import (
	"errors"
	"fmt"
	"math"
)

// MeshSolid is the solid inside a closed triangle mesh, by exact signed
// distance. Besides the two methods of a Solid it has all optional ones.
type MeshSolid struct {
	mesh    *TriMesh
	box     Box
	tree    *bvh
	edges   *meshEdges
	normals []Vec // pseudonormals of the vertices
	winding *winding
}

// NewMeshSolid returns the solid that m encloses. The mesh is kept, not
// copied, and must not be changed afterwards.
//
// It returns an error for a mesh without triangles, with an index out of
// range or a vertex that is not finite, with an edge that no neighbour runs
// back along (the mesh is open, or a triangle is turned over), and for a mesh
// turned inside out. Triangles may be flat or have equal corners, and an edge
// may belong to four triangles or more.
func NewMeshSolid(m *TriMesh) (*MeshSolid, error) {
	if err := checkIndices(m); err != nil {
		return nil, err
	}
	var edges *meshEdges
	var edgesErr error
	done := make(chan struct{})
	go func() {
		defer close(done)
		edges, edgesErr = findEdges(m)
	}()
	tree := newBVH(m)
	<-done
	if edgesErr != nil {
		return nil, edgesErr
	}
	if len(tree.triangles) == 0 {
		return nil, errors.New("mesh encloses no volume: every triangle has two equal corners")
	}
	volume, box := tree.volumeAndBox()
	if !(volume > 0) {
		return nil, fmt.Errorf("mesh is inside out: its volume must be above 0 mm³, got %.6g mm³; turn its triangles over", volume)
	}
	return &MeshSolid{
		mesh:    m,
		box:     box,
		tree:    tree,
		edges:   edges,
		normals: edges.vertexNormals(m),
		winding: &winding{tree: tree},
	}, nil
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
	for v, p := range m.Vertices {
		if !p.IsFinite() {
			return fmt.Errorf("vertex %d must be finite, got (%g, %g, %g)", v, p.X, p.Y, p.Z)
		}
	}
	n := int32(len(m.Vertices))
	for i, t := range m.Triangles {
		for _, v := range t {
			if v < 0 || v >= n {
				return fmt.Errorf("triangle %d must use vertices 0 to %d, got %d", i, n-1, v)
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

// Evaluate returns the exact signed distance to the mesh.
func (s *MeshSolid) Evaluate(p Vec) float64 {
	h := s.tree.nearest(p)
	return s.value(p, &h)
}

// Grade returns the value at p with the direction away from (outside) or to
// (inside) the nearest point of the mesh; within 1e-9 mm of the mesh, the
// normal there.
func (s *MeshSolid) Grade(p Vec) (float64, Vec) {
	h := s.tree.nearest(p)
	return s.grade(p, &h)
}

// value gives the distance of the nearest point its sign.
func (s *MeshSolid) value(p Vec, h *hit) float64 {
	if h.square == 0 || !h.found() { // on the skin; or too far for float64
		return h.square
	}
	d := math.Sqrt(h.square)
	if s.isInside(p, h) {
		return -d
	}
	return d
}

func (s *MeshSolid) grade(p Vec, h *hit) (float64, Vec) {
	v := s.value(p, h)
	if !h.found() {
		return v, p.Sub(s.box.Centre()).Unit()
	}
	if math.Abs(v) >= 1e-9 && h.on != onFace {
		return v, h.way.Mul(1 / v).Unit()
	}
	n := s.pseudonormal(h).Unit()
	if h.on == onFace && n.Dot(h.way)*v < 0 { // the skin is laid twice here
		n = n.Neg()
	}
	if n == (Vec{}) {
		n = s.anyNormal(h)
	}
	return v, n
}

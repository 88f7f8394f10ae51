package geom

import (
	"errors"
	"fmt"
	"math"
	"sync"
)

// meshBody is a closed mesh of shells that do not overlap.
type meshBody struct {
	mesh    *TriMesh
	box     Box
	tree    *bvh
	edges   *meshEdges
	normals vertexNormals
	winding *winding
	crossed bool // the mesh crosses itself: only the winding number tells sides apart

	unfitOnce sync.Once
	unfitTree *bvh // see unfit

	crossings knownCrossings

	sharpOnce sync.Once
	sharp     *bvh // see sharpEdges

	skinOnce sync.Once
	skinBody *meshBody // see skin

	sumsOnce    sync.Once
	surfaceSums [][2]surfaceSum // see sums
}

// newMeshBody expects a mesh that has passed checkIndices.
func newMeshBody(m *TriMesh) (*meshBody, error) {
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
	volume, area, box := tree.measure()
	tree.meanArea = area / float64(len(m.Triangles))
	if volume == 0 {
		return nil, errors.New("mesh encloses no volume: it is flat, or smaller than numbers can tell")
	}
	if !(volume > 0) {
		return nil, fmt.Errorf("mesh is inside out: its volume must be above 0 mm³, got %.6g mm³; turn its triangles over", volume)
	}
	edges.start, edges.runs = nil, nil
	return &meshBody{
		mesh:    m,
		box:     box,
		tree:    tree,
		edges:   edges,
		winding: &winding{tree: tree},
	}, nil
}

// BoundingBox returns the least box around the triangles.
func (s *meshBody) BoundingBox() Box { return s.box }

// Evaluate returns the exact signed distance.
func (s *meshBody) Evaluate(p Vec) float64 {
	h := s.tree.nearest(p)
	return s.value(p, &h)
}

// Gradient returns the value with the direction away from or to the nearest
// point.
func (s *meshBody) Gradient(p Vec) (float64, Vec) {
	h := s.tree.nearest(p)
	return s.gradient(p, &h)
}

// value gives the distance of the nearest point its sign.
func (s *meshBody) value(p Vec, h *hit) float64 {
	switch {
	case !h.found(): // too far for float64
		return h.square
	case h.square == 0 && s.crossed && s.winding.at(p) > 0.75: // a wall between 1 and 2
		return -math.SmallestNonzeroFloat64
	case h.square == 0:
		return 0
	}
	d := math.Sqrt(h.square)
	if s.isInside(p, h) {
		return -d
	}
	return d
}

func (s *meshBody) gradient(p Vec, h *hit) (float64, Vec) {
	v := s.value(p, h)
	if !h.found() {
		return v, p.Sub(s.box.Centre()).Unit()
	}
	if math.Abs(v) >= 1e-9 && h.on != onFace {
		return v, h.way.Mul(1 / v).Unit()
	}
	n := s.pseudonormal(h).Unit()
	if h.on == onFace && n.Dot(h.way)*v < 0 { // the surface is laid twice here
		n = n.Neg()
	}
	if n == (Vec{}) {
		n = s.anyNormal(h)
	}
	return v, n
}

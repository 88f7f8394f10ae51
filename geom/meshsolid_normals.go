package geom

import (
	"math"
	"slices"
	"sync"
	"sync/atomic"
)

// vertexNormals keeps those normals that somebody has asked for: hardly any vertex's is.
type vertexNormals struct {
	once  sync.Once
	state []atomic.Uint32 // one of those below
	at    []Vec
}

const (
	unaskedNormal = iota
	comingNormal
	knownNormal
)

// vertexNormal returns the sum of the unit normals of the triangles at a vertex weighted
// by their angles there (Thürmer & Wüthrich, J. Graphics Tools 3(1), 1998), not scaled;
// zero where that tells nothing about the inside: triangles that are not one closed fan,
// or flat ones.
func (s *meshBody) vertexNormal(v int32) Vec {
	k := &s.normals
	k.once.Do(func() {
		k.state, k.at = make([]atomic.Uint32, len(s.mesh.Vertices)), make([]Vec, len(s.mesh.Vertices))
	})
	if k.state[v].Load() == knownNormal {
		return k.at[v]
	}
	n := s.sumNormals(v)
	if k.state[v].CompareAndSwap(unaskedNormal, comingNormal) {
		k.at[v] = n
		k.state[v].Store(knownNormal)
	}
	return n
}

func (s *meshBody) sumNormals(v int32) (sum Vec) {
	at, count, first := s.mesh.Vertices[v], 0, int32(0)
	flat := false
	s.tree.near(&Box{at, at}, 0, func(slot int32) float64 {
		id := s.tree.ids[slot]
		t := s.mesh.Triangles[id]
		k := slices.Index(t[:], v)
		if k < 0 {
			return 0
		}
		p, q := s.mesh.Vertices[t[(k+1)%3]].Sub(at), s.mesh.Vertices[t[(k+2)%3]].Sub(at)
		n := p.Cross(q)
		area := n.Norm()
		if flat = area <= flatness*p.Norm()*q.Norm(); flat {
			return -1
		}
		sum = sum.Add(n.Mul(math.Atan2(area, p.Dot(q)) / area))
		count, first = count+1, id
		return 0
	})
	if flat || count == 0 || !s.edges.isFan(s.mesh, v, count, first) {
		return Vec{}
	}
	return sum
}

// isFan reports whether the n triangles at v make one closed fan.
func (e *meshEdges) isFan(m *TriMesh, v int32, n int, first int32) bool {
	t := first
	for step := 1; ; step++ {
		k := 0
		for m.Triangles[t][k] != v {
			k++
		}
		next := e.across[t][k]
		if next == t || step > n {
			return false
		}
		if next == first {
			return step == n
		}
		t = next
	}
}

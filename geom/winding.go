package geom

import (
	"math"
	"sync"
)

// winding answers how often a mesh winds round a point: 1 inside, 0 outside,
// 2 where two shells overlap. Near triangles count with their exact solid
// angle, far groups of them as one dipole, after Barill, Dickson, Schmidt,
// Levin & Jacobson, "Fast winding numbers for soups and clouds" (SIGGRAPH
// 2018). The dipoles are computed when first asked for: most meshes never do.
type winding struct {
	tree    *bvh
	once    sync.Once
	dipoles [][2]dipole // by node and child
}

// dipole stands for a group of triangles seen from afar.
type dipole struct {
	at     Vec     // middle, weighted by area
	normal Vec     // sum of area normals
	area   float64 // sum of areas
	radius float64 // of the ball about at that holds the group
}

// farRadii is how many radii away a group counts as one dipole: the paper's
// choice for its first-order form.
const farRadii = 2

// at returns the winding number of the mesh round p, off by some hundredths
// where p is not on the mesh.
func (w *winding) at(p Vec) float64 {
	w.once.Do(w.prepare)
	sum := 0.0 // of solid angles
	var stack [maxDepth + 1]bvhRef
	for top := 1; top > 0; {
		top--
		at := stack[top]
		for k, child := range w.tree.nodes[at].child {
			d := &w.dipoles[at][k]
			way := d.at.Sub(p)
			square := way.Dot(way)
			if reach := farRadii * d.radius; square > reach*reach {
				sum += way.Dot(d.normal) / (square * math.Sqrt(square))
				continue
			}
			if child >= 0 {
				stack[top] = child
				top++
				continue
			}
			first, end := child.slots()
			for i := first; i < end; i++ {
				sum += w.tree.triangles[i].solidAngle(p)
			}
		}
	}
	return sum / (4 * math.Pi)
}

// prepare computes the dipoles from the leaves up: in preorder, children come
// after their parent.
func (w *winding) prepare() {
	nodes := w.tree.nodes
	w.dipoles = make([][2]dipole, len(nodes))
	for i := len(nodes) - 1; i >= 0; i-- {
		for k, child := range nodes[i].child {
			d := &w.dipoles[i][k]
			if child >= 0 {
				*d = joinDipoles(&w.dipoles[child][0], &w.dipoles[child][1])
				box := nodes[i].box(k)
				d.radius = min(d.radius, box.FarDistance(d.at))
			} else {
				first, end := child.slots()
				*d = dipoleOf(w.tree.triangles[first:end])
			}
		}
	}
}

func dipoleOf(ts []triangle) dipole {
	var d dipole
	var sum, plain Vec
	for i := range ts {
		t := &ts[i]
		n := t.normal().Mul(0.5)
		area := n.Norm()
		mid := t.a.Add(t.b).Add(t.c).Mul(1.0 / 3)
		d.normal, d.area = d.normal.Add(n), d.area+area
		sum, plain = sum.Add(mid.Mul(area)), plain.Add(mid)
	}
	switch {
	case d.area > 0:
		d.at = sum.Mul(1 / d.area)
	case len(ts) > 0:
		d.at = plain.Mul(1 / float64(len(ts)))
	}
	for i := range ts {
		t := &ts[i]
		d.radius = max(d.radius, d.at.Dist(t.a), d.at.Dist(t.b), d.at.Dist(t.c))
	}
	return d
}

func joinDipoles(a, b *dipole) dipole {
	d := dipole{at: a.at, normal: a.normal.Add(b.normal), area: a.area + b.area}
	if d.area > 0 {
		d.at = a.at.Lerp(b.at, b.area/d.area)
	}
	d.radius = max(d.at.Dist(a.at)+a.radius, d.at.Dist(b.at)+b.radius)
	return d
}

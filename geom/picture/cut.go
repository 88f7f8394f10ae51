package picture

import (
	"fmt"
	"image/color"
	"math"

	"halfpour/geom"
)

// Cut takes away the part of a mesh on the viewer's side of a plane and closes
// what is left by the cut face.
type Cut struct {
	N      geom.Vec // of any length, towards what is taken away
	D      float64  // points with N·p > D are taken away; mm when N is a unit vector
	Colour color.RGBA
	Hatch  Hatch
}

// Hatch says how the lines on a cut face lean; none by default.
type Hatch int

// The ways of Hatch: neighbours lean differently, so that they can be told apart.
const (
	NoHatch   Hatch = 0
	HatchUp   Hatch = 1 // up to the right
	HatchDown Hatch = -1
)

// check returns what is wrong with the cut of mesh i.
func (c *Cut) check(i int) error {
	if c != nil && (!c.N.IsFinite() || c.N.Norm() < 1e-9 || math.IsNaN(c.D) || math.IsInf(c.D, 0)) {
		return fmt.Errorf("picture: mesh %d: a cut needs a direction and a place, got %v and %g", i, c.N, c.D)
	}
	return nil
}

// shown calls see for the points that a picture is fitted to: vertices that no cut takes
// away, and where edges are cut. The cut face is within their reach.
func (s Scene) shown(m *model, see func(geom.Vec)) {
	first := 0
	for _, part := range s.Meshes {
		all := m.vertices[first : first+len(part.Mesh.Vertices)]
		first += len(all)
		if part.Cut != nil {
			part.Cut.shown(part.Mesh, see)
			continue
		}
		for _, p := range all {
			see(p)
		}
	}
}

// shown calls see for the vertices behind the plane and where edges cross it.
func (c *Cut) shown(m *geom.TriMesh, see func(geom.Vec)) {
	for _, p := range m.Vertices {
		if c.N.Dot(p) <= c.D {
			see(p)
		}
	}
	for t := range m.Triangles {
		at := [3]geom.Vec{}
		at[0], at[1], at[2] = m.Corners(t)
		over := [3]float64{c.N.Dot(at[0]) - c.D, c.N.Dot(at[1]) - c.D, c.N.Dot(at[2]) - c.D}
		for k := range 3 {
			if l := (k + 1) % 3; over[k] <= 0 && over[l] > 0 {
				see(at[k].Lerp(at[l], over[k]/(over[k]-over[l])))
			}
		}
	}
}

// cutPlane is a plane in the picture, in samples: its nearness at a
// sample's centre is linear there.
type cutPlane struct {
	near0, dx, dy float64
	face          vec3 // its normal, in camera axes
}

func (c *cutPlane) near(x, y int) float64 { return c.near0 + float64(x)*c.dx + float64(y)*c.dy }

// hides reports whether a spot is behind the plane, by more than rounding.
func (c *cutPlane) hides(s spot) bool {
	near := c.near0 + (float64(s.x)/latticeStep-0.5)*c.dx + (float64(s.y)/latticeStep-0.5)*c.dy
	return float64(s.near) < near-1e-6*math.Abs(near)
}

// cutPlanes are those of the meshes, nil where there is none. The viewer must
// be on the side that is taken away: else the cut face would be hidden.
func (v *view) cutPlanes(s Scene) ([]*cutPlane, error) {
	planes := make([]*cutPlane, len(s.Meshes))
	for i, m := range s.Meshes {
		if m.Cut == nil {
			continue
		}
		if planes[i] = v.plane(m.Cut.N, m.Cut.D); planes[i] == nil {
			return nil, fmt.Errorf("picture: mesh %d: the viewer must be on the side that the cut takes away", i)
		}
	}
	return planes, nil
}

// plane is the plane N·p = d as the picture shows it, nil from behind.
func (v *view) plane(n geom.Vec, d float64) *cutPlane {
	n, d = n.Unit(), d/n.Norm()
	front := n.Dot(v.eye) - d // of the viewer over the plane
	if !v.perspective {
		front = n.Dot(v.back)
	}
	if !(front > 1e-6) {
		return nil
	}
	// With q = (x, y, z) in camera axes from the eye, N·q = -front. In the
	// picture x and y grow with depth, so that divided by it this is linear in
	// 1/depth, and without perspective in z.
	nx, ny, nz := n.Dot(v.right), n.Dot(v.up), n.Dot(v.back)
	at := func(px, py float64) float64 {
		x, y := (px-v.x0)/v.scale, (v.y0-py)/v.scale
		if v.perspective { // q = depth·(x, y, -1)
			return (nz - nx*x - ny*y) / front
		}
		return (d - n.Dot(v.eye) - nx*x - ny*y) / nz
	}
	const first, step = 0.5 / perSide, 1.0 / perSide
	p := &cutPlane{near0: at(first, first), face: vec3{float32(nx), float32(ny), float32(nz)}}
	p.dx, p.dy = at(first+step, first)-p.near0, at(first, first+step)-p.near0
	return p
}

// capOf is what a raster has for a sample on the cut face of a mesh, and capped
// the way back: the mesh, and whether it is one.
func capOf(mesh uint16) int32 { return -1 - int32(mesh) }

func capped(on int32) (mesh int, ok bool) { return int(-1 - on), on < 0 }

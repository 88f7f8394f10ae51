package geom_test

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// engraved is an edge of a solid that its mesh must not leave: points on it
// are known in closed form.
type engraved struct {
	name  string
	solid geom.Solid
	edges [][2]geom.Vec
}

// edgesAlong are segments along one direction that begin at the points.
func edgesAlong(way geom.Vec, from ...geom.Vec) (edges [][2]geom.Vec) {
	for _, p := range from {
		edges = append(edges, [2]geom.Vec{p, p.Add(way)})
	}
	return edges
}

// thinFeatures are the least features of a printed mold: each stands on or is
// cut into a floor of 3 mm, straight along X and askew.
func thinFeatures(t *testing.T) []engraved {
	v := func(x, y, z float64) geom.Vec { return geom.Vec{X: x, Y: y, Z: z} }
	floor := geom.Block(geom.Box{Min: v(-20, -12, -3), Max: v(20, 12, 0)})
	vent := geom.Block(geom.Box{Min: v(-25, -0.5, -0.3), Max: v(25, 0.5, 1)})
	ventEdges := edgesAlong(v(38, 0, 0), v(-19, -0.5, 0), v(-19, 0.5, 0), v(-19, -0.5, -0.3), v(-19, 0.5, -0.3))
	askew := geom.Rotate(v(0, 0, 1), 0.37)
	var turned [][2]geom.Vec
	for _, e := range ventEdges {
		// Kept to where the turned vent is within the floor.
		turned = append(turned, [2]geom.Vec{askew.Point(e[0].Mul(1)), askew.Point(e[1])})
	}
	letters, width, err := geom.Text("R 8 g", 5)
	if err != nil {
		t.Fatal(err)
	}
	raised := geom.Prism(letters.Move(geom.Vec2{X: -width / 2, Y: -2.5}), -1, 0.4)
	var outline [][2]geom.Vec
	for _, loop := range letters.Move(geom.Vec2{X: -width / 2, Y: -2.5}) {
		for i, p := range loop {
			q := loop[(i+1)%len(loop)]
			outline = append(outline, [2]geom.Vec{v(p.X, p.Y, 0.4), v(q.X, q.Y, 0.4)}, [2]geom.Vec{v(p.X, p.Y, 0), v(q.X, q.Y, 0)})
		}
	}
	wire := geom.Capsule(v(-18, 3, 0), v(18, -4, 0), 0.25)
	along := v(36, -7, 0)
	side := v(7, 36, 0).Unit().Mul(0.25)
	return []engraved{
		{"vent 0.3 mm deep", geom.Subtract(floor, vent), ventEdges},
		{"vent askew", geom.Subtract(floor, askew.Solid(vent)), turned},
		{"text 0.4 mm high", geom.Union(floor, raised), outline},
		{"half wire of 0.5 mm", geom.Union(floor, wire),
			edgesAlong(along, v(-18, 3, 0).Add(side), v(-18, 3, 0).Sub(side), v(-18, 3, 0.25))},
		{"groove for a wire of 0.5 mm", geom.Subtract(floor, wire),
			edgesAlong(along, v(-18, 3, 0).Add(side), v(-18, 3, 0).Sub(side), v(-18, 3, -0.25))},
	}
}

// Neither may the mesh leave the solid by more than the tolerance, nor the
// solid's edges and its surface, as a mesh of a quarter of the tolerance shows it,
// the mesh.
func TestMeshOfThinFeatures(t *testing.T) {
	ctx := context.Background()
	const tol = 0.02
	for _, f := range thinFeatures(t) {
		t.Run(f.name, func(t *testing.T) {
			m, err := geom.Mesh(ctx, f.solid, geom.MeshOptions{Tolerance: tol})
			if err != nil {
				t.Fatal(err)
			}
			geomtest.CheckMesh(t, m)
			there, at, err := geom.Deviation(ctx, m, f.solid)
			if err != nil || there > tol {
				t.Errorf("the mesh leaves the solid by %.4f mm at %v, %v", there, at, err)
			}
			back := meshSolid(t, m)
			worst, at := 0.0, geom.Vec{}
			for _, e := range f.edges {
				n := math.Ceil(e[0].Dist(e[1]) / 0.13)
				for i := 0.0; i <= n; i++ {
					p := e[0].Lerp(e[1], i/n)
					if d := math.Abs(back.Evaluate(p)); d > worst {
						worst, at = d, p
					}
				}
			}
			if worst > tol {
				t.Errorf("an edge leaves the mesh by %.4f mm at %v", worst, at)
			}
			t.Logf("%d triangles, %.4f mm there, edges %.4f mm", len(m.Triangles), there, worst)
			if !geomtest.Long() {
				return
			}
			const finer = tol / 4
			fine, err := geom.Mesh(ctx, f.solid, geom.MeshOptions{Tolerance: finer})
			if err != nil {
				t.Fatal(err)
			}
			if d, at, err := geom.Deviation(ctx, fine, back); err != nil || d > tol+finer {
				t.Errorf("the surface leaves the mesh by %.4f mm at %v, %v", d, at, err)
			}
		})
	}
}

package geom_test

import (
	"context"
	"math"
	"math/rand"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// mechanicalPart is a plate of 140 mm with bosses, slots and chamfers.
func mechanicalPart(rng *rand.Rand) geom.Solid {
	l, w, h := 140.0, 30+30*rng.Float64(), 6+10*rng.Float64()
	plate := geom.Block(geom.Box{Min: geom.Vec{X: -l / 2, Y: -w / 2, Z: -h / 2}, Max: geom.Vec{X: l / 2, Y: w / 2, Z: h / 2}})
	solids := []geom.Solid{plate}
	for range 2 + rng.Intn(5) {
		r, up := 3+6*rng.Float64(), h/2+1+8*rng.Float64()
		x, y := (rng.Float64()-.5)*(l-30), (rng.Float64()-.5)*(w-20)
		solids = append(solids, geom.Frustum(geom.Vec{X: x, Y: y, Z: -up * rng.Float64()}, geom.Vec{X: x, Y: y, Z: up}, r, r*(0.5+0.5*rng.Float64())))
	}
	var cuts []geom.Solid
	for range 2 + rng.Intn(4) {
		x, y, a := (rng.Float64()-.5)*(l-40), (rng.Float64()-.5)*(w-15), rng.Float64()*3
		ww, ll := 1+4*rng.Float64(), 4+14*rng.Float64()
		slot := geom.Block(geom.Box{Min: geom.Vec{X: -ll, Y: -ww, Z: h/2 - h*rng.Float64()}, Max: geom.Vec{X: ll, Y: ww, Z: h + 20}})
		cuts = append(cuts, geom.Rotate(geom.Vec{Z: 1}, a).Then(geom.Move(geom.Vec{X: x, Y: y})).Solid(slot))
	}
	for range 2 + rng.Intn(4) {
		r := 1 + 3*rng.Float64()
		x, y := (rng.Float64()-.5)*(l-20), (rng.Float64()-.5)*(w-10)
		cuts = append(cuts, geom.Frustum(geom.Vec{X: x, Y: y, Z: -50}, geom.Vec{X: x, Y: y, Z: 50}, r, r))
	}
	for _, sx := range []float64{-1, 1} {
		c := 0.5 + 4*rng.Float64()
		n := geom.Vec{X: sx, Z: 1}.Unit()
		cuts = append(cuts, geom.HalfSpace(n.Neg(), -n.Dot(geom.Vec{X: sx * (l/2 - c), Z: h / 2})))
		n = geom.Vec{X: sx, Y: 1}.Unit()
		cuts = append(cuts, geom.HalfSpace(n.Neg(), -n.Dot(geom.Vec{X: sx * (l/2 - 2*c), Y: w / 2})))
	}
	return geom.Subtract(geom.Union(solids...), cuts...)
}

// placedPart is a machined part as a mesh, meshed to partTol, on a floor, and how
// it was placed.
func placedPart(t *testing.T, seed int64, partTol float64) (frame geom.Solid, part *geom.TriMesh, place geom.Transform) {
	t.Helper()
	rng := rand.New(rand.NewSource(seed))
	part, err := geom.Mesh(context.Background(), mechanicalPart(rng), geom.MeshOptions{Tolerance: partTol})
	if err != nil {
		t.Fatal(err)
	}
	place = geom.Rotate(geom.Vec{Z: 1}, 7*rng.Float64())
	switch rng.Intn(3) {
	case 0:
		place = geom.Rotate(geom.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}.Unit(), 0.4*rng.Float64()).Then(place)
	case 1:
		place = geom.Rotate(geom.Vec{X: 1}, math.Pi/2).Then(place)
	}
	place = place.Then(geom.Scale(0.9 + 0.2*rng.Float64())).Then(geom.Move(geom.Vec{Z: 1.5 * rng.Float64()}))
	body := place.Solid(meshSolid(t, part))
	base := body.BoundingBox().Grow(10)
	base.Min.Z, base.Max.Z = -3, 0
	return geom.Union(geom.Block(base), geom.Intersect(geom.HalfSpace(geom.Vec{Z: -1}, 0.2), body)), part, place
}

// A machined part stands on a floor: where its facets are too slender to be
// taken as they are, its obtuse corners reach into cells of which no corner shows
// them.
func TestMeshReachesEveryCornerOfAPart(t *testing.T) {
	ctx := context.Background()
	frame, m, place := placedPart(t, 5, 0.05)
	for _, tol := range []float64{0.05, 0.1} {
		got, err := geom.Mesh(ctx, frame, geom.MeshOptions{Tolerance: tol})
		if err != nil {
			t.Fatal(err)
		}
		surface := meshSolid(t, got)
		worst, at := 0.0, geom.Vec{}
		for _, v := range m.Vertices {
			p := place.Point(v)
			if d := math.Abs(surface.Evaluate(p)); p.Z >= 0 && d > worst && math.Abs(frame.Evaluate(p)) < 1e-6 {
				worst, at = d, p
			}
		}
		if worst > tol {
			t.Errorf("tolerance %g mm: a corner of the part is %.4f mm from the mesh, at %v", tol, worst, at)
		}
	}
}

// Where two loops in one cell make the mesh cross itself, the cell is split.
func TestMeshSplitsWhereItCrossesItself(t *testing.T) {
	ctx := context.Background()
	frame, _, _ := placedPart(t, 6, 0.1)
	wire := geom.Capsule(geom.Vec{X: -60}, geom.Vec{X: 90, Y: 20}, 0.6)
	all := frame.BoundingBox().Union(geom.Intersect(geom.HalfSpace(geom.Vec{Z: -1}, 0.2), wire).BoundingBox())
	near := geom.Box{Min: geom.Vec{X: -36.9, Y: -4, Z: 4.6}, Max: geom.Vec{X: -36.9, Y: -4, Z: 4.6}}.Grow(2)
	// Blocks in two corners keep the cells where they are.
	solid := geom.Union(geom.Intersect(frame, geom.Block(near)),
		geom.Block(geom.Box{Min: all.Min, Max: all.Min.Add(geom.Vec{X: 1, Y: 1, Z: 1})}),
		geom.Block(geom.Box{Min: all.Max.Sub(geom.Vec{X: 1, Y: 1, Z: 1}), Max: all.Max}))
	m, err := geom.Mesh(ctx, solid, geom.MeshOptions{Tolerance: 0.02})
	if err != nil {
		t.Fatal(err)
	}
	geomtest.CheckMesh(t, m)
}

// A needle thinner than the finest cells stands on a block, as do what exporters
// leave on a head.
func TestMeshReachesTheTipOfANeedle(t *testing.T) {
	const tol, thick = 0.02, 0.0006
	m := geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -4, Y: -4, Z: -4}, Max: geom.Vec{X: 4, Y: 4, Z: 4}})
	for i, f := range m.Triangles {
		a, b, c := m.Corners(i)
		if a.Z < 4 || b.Z < 4 || c.Z < 4 {
			continue
		}
		mid := a.Add(b).Add(c).Mul(1.0 / 3)
		n := int32(len(m.Vertices))
		for _, p := range [3]geom.Vec{a, b, c} {
			m.Vertices = append(m.Vertices, mid.Lerp(p, thick/8))
		}
		tip := mid.Add(geom.Vec{X: 0.002, Y: 0.003, Z: 0.07})
		m.Vertices = append(m.Vertices, tip)
		m.Triangles[i] = [3]int32{n, n + 1, n + 3}
		m.Triangles = append(m.Triangles, [3]int32{n + 1, n + 2, n + 3}, [3]int32{n + 2, n, n + 3})
		for k := range int32(3) {
			j := (k + 1) % 3
			m.Triangles = append(m.Triangles, [3]int32{f[k], f[j], n + j}, [3]int32{f[k], n + j, n + k})
		}
		break
	}
	tip := m.Vertices[len(m.Vertices)-1]
	got, err := geom.Mesh(context.Background(), meshSolid(t, m), geom.MeshOptions{Tolerance: tol})
	if err != nil {
		t.Fatal(err)
	}
	geomtest.CheckMesh(t, got)
	if d := math.Abs(meshSolid(t, got).Evaluate(tip)); d > tol {
		t.Errorf("the tip is %.4f mm from the mesh, at most %g mm is fine", d, tol)
	}
}

package geom_test

import (
	"context"
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// ringMesh returns a mesh of circles about Z: each row is a radius and a
// height, from the top down; rows of radius 0 at both ends close it. Bumps of
// the given height stand around it in waves.
func ringMesh(rows [][2]float64, around int, bump float64) *geom.TriMesh {
	m := &geom.TriMesh{Vertices: []geom.Vec{{Z: rows[0][1]}}}
	last := len(rows) - 1
	for i, r := range rows[1:last] {
		for j := range around {
			sin, cos := math.Sincos(2 * math.Pi * float64(j) / float64(around))
			k := r[0] * (1 + bump*math.Sin(1.7*float64(i))*math.Cos(5*math.Atan2(sin, cos)))
			m.Vertices = append(m.Vertices, geom.Vec{X: k * cos, Y: k * sin, Z: r[1]})
		}
	}
	m.Vertices = append(m.Vertices, geom.Vec{Z: rows[last][1]})
	bottom := int32(len(m.Vertices) - 1)
	at := func(row, j int) int32 { return int32(1 + row*around + j%around) }
	for j := range around {
		m.Triangles = append(m.Triangles, [3]int32{0, at(0, j), at(0, j+1)}, [3]int32{bottom, at(last-2, j+1), at(last-2, j)})
		for row := range last - 2 {
			a, b, c, d := at(row, j), at(row, j+1), at(row+1, j), at(row+1, j+1)
			m.Triangles = append(m.Triangles, [3]int32{a, c, d}, [3]int32{a, d, b})
		}
	}
	return m
}

// lumpMesh returns a bumpy ball of radius r with about 2·rows·around facets.
func lumpMesh(r float64, rows, around int, bump float64) *geom.TriMesh {
	var profile [][2]float64
	for i := range rows + 1 {
		sin, cos := math.Sincos(math.Pi * float64(i) / float64(rows))
		profile = append(profile, [2]float64{r * sin, r * cos})
	}
	return ringMesh(profile, around, bump)
}

// sceneMeshes are the kinds of mesh that come out of modellers, 3 to 8 mm large.
func sceneMeshes() map[string]*geom.TriMesh {
	shift := func(m *geom.TriMesh, v geom.Vec) *geom.TriMesh {
		return m.Transform(func(p geom.Vec) geom.Vec { return p.Add(v) }, false)
	}
	return map[string]*geom.TriMesh{
		"cube":            blockAt(-2, -2, -2, 2, 2, 2),
		"plate":           blockAt(-4, -3, -0.4, 4, 3, 0.4),
		"coarse ball":     lumpMesh(3, 6, 8, 0),
		"lump":            lumpMesh(3, 40, 60, 0.08),
		"slender facets":  ringMesh([][2]float64{{0, 3}, {2, 3}, {2.5, -3}, {0, -3}}, 400, 0),
		"two apart":       together(lumpMesh(2, 12, 20, 0), shift(lumpMesh(1.5, 10, 16, 0.1), geom.Vec{X: 4})),
		"hollow":          together(lumpMesh(3, 12, 20, 0), turned(lumpMesh(2, 8, 12, 0))),
		"shells overlap":  together(lumpMesh(2.5, 16, 24, 0.05), shift(blockAt(-1.5, -1.5, -1.5, 1.5, 1.5, 1.5), geom.Vec{X: 2})),
		"shells coincide": together(blockAt(-2, -2, -2, 1, 2, 2), blockAt(1, -2, -2, 3, 2, 2)),
	}
}

func sceneNames(meshes map[string]*geom.TriMesh) []string {
	var names []string
	for name := range meshes {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

func meshSolid(t testing.TB, m *geom.TriMesh) geom.Solid {
	t.Helper()
	s, err := geom.NewMeshSolid(m)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// randomPlace turns, scales, perhaps mirrors, and moves.
func randomPlace(rng *rand.Rand) geom.Transform {
	p := geom.Rotate(randomPoint(rng, inBlock).Unit(), 7*rng.Float64()).Then(geom.Scale(0.6 + rng.Float64()))
	if rng.Intn(3) == 0 {
		p = p.Then(geom.MirrorY())
	}
	return p.Then(geom.Move(randomPoint(rng, inBlock).Mul(0.7)))
}

// checkScene meshes and measures s, and holds one against the other and against
// the solid, from which the mesh may be as far as the tolerance.
func checkScene(t *testing.T, s geom.Solid, tol float64) {
	t.Helper()
	ctx := context.Background()
	m, err := geom.Mesh(ctx, s, geom.MeshOptions{Tolerance: tol})
	if err != nil {
		t.Fatal(err)
	}
	geomtest.CheckMesh(t, m)
	got, err := geom.Integrate(ctx, s, geom.IntegrateOptions{RelTol: 1e-3})
	if err != nil {
		t.Fatal(err)
	}
	if v := m.Volume(); math.Abs(v-got.Best) > tol*m.Area()+got.Error {
		t.Errorf("mesh %.4f mm³, integral %.4f ± %.4f mm³: apart by more than tolerance × area %.4f", v, got.Best, got.Error, tol*m.Area())
	}
	if got.Best < got.Lo || got.Best > got.Hi {
		t.Errorf("estimate %v is not in [%v, %v]", got.Best, got.Lo, got.Hi)
	}
	if d, at, err := geom.Deviation(ctx, m, s); err != nil || d > tol {
		t.Errorf("%d triangles, farthest from the solid %.4f mm at %v, %v", len(m.Triangles), d, at, err)
	}
}

// Primitives and meshes at random places, overlapping each other, joined, cut
// and intersected.
func TestMeshOfRandomScenes(t *testing.T) {
	const seed = 29
	rng := rand.New(rand.NewSource(seed))
	const tol = 0.15
	meshes := sceneMeshes()
	names := sceneNames(meshes)
	solids := map[string]geom.Solid{}
	for name, m := range meshes {
		solids[name] = meshSolid(t, m)
	}
	random := func() geom.Solid {
		if rng.Intn(2) == 0 {
			return randomPrimitive(rng)
		}
		return randomPlace(rng).Solid(solids[names[rng.Intn(len(names))]])
	}
	for i := range geomtest.Rounds(3, 6) {
		n := 2 + rng.Intn(39)
		s := random()
		for range n - 1 {
			switch o := random(); rng.Intn(8) {
			case 0, 1:
				s = geom.Subtract(s, o)
			case 2:
				s = geom.Union(geom.Intersect(s, o), random())
			default:
				s = geom.Union(s, o)
			}
		}
		t.Run(fmt.Sprintf("seed %d round %d of %d parts", seed, i, n), func(t *testing.T) { checkScene(t, s, tol) })
	}
}

// Each kind of mesh alone, in a block's side, taken out of a block, and
// overlapping a copy of itself.
func TestMeshOfMeshes(t *testing.T) {
	const tol = 0.08
	meshes := sceneMeshes()
	for _, name := range sceneNames(meshes) {
		s := meshSolid(t, meshes[name])
		skew := geom.Rotate(geom.Vec{X: 1, Y: 2, Z: -1}, 0.7).Then(geom.Move(geom.Vec{X: 0.31, Y: -0.17, Z: 0.53}))
		below := geom.Block(geom.Box{Min: geom.Vec{X: -9, Y: -9, Z: -6}, Max: geom.Vec{X: 9, Y: 9, Z: 0}})
		around := geom.Block(geom.Box{Min: geom.Vec{X: -9, Y: -9, Z: -6}, Max: geom.Vec{X: 9, Y: 9, Z: 8}})
		for _, c := range []struct {
			how  string
			s    geom.Solid
			long bool
		}{
			{"alone", s, false},
			{"askew on a block", geom.Union(below, skew.Solid(s)), false},
			{"upright on a block", geom.Union(below, geom.Move(geom.Vec{Z: 1}).Solid(s)), true},
			{"mirrored and taken from a block", geom.Subtract(around, geom.MirrorX().Then(skew).Solid(s)), false},
			{"with a copy askew", geom.Union(s, skew.Solid(s)), true},
			{"with the same once more", geom.Union(s, geom.Move(geom.Vec{}).Solid(s)), true},
			{"less a copy moved along", geom.Subtract(s, geom.Move(geom.Vec{X: 1}).Solid(s)), true},
		} {
			if c.long && name != "cube" && (!geomtest.Long() || name != "hollow" && name != "lump") {
				continue
			}
			t.Run(name+" "+c.how, func(t *testing.T) {
				checkScene(t, c.s, tol)
			})
		}
	}
}

// Meshes that touch, cross and coincide give the same bytes and the same sums
// however many work at them.
func TestMeshOfMeshesIsTheSameForAnyWorkers(t *testing.T) {
	ctx := context.Background()
	rng := rand.New(rand.NewSource(31))
	meshes := sceneMeshes()
	var parts []geom.Solid
	for _, name := range []string{"hollow", "lump", "plate", "two apart"} {
		parts = append(parts, randomPlace(rng).Solid(meshSolid(t, meshes[name])))
	}
	s := geom.Subtract(geom.Union(append(parts, randomPrimitive(rng))...), randomPlace(rng).Solid(parts[0]), randomPrimitive(rng))
	var first *geom.TriMesh
	var sum geom.Integral
	for _, workers := range []int{1, 2, 7} {
		m, err := geom.Mesh(ctx, s, geom.MeshOptions{Tolerance: 0.15, Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		v, err := geom.Integrate(ctx, s, geom.IntegrateOptions{RelTol: 1e-3, Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first, sum = m, v
			continue
		}
		if !slices.Equal(first.Vertices, m.Vertices) || !slices.Equal(first.Triangles, m.Triangles) {
			t.Errorf("meshes by 1 and by %d workers differ", workers)
		}
		if sum != v {
			t.Errorf("1 worker: %+v; %d workers: %+v", sum, workers, v)
		}
	}
}

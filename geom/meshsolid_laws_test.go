package geom_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// block returns the mesh of a box.
func block(b geom.Box) *geom.TriMesh {
	m := &geom.TriMesh{}
	for i := range 8 {
		m.Vertices = append(m.Vertices, b.Corner(i))
	}
	for _, q := range [][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Triangles = append(m.Triangles, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	return m
}

func blockAt(x0, y0, z0, x1, y1, z1 float64) *geom.TriMesh {
	return block(geom.Box{Min: geom.Vec{X: x0, Y: y0, Z: z0}, Max: geom.Vec{X: x1, Y: y1, Z: z1}})
}

// together puts meshes side by side in one; turned ones have their triangles
// turned over.
func together(meshes ...*geom.TriMesh) *geom.TriMesh {
	m := &geom.TriMesh{}
	for _, k := range meshes {
		base := int32(len(m.Vertices))
		m.Vertices = append(m.Vertices, k.Vertices...)
		for _, t := range k.Triangles {
			m.Triangles = append(m.Triangles, [3]int32{t[0] + base, t[1] + base, t[2] + base})
		}
	}
	return m
}

func turned(m *geom.TriMesh) *geom.TriMesh {
	return m.Transform(func(v geom.Vec) geom.Vec { return v }, true)
}

// welded makes equal vertices one.
func welded(m *geom.TriMesh) *geom.TriMesh {
	var points []geom.Vec
	for t := range m.Triangles {
		a, b, c := m.Corners(t)
		points = append(points, a, b, c)
	}
	return geom.Weld(points)
}

// blockDistance is the closed form for a box about c with half sizes h.
func blockDistance(p, c, h geom.Vec) float64 {
	q := p.Sub(c).Abs().Sub(h)
	return q.Max(geom.Vec{}).Norm() + math.Min(math.Max(q.X, math.Max(q.Y, q.Z)), 0)
}

// shellMeshes have a distance in closed form.
var shellMeshes = []struct {
	name string
	mesh *geom.TriMesh
	want func(p geom.Vec) float64
}{
	{"block", blockAt(-1, -2, -3, 1, 2, 3),
		func(p geom.Vec) float64 { return blockDistance(p, geom.Vec{}, geom.Vec{X: 1, Y: 2, Z: 3}) }},
	{"overlapping", together(blockAt(-1, -1, -1, 1, 1, 1), blockAt(0, 0, 0, 2, 2, 2)),
		func(p geom.Vec) float64 {
			return math.Min(blockDistance(p, geom.Vec{}, geom.Vec{X: 1, Y: 1, Z: 1}),
				blockDistance(p, geom.Vec{X: 1, Y: 1, Z: 1}, geom.Vec{X: 1, Y: 1, Z: 1}))
		}},
	{"nested", together(blockAt(-2, -2, -2, 2, 2, 2), blockAt(-1, -1, -1, 1, 1, 1)),
		func(p geom.Vec) float64 { return blockDistance(p, geom.Vec{}, geom.Vec{X: 2, Y: 2, Z: 2}) }},
	{"hollow", together(blockAt(-2, -2, -2, 2, 2, 2), turned(blockAt(-1, -1, -1, 1, 1, 1))),
		func(p geom.Vec) float64 {
			return math.Max(blockDistance(p, geom.Vec{}, geom.Vec{X: 2, Y: 2, Z: 2}),
				-blockDistance(p, geom.Vec{}, geom.Vec{X: 1, Y: 1, Z: 1}))
		}},
	{"ball in hollow", together(blockAt(-3, -3, -3, 3, 3, 3), turned(blockAt(-2, -2, -2, 2, 2, 2)), blockAt(-1, -1, -1, 1, 1, 1)),
		func(p geom.Vec) float64 {
			return math.Min(math.Max(blockDistance(p, geom.Vec{}, geom.Vec{X: 3, Y: 3, Z: 3}),
				-blockDistance(p, geom.Vec{}, geom.Vec{X: 2, Y: 2, Z: 2})),
				blockDistance(p, geom.Vec{}, geom.Vec{X: 1, Y: 1, Z: 1}))
		}},
	{"touching along an edge", welded(together(blockAt(-1, -1, -1, 0, 0, 1), blockAt(0, 0, -1, 1, 1, 1))),
		func(p geom.Vec) float64 {
			return math.Min(blockDistance(p, geom.Vec{X: -0.5, Y: -0.5}, geom.Vec{X: 0.5, Y: 0.5, Z: 1}),
				blockDistance(p, geom.Vec{X: 0.5, Y: 0.5}, geom.Vec{X: 0.5, Y: 0.5, Z: 1}))
		}},
	{"touching at a corner", welded(together(blockAt(-1, -1, -1, 0, 0, 0), blockAt(0, 0, 0, 1, 1, 1))),
		func(p geom.Vec) float64 {
			h := geom.Vec{X: 0.5, Y: 0.5, Z: 0.5}
			return math.Min(blockDistance(p, h.Neg(), h), blockDistance(p, h, h))
		}},
	{"with a sheet left over", together(blockAt(-1, -1, -1, 1, 1, 1), &geom.TriMesh{
		Vertices:  []geom.Vec{{X: 1.2, Y: 0.1}, {X: 1.9, Y: 0.2, Z: 0.3}, {X: 1.5, Y: 0.9, Z: 0.7}},
		Triangles: [][3]int32{{0, 1, 2}, {0, 2, 1}},
	}),
		func(p geom.Vec) float64 { return blockDistance(p, geom.Vec{}, geom.Vec{X: 1, Y: 1, Z: 1}) }},
	{"row back to back", welded(together(blockAt(0, 0, 0, 1, 1, 1), blockAt(1, 0, 0, 2, 1, 1), blockAt(2, 0, 0, 6, 1, 1))),
		func(p geom.Vec) float64 {
			h := geom.Vec{X: 0.5, Y: 0.5, Z: 0.5}
			return math.Min(math.Min(blockDistance(p, h, h), blockDistance(p, geom.Vec{X: 1.5, Y: 0.5, Z: 0.5}, h)),
				blockDistance(p, geom.Vec{X: 4, Y: 0.5, Z: 0.5}, geom.Vec{X: 2, Y: 0.5, Z: 0.5}))
		}},
	{"back to back", welded(together(blockAt(-1, -1, -1, 0, 1, 1), blockAt(0, -1, -1, 1, 1, 1))),
		func(p geom.Vec) float64 {
			h := geom.Vec{X: 0.5, Y: 1, Z: 1}
			return math.Min(blockDistance(p, geom.Vec{X: -0.5}, h), blockDistance(p, geom.Vec{X: 0.5}, h))
		}},
}

func TestShells(t *testing.T) {
	for _, c := range shellMeshes {
		t.Run(c.name, func(t *testing.T) {
			s, err := geom.NewMeshSolid(c.mesh)
			if err != nil {
				t.Fatal(err)
			}
			const seed = 15
			r := rand.New(rand.NewPCG(seed, 0))
			around := s.BoundingBox().Grow(1)
			size := around.Size()
			for range 5000 {
				p := around.Min.Add(geom.Vec{X: size.X * r.Float64(), Y: size.Y * r.Float64(), Z: size.Z * r.Float64()})
				if r.IntN(2) == 0 { // onto a lattice that has the faces, edges and diagonals
					p = geom.Vec{X: math.Round(p.X*4) / 4, Y: math.Round(p.Y*4) / 4, Z: math.Round(p.Z*4) / 4}
				}
				got, want := s.Evaluate(p), c.want(p)
				if math.Abs(got-want) > 1e-12 {
					t.Fatalf("seed %d: at %v: got %v, want %v", seed, p, got, want)
				}
			}
			geomtest.CheckSolid(t, s, s.BoundingBox(), seed)
		})
	}
}

// Two blocks that cut through each other, taken as one crossed mesh.
func TestCrossedMeshSolid(t *testing.T) {
	m := together(blockAt(-1, -1, -1, 1, 1, 1), blockAt(0, -0.5, -0.5, 2, 0.5, 0.5))
	s, err := geom.NewCrossedMeshSolid(m)
	if err != nil {
		t.Fatal(err)
	}
	const seed = 16
	r := rand.New(rand.NewPCG(seed, 0))
	for range 2000 {
		p := geom.Vec{X: 4*r.Float64() - 1.5, Y: 3*r.Float64() - 1.5, Z: 3*r.Float64() - 1.5}
		want := math.Min(blockDistance(p, geom.Vec{}, geom.Vec{X: 1, Y: 1, Z: 1}),
			blockDistance(p, geom.Vec{X: 1}, geom.Vec{X: 1, Y: 0.5, Z: 0.5}))
		got := s.Evaluate(p)
		if want > 0 && math.Abs(got-want) > 1e-12 || want < 0 && (got > 0 || got < want-1e-12) {
			t.Fatalf("seed %d: at %v: got %v, want %v or less deep", seed, p, got, want)
		}
	}
	if v := s.Evaluate(geom.Vec{X: 1, Y: 0.1, Z: 0.2}); v >= 0 {
		t.Errorf("on a wall inside: got %v, want below 0", v)
	}
	geomtest.CheckSolid(t, s, s.BoundingBox(), seed)
}

func TestNewMeshSolidErrors(t *testing.T) {
	open := blockAt(0, 0, 0, 1, 1, 1)
	open.Triangles = open.Triangles[1:]
	flipped := blockAt(0, 0, 0, 1, 1, 1)
	flipped.Triangles[4][0], flipped.Triangles[4][1] = flipped.Triangles[4][1], flipped.Triangles[4][0]
	beyond := blockAt(0, 0, 0, 1, 1, 1)
	beyond.Triangles[3][2] = 8
	negative := blockAt(0, 0, 0, 1, 1, 1)
	negative.Triangles[3][2] = -1
	infinite := blockAt(0, 0, 0, 1, 1, 1)
	infinite.Vertices[5].Y = math.Inf(1)
	nan := blockAt(0, 0, 0, 1, 1, 1)
	nan.Vertices[5].Y = math.NaN()
	sheet := &geom.TriMesh{Vertices: blockAt(0, 0, 0, 1, 1, 1).Vertices, Triangles: [][3]int32{{0, 1, 2}, {0, 2, 1}}}
	for _, c := range []struct {
		name string
		mesh *geom.TriMesh
		want string
	}{
		{"nil", nil, "no triangles"},
		{"empty", &geom.TriMesh{}, "no triangles"},
		{"beyond", beyond, "triangle 3 must use vertices 0 to 7, got 8"},
		{"negative", negative, "triangle 3 must use vertices 0 to 7, got -1"},
		{"infinite", infinite, "vertex 5 must be finite"},
		{"nan", nan, "vertex 5 must be finite"},
		{"open", open, "not closed: 3 open edges; first at triangle 0 near (0.5, 0.5, 0) mm"},
		{"flipped", flipped, "not closed: 3 open edges; first at triangle 1 near (0.5, 0, 0) mm"},
		{"inside out", turned(blockAt(0, 0, 0, 1, 2, 3)), "must be above 0 mm³, got -6 mm³"},
		{"no inside", sheet, "mesh encloses no volume"},
		{"collapsed", &geom.TriMesh{Vertices: make([]geom.Vec, 2), Triangles: [][3]int32{{0, 1, 1}}}, "two equal corners"},
		{"hollow outside", together(blockAt(0, 0, 0, 3, 3, 3), blockAt(1, 1, 1, 4, 4, 4), turned(blockAt(8, 8, 8, 9, 9, 9))), "shell of 12 triangles is inside out"},
		{"hollow alone", together(blockAt(0, 0, 0, 3, 3, 3), turned(blockAt(8, 8, 8, 9, 9, 9))), "shell of 12 triangles is inside out"},
	} {
		_, err := geom.NewMeshSolid(c.mesh)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want an error with %q", c.name, err, c.want)
		}
	}
}

// TestFlatTriangles puts flat and collapsed triangles into the edges of a
// block; none of them may change a value.
func TestFlatTriangles(t *testing.T) {
	m := blockAt(-1, -1, -1, 1, 1, 1)
	// Split the edge between corners a and b of the first triangle on one side
	// only and close the slit with a triangle without area.
	mid := int32(len(m.Vertices))
	a, b, c := m.Triangles[4][0], m.Triangles[4][1], m.Triangles[4][2]
	m.Vertices = append(m.Vertices, m.Vertices[a].Lerp(m.Vertices[b], 0.25))
	m.Triangles[4] = [3]int32{a, mid, c}
	m.Triangles = append(m.Triangles, [3]int32{mid, b, c}, [3]int32{a, b, mid}, [3]int32{a, a, b}, [3]int32{c, c, c})
	s, err := geom.NewMeshSolid(m)
	if err != nil {
		t.Fatal(err)
	}
	const seed = 17
	r := rand.New(rand.NewPCG(seed, 0))
	for range 20000 {
		p := geom.Vec{X: 4*r.Float64() - 2, Y: 4*r.Float64() - 2, Z: 4*r.Float64() - 2}
		if want, got := blockDistance(p, geom.Vec{}, geom.Vec{X: 1, Y: 1, Z: 1}), s.Evaluate(p); math.Abs(got-want) > 1e-12 {
			t.Fatalf("seed %d: at %v: got %v, want %v", seed, p, got, want)
		}
	}
	geomtest.CheckSolid(t, s, s.BoundingBox(), seed)
}

package geom_test

import (
	"context"
	"encoding/binary"
	"errors"
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"
	"time"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

// extremes are coordinates that no one means but a file can hold.
var extremes = []float64{0, 5e-324, -5e-324, 2.2e-308, 1e-300, 1e-160, 1e-45, 1e-40, 1e-38, -1e-38, 1e-30, 1e-20, 1e-9,
	1e6, 1e9, -1e9, 1.1e9, 1e12, 1e19, 1e38, 3.5e38, 1e77, -1e154, 1e155, 1e300, math.MaxFloat64, -math.MaxFloat64}

// tryMesh takes a mesh through all that is done with one, and fails the test
// when that panics or goes on after its context has ended.
func tryMesh(t *testing.T, m *geom.TriMesh) {
	t.Helper()
	const patience, mercy = 5 * time.Millisecond, 20 * time.Second // a machine may have better things to do
	within := func(what string, job func(ctx context.Context)) {
		ctx, cancel := context.WithTimeout(context.Background(), patience)
		defer cancel()
		start := time.Now()
		job(ctx)
		if took := time.Since(start); took > mercy {
			t.Errorf("%s took %v, its context ended after %v: %v", what, took, patience, m.Vertices)
		}
	}
	var points []geom.Vec
	for _, c := range m.Triangles {
		points = append(points, m.Vertices[c[0]], m.Vertices[c[1]], m.Vertices[c[2]])
	}
	for _, m := range []*geom.TriMesh{geom.Weld(points), geom.Rounded32(m), m} {
		faults := geom.Audit(m)
		within("mending", func(context.Context) {
			if mended, repairs := geom.Mend(m); len(repairs) > 0 {
				_, _ = geom.NewMeshSolid(mended)
			}
		})
		_, err := geom.NewMeshSolid(m)
		unfit := slices.ContainsFunc(faults, func(f geom.Fault) bool { return f.Rule == geom.TooFar || f.Rule == geom.NotFinite })
		if unfit && err == nil {
			t.Errorf("a solid of a mesh with %v", faults)
		}
	}
	within("looking for crossings", func(ctx context.Context) { _, _ = geom.SelfCrossings(ctx, m, 3) })
	if s, err := geom.NewMeshSolid(m); err == nil {
		within("filling hollows", func(ctx context.Context) { _, _, _ = geom.FillHollows(ctx, m) })
		trySolid(t, s, within)
	}
	if s, err := geom.NewCrossedMeshSolid(m); err == nil {
		trySolid(t, s, within)
	}
}

func trySolid(t *testing.T, s geom.Solid, within func(string, func(context.Context))) {
	box := s.BoundingBox()
	boxes := []geom.Box{box, {}, {Max: geom.Vec{X: 1, Y: 1, Z: 1}}, {Max: geom.Vec{X: 1e-300, Y: 1e-40, Z: 1e300}}}
	for _, b := range boxes {
		for _, p := range []geom.Vec{b.Min, b.Max, b.Centre()} {
			v, n := geom.Gradient(s, p)
			if w := s.Evaluate(p); math.IsNaN(w) || math.IsNaN(v) || math.IsNaN(n.X) {
				t.Errorf("%v at %v, graded %v with %v", w, p, v, n)
			}
		}
		geom.Range(s, b)
		pruned, _ := geom.PruneBySign(s, b)
		for _, s := range []geom.Solid{geom.PruneByValue(s, b), pruned} {
			s.Evaluate(b.Centre())
			geom.SlabOf(s, b)
		}
		geom.Landmarks(s, b, func(geom.Vec) {})
	}
	within("integrating", func(ctx context.Context) { _, _ = geom.Integrate(ctx, s, geom.IntegrateOptions{}) })
	within("meshing", func(ctx context.Context) { _, _ = geom.Mesh(ctx, s, geom.MeshOptions{Tolerance: 0.1}) })
	within("meshing", func(ctx context.Context) {
		floor := geom.Block(geom.Box{Min: geom.Vec{X: -1, Y: -2, Z: -3}, Max: geom.Vec{X: 3, Y: 2, Z: 1}})
		_, _ = geom.Mesh(ctx, geom.Union(s, floor), geom.MeshOptions{Tolerance: 0.1})
	})
	within("cutting", func(ctx context.Context) {
		low, high := geom.Vec2{X: box.Min.X, Y: box.Min.Y}, geom.Vec2{X: box.Max.X, Y: box.Max.Y}
		_, _ = geom.Section(ctx, s, geom.Move(geom.Vec{Z: box.Centre().Z}), low, high, geom.SectionOptions{})
	})
}

// extremeMesh returns a small closed mesh of which corners, or the whole, are
// where no one means them to be.
func extremeMesh(rng *rand.Rand) *geom.TriMesh {
	meshes := []*geom.TriMesh{
		blockAt(-2, -2, -2, 2, 2, 2),
		lumpMesh(3, 5, 7, 0.1),
		together(lumpMesh(3, 4, 6, 0), blockAt(1, 1, 1, 5, 5, 5)),
		ringMesh([][2]float64{{0, 20}, {extremes[rng.Intn(len(extremes))], 20}, {8, 0}, {0, 0}}, 64, 0), // a cone with a cap
	}
	m := meshes[rng.Intn(len(meshes))]
	pick := func() float64 {
		if rng.Intn(4) == 0 {
			for {
				if x := math.Float64frombits(rng.Uint64()); !math.IsNaN(x) && !math.IsInf(x, 0) {
					return x
				}
			}
		}
		return extremes[rng.Intn(len(extremes))]
	}
	k := geom.Vec{X: 1, Y: 1, Z: 1}
	switch rng.Intn(4) {
	case 0:
		x := pick()
		k = geom.Vec{X: x, Y: x, Z: x}
	case 1:
		k = geom.Vec{X: pick(), Y: pick(), Z: 1}
	}
	often := []int{0, 0, 100, 10, 2}[rng.Intn(5)]
	return m.Transform(func(p geom.Vec) geom.Vec {
		q := [3]float64{k.X * p.X, k.Y * p.Y, k.Z * p.Z}
		for i := range q {
			if often > 0 && rng.Intn(often) == 0 {
				q[i] = pick()
			}
			q[i] = math.Max(-math.MaxFloat64, math.Min(math.MaxFloat64, q[i]))
		}
		return geom.Vec{X: q[0], Y: q[1], Z: q[2]}
	}, false)
}

// A plate of next to no thickness is cut into as many cells as any other.
func TestIntegrateThinnest(t *testing.T) {
	for _, thin := range []float64{1e-12, 1e-40} {
		s, err := geom.NewCrossedMeshSolid(blockAt(0, 0, 0, 1e9, 1e9, thin))
		if err != nil {
			t.Fatalf("%g: %v", thin, err)
		}
		ctx, cancel := context.WithTimeout(context.Background(), 5*time.Millisecond)
		if got, err := geom.Integrate(ctx, s, geom.IntegrateOptions{}); err == nil && got.Best > 1.01e18*thin {
			t.Errorf("%g: %v mm³", thin, got.Best)
		}
		cancel()
	}
}

func TestExtremeCoordinates(t *testing.T) {
	const seed = 14
	rng := rand.New(rand.NewSource(seed))
	for range geomtest.Rounds(30, 80) {
		tryMesh(t, extremeMesh(rng))
	}
}

// FuzzExtremeCoordinates has a block's corners anywhere.
func FuzzExtremeCoordinates(f *testing.F) {
	for _, x := range extremes {
		f.Add(uint32(0xffffff), binary.LittleEndian.AppendUint64(nil, math.Float64bits(x)))
		f.Add(uint32(0x0f0f0f), binary.LittleEndian.AppendUint64(nil, math.Float64bits(x)))
	}
	f.Fuzz(func(t *testing.T, which uint32, data []byte) {
		m := blockAt(-2, -2, -2, 2, 2, 2)
		for i := range 24 {
			if which>>i&1 == 0 || len(data) < 8 {
				continue
			}
			x := math.Float64frombits(binary.LittleEndian.Uint64(data))
			if len(data) >= 16 {
				data = data[8:]
			}
			if math.IsNaN(x) || math.IsInf(x, 0) {
				continue
			}
			v := &m.Vertices[i/3]
			*[3]*float64{&v.X, &v.Y, &v.Z}[i%3] *= x
		}
		tryMesh(t, m)
	})
}

// A mesh's numbers are bounded where every use of it begins.
func TestFarVertices(t *testing.T) {
	for _, c := range []struct {
		x    float64
		fits bool
	}{{geom.MostCoordinate, true}, {1.001 * geom.MostCoordinate, false}, {1e38, false}, {math.MaxFloat64, false}} {
		m := blockAt(0, 0, 0, 1, 1, c.x)
		faults := geom.Audit(m)
		far := slices.ContainsFunc(faults, func(f geom.Fault) bool { return f.Rule == geom.TooFar })
		if far == c.fits {
			t.Errorf("%g: %v", c.x, faults)
		}
		_, err := geom.NewMeshSolid(m)
		if (err == nil) != c.fits || err != nil && !strings.Contains(err.Error(), "within 1e+09 mm of the origin") {
			t.Errorf("%g: %v", c.x, err)
		}
		if _, crossed := geom.NewCrossedMeshSolid(m); (crossed == nil) != c.fits {
			t.Errorf("%g: %v", c.x, errors.Unwrap(crossed))
		}
	}
}

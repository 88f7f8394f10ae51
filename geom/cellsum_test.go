package geom

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"
)

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

// The tetrahedron with corners at 0 and 1 on each axis: volume 1/6, ∫x 1/24,
// ∫x² 1/60, ∫xy 1/120 (Dirichlet's integral a!b!c!/(a+b+c+3)!).
func TestMomentsOfATetrahedron(t *testing.T) {
	var m moments
	m.addCone(Vec{X: 1}, Vec{Y: 1}, Vec{Z: 1})
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"volume", m.volume, 1. / 6}, {"∫x", m.first.X, 1. / 24}, {"∫y", m.first.Y, 1. / 24}, {"∫z", m.first.Z, 1. / 24},
		{"∫x²", m.square.X, 1. / 60}, {"∫z²", m.square.Z, 1. / 60}, {"∫yz", m.cross.X, 1. / 120}, {"∫xy", m.cross.Z, 1. / 120},
	} {
		if !near(c.got, c.want, 1e-15) {
			t.Errorf("%s = %.17g, want %.17g", c.name, c.got, c.want)
		}
	}
}

// Moving a region there and back, and the box about its own corner.
func TestMomentsMoved(t *testing.T) {
	m := momentsOfBox(Vec{2, 3, 5})
	about := m.moved(Vec{-1, -1.5, -2.5}) // V(a²/12) about the middle
	if !near(about.square.X, 30*4./12, 1e-12) || !near(about.square.Y, 30*9./12, 1e-12) || !near(about.square.Z, 30*25./12, 1e-12) {
		t.Errorf("second moments about the middle: %v", about.square)
	}
	if about.first.Norm() > 1e-12 || about.cross.Norm() > 1e-12 {
		t.Errorf("a box is even about its middle: %v %v", about.first, about.cross)
	}
}

// One plane: the volume must be that of the closed form; the other moments
// those of the same body cut up.
func TestSheetsOfOnePlane(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 0))
	for i := 0; i < 2000; i++ {
		a := randomIn(rng, Box{Vec{-5, -5, -5}, Vec{5, 5, 5}})
		b := BoxOf(a, a.Add(randomIn(rng, Box{Vec{0.1, 0.1, 0.1}, Vec{3, 3, 3}})))
		n := randomIn(rng, Box{Vec{-1, -1, -1}, Vec{1, 1, 1}}).Unit()
		if i%5 == 0 {
			n = [...]Vec{{X: 1}, {Y: -1}, {Z: 1}, {0.6, 0.8, 0}}[i/5%4]
		}
		l := Slab{N: n, D: n.Dot(randomIn(rng, b))}
		if i%7 == 0 {
			l.D = n.Dot(b.Corner(i % 8))
		}
		h := sheets{slabs: []Slab{l}, holds: 0b10}
		got := h.measure(b, h.slabs, true)
		if want := cutBoxVolume(b, l.N, l.D); !near(got.volume, want, 1e-7*b.Volume()) {
			t.Fatalf("case %d: %.12g, want %.12g; n %v", i, got.volume, want, n)
		}
	}
}

// Whatever planes part a box, what lies on the two sides of a cut through it
// adds up to the whole.
func TestSheetsAddUp(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 0))
	for i := 0; i < 3000; i++ {
		b := Box{Vec{-1, 2, 3}, Vec{1.5, 3, 4.2}}
		h := sheets{holds: uint8(rng.IntN(256))}
		for range 1 + i%3 {
			n := randomIn(rng, Box{Vec{-1, -1, -1}, Vec{1, 1, 1}}).Unit()
			if rng.IntN(3) == 0 {
				n = [...]Vec{{X: 1}, {Y: 1}, {Z: -1}}[rng.IntN(3)]
			}
			h.slabs = append(h.slabs, Slab{N: n, D: n.Dot(randomIn(rng, b))})
		}
		whole := h.measure(b, h.slabs, true)
		low, high := b, b
		k := rng.IntN(3)
		at := b.Min.along(k) + rng.Float64()*(b.Max.along(k)-b.Min.along(k))
		low.Max.setAlong(k, at)
		high.Min.setAlong(k, at)
		sum := moments{}
		area := 0.0
		for _, part := range [2]Box{low, high} {
			c := h.measure(part, h.slabs, true)
			m := c.moved(part.Min.Sub(b.Min))
			sum.add(&m)
			area += c.area
		}
		if !near(sum.volume, whole.volume, 1e-7) || sum.first.Dist(whole.first) > 1e-6 ||
			sum.square.Dist(whole.square) > 1e-6 || sum.cross.Dist(whole.cross) > 1e-6 || !near(area, whole.area, 1e-6) {
			t.Fatalf("case %d, %d planes, holds %08b: whole %+v, parts %+v area %g", i, len(h.slabs), h.holds, whole, sum, area)
		}
	}
}

// The facets of a mesh, cut up by boxes anywhere, must add up to the mesh's own
// volume by the divergence theorem, wherever it stands.
func TestFacetsAddUp(t *testing.T) {
	mesh, err := Mesh(context.Background(), Union(Ball(Vec{}, 3), Capsule(Vec{}, Vec{5, 2, 1}, 1)), MeshOptions{Tolerance: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	solid, err := NewMeshSolid(mesh)
	if err != nil {
		t.Fatal(err)
	}
	var about moments // the origin, of the mesh
	for i := range mesh.Triangles {
		about.addCone(mesh.Corners(i))
	}
	middle := about.first.Mul(1 / about.volume)
	rng := rand.New(rand.NewPCG(5, 0))
	for i := 0; i < 20; i++ {
		place := Rotate(randomIn(rng, Box{Vec{-1, -1, -1}, Vec{1, 1, 1}}), 6*rng.Float64()).Then(Scale(0.5 + rng.Float64())).Then(Move(Vec{rng.Float64(), 2, 3}))
		if i%3 == 0 {
			place = MirrorX().Then(place)
		}
		s := place.Solid(solid)
		want := mesh.Volume() * math.Pow(place.Factor(), 3)
		whole := s.BoundingBox().Grow(0.1)
		sum, cuts := moments{}, [3]float64{rng.Float64(), rng.Float64(), rng.Float64()}
		at := whole.Min.Add(Vec{cuts[0] * whole.Size().X, cuts[1] * whole.Size().Y, cuts[2] * whole.Size().Z})
		for k := range 8 {
			b := BoxOf(whole.Corner(k), at)
			part, _ := PruneBySign(s, b)
			key, ok := ownFacets(part)
			if !ok {
				t.Fatal("a mesh alone has its own facets")
			}
			c, ok := key.measure(part, b, true)
			if !ok {
				t.Fatalf("case %d: corner %v on the surface", i, b.Max)
			}
			if c.loose > 0 {
				t.Fatalf("case %d: corner %v said to be on the surface", i, b.Max)
			}
			m := c.moved(b.Min.Sub(whole.Min))
			sum.add(&m)
			alone, _ := key.measure(part, b, false)
			if !near(alone.volume, c.volume, 1e-10*want) || !near(alone.area, c.area, 1e-9*c.area) {
				t.Errorf("case %d: %.12g mm³, %.12g mm² without moments, %.12g and %.12g with them", i, alone.volume, alone.area, c.volume, c.area)
			}
		}
		if !near(sum.volume, want, 1e-9*want) {
			t.Errorf("case %d: %.12g mm³, want %.12g", i, sum.volume, want)
		}
		if d := sum.first.Mul(1 / sum.volume).Add(whole.Min).Dist(place.Point(middle)); d > 1e-7 {
			t.Errorf("case %d: the centroid is %g mm off", i, d)
		}
	}
}

// A cube whose sides lie in the faces of the cells: each side counts once.
func TestFacetsInTheFacesOfCells(t *testing.T) {
	mesh := &TriMesh{}
	for i := range 8 {
		mesh.Vertices = append(mesh.Vertices, Box{Max: Vec{2, 2, 2}}.Corner(i))
	}
	for _, q := range [6][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		mesh.Triangles = append(mesh.Triangles, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	s, err := NewMeshSolid(mesh)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for i := range 64 {
		lo := Vec{float64(i&3 - 1), float64(i>>2&3 - 1), float64(i>>4 - 1)}
		b := Box{lo, lo.Add(Vec{1, 1, 1})}
		part, r := PruneBySign(s, b)
		if r.settled() {
			continue
		}
		key, ok := ownFacets(part)
		if !ok {
			t.Fatal("a mesh alone has its own facets")
		}
		c, ok := key.measure(part, b, true)
		if !ok {
			t.Fatalf("box %v: corner not told", b)
		}
		want := b.Intersect(Box{Max: Vec{2, 2, 2}}).Volume()
		if !near(c.volume, want, 1e-12+c.loose) {
			t.Errorf("box %v: %.9g mm³, want %g", b, c.volume, want)
		}
		sum += c.volume
	}
	if !near(sum, 8, 3e-5) {
		t.Errorf("in all %.12g mm³, want 8", sum)
	}
}

// saddle is a cup or a saddle over the plane n·p = d, with curvature a along one
// direction in the plane and b along the other, about the point at.
type saddle struct {
	n, at Vec
	a, b  float64
}

func (s saddle) BoundingBox() Box { return everywhere() }
func (s saddle) Evaluate(p Vec) float64 {
	u, v := p.Sub(s.at), s.n.Dot(p.Sub(s.at))
	side := Vec{Y: 1}
	along := side.Cross(s.n)
	return v - s.a*u.Dot(along)*u.Dot(along) - s.b*u.Dot(side)*u.Dot(side)
}

// Over a square of side h about its foot, x² and y² are h²/12 in the mean; h is
// the side of the cube as large as the cell.
func TestMeanPlaneOfQuadratics(t *testing.T) {
	for _, n := range []Vec{{Z: 1}, {X: 1}, {0.6, 0, 0.8}, {0.8, 0, 0.6}, {-0.28, 0, 0.96}} {
		for _, half := range []Vec{{1, 1, 1}, {0.5, 1, 2}} {
			at := Vec{3, -2, 5}
			b := Box{at.Sub(half), at.Add(half)}
			for _, c := range [][2]float64{{0.03, 0}, {0, 0.03}, {0.02, 0.05}, {0.05, -0.05}, {-0.04, 0.01}} {
				s := saddle{n, at, c[0], c[1]}
				l := Slab{N: n, D: n.Dot(at), W: 1}
				want := l.D + (c[0]+c[1])*4/12 // h = 2
				if got := meanPlane(s, b, l); math.Abs(got-want) > 1e-12 {
					t.Errorf("normal %v, half sides %v, curved %v: %.6f, want %.6f", n, half, c, got-l.D, want-l.D)
				}
				l.W = 0.005 // the slab bounds it
				want = l.D + max(-l.W, min(l.W, want-l.D))
				if got := meanPlane(s, b, l); math.Abs(got-want) > 1e-12 {
					t.Errorf("normal %v, thin slab, curved %v: %.6f, want %.6f", n, c, got-l.D, want-l.D)
				}
			}
		}
	}
}

// What is known exactly adds nothing to the error, and counts as often as it is there.
func TestFullCellsAreCertain(t *testing.T) {
	var sum tally
	for i := range 3 {
		var one tally
		one.full(Box{Vec{X: float64(i)}, Vec{float64(i) + 1, 2, 3}})
		sum.add(&one)
	}
	got := sum.integral()
	if got.Best != 18 || got.Cells != 3 || got.Error > 2e-5*18*1.001 || !(got.Lo <= 18 && got.Hi >= 18) || got.Hi-got.Lo > 1e-6 {
		t.Errorf("%+v, want 3 cells of 6 mm³", got)
	}
}

// A cell is taken whole while the slab that holds the surface in it is no thicker
// than twice what is taken as flat.
func TestCellsAreSplitWhileSlabsAreThick(t *testing.T) {
	s, b := Ball(Vec{}, 5), Box{Vec{X: 4.5}, Vec{5.5, 1, 1}}
	slab, ok := SlabOf(s, b)
	if !ok {
		t.Fatal("no slab")
	}
	for _, c := range []struct {
		share float64
		whole bool
	}{{1.001, true}, {0.999, false}, {0.7, false}} {
		var sum tally
		w := integrator{flat: c.share * slab.W, edge: 0.01}
		w.measure(context.Background(), measuredIn(s, b), &sum)
		if whole := sum.cells == 1; whole != c.whole {
			t.Errorf("flat to %g of the slab: %d cells", c.share, sum.cells)
		}
	}
	// A least cell is not split, whatever its slab, but bounded by it.
	var sum tally
	integrator{edge: 1}.measure(context.Background(), measuredIn(s, b), &sum)
	if sum.cells != 1 || sum.hi-sum.lo > 2*slab.W*2 {
		t.Errorf("a least cell: %d cells, from %g to %g mm³", sum.cells, sum.lo, sum.hi)
	}
	// Where not even a slab is known it may be full or empty.
	sum = tally{}
	sum.edge(s, b)
	if sum.cells != 1 || sum.lo != 0 || sum.hi != b.Volume() {
		t.Errorf("a least cell with an edge: %d cells, from %g to %g mm³", sum.cells, sum.lo, sum.hi)
	}
}

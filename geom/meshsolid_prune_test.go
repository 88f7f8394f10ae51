package geom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// lawMeshes are the meshes on which pruning, ranges and slabs are tried: with
// ties (the cube's symmetries), without, with flat regions, with crossings.
func lawMeshes() map[string]*TriMesh {
	return map[string]*TriMesh{
		"cube":      cubeMesh(3, Vec{}),
		"icosphere": icosphere(5, 3),
		"bumpy":     bumpy(icosphere(5, 4), 0.3),
		"coarse":    bumpy(icosphere(5, 1), 0.4),
	}
}

// octant returns one of the eight parts of b.
func octant(b Box, i int) Box {
	c, k := b.Centre(), b.Corner(i)
	return Box{c.Min(k), c.Max(k)}
}

// descend calls visit on a chain of nested boxes about p, from the whole box
// of the solid down to about 0.1 mm, with the solid pruned on the way.
func descend(s Solid, p Vec, visit func(s Solid, b Box)) {
	b := s.BoundingBox().Grow(1)
	for b.HalfDiagonal() > 0.1 {
		c, i := b.Centre(), 0
		if p.X > c.X {
			i |= 1
		}
		if p.Y > c.Y {
			i |= 2
		}
		if p.Z > c.Z {
			i |= 4
		}
		b = octant(b, i)
		s = PruneByValue(s, b)
		visit(s, b)
	}
}

// probes are random points of b and its corners, edge middles and centre,
// where ties are.
func probes(r *rand.Rand, b Box, n int) []Vec {
	var ps []Vec
	c := b.Centre()
	for i := range 27 {
		pick := func(lo, mid, hi float64, i int) float64 { return [3]float64{lo, mid, hi}[i%3] }
		ps = append(ps, Vec{pick(b.Min.X, c.X, b.Max.X, i), pick(b.Min.Y, c.Y, b.Max.Y, i/3), pick(b.Min.Z, c.Z, b.Max.Z, i/9)})
	}
	for range n {
		ps = append(ps, randomIn(r, b))
	}
	return ps
}

func TestPruneByValueIsEqualToTheLastBit(t *testing.T) {
	for name, m := range lawMeshes() {
		t.Run(name, func(t *testing.T) {
			const seed = 12
			r := rand.New(rand.NewPCG(seed, 0))
			whole := mustSolid(t, m)
			for range 100 {
				at := m.Vertices[r.IntN(len(m.Vertices))].Add(randomIn(r, Box{}.Grow(0.1)))
				if r.IntN(3) == 0 {
					at = randomIn(r, whole.BoundingBox())
				}
				descend(whole, at, func(s Solid, b Box) {
					for _, p := range probes(r, b, 10) {
						got, want := s.Evaluate(p), whole.Evaluate(p)
						gotV, gotN := Gradient(s, p)
						wantV, wantN := Gradient(whole, p)
						if got != want || gotV != wantV || gotN != wantN {
							t.Fatalf("seed %d: at %v in %v: got %v %v, want %v %v", seed, p, b, got, gotN, want, wantN)
						}
					}
				})
			}
		})
	}
}

func TestRangeHoldsAndIsTight(t *testing.T) {
	for name, m := range lawMeshes() {
		t.Run(name, func(t *testing.T) {
			const seed = 13
			r := rand.New(rand.NewPCG(seed, 0))
			whole := mustSolid(t, m)
			for range 100 {
				at := m.Vertices[r.IntN(len(m.Vertices))].Add(randomIn(r, Box{}.Grow(0.5)))
				descend(whole, at, func(s Solid, b Box) {
					in, wide := Range(s, b), Range(whole, b)
					// The lower bounds may differ by what each has looked at.
					if (in.Lo > 0) != (wide.Lo > 0) || (in.Hi < 0) != (wide.Hi < 0) {
						t.Fatalf("seed %d: in %v: range %v trimmed, %v whole", seed, b, in, wide)
					}
					for _, p := range probes(r, b, 30) {
						v := whole.Evaluate(p)
						if !in.Contains(v) || !wide.Contains(v) {
							t.Fatalf("seed %d: at %v in %v: value %.17g not in %v or %v", seed, p, b, v, in, wide)
						}
					}
					if in.Lo <= 0 && in.Hi >= 0 && !touches(m, b.Grow(1e-9)) {
						t.Fatalf("seed %d: in %v: range %v, but the surface does not come there", seed, b, in)
					}
				})
			}
		})
	}
}

// touches reports whether a triangle of m has a part in b.
func touches(m *TriMesh, b Box) bool {
	for i := range m.Triangles {
		var t triangle
		t.a, t.b, t.c = m.Corners(i)
		if p := t.clip(&b); p.n > 0 {
			return true
		}
	}
	return false
}

func TestSlabHolds(t *testing.T) {
	for name, m := range lawMeshes() {
		t.Run(name, func(t *testing.T) {
			const seed = 14
			r := rand.New(rand.NewPCG(seed, 0))
			whole := mustSolid(t, m)
			found := 0
			for range 100 {
				at := m.Vertices[r.IntN(len(m.Vertices))].Add(randomIn(r, Box{}.Grow(0.1)))
				descend(whole, at, func(s Solid, b Box) {
					l, ok := SlabOf(s, b)
					if !ok {
						return
					}
					found++
					if math.Abs(l.N.Norm()-1) > 1e-12 || l.W < 0 {
						t.Fatalf("seed %d: in %v: bad slab %+v", seed, b, l)
					}
					for _, p := range probes(r, b, 30) {
						v, x := whole.Evaluate(p), l.N.Dot(p)-l.D
						if x < -l.W && v >= 0 || x > l.W && v <= 0 {
							t.Fatalf("seed %d: at %v in %v: value %g at %g of %+v", seed, p, b, v, x, l)
						}
					}
				})
			}
			if found < 30 {
				t.Errorf("only %d slabs", found)
			}
		})
	}
}

func TestMeshSolidDoesNotAllocate(t *testing.T) {
	s := mustSolid(t, bumpy(icosphere(5, 4), 0.3))
	b := Box{s.mesh.Vertices[7], s.mesh.Vertices[7]}.Grow(0.2)
	small := PruneByValue(s, b)
	for _, s := range []Solid{s, small} {
		if n := testing.AllocsPerRun(20, func() {
			s.Evaluate(b.Max)
			Gradient(s, b.Min)
			Range(s, b)
			SlabOf(s, b)
		}); n != 0 {
			t.Errorf("%T: %g allocations", s, n)
		}
	}
	if n := testing.AllocsPerRun(20, func() { PruneByValue(s, b) }); n > 2 {
		t.Errorf("Trim: %g allocations", n)
	}
}

// BenchmarkMeshSolidPruneByValue walks the octree down to 0.1 mm along the surface and
// tells what a leaf holds and costs.
func BenchmarkMeshSolidPruneByValue(b *testing.B) {
	for _, c := range benchMeshes {
		whole := mustSolid(b, bumpy(icosphere(10, c.splits), 0.2))
		r := rand.New(rand.NewPCG(3, 0))
		b.Run(fmt.Sprint(c.name, "/descent"), func(b *testing.B) {
			b.ReportAllocs()
			triangles, leaves := 0, 0
			for b.Loop() {
				var last Solid
				descend(whole, whole.mesh.Vertices[r.IntN(len(whole.mesh.Vertices))], func(s Solid, _ Box) { last = s })
				if l, ok := last.(*prunedMesh); ok {
					triangles += len(l.list)
					leaves++
				}
			}
			b.ReportMetric(float64(triangles)/float64(leaves), "triangles/leaf")
		})
		for _, ask := range []struct {
			name string
			of   func(s Solid, b Box)
		}{
			{"Evaluate", func(s Solid, b Box) { s.Evaluate(b.Max) }},
			{"Range", func(s Solid, b Box) { Range(s, b) }},
			{"Slab", func(s Solid, b Box) { SlabOf(s, b) }},
		} {
			var solids []Solid
			var boxes []Box
			for range 512 {
				var s Solid
				var box Box
				descend(whole, whole.mesh.Vertices[r.IntN(len(whole.mesh.Vertices))], func(t Solid, b Box) { s, box = t, b })
				solids, boxes = append(solids, s), append(boxes, box)
			}
			b.Run(c.name+"/"+ask.name, func(b *testing.B) {
				i := 0
				for b.Loop() {
					ask.of(solids[i&511], boxes[i&511])
					i++
				}
			})
		}
	}
}

// The ball of a listed triangle holds it and is no larger than it must be about the
// triangle's middle, wherever that is.
func TestBallAboutATriangle(t *testing.T) {
	for _, at := range []Vec{{}, {7, -3, 20}} {
		// Corners 5 and 4 from the middle, which is 5 of 3-4-5 from the third.
		tri := triangle{at.Add(Vec{3, 4, 0}), at.Add(Vec{1, -4, 0}), at.Add(Vec{-4, 0, 0})}
		n := ballOf(&tri)
		if middle := (Vec{float64(n.x), float64(n.y), float64(n.z)}); middle != at || math.Abs(float64(n.r)-5) > 1e-5 {
			t.Errorf("ball of %g about %v, want 5 about %v", n.r, middle, at)
		}
		for _, p := range [3]Vec{tri.a, tri.b, tri.c} {
			if n.beyond(p, 0) {
				t.Errorf("corner %v is not in the ball of %g about %v", p, n.r, at)
			}
		}
	}
}

// The list of a pruned mesh goes by distance and, of triangles as near as each
// other, by number, in whichever order they were found.
func TestListOfAPrunedMeshHasOneOrder(t *testing.T) {
	s := mustSolid(t, icosphere(5, 2))
	ties := 0
	for range 2 {
		b := Box{Vec{-0.5, -0.5, 4.5}, Vec{0.5, 0.5, 5.5}} // about a point of symmetry
		part, ok := PruneByValue(s, b).(*prunedMesh)
		if !ok {
			t.Fatal("the mesh is not pruned")
		}
		for i := 1; i < len(part.list); i++ {
			x, y := part.list[i-1], part.list[i]
			if x.from == y.from {
				ties++
			}
			if x.from > y.from || x.from == y.from && x.slot > y.slot {
				t.Errorf("triangle %d at %g comes before %d at %g", x.slot, x.from, y.slot, y.from)
			}
		}
	}
	if ties == 0 {
		t.Error("no two triangles are as near as each other")
	}
}

// Beside the surface, inside and out, the interval holds the value at each corner of the
// box, of the whole mesh and of a part of it.
func TestPruneBySignHoldsTheValuesOfAMesh(t *testing.T) {
	whole := mustSolid(t, cubeMesh(3, Vec{}))
	part := PruneByValue(whole, Box{Vec{2, -1, -1}, Vec{4, 1, 1}})
	if _, ok := part.(*prunedMesh); !ok {
		t.Fatal("the mesh is not pruned")
	}
	for name, s := range map[string]Solid{"whole": whole, "part": part} {
		for x, want := range map[float64]int{2.2: -1, 3.8: 1, 3: 0} {
			at := Vec{x, 0.1, 0.2}
			b := Box{at, at}.Grow(0.2)
			_, r := PruneBySign(s, b)
			if r.Sign() != want {
				t.Errorf("%s, about x = %g: %v", name, x, r)
			}
			for i := range 8 {
				if v := s.Evaluate(b.Corner(i)); v < r.Lo-1e-9 || v > r.Hi+1e-9 {
					t.Errorf("%s, about x = %g: %g is not in %v", name, x, v, r)
				}
			}
		}
	}
}

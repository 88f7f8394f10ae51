package geom

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Triangles that a wobble could bring to meet are not clearly apart.
func TestClearlyApartAllowsForWobble(t *testing.T) {
	const seed = 12
	rng := rand.New(rand.NewPCG(seed, 0))
	hits := map[bool]int{}
	vec := func() Vec { return Vec{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()} }
	for round := range 6000 {
		shared := rng.IntN(3)
		off := math.Exp(3 * rng.NormFloat64())
		p := [3]Vec{vec(), vec(), vec()}
		q := [3]Vec{vec(), vec(), vec()}
		for i := range q { // near p, or nearly flat about an edge
			q[i] = p[i].Add(vec().Mul(off))
		}
		copy(q[:shared], p[:shared])
		wobble := 0.1 * rng.Float64()
		way := BoxOf(q[:]...).Centre().Sub(BoxOf(p[:]...).Centre()).Unit().Mul(wobble)
		apart := clearlyApart(&p, &q, shared, wobble)
		hits[apart]++
		for try := range 20 {
			a, b := p, q
			for i := range 3 {
				a[i], b[i] = p[i].Add(way), q[i].Sub(way) // towards each other
				if try > 0 {
					a[i], b[i] = p[i].Add(vec().Unit().Mul(wobble)), q[i].Add(vec().Unit().Mul(wobble))
				}
			}
			copy(b[:shared], a[:shared])
			_, crosses := trianglesCross(a, b)
			// Folded beyond a right angle, they may be flat at a wobble in between.
			folds := shared == 2 && a[1].Sub(a[0]).Cross(a[2].Sub(a[0])).Dot(a[1].Sub(a[0]).Cross(b[2].Sub(a[0]))) > 0
			if apart && (crosses || folds) {
				t.Fatalf("seed %d, round %d: %v and %v may meet at a wobble of %g mm", seed, round, p, q, wobble)
			}
		}
	}
	if hits[true] < 400 || hits[false] < 400 {
		t.Errorf("%v: the cases are not mixed", hits)
	}
}

// One above the other at a distance that wobbling takes up, and at a little more.
func TestClearlyApartAllowsForWobbleOfParallels(t *testing.T) {
	p := [3]Vec{{}, {X: 1}, {Y: 1}}
	for high, want := range map[float64]bool{0.199: false, 0.201: true} {
		q := [3]Vec{{Z: high}, {X: 1, Z: high}, {Y: 1, Z: high}}
		if got := clearlyApart(&p, &q, 0, 0.1); got != want {
			t.Errorf("%g mm: %v", high, got)
		}
	}
}

// keptSurface is a mesh as its own surface: the first facets whole, the others as if put
// together again of pieces.
func keptSurface(t *testing.T, m *TriMesh, whole int, to Transform) (*surface, *simplified) {
	t.Helper()
	body, err := newMeshBody(m)
	if err != nil {
		t.Fatal(err)
	}
	set := newFacets(facetKey{body: body, to: to})
	f := &facetLeaf{set: set}
	k := &surface{sampled: &TriMesh{Vertices: set.at}, sets: []*facets{set}, whole: []*facetLeaf{f}}
	for v := range set.at {
		k.corner = append(k.corner, int32(v)+1)
	}
	for i, tri := range m.Triangles {
		if i < whole {
			f.whole = append(f.whole, int32(i))
			continue
		}
		k.facet = append(k.facet, int32(i))
		k.sampled.Triangles = append(k.sampled.Triangles, [3]int32{tri[1], tri[2], tri[0]})
	}
	out, err := simplify(context.Background(), k.sampled, make([]bool, len(k.facet)), 0, false)
	if err != nil {
		t.Fatal(err)
	}
	for v, p := range out.Vertices {
		out.Vertices[v] = p.rounded32()
	}
	return k, out
}

// crossingsIn are those that a surface finds, and those of all its triangles.
func crossingsIn(t *testing.T, k *surface, out *simplified) (found, all []Crossing) {
	t.Helper()
	drawn := k.joined(out)
	m, start, err := k.complete(context.Background(), drawn, 1)
	if err != nil {
		t.Fatal(err)
	}
	if found, err = k.crossings(context.Background(), m, drawn, start, nil, drawn.openEdges()); err != nil {
		t.Fatal(err)
	}
	return found, crossings(t, m, mostCrossings)
}

// Two bodies so near that after rounding far away one is upon the other are found though
// their facets are of one mesh. Where rounding is finer they are not.
func TestKeptFacetsThatRoundingMakesCrossAreFound(t *testing.T) {
	for _, c := range []struct {
		gap, far float64 // mm
		closes   bool
	}{{4e-6, 0, false}, {4e-6, 200, true}, {2.2 * wobble, 3000, true}} {
		m := &TriMesh{}
		tetrahedronAt(m, Vec{}, 8)
		m = m.Transform(func(p Vec) Vec { return Vec{p.X - 1, 1 - p.Y, -p.Z} }, false)
		tetrahedronAt(m, Vec{Y: -0.5, Z: c.gap}, 1)
		for _, whole := range []int{0, 5, len(m.Triangles)} {
			k, out := keptSurface(t, m, whole, Move(Vec{c.far, c.far, c.far}))
			found, all := crossingsIn(t, k, out)
			if len(all) > 0 != c.closes || len(found) != len(all) {
				t.Errorf("%+v, %d whole: found %v of %v", c, whole, found, all)
			}
		}
	}
}

// What is drawn through whole facets is found, and so is a facet that is there twice.
func TestCrossingsWithKeptFacetsAreFound(t *testing.T) {
	ball := icosphere(5, 3)
	for _, whole := range []int{0, 300, len(ball.Triangles) - 1} {
		k, out := keptSurface(t, ball, whole, Identity())
		if found, all := crossingsIn(t, k, out); len(found) > 0 || len(all) > 0 {
			t.Fatalf("%d whole: %v", whole, found)
		}
		// A corner of the last facet goes to the far side.
		v := out.Triangles[len(out.Triangles)-1][0]
		out.Vertices[v] = out.Vertices[v].Mul(-1.5)
		k.corner[slices.Index(out.number, v)] = 0
		if found, all := crossingsIn(t, k, out); len(found) == 0 || len(found) != len(all) {
			t.Errorf("%d whole: found %d of %d crossings", whole, len(found), len(all))
		}
	}
	k, out := keptSurface(t, ball, 300, Identity())
	if got := k.joined(out).facetAgain(k.sets[0], 979); got != 1279 {
		t.Errorf("the last facet is %d again", got)
	}
	out.Triangles[979][0] = out.Triangles[0][0]
	if got := k.joined(out).facetAgain(k.sets[0], 979); got != -1 {
		t.Errorf("what is between other corners is %d again", got)
	}
	k, out = keptSurface(t, ball, 300, Identity())
	if known, err := k.sets[0].body.knownCrossings(context.Background()); err != nil || known.many || len(known.close) > 0 {
		t.Errorf("of a ball %d pairs are close, %v", len(known.close), err)
	}
	k.whole[0].whole = append(k.whole[0].whole, 700)
	if found, _ := crossingsIn(t, k, out); !slices.ContainsFunc(found, func(c Crossing) bool { return c.Shared == 3 }) {
		t.Errorf("a facet that is there twice: %v", found)
	}
}

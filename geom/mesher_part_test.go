package geom_test

import (
	"context"
	"math"
	"math/rand"
	"slices"
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
	for _, tol := range []float64{0.05, 0.1}[:geomtest.Rounds(1, 2)] {
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

// Where two loops in one cell make the mesh cross itself, the cell is split; where
// rounding to the 32 bits of a file does, the mesh is thinned less there.
func TestMeshMendsWhereItCrossesItself(t *testing.T) {
	for _, c := range []struct {
		seed         int64
		partTol, tol float64
		crossed      geom.Vec
	}{
		{6, 0.1, 0.02, geom.Vec{X: -36.9, Y: -4, Z: 4.6}},
		{10, 0.1, 0.05, geom.Vec{X: 31.84, Y: 25.05, Z: 5.74}}, // by rounding
	} {
		frame, _, _ := placedPart(t, c.seed, c.partTol)
		wire := geom.Capsule(geom.Vec{X: -60}, geom.Vec{X: 90, Y: 20}, 0.6)
		all := frame.BoundingBox().Union(geom.Intersect(geom.HalfSpace(geom.Vec{Z: -1}, 0.2), wire).BoundingBox())
		near := geom.Box{Min: c.crossed, Max: c.crossed}.Grow(2)
		// Blocks in two corners keep the cells where they are.
		solid := geom.Union(geom.Intersect(frame, geom.Block(near)),
			geom.Block(geom.Box{Min: all.Min, Max: all.Min.Add(geom.Vec{X: 1, Y: 1, Z: 1})}),
			geom.Block(geom.Box{Min: all.Max.Sub(geom.Vec{X: 1, Y: 1, Z: 1}), Max: all.Max}))
		m, err := geom.Mesh(context.Background(), solid, geom.MeshOptions{Tolerance: c.tol})
		if err != nil {
			t.Fatal(err)
		}
		geomtest.CheckMesh(t, m)
	}
}

// Blades of a part, sharper than its slabs are thin, run through cells of which no
// corner shows them: the mesh reaches their edges all along.
func TestMeshReachesSharpEdges(t *testing.T) {
	const tol = 0.02
	frame, m, place := placedPart(t, 14, 0.1)
	got, err := geom.Mesh(context.Background(), frame, geom.MeshOptions{Tolerance: tol})
	if err != nil {
		t.Fatal(err)
	}
	surface := meshSolid(t, got)
	looked, off, worst, at := 0, 0, 0.0, geom.Vec{}
	for _, e := range sharpEdgesOf(m) {
		p, q := place.Point(m.Vertices[e[0]]), place.Point(m.Vertices[e[1]])
		n := math.Ceil(p.Dist(q) / tol)
		for i := range int(n) {
			x := p.Lerp(q, (float64(i)+0.5)/n)
			if x.Z < 0 || math.Abs(frame.Evaluate(x)) > 1e-6 {
				continue
			}
			d := math.Abs(surface.Evaluate(x))
			if looked++; d > tol {
				off++
			}
			if d > worst {
				worst, at = d, x
			}
		}
	}
	if looked < 1000 || off > 0 {
		t.Errorf("of %d points on edges %d are off, the worst by %.4f mm at %v, at most %g mm is fine", looked, off, worst, at, tol)
	}
}

// sharpEdgesOf lists the edges at which a mesh turns by more than 60°.
func sharpEdgesOf(m *geom.TriMesh) (list [][2]int32) {
	normal := func(t int) geom.Vec {
		a, b, c := m.Corners(t)
		return b.Sub(a).Cross(c.Sub(a)).Unit()
	}
	of := map[[2]int32]int{}
	for t, f := range m.Triangles {
		for k := range 3 {
			a, b := f[k], f[(k+1)%3]
			if u, ok := of[[2]int32{b, a}]; ok && normal(t).Dot(normal(u)) < 0.5 {
				list = append(list, [2]int32{a, b})
			}
			of[[2]int32{a, b}] = t
		}
	}
	return list
}

// The mesh reaches the tip of a needle on a block, unless that is so thin that no cell
// shows it; then what it misses is thin.
func TestMeshReachesTheTipOfANeedle(t *testing.T) {
	const tol, edge = 0.02, 8.0
	block := geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -4, Y: -4, Z: -4}, Max: geom.Vec{X: 4, Y: 4, Z: 4}})
	top := slices.IndexFunc(block.Triangles, func(f [3]int32) bool {
		return block.Vertices[f[0]].Z > 0 && block.Vertices[f[1]].Z > 0 && block.Vertices[f[2]].Z > 0
	})
	a, b, c := block.Corners(top)
	tip := a.Add(b).Add(c).Mul(1.0 / 3).Add(geom.Vec{X: 0.002, Y: 0.003, Z: 0.07})
	for _, n := range []struct {
		thick float64
		thin  bool
	}{{0.0006, true}, {0.03, false}} {
		s := meshSolid(t, geomtest.WithNeedle(block, top, n.thick/edge, tip))
		got, err := geom.Mesh(context.Background(), s, geom.MeshOptions{Tolerance: tol})
		if err != nil {
			t.Fatal(err)
		}
		geomtest.CheckMesh(t, got)
		surface := meshSolid(t, got)
		d := math.Abs(surface.Evaluate(tip))
		if thin := d > tol && geom.OnlyThinMissed(s, surface, tip, geom.ThinShare*tol); thin != n.thin || d > tol != thin {
			t.Errorf("needle of %g mm: its tip is %.4f mm from the mesh, only thin: %v", n.thick, d, thin)
		}
	}
}

// What is missed is as thick as the needle that it is: a blunt one, a thin one, a
// slit; a point off the surface is no part of it.
func TestOnlyThinMissed(t *testing.T) {
	block := geom.Block(geom.Box{Min: geom.Vec{X: -4, Y: -4, Z: -4}, Max: geom.Vec{X: 4, Y: 4}})
	wall := func(thick float64) geom.Solid {
		return geom.Block(geom.Box{Min: geom.Vec{X: -thick / 2, Y: -1, Z: -1}, Max: geom.Vec{X: thick / 2, Y: 1, Z: 0.1}})
	}
	slit := geom.Rotate(geom.Vec{X: 1}, math.Pi).Solid(wall(0.0008))
	const thickness = 0.003
	for _, c := range []struct {
		name string
		s    geom.Solid
		p    geom.Vec
		thin bool
	}{
		{"thin fin", geom.Union(block, wall(0.0008)), geom.Vec{Z: 0.1}, true},
		{"thick fin", geom.Union(block, wall(0.006)), geom.Vec{Z: 0.1}, false},
		{"slit", geom.Subtract(block, slit), geom.Vec{Z: -0.1}, true},
		{"off the surface", geom.Union(block, wall(0.0008)), geom.Vec{Z: 0.12}, false},
	} {
		if got := geom.OnlyThinMissed(c.s, block, c.p, thickness); got != c.thin {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

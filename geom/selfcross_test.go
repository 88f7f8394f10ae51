package geom

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"reflect"
	"runtime"
	"testing"
)

func TestTrianglesCross(t *testing.T) {
	o, x, y := Vec{}, Vec{X: 4}, Vec{Y: 4}
	flat := [3]Vec{o, x, y}
	for _, tt := range []struct {
		name   string
		q      [3]Vec
		shared int
		want   bool
	}{
		{"apart", [3]Vec{{5, 5, 0}, {6, 5, 1}, {5, 6, 2}}, 0, false},
		{"above", [3]Vec{{1, 1, 1}, {2, 1, 1}, {1, 2, 1}}, 0, false},
		{"plane cut, triangle missed", [3]Vec{{5, 5, -1}, {5, 5, 1}, {6, 6, 0}}, 0, false},
		{"pierced", [3]Vec{{1, 1, -1}, {1, 1, 1}, {9, 9, 0}}, 0, true},
		{"touched by a corner", [3]Vec{{1, 1, 0}, {1, 1, 1}, {2, 2, 1}}, 0, true},
		{"touched on its edge", [3]Vec{{2, 2, 0}, {3, 3, 1}, {3, 4, 1}}, 0, true},
		{"edge in the plane, inside", [3]Vec{{1, 1, 0}, {2, 1, 0}, {1, 1, 1}}, 0, true},
		{"edge in the plane, outside", [3]Vec{{5, 1, 0}, {9, 1, 0}, {5, 1, 1}}, 0, false},
		{"in one plane, apart", [3]Vec{{5, 5, 0}, {6, 5, 0}, {5, 6, 0}}, 0, false},
		{"in one plane, inside", [3]Vec{{1, 1, 0}, {2, 1, 0}, {1, 2, 0}}, 0, true},
		{"in one plane, around", [3]Vec{{-9, -9, 0}, {30, -9, 0}, {-9, 30, 0}}, 0, true},
		{"in one plane, star", [3]Vec{{-1, 1, 0}, {3, -1, 0}, {3, 3, 0}}, 0, true},
		{"in one plane, edges touch", [3]Vec{{1, 0, 0}, {3, 0, 0}, {2, -2, 0}}, 0, true},

		{"common corner only", [3]Vec{o, {-1, -1, 1}, {-1, 0, 1}}, 1, false},
		{"common corner, one plane", [3]Vec{o, {-1, -1, 0}, {-1, 0, 0}}, 1, false},
		{"common corner, sectors touch", [3]Vec{o, {2, 0, 0}, {1, -1, 0}}, 1, true},
		{"common corner, sectors overlap", [3]Vec{o, {1, 2, 0}, {2, -1, 0}}, 1, true},
		{"common corner, cut along a line from it", [3]Vec{o, {1, 1, -1}, {1, 1, 1}}, 1, true},
		{"common corner, other side rests on it", [3]Vec{o, {1, 1, 0}, {1, 1, 1}}, 1, true},

		{"common edge, a roof", [3]Vec{o, x, {0, 0, 3}}, 2, false},
		{"common edge, spread flat", [3]Vec{o, x, {1, -1, 0}}, 2, false},
		{"common edge, folded flat", [3]Vec{o, x, {1, 1, 0}}, 2, true},
		{"common edge, folded but for the last bit", [3]Vec{o, x, {1, 1, 5e-324}}, 2, false},
		{"the same", [3]Vec{y, o, x}, 3, true},
		{"the same, turned over", [3]Vec{x, o, y}, 3, true},
	} {
		for turn := range 24 { // of the corners, the order and the axes
			p, q := flat, tt.q
			for range turn % 3 {
				p = [3]Vec{p[1], p[2], p[0]}
				q = [3]Vec{q[2], q[0], q[1]}
			}
			if turn/3%2 == 1 {
				q[0], q[1] = q[1], q[0]
			}
			for range turn / 6 % 2 {
				for i := range 3 {
					p[i] = Vec{p[i].Y, p[i].Z, p[i].X}
					q[i] = Vec{q[i].Y, q[i].Z, q[i].X}
				}
			}
			if turn/12 == 1 {
				p, q = q, p
			}
			shared, got := trianglesCross(p, q)
			if shared != tt.shared || got != tt.want {
				t.Errorf("%s, turn %d: got %d, %v, want %d, %v", tt.name, turn, shared, got, tt.shared, tt.want)
			}
		}
	}
}

type ratVec [3]*big.Rat

func ratOf(p Vec) ratVec {
	return ratVec{new(big.Rat).SetFloat64(p.X), new(big.Rat).SetFloat64(p.Y), new(big.Rat).SetFloat64(p.Z)}
}

func (a ratVec) sub(b ratVec) (c ratVec) {
	for i := range c {
		c[i] = new(big.Rat).Sub(a[i], b[i])
	}
	return c
}

func (a ratVec) dot(b ratVec) *big.Rat {
	s := new(big.Rat)
	for i := range a {
		s.Add(s, new(big.Rat).Mul(a[i], b[i]))
	}
	return s
}

func (a ratVec) cross(b ratVec) (c ratVec) {
	for i := range c {
		j, k := (i+1)%3, (i+2)%3
		c[i] = new(big.Rat).Sub(new(big.Rat).Mul(a[j], b[k]), new(big.Rat).Mul(a[k], b[j]))
	}
	return c
}

// ratClip keeps of a convex polygon the part with n·(x-o) >= 0.
func ratClip(poly []ratVec, n, o ratVec) (out []ratVec) {
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		dp, dq := n.dot(p.sub(o)), n.dot(q.sub(o))
		if dp.Sign() >= 0 {
			out = append(out, p)
		}
		if dp.Sign()*dq.Sign() < 0 {
			s := new(big.Rat).Quo(dp, new(big.Rat).Sub(dp, dq))
			var cut ratVec
			for k := range cut {
				cut[k] = new(big.Rat).Sub(q[k], p[k])
				cut[k].Add(p[k], cut[k].Mul(cut[k], s))
			}
			out = append(out, cut)
		}
	}
	return out
}

// ratCross answers the question of trianglesCross another way: it cuts p
// down to what lies in q, in rational numbers, and looks for a point of it
// that is not on what they share.
func ratCross(p, q [3]Vec) (shared int, crosses bool) {
	var common []ratVec
	for _, a := range p {
		for _, b := range q {
			if a == b {
				common = append(common, ratOf(a))
			}
		}
	}
	corners := [3]ratVec{ratOf(q[0]), ratOf(q[1]), ratOf(q[2])}
	n := corners[1].sub(corners[0]).cross(corners[2].sub(corners[0]))
	poly := []ratVec{ratOf(p[0]), ratOf(p[1]), ratOf(p[2])}
	poly = ratClip(poly, n, corners[0])
	poly = ratClip(poly, ratVec{}.neg(n), corners[0])
	for i := range corners {
		poly = ratClip(poly, n.cross(corners[(i+1)%3].sub(corners[i])), corners[i])
	}
	for _, v := range poly {
		switch len(common) {
		case 0, 3:
			return len(common), true
		case 1:
			if d := v.sub(common[0]); d.dot(d).Sign() != 0 {
				return 1, true
			}
		case 2:
			if c := v.sub(common[0]).cross(common[1].sub(common[0])); c.dot(c).Sign() != 0 {
				return 2, true
			}
		}
	}
	return len(common), false
}

func (ratVec) neg(a ratVec) ratVec {
	zero := ratOf(Vec{})
	return zero.sub(a)
}

// Corners on a coarse lattice give every kind of touch and overlap; a shift
// that rounds breaks the ties by the last bit.
func TestTrianglesCrossAgreesWithClipping(t *testing.T) {
	const seed = 77
	rng := rand.New(rand.NewPCG(seed, 0))
	var hits [4][2]int
	for round := range 6000 {
		side := 2 + rng.IntN(4)
		shift, scale := Vec{}, 1.0
		if rng.IntN(3) == 0 {
			shift, scale = Vec{rng.Float64(), rng.Float64(), rng.Float64()}, 0.1
		}
		corner := func() Vec {
			return Vec{float64(rng.IntN(side)), float64(rng.IntN(side)), float64(rng.IntN(1 + side/2))}.Mul(scale).Add(shift)
		}
		var p, q [3]Vec
		for i := range 3 {
			p[i], q[i] = corner(), corner()
		}
		for i := range rng.IntN(3) {
			q[i] = p[(i+rng.IntN(2)*2)%3]
		}
		_, okP := seenAlong(p[0], p[1], p[2])
		_, okQ := seenAlong(q[0], q[1], q[2])
		if !okP || !okQ {
			continue
		}
		wantShared, want := ratCross(p, q)
		shared, got := trianglesCross(p, q)
		if shared != wantShared || got != want {
			t.Fatalf("seed %d, round %d: %v %v: got %d, %v, want %d, %v", seed, round, p, q, shared, got, wantShared, want)
		}
		if got {
			hits[shared][1]++
		} else {
			hits[shared][0]++
		}
	}
	for shared, n := range hits[:3] {
		if n[0] < 50 || n[1] < 50 {
			t.Errorf("%d shared: %d apart, %d crossing: the cases are not mixed", shared, n[0], n[1])
		}
	}
}

// Triangles that touch but for some last bits, or overlap by as much, far from the
// origin and slender too: none that meet are called clearly apart.
func TestClearlyApartIsSure(t *testing.T) {
	const seed = 31
	rng := rand.New(rand.NewPCG(seed, 0))
	hits := map[bool]int{}
	for round := range 1500 {
		far := Vec{rng.Float64(), rng.Float64(), rng.Float64()}.Mul(math.Exp(6 * rng.NormFloat64()))
		wide := math.Exp(4 * rng.NormFloat64())
		corner := func() Vec {
			return Vec{rng.NormFloat64(), rng.NormFloat64(), wide * rng.NormFloat64()}
		}
		p := [3]Vec{corner(), corner(), corner()}
		on := p[0].Lerp(p[1], rng.Float64()).Lerp(p[2], rng.Float64())
		q := [3]Vec{on, on.Add(corner()), on.Add(corner())}
		if rng.IntN(2) == 0 { // in one plane, but for rounding
			for i := 1; i < 3; i++ {
				q[i] = on.Add(p[1].Sub(p[0]).Mul(rng.NormFloat64())).Add(p[2].Sub(p[0]).Mul(rng.NormFloat64()))
			}
		}
		for i := range 3 {
			p[i], q[i] = p[i].Add(far), q[i].Add(far)
			for range rng.IntN(4) {
				q[i].X = math.Nextafter(q[i].X, math.Inf(rng.IntN(2)*2-1))
			}
		}
		shared := rng.IntN(3)
		copy(q[:shared], p[:shared])
		apart := clearlyApart(&p, &q, shared, 0)
		if _, cross := ratCross(p, q); cross && apart {
			t.Fatalf("seed %d, round %d: %v and %v meet", seed, round, p, q)
		}
		hits[apart]++
	}
	if hits[true] < 100 || hits[false] < 100 {
		t.Errorf("%v: the cases are not mixed", hits)
	}
}

// In a flat plate out of square with the axes the exact test would need many digits.
func TestNeighboursInAPlateAreClearlyApart(t *testing.T) {
	m := tiltedPlate(20)
	for a := range m.Triangles {
		for b := range a {
			var p, q [3]Vec
			shared := 0
			for _, v := range m.Triangles[a] {
				for _, w := range m.Triangles[b] {
					if v == w {
						p[shared], q[shared] = m.Vertices[v], m.Vertices[v]
						shared++
					}
				}
			}
			i, j := shared, shared
			for k := range 3 {
				if v := m.Triangles[a][k]; v != m.Triangles[b][0] && v != m.Triangles[b][1] && v != m.Triangles[b][2] {
					p[i] = m.Vertices[v]
					i++
				}
				if w := m.Triangles[b][k]; w != m.Triangles[a][0] && w != m.Triangles[a][1] && w != m.Triangles[a][2] {
					q[j] = m.Vertices[w]
					j++
				}
			}
			if !clearlyApart(&p, &q, shared, 0) {
				t.Fatalf("triangles %v and %v, %d corners shared", p, q, shared)
			}
		}
	}
}

// tiltedPlate is flat but for rounding.
func tiltedPlate(side int) *TriMesh {
	plate := &TriMesh{}
	for i := range side * side {
		x, y := float64(i%side)*0.1, float64(i/side)*0.1
		plate.Vertices = append(plate.Vertices, Vec{x, y, 0.3*x + 0.7*y})
		if n, row := int32(i), int32(side); i%side > 0 && i/side > 0 {
			plate.Triangles = append(plate.Triangles, [3]int32{n - row - 1, n - row, n}, [3]int32{n - row - 1, n, n - 1})
		}
	}
	return plate
}

func crossings(t testing.TB, m *TriMesh, limit int) []Crossing {
	t.Helper()
	found, err := SelfCrossings(context.Background(), m, limit)
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func TestSelfCrossingsAgreesWithAllPairs(t *testing.T) {
	const seed = 8
	rng := rand.New(rand.NewPCG(seed, 0))
	for round := range 40 {
		m := &TriMesh{}
		for range 3 * (1 + rng.IntN(120)) {
			m.Vertices = append(m.Vertices, Vec{float64(rng.IntN(12)), float64(rng.IntN(12)), float64(rng.IntN(12))})
		}
		for range len(m.Vertices) / 3 {
			i, j := rng.IntN(len(m.Vertices)), rng.IntN(len(m.Vertices))
			m.Triangles = append(m.Triangles, [3]int32{int32(i), int32(j), int32(rng.IntN(len(m.Vertices)))})
		}
		var want [][3]int
		for a := range m.Triangles {
			for b := a + 1; b < len(m.Triangles); b++ {
				var p, q [3]Vec
				p[0], p[1], p[2] = m.Corners(a)
				q[0], q[1], q[2] = m.Corners(b)
				_, okP := seenAlong(p[0], p[1], p[2])
				_, okQ := seenAlong(q[0], q[1], q[2])
				if shared, cross := trianglesCross(p, q); cross && okP && okQ {
					want = append(want, [3]int{a, b, shared})
				}
			}
		}
		var got [][3]int
		for _, c := range crossings(t, m, 0) {
			got = append(got, [3]int{c.A, c.B, c.Shared})
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("seed %d, round %d: got %v, want %v", seed, round, got, want)
		}
	}
}

func TestSelfCrossingsOnMeshes(t *testing.T) {
	for _, tt := range []struct {
		name  string
		mesh  *TriMesh
		cross bool
	}{
		{"nothing", &TriMesh{}, false},
		{"ball", auditBall(5, 40, 21), false},
		{"cube", auditCube(0, 0, 0, 2), false},
		{"balls that overlap", auditJoin(auditBall(5, 20, 11), auditBall(5, 20, 11).Transform(func(p Vec) Vec { return p.Add(Vec{X: 9}) }, false)), true},
		{"a cube within a cube", auditJoin(auditCube(0, 0, 0, 4), auditCube(1, 1, 1, 1)), false},
		{"cubes with a common face", auditJoin(auditCube(0, 0, 0, 2), auditCube(2, 0, 0, 2)), true},
		{"cubes with a common corner", auditJoin(auditCube(0, 0, 0, 2), auditCube(2, 2, 2, 2)), false},
		{"a vertex pulled through", func() *TriMesh {
			m := auditBall(5, 12, 7)
			m.Vertices[0].Z = -20
			return m
		}(), true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if got := crossings(t, tt.mesh, 0); (len(got) > 0) != tt.cross {
				t.Errorf("got %v, want crossings: %v", got, tt.cross)
			}
		})
	}
}

func TestSelfCrossingsLimitAndOrder(t *testing.T) {
	m := auditJoin(auditBall(5, 160, 81), auditBall(5, 150, 77).Transform(func(p Vec) Vec { return p.Add(Vec{X: 3}) }, false))
	all := crossings(t, m, 0)
	few := crossings(t, m, 7)
	if len(all) < 100 || len(few) != 7 {
		t.Fatalf("%d of %d crossings, want 7", len(few), len(all))
	}
	for _, c := range few {
		if c.A >= c.B || math.Abs(c.At.X-1.5) > 0.5 { // the balls meet in a circle at x = 1.5
			t.Errorf("misplaced %v", c)
		}
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if got := crossings(t, m, 7); !reflect.DeepEqual(got, few) {
		t.Errorf("one processor gives %v, several %v", got, few)
	}
}

func TestSelfCrossingsStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := SelfCrossings(ctx, auditBall(5, 40, 21), 0); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want %v", err, context.Canceled)
	}
}

func TestCrossingText(t *testing.T) {
	got := Crossing{A: 12, B: 340, At: Vec{12.41, -3.08, 8}}.String()
	if want := "triangles 12 and 340 cross near (12.4, -3.1, 8.0) mm"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func BenchmarkSelfCrossings(b *testing.B) {
	ball := auditBall(20, 550, 274) // 300 k triangles
	plate := tiltedPlate(388)
	for name, m := range map[string]*TriMesh{"ball": ball, "ball32": Rounded32(ball), "plate": plate, "plate32": Rounded32(plate)} {
		b.Run(fmt.Sprintf("%s/%d", name, len(m.Triangles)), func(b *testing.B) {
			for b.Loop() {
				if found := crossings(b, m, 0); len(found) > 0 {
					b.Log(len(found), found[0])
				}
			}
		})
	}
}

// Triangles next to each other in a row share a block, in whichever order the mesh has
// them: four are never more than a few millimetres of 100.
func TestBlocksAreCompact(t *testing.T) {
	for axis := range 3 {
		m := scattered(axis, 100)
		steps := newGrid(m.BoundingBox()).scale
		tree, err := newPairTree(context.Background(), m, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for b := range tree.blocks {
			if box := tree.box[tree.first+b]; float64(box.hi[axis]-box.lo[axis]) > 4*steps+2 {
				t.Errorf("axis %d: block %d is %g mm long", axis, b, float64(box.hi[axis]-box.lo[axis])/steps)
			}
		}
	}
}

// Boxes on a grid meet where the boxes do, and hardly elsewhere; all of space fits, and
// a mesh that is a point.
func TestGridBoxes(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 2))
	point := func() Vec { return Vec{100 * rng.Float64(), 0.1 * rng.Float64(), 3 * rng.Float64()} }
	all := BoxOf(Vec{}, Vec{100, 0.1, 3})
	g := newGrid(all)
	for range 2000 {
		a, b := BoxOf(point(), point()), BoxOf(point(), point())
		if rng.IntN(3) == 0 { // they touch
			b.Min.X = a.Max.X
			b.Max.X = max(b.Max.X, b.Min.X)
		}
		p, q := g.round(a), g.round(b)
		if want := a.gap(b) <= 0; p.overlaps(&q) != want && (want || a.gap(b) > 2/g.scale) {
			t.Fatalf("%v and %v: %v", a, b, !want)
		}
		both := emptyGridBox
		both.add(&p)
		both.add(&q)
		if both != g.round(a.Union(b)) {
			t.Fatalf("%v and %v are together %v", a, b, both)
		}
		if empty := emptyGridBox; empty.overlaps(&p) || p.overlaps(&empty) {
			t.Fatal("what is empty meets a box")
		}
	}
	if b := newGrid(Box{all.Min, all.Min}).round(Box{all.Min, all.Min}); !b.overlaps(&b) {
		t.Error("a point does not meet itself")
	}
}

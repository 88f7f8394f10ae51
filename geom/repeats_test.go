package geom

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
)

// row is heads in a row, or two, half sunk in the floor of a tray, each with a channel to the
// wall; what is odd stands or is missing in one place.
type row struct {
	head    Solid
	at      []Transform
	channel float64 // how far they go, mm
	odd     []Solid
	cut     bool // hollows in a block instead
}

func (r row) solid() Solid {
	box := EmptyBox()
	var parts []Solid
	for _, to := range r.at {
		s := to.Solid(r.head)
		box = box.Union(s.BoundingBox())
		at := to.Point(Vec{})
		parts = append(parts, s, Frustum(at, at.Add(Vec{Y: r.channel}), 0.6, 1.2))
	}
	parts = append(parts, r.odd...)
	box = box.Grow(2)
	floor, walls := box, box
	floor.Max.Z = 0
	walls.Max.Z = 3
	inside := walls
	inside.Min = inside.Min.Add(Vec{1.5, 1.5, 0})
	inside.Max = inside.Max.Sub(Vec{1.5, 1.5, -1})
	inside.Min.Z = -0.5
	tray := Union(Block(floor), Subtract(Block(walls), Block(inside)))
	if r.cut {
		return Subtract(Block(floor), parts...)
	}
	return Union(tray, Intersect(Union(parts...), HalfSpace(Vec{Z: -1}, 0.2)))
}

// checkDrawn checks that a mesh is sound, does not cross itself and keeps to its solid.
func checkDrawn(t *testing.T, m *TriMesh, s Solid, tol float64) {
	t.Helper()
	for _, f := range Audit(m) {
		if !f.IsNote() {
			t.Error(f)
		}
	}
	if list := crossings(t, m, 3); len(list) > 0 {
		t.Errorf("%v", list)
	}
	if d, at, err := Deviation(t.Context(), m, s); err != nil || d > tol {
		t.Errorf("%.4f mm off at %v, %v", d, at, err)
	}
}

// drawnOnce meshes s and returns how many unit cells of it were copies.
func drawnOnce(t *testing.T, s Solid, tol float64) (m *TriMesh, copies int) {
	t.Helper()
	ctx := context.Background()
	run := meshing{box: s.BoundingBox(), tol: tol, report: func(string, float64) {}}
	m, err := run.mesh(ctx, s, false)
	if err != nil {
		t.Fatal(err)
	}
	tree := newOctree(run.box, patchShare*tol, coarsest, min(max(featureSize*tol, finestFeature), widestFeature), newRepeats(s))
	if err := tree.grow(ctx, s, false, 0); err != nil {
		t.Fatal(err)
	}
	if tree.repeats != nil {
		copies = len(tree.repeats.copies)
	}
	checkDrawn(t, m, s, tol)
	if slices.ContainsFunc(m.Vertices, func(p Vec) bool { return p.rounded32() != p }) {
		t.Error("vertices are not what 32 bits hold")
	}
	run.unlike = true
	apart, err := run.mesh(ctx, s, false)
	if err != nil {
		t.Fatal(err)
	}
	if a, b := m.Volume(), apart.Volume(); math.Abs(a-b) > 0.2*tol*m.Area() {
		t.Errorf("%.4f mm³, drawn one by one %.4f", a, b)
	}
	return m, copies
}

func placesInRow(n int, pitch Vec, turn float64) (at []Transform) {
	for i := range n {
		at = append(at, Rotate(Vec{Z: 1}, turn).Then(Move(pitch.Mul(float64(i)))))
	}
	return at
}

// Alike heads are drawn once; where a place has something else, that is there.
func TestAlikePlacesAreDrawnOnce(t *testing.T) {
	ball := mustSolid(t, bumpy(icosphere(4, 4), 0.1))
	beside := mustSolid(t, icosphere(1.5, 2))
	for _, c := range []struct {
		name   string
		row    row
		copies int // unit cells, at least
	}{
		{"a row", row{head: ball, at: placesInRow(4, Vec{X: 15.3}, 0.3), channel: 9}, 90},
		{"hollows", row{head: ball, at: placesInRow(3, Vec{X: 14}, 0), channel: 9, cut: true}, 60},
		{"aslant", row{head: ball, at: placesInRow(3, Vec{X: 13, Y: 11}, 1), channel: 3}, 60},
		{"one has a ball on it", row{head: ball, at: placesInRow(4, Vec{X: 15.3}, 0), channel: 9, odd: []Solid{Ball(Vec{X: 15.3, Y: -3, Z: 4}, 1)}}, 30},
		{"a wire through all", row{head: ball, at: placesInRow(4, Vec{X: 15.3}, 0), channel: 9, odd: []Solid{Capsule(Vec{X: -8, Z: 1}, Vec{X: 55, Z: 1}, 0.5)}}, 30},
		{"two ways round", row{head: ball, at: append(placesInRow(3, Vec{X: 24}, 0), Rotate(Vec{Z: 1}, 2).Then(Move(Vec{X: 12})), Rotate(Vec{Z: 1}, 2).Then(Move(Vec{X: 36}))), channel: 9}, 60},
		{"two of a kind in each place", row{head: ball, at: placesInRow(2, Vec{X: 20}, 0), channel: 9, odd: []Solid{Move(Vec{X: 6}).Solid(beside), Move(Vec{X: 26}).Solid(beside)}}, 20},
		{"no two alike", row{head: ball, at: []Transform{Identity(), Rotate(Vec{Z: 1}, 1).Then(Move(Vec{X: 14}))}, channel: 9}, 0},
		{"one is buried", row{head: ball, at: placesInRow(4, Vec{X: 15.3}, 0), channel: 9, odd: []Solid{Block(BoxOf(Vec{X: 10, Y: -5}, Vec{X: 21, Y: 5, Z: 3.7}))}}, 30},
		{"a way that is hardly aslant", row{head: ball, at: placesInRow(3, Vec{X: 15.3, Y: 1e-3}, 0), channel: 9}, 0},
		{"nothing is alike", row{head: ball, at: placesInRow(2, Vec{X: 20}, 0), channel: 9, odd: []Solid{Block(BoxOf(Vec{X: 8, Y: -7, Z: -3}, Vec{X: 28, Y: 9, Z: 6}))}}, 0},
		{"two close by", row{head: ball, at: placesInRow(2, Vec{X: 12}, 0), channel: 9}, 10},
		{"a way that is not quite two", row{head: ball, at: []Transform{Identity(), Move(Vec{X: 13}), Move(Vec{X: 26.0005})}, channel: 9}, 20},
		{"ways that have no measure in common", row{head: ball, at: []Transform{Identity(), Move(Vec{X: 13}), Move(Vec{X: 13 + 13*math.Sqrt2})}, channel: 9}, 20},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, copies := drawnOnce(t, c.row.solid(), 0.05)
			if copies < c.copies || c.copies == 0 && copies > 0 {
				t.Errorf("%d cells are copies, want %d", copies, c.copies)
			}
		})
	}
}

// What is copied is exactly its home moved, by what 32 bits hold.
func TestCopiesAreExact(t *testing.T) {
	pitch := 15.3
	m, _ := drawnOnce(t, row{head: mustSolid(t, icosphere(4, 4)), at: placesInRow(3, Vec{X: pitch}, 0), channel: 9}.solid(), 0.05)
	var by [2]Vec
	known := map[Vec]bool{}
	for _, p := range m.Vertices {
		known[p] = true
	}
	tree := newRepeats(row{head: mustSolid(t, icosphere(4, 4)), at: placesInRow(3, Vec{X: pitch}, 0), channel: 9}.solid())
	for i := range by {
		by[i] = tree.rounded(Vec{X: pitch * float64(i+1)})
	}
	near, moved := 0, 0
	for _, p := range m.Vertices {
		if p.Norm() > 4.5 || p.Z < 1.7 {
			continue
		}
		near++
		if known[p.Add(by[0])] && known[p.Add(by[1])] {
			moved++
		}
	}
	if near < 300 || moved < near*8/10 {
		t.Errorf("%d of %d vertices are there again", moved, near)
	}
}

func TestCopiesAreTheSameForAnyWorkers(t *testing.T) {
	s := row{head: mustSolid(t, bumpy(icosphere(3, 3), 0.1)), at: placesInRow(3, Vec{X: 11}, 0.5), channel: 7}.solid()
	var first *TriMesh
	for _, workers := range []int{1, 2, 7} {
		m, err := Mesh(context.Background(), s, MeshOptions{Tolerance: 0.05, Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = m
		}
		if !slices.Equal(m.Vertices, first.Vertices) || !slices.Equal(m.Triangles, first.Triangles) {
			t.Errorf("%d workers draw something else", workers)
		}
	}
}

// Rows of any kind, with what is odd anywhere.
func TestRandomRows(t *testing.T) {
	rows := 6
	if os.Getenv("HALFPOUR_LONG") != "" {
		rows = 150
	}
	heads := []Solid{
		mustSolid(t, bumpy(icosphere(2.5, 3), 0.2)), mustSolid(t, icosphere(2, 1)),
		mustSolid(t, cubeMesh(2, Vec{})), mustSolid(t, bumpy(icosphere(3, 5), 0.05)),
	}
	for seed := range uint64(rows) {
		rng := rand.New(rand.NewPCG(seed, 71))
		r := row{head: heads[rng.IntN(len(heads))], channel: 4 + 6*rng.Float64(), cut: rng.IntN(3) == 0}
		pitch := Vec{X: 7 + 6*rng.Float64()}
		if rng.IntN(3) == 0 {
			pitch.Y = 5 * rng.Float64()
		}
		n := 2 + rng.IntN(3)
		r.at = placesInRow(n, pitch, 7*rng.Float64())
		if rng.IntN(3) == 0 {
			for _, to := range placesInRow(n, pitch, 7*rng.Float64()) {
				r.at = append(r.at, to.Then(Move(Vec{X: pitch.X / 2, Y: 9})))
			}
		}
		for range rng.IntN(4) {
			at := pitch.Mul(rng.Float64() * float64(n)).Add(Vec{4 * rng.Float64(), 4 * rng.Float64(), 3 * rng.Float64()})
			r.odd = append(r.odd, Ball(at, 0.3+rng.Float64()))
		}
		tol := []float64{0.02, 0.05, 0.1}[rng.IntN(3)]
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			_, copies := drawnOnce(t, r.solid(), tol)
			t.Logf("%d copies", copies)
		})
	}
}

// A seam that runs another way, or is not there in part, is no match.
func TestSeamsThatDifferDoNotMatch(t *testing.T) {
	at := []Vec{{}, {X: 1}, {Y: 1}, {X: 9}, {X: 10}, {X: 9, Y: 1}, {X: 9.5}}
	home := &repeatGroup{seam: []link{{0, 1}, {1, 2}, {2, 0}}}
	for _, c := range []struct {
		seam []link
		want bool
	}{
		{[]link{{3, 4}, {4, 5}, {5, 3}}, true},
		{[]link{{5, 3}, {3, 4}, {4, 5}}, true},
		{[]link{{4, 3}, {4, 5}, {5, 3}}, false},
		{[]link{{3, 4}, {4, 5}}, false},
		{[]link{{3, 4}, {4, 5}, {5, 6}}, false},
		{[]link{{3, 4}, {3, 4}, {5, 3}}, false},
		{[]link{{3, 4}, {4, 5}, {5, 3}, {3, 6}}, false},
	} {
		copied := &repeatCopy{group: home, by: Vec{X: 9}, seam: c.seam}
		there, ok := copied.match(at)
		if ok != c.want || ok && (there[0] != 3 || there[1] != 4 || there[2] != 5) {
			t.Errorf("%v: %v %v, want %v", c.seam, there, ok, c.want)
		}
	}
}

// What is asked of a copy is answered by its home.
func TestCopiesAreLookedUpAtHome(t *testing.T) {
	const tol = 0.05
	s := row{head: mustSolid(t, bumpy(icosphere(4, 4), 0.1)), at: placesInRow(3, Vec{X: 15.3}, 0.3), channel: 9}.solid()
	tree := newOctree(s.BoundingBox(), patchShare*tol, coarsest, 0.5, newRepeats(s))
	if err := tree.grow(context.Background(), s, false, 0); err != nil {
		t.Fatal(err)
	}
	tried := 0
	for at, c := range tree.repeats.copies {
		box := tree.box(at[0], at[1], at[2], tree.repeats.unit)
		p := box.Centre()
		home := p.Sub(c.by)
		if got := tree.homeOf(p); got != home {
			t.Fatalf("the home of %v is %v, want %v", p, got, home)
		}
		if got := tree.copiesOf(home); len(got) != 2 || got[0].Dist(p) > 1e-9 && got[1].Dist(p) > 1e-9 {
			t.Fatalf("the copies of %v are %v, want %v among them", home, got, p)
		}
		if tree.homeOf(home) != home || tree.copiesOf(p) != nil {
			t.Fatalf("%v is not at home", home)
		}
		var here, there []*leaf
		inner := box.Grow(-0.01)
		tree.touching(inner, func(l *leaf, by Vec) {
			there = append(there, l)
			if by != c.by {
				t.Fatalf("a leaf is %v away, want %v", by, c.by)
			}
		})
		tree.touching(Box{inner.Min.Sub(c.by), inner.Max.Sub(c.by)}, func(l *leaf, by Vec) {
			here = append(here, l)
			if by != (Vec{}) {
				t.Fatalf("a leaf at home is %v away", by)
			}
		})
		if !slices.Equal(here, there) {
			t.Fatalf("%d leaves at home, %d in the copy", len(here), len(there))
		}
		if list := tree.about(unseenMark{at: p}, 1); len(list) > 0 {
			t.Fatalf("%d leaves are split for a copy", len(list))
		}
		if len(here) > 0 {
			tried++
		}
	}
	if tried < 60 {
		t.Errorf("%d copies with surface", tried)
	}
}

// What crosses in a copy is held still at home.
func TestCrossingsInCopiesHoldHomesStill(t *testing.T) {
	home, by := icosphere(1, 0), Vec{X: 9}
	moved := home.Transform(func(p Vec) Vec { return p.Add(by) }, false)
	for _, copies := range [][]Vec{nil, {{X: 5}, by}} {
		marks := slices.Repeat([]bool{true}, len(home.Triangles))
		any := holdStill(home, marks, moved, []Crossing{{A: 3, B: 3}}, 1e-3, copies)
		if held := !marks[3]; any != (copies != nil) || held != any {
			t.Errorf("copies %v: %v, %v", copies, any, marks)
		}
	}
}

// So far from the origin that corners would be rounded by much, each place is drawn.
func TestNothingIsCopiedWhereRoundingIsCoarse(t *testing.T) {
	r := row{head: mustSolid(t, icosphere(4, 3)), at: placesInRow(3, Vec{X: 16}, 0), channel: 9}
	for _, c := range []struct {
		far    float64 // mm
		copied bool
	}{{0, true}, {1000, true}, {20000, false}} {
		s := Move(Vec{X: c.far}).Solid(r.solid())
		tree := newOctree(s.BoundingBox(), 0.05, coarsest, 0.5, newRepeats(s))
		if copied := tree.repeats != nil; copied != c.copied {
			t.Errorf("%g mm away: %v", c.far, copied)
		}
	}
}

// Of a group nothing may be left to copy.
func TestGroupWithoutCopies(t *testing.T) {
	m := icosphere(1, 0)
	n := len(m.Triangles)
	k := &surface{repeats: &repeats{finest: 1e-6, groups: []*repeatGroup{{}}}}
	of, err := k.copy(context.Background(), m, &thinned{TriMesh: m, group: make([]int16, n)}, []int{n}, 1)
	if err != nil || !slices.Equal(of, make([]int32, n)) || len(m.Triangles) != n {
		t.Errorf("%v, %v, %d triangles of %d", of, err, len(m.Triangles), n)
	}
}

func TestSeamsFit(t *testing.T) {
	// A home's seam 1-2-3, the home's side of it 11-12-13, and a copy's 21-22-23.
	k := &surface{mended: map[int32]int32{11: 1, 12: 2, 13: 3}, there: []map[int32]int32{{1: 21, 2: 22, 3: 23}}}
	fit := [][2]int32{{11, 12}, {12, 13}, {2, 1}, {3, 2}, {22, 21}, {23, 22}}
	if !k.seamsFit(fit) {
		t.Error("what fits does not")
	}
	for i := range fit {
		if k.seamsFit(slices.Delete(slices.Clone(fit), i, i+1)) {
			t.Errorf("without edge %d it fits", i)
		}
		turned := slices.Clone(fit)
		turned[i][0], turned[i][1] = turned[i][1], turned[i][0]
		if k.seamsFit(turned) {
			t.Errorf("with edge %d turned it fits", i)
		}
	}
	for _, more := range [][2]int32{{1, 3}, {11, 2}, {40, 41}, {21, 23}} {
		if k.seamsFit(append(slices.Clone(fit), more)) {
			t.Errorf("with %v it fits", more)
		}
	}
}

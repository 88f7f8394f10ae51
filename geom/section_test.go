package geom

import (
	"context"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
)

func cut(t testing.TB, s Solid, plane Transform, low, high Vec2, opt SectionOptions) Outline {
	t.Helper()
	o, err := Section(context.Background(), s, plane, low, high, opt)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// liftTo takes a point of the outline to space.
func liftTo(plane Transform, p Vec2) Vec { return plane.Point(Vec{p.X, p.Y, 0}) }

func TestSectionAreas(t *testing.T) {
	wide := [2]Vec2{{-30, -20}, {30, 20}}
	ball := Ball(Vec{}, 10)
	hole := Subtract(ball, Ball(Vec{}, 4))
	for _, c := range []struct {
		name   string
		solid  Solid
		plane  Transform
		window [2]Vec2
		loops  int
		area   float64 // closed forms
	}{
		{"great circle", ball, Identity(), wide, 1, math.Pi * 100},
		{"small circle", ball, Move(Vec{Z: 6}), wide, 1, math.Pi * 64},
		{"missed", ball, Move(Vec{Z: 11}), wide, 0, 0},
		{"ring", hole, Identity(), wide, 2, math.Pi * (100 - 16)},
		{"two", Union(ball, Ball(Vec{X: 22}, 5)), Identity(), wide, 2, math.Pi * 125},
		{"block", Block(Box{Vec{-7, -5, -3}, Vec{8, 6, 3}}), Identity(), wide, 1, 15 * 11},
		{"turned block", Rotate(Vec{Z: 1}, 0.3).Solid(Block(Box{Vec{-7, -5, -3}, Vec{8, 6, 3}})), Identity(), wide, 1, 15 * 11},
		{"across x", Block(Box{Vec{-7, -5, -3}, Vec{8, 6, 3}}), acrossX(1), wide, 1, 11 * 6},
		{"half in the window", ball, Identity(), [2]Vec2{{0, -20}, {20, 20}}, 1, math.Pi * 50},
		{"window inside", ball, Identity(), [2]Vec2{{-2, -1}, {3, 2}}, 1, 15},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := cut(t, c.solid, c.plane, c.window[0], c.window[1], SectionOptions{})
			if len(o) != c.loops {
				t.Errorf("%d loops, want %d", len(o), c.loops)
			}
			length := 0.0
			for _, loop := range o {
				for i, p := range loop {
					length += p.Sub(loop[(i+1)%len(loop)]).Norm()
				}
			}
			// An outline within tolerance of the surface misses at most its length times that.
			if got := loopArea(o); math.Abs(got-c.area) > 0.05*length+1e-9 {
				t.Errorf("area %.3f, want %.3f", got, c.area)
			}
		})
	}
}

// acrossX is the plane x = at, with y to the right and z up.
func acrossX(at float64) Transform {
	return FromAxes(Vec{Y: 1}, Vec{Z: 1}, Vec{X: 1}).Then(Move(Vec{X: at}))
}

// loopArea counts holes as negative.
func loopArea(o Outline) float64 {
	sum := 0.0
	for _, loop := range o {
		for i, p := range loop {
			sum += p.Cross(loop[(i+1)%len(loop)])
		}
	}
	return sum / 2
}

// Every point of every chord is near the surface, and what is well inside or
// outside the solid is so in the outline.
func TestSectionStaysWithinTolerance(t *testing.T) {
	const seed = 20
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewPCG(seed, 1))
	low, high := Vec2{-15, -12}, Vec2{15, 12}
	for _, tolerance := range []float64{0.1, 0.04} {
		// Balls meet in notches; with so small a cell their missed ends are within tolerance too.
		opt := SectionOptions{Tolerance: tolerance, Cell: tolerance}
		for range 12 {
			var parts []Solid
			for range 4 {
				at := Vec{rng.Float64()*16 - 8, rng.Float64()*12 - 6, rng.Float64()*2 - 1}
				parts = append(parts, Ball(at, 1.5+2*rng.Float64()))
			}
			s := Union(parts...)
			plane := Rotate(Vec{X: 1, Y: 0.5}, 0.4*rng.Float64()).Then(Move(Vec{Z: 0.3}))
			o := cut(t, s, plane, low, high, opt)
			for _, loop := range o {
				for i, p := range loop {
					q := loop[(i+1)%len(loop)]
					for k := range 5 {
						m := p.Add(q.Sub(p).Mul(float64(k) / 5))
						// A ball cut far from its middle meets the plane at a slant, so the
						// distance in space is less than that in the plane.
						if d := math.Abs(s.Evaluate(liftTo(plane, m))); d > tolerance {
							t.Fatalf("chord %v-%v is %.4f mm off the surface, allowed %g", p, q, d, tolerance)
						}
					}
				}
			}
			for range 300 {
				p := Vec2{low.X + 30*rng.Float64(), low.Y + 24*rng.Float64()}
				if v := s.Evaluate(liftTo(plane, p)); math.Abs(v) > tolerance && (v < 0) != (o.Winding(p) == 1) {
					t.Fatalf("%v has value %.3f and winding %d", p, v, o.Winding(p))
				}
			}
		}
	}
}

func TestSectionKeepsCorners(t *testing.T) {
	s := Rotate(Vec{Z: 1}, 0.37).Solid(Block(Box{Vec{-7, -5, -3}, Vec{8, 6, 3}}))
	o := cut(t, s, Identity(), Vec2{-20, -20}, Vec2{20, 20}, SectionOptions{})
	for _, corner := range []Vec{{X: -7, Y: -5}, {X: 8, Y: -5}, {X: 8, Y: 6}, {X: -7, Y: 6}} {
		at := Rotate(Vec{Z: 1}, 0.37).Point(corner)
		near := math.Inf(1)
		for _, p := range o[0] {
			near = math.Min(near, p.Sub(Vec2{at.X, at.Y}).Norm())
		}
		if near > 0.05 {
			t.Errorf("corner %v is %.3f mm from the outline's nearest point", at, near)
		}
	}
	if len(o[0]) > 12 {
		t.Errorf("a block's outline has %d points", len(o[0]))
	}
}

func TestSectionIsTheSameForAnyWorkers(t *testing.T) {
	s := Subtract(Ball(Vec{}, 20), Torus(Vec{}, Vec{Z: 1}, 11, 3), Ball(Vec{X: 3}, 2))
	one := cut(t, s, Identity(), Vec2{-30, -25}, Vec2{30, 25}, SectionOptions{Workers: 1})
	for _, workers := range []int{2, 5} {
		if got := cut(t, s, Identity(), Vec2{-30, -25}, Vec2{30, 25}, SectionOptions{Workers: workers}); !reflect.DeepEqual(got, one) {
			t.Errorf("%d workers give another outline than one", workers)
		}
	}
	if len(one) != 4 {
		t.Errorf("%d loops, want 4", len(one))
	}
}

func TestSectionRefuses(t *testing.T) {
	ball := Ball(Vec{}, 1)
	nan := math.NaN()
	stopped, stop := context.WithCancel(context.Background())
	stop()
	for _, c := range []struct {
		name      string
		ctx       context.Context
		low, high Vec2
		opt       SectionOptions
	}{
		{"empty window", context.Background(), Vec2{0, 0}, Vec2{0, 1}, SectionOptions{}},
		{"no number", context.Background(), Vec2{nan, 0}, Vec2{1, 1}, SectionOptions{}},
		{"infinite window", context.Background(), Vec2{0, 0}, Vec2{math.Inf(1), math.Inf(1)}, SectionOptions{}},
		{"infinite one way", context.Background(), Vec2{0, math.Inf(-1)}, Vec2{1, 1}, SectionOptions{}},
		{"negative tolerance", context.Background(), Vec2{}, Vec2{1, 1}, SectionOptions{Tolerance: -1}},
		{"infinite cell", context.Background(), Vec2{}, Vec2{1, 1}, SectionOptions{Cell: math.Inf(1)}},
		{"too many cells", context.Background(), Vec2{}, Vec2{1e6, 1}, SectionOptions{}},
		{"cancelled", stopped, Vec2{}, Vec2{1, 1}, SectionOptions{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := Section(c.ctx, ball, Identity(), c.low, c.high, c.opt); err == nil {
				t.Error("no error")
			}
		})
	}
}

func BenchmarkSection(b *testing.B) {
	var parts []Solid
	for i := range 8 {
		x := float64(i)*18 - 63
		parts = append(parts, Ball(Vec{X: x}, 7), Torus(Vec{X: x, Y: 15}, Vec{Z: 1}, 3, 0.6), Ball(Vec{X: x, Y: -15}, 2))
	}
	s := Union(parts...)
	for b.Loop() {
		cut(b, s, Identity(), Vec2{-75, -30}, Vec2{75, 30}, SectionOptions{})
	}
}

// Nodes end on the window to the last bit, however its cells round.
func TestSectionNodesEndOnTheWindow(t *testing.T) {
	low, high := Vec2{-0.1, 0.2}, Vec2{0.7, 1.3}
	g, err := newSectionGrid(low, high, SectionOptions{Cell: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	if g.nx != 8 && g.nx != 9 || g.ny != 11 && g.ny != 12 {
		t.Fatalf("%d x %d cells", g.nx, g.ny)
	}
	for _, c := range []struct {
		i, j int
		want Vec2
	}{
		{0, 0, low}, {1, 1, low},
		{g.nx + 1, g.ny + 1, high}, {g.lastX, g.lastY, high},
		{2, 1, Vec2{low.X + g.dx, low.Y}}, {1, 3, Vec2{low.X, low.Y + 2*g.dy}},
		{g.nx, 1, Vec2{low.X + float64(g.nx-1)*g.dx, low.Y}},
		{1, g.ny, Vec2{low.X, low.Y + float64(g.ny-1)*g.dy}},
	} {
		if got := g.node(c.i, c.j); got != c.want {
			t.Errorf("node (%d, %d) at %v, want %v", c.i, c.j, got, c.want)
		}
	}
}

func TestSegmentDistance(t *testing.T) {
	for _, c := range []struct {
		p, a, b Vec2
		want    float64
	}{
		{Vec2{2, 3}, Vec2{0, 0}, Vec2{4, 0}, 3},
		{Vec2{1, 1}, Vec2{0, 0}, Vec2{0, 5}, 1},
		{Vec2{-3, 4}, Vec2{0, 0}, Vec2{4, 0}, 5},
		{Vec2{7, -4}, Vec2{0, 0}, Vec2{4, 0}, 5},
		{Vec2{3, 4}, Vec2{0, 0}, Vec2{0, 0}, 5},
	} {
		if got := segmentDistance(c.p, c.a, c.b); got != c.want {
			t.Errorf("%v to %v-%v: %v, want %v", c.p, c.a, c.b, got, c.want)
		}
	}
}

// A quarter of a circle of 10 mm is halved until its chords are true to a quarter
// of the tolerance: an arc of 5.6° rises 10·(1-cos 2.8°) = 0.0120 mm over its chord.
func TestFollowHalvesChords(t *testing.T) {
	grid := sectionGrid{low: Vec2{-20, -20}, high: Vec2{20, 20}}
	for _, c := range []struct {
		tolerance float64
		depth     int
		points    int
	}{
		{0.05, 7, 15}, {0.047, 7, 31}, {0.05, 2, 3}, {0.05, 1, 1}, {0.05, 0, 0},
		{11, 1, 1}, {12, 1, 0}, {14.2, 7, 0}, // the chord is 14.142 mm long and 2.929 mm off
	} {
		grid.tolerance = c.tolerance
		cell := sectionCell{sectionTracer: &sectionTracer{sectionGrid: grid}, s: Ball(Vec{}, 10)}
		got := cell.follow(nil, Vec2{10, 0}, Vec2{0, 10}, c.depth)
		if len(got) != c.points {
			t.Errorf("tolerance %g, depth %d: %d points, want %d", c.tolerance, c.depth, len(got), c.points)
			continue
		}
		for i, p := range got {
			angle := math.Pi / 2 * float64(i+1) / float64(c.points+1)
			if want := (Vec2{10 * math.Cos(angle), 10 * math.Sin(angle)}); p.Sub(want).Norm() > 0.01*c.tolerance {
				t.Errorf("tolerance %g, depth %d: point %d at %v, want %v", c.tolerance, c.depth, i, p, want)
			}
		}
	}
}

// Strands that close make one loop, also of three points, the fewest that enclose an
// area; of two they make none.
func TestStrandsMakeLoops(t *testing.T) {
	p := []Vec2{{0, 0}, {4, 0}, {0, 3}}
	triangle := []strand{{1, 2, []Vec2{p[0], p[1]}}, {2, 3, []Vec2{p[1], p[2]}}, {3, 1, []Vec2{p[2], p[0]}}}
	back := []strand{{7, 8, []Vec2{p[0], p[1]}}, {8, 7, []Vec2{p[1], p[0]}}}
	o := joinStrands([][]strand{back, triangle[:1], triangle[1:]}, 0.1)
	if len(o) != 1 || len(o[0]) != 3 || loopArea(o) != 6 {
		t.Errorf("%v, want one triangle of 6 mm²", o)
	}
}

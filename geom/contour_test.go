package geom

import (
	"maps"
	"math"
	"testing"
)

// bent is a solid whose value is a function of X alone; it counts what it is asked.
type bent struct {
	f     func(x float64) float64
	asked *int
}

func (s bent) BoundingBox() Box       { return BoxOf(Vec{}, Vec{1, 1, 1}) }
func (s bent) Evaluate(p Vec) float64 { *s.asked++; return s.f(p.X) }

// False position alone keeps the end on the bulging side and creeps: whichever
// end that is, 60 steps do not come this near.
func TestCrossingIsFoundInFewSteps(t *testing.T) {
	steep := func(x float64) float64 { return math.Expm1(8*x) - math.Expm1(2) } // 0 at 1/4
	for name, f := range map[string]func(float64) float64{
		"steep at the end":             steep,
		"steep at the start":           func(x float64) float64 { return -steep(1 - x) },
		"steep at the end, falling":    func(x float64) float64 { return -steep(x) },
		"steep at the start, falling":  func(x float64) float64 { return steep(1 - x) },
		"a straight line":              func(x float64) float64 { return x - 0.3 },
		"next to the start, from afar": func(x float64) float64 { return x - 1e-6 },
	} {
		asked := 0
		s := bent{f, &asked}
		got := crossingOn(s, Vec{}, Vec{X: 1}, f(0), f(1))
		want := 0.25
		switch name {
		case "steep at the start", "steep at the start, falling":
			want = 0.75
		case "a straight line":
			want = 0.3
		case "next to the start, from afar":
			want = minGap // kept apart from the corner
		}
		if math.Abs(got.X-want) > 1e-8 || got.Y != 0 || got.Z != 0 {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
		if asked > 15 {
			t.Errorf("%s: asked %d times", name, asked)
		}
	}
}

func TestMeetOfTwoLines(t *testing.T) {
	slope := Vec{-1, 1, 0}
	for _, c := range []struct {
		name  string
		p, na Vec
		q, nb Vec
		axis  int
		want  Vec
		ok    bool
	}{
		{"at right angles", Vec{2, 0, 7}, Vec{X: 1}, Vec{0, 3, 7}, Vec{Y: 1}, 2, Vec{2, 3, 7}, true},
		{"a slope", Vec{2, 0, 7}, Vec{X: 3}, Vec{0, 1, 7}, slope, 2, Vec{2, 3, 7}, true},
		{"across x", Vec{7, 2, 0}, Vec{Y: 1}, Vec{7, 0, 3}, Vec{Z: 1}, 0, Vec{7, 2, 3}, true},
		{"across y", Vec{0, 7, 2}, Vec{Z: 1}, Vec{3, 7, 0}, Vec{X: 1}, 1, Vec{3, 7, 2}, true},
		{"side by side", Vec{2, 0, 7}, Vec{X: 1}, Vec{4, 0, 7}, Vec{X: 1}, 2, Vec{}, false},
	} {
		got, ok := meet(c.p, c.na, c.q, c.nb, c.axis)
		if ok != c.ok || ok && got.Dist(c.want) > 1e-12 {
			t.Errorf("%s: %v %v, want %v %v", c.name, got, ok, c.want, c.ok)
		}
	}
	n := Vec{1, 2, 3}
	for axis, want := range [3]Vec{{0, 2, 3}, {1, 0, 3}, {1, 2, 0}} {
		if got := inPlane(n, axis); got != want {
			t.Errorf("across axis %d: %v, want %v", axis, got, want)
		}
	}
}

// Where three planes meet, two, and one, seen from crossings that lie on them.
func TestTangentMeet(t *testing.T) {
	d := &sampling{
		at:     []Vec{{3, 0, 0}, {0, 2, 0}, {0, 0, 1}, {9, 9, 9}, {3, 5, 0}},
		normal: []Vec{{X: 1}, {Y: 1}, {Z: -1}, {}, {X: 1}},
	}
	mid := Vec{0.5, 0.6, 0.7}
	for _, c := range []struct {
		name string
		ids  []int32
		want Vec
	}{
		{"a corner", []int32{0, 1, 2}, Vec{3, 2, 1}},
		{"a corner, and a crossing without a normal", []int32{0, 3, 1, 2}, Vec{3, 2, 1}},
		{"an edge", []int32{0, 1}, Vec{3, 2, 0.7}},
		{"a face", []int32{0, 4}, Vec{3, 0.6, 0.7}},
		{"nothing", nil, mid},
	} {
		if got := tangentMeet(mid, c.ids, d, 0.1); got.Dist(c.want) > 1e-12 {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	// Two planes through (3, 0) that lean by 0.1 each way: across them the eigenvalue
	// is 0.1² of the greater one, and counts where keep is less.
	n := [2]Vec{Vec{0.1, 1, 0}.Unit(), Vec{-0.1, 1, 0}.Unit()}
	d = &sampling{at: []Vec{{1, 0.2, 0}, {1, -0.2, 0}}, normal: n[:]}
	for _, c := range []struct{ keep, want float64 }{{0.0101, 1}, {0.0099, 3}} {
		if got := tangentMeet(Vec{X: 1}, []int32{0, 1}, d, c.keep); got.Dist(Vec{X: c.want}) > 1e-12 {
			t.Errorf("keep %g: %v, want %g along x", c.keep, got, c.want)
		}
	}
}

// A times each vector is its value times it, and the vectors stand at right angles:
// what eigenvalues are.
func TestEigenvectors(t *testing.T) {
	for _, a := range [][3][3]float64{
		{{2, 0, 0}, {0, 3, 0}, {0, 0, 5}},
		{{2, -1, 0}, {-1, 2, -1}, {0, -1, 2}},
		{{4, 1, 2}, {1, 0, -3}, {2, -3, 1}},
		{{1, 1, 1}, {1, 1, 1}, {1, 1, 1}}, // twice 0
		{{0, 1, 0}, {1, 0, 0}, {0, 0, 1}},
	} {
		values, vectors := eigen3(a)
		for i, v := range vectors {
			image := Vec{Vec{a[0][0], a[0][1], a[0][2]}.Dot(v), Vec{a[1][0], a[1][1], a[1][2]}.Dot(v), Vec{a[2][0], a[2][1], a[2][2]}.Dot(v)}
			if d := image.Dist(v.Mul(values[i])); d > 1e-12*(1+math.Abs(values[i])) {
				t.Errorf("%v: %v goes to %v, not to %g times itself", a, v, image, values[i])
			}
			for j, w := range vectors[:i+1] {
				want := 0.0
				if i == j {
					want = 1
				}
				if math.Abs(v.Dot(w)-want) > 1e-12 {
					t.Errorf("%v: vectors %d and %d: %v and %v", a, i, j, v, w)
				}
			}
		}
	}
}

// Where values at the ends tell no place between them, as infinite ones do not, the
// crossing is found by halving.
func TestCrossingBetweenInfiniteValues(t *testing.T) {
	inf := math.Inf(1)
	for name, f := range map[string]func(float64) float64{
		"infinite outside": func(x float64) float64 {
			if x > 0.3 {
				return inf
			}
			return -1
		},
		"infinite inside": func(x float64) float64 {
			if x < 0.3 {
				return -inf
			}
			return 1
		},
	} {
		asked := 0
		if got := crossingOn(bent{f, &asked}, Vec{}, Vec{X: 1}, f(0), f(1)); math.Abs(got.X-0.3) > 1e-7 {
			t.Errorf("%s: %v, want 0.3 along", name, got)
		}
	}
}

// A crossing keeps minGap from the ends of its edge; on an edge shorter than ten of
// those, a tenth of it.
func TestCrossingKeepsApartFromCorners(t *testing.T) {
	for _, length := range []float64{1, 20 * minGap, 10 * minGap, 5 * minGap, minGap, minGap / 10} {
		want := math.Min(minGap, length/10)
		asked := 0
		for _, end := range [2]float64{0, length} {
			s := bent{func(x float64) float64 { return x - end + 1e-12*(end-length/2) }, &asked}
			got := crossingOn(s, Vec{}, Vec{X: length}, -1e-12*length, length)
			if end > 0 {
				got = crossingOn(s, Vec{}, Vec{X: length}, -length, 1e-12*length)
			}
			if gap := math.Abs(got.X - end); math.Abs(gap-want) > 1e-9*length {
				t.Errorf("an edge of %g mm: %g mm from its end, want %g", length, gap, want)
			}
		}
	}
}

// A face crossed on all four sides: chords cut off the inside corners, or the outside
// ones where the middle is inside.
func TestChordsOfAFaceCrossedFourTimes(t *testing.T) {
	for enter := range 2 {
		for _, joined := range []bool{false, true} {
			o := faceSurface{sides: [4]int32{1, 2, 3, 4}, enter: enter, four: true, joined: joined}
			got := map[[2]int32]bool{}
			o.chords(func(from, to int32) { got[[2]int32{from, to}] = true })
			a, b, c, d := int32(enter), int32(enter+1), int32(enter+2), int32((enter+3)%4)
			want := map[[2]int32]bool{{a, b}: true, {c, d}: true} // each round one corner, the one behind side a or c
			if joined {
				want = map[[2]int32]bool{{a, d}: true, {c, b}: true}
			}
			if !maps.Equal(got, want) {
				t.Errorf("entered at side %d, joined %v: %v, want %v", enter, joined, got, want)
			}
		}
	}
	asked := 0
	for _, middle := range []float64{-1, 1} {
		tree := newOctree(BoxOf(Vec{}, Vec{1, 1, 1}), 0.1, 1, 1, nil)
		o := faceSurface{leaf: &leaf{solid: bent{func(float64) float64 { return middle }, &asked}, size: 1}, four: true}
		if tree.refine(&o, nil); o.joined != (middle < 0) {
			t.Errorf("value %g in the middle: joined %v", middle, o.joined)
		}
	}
}

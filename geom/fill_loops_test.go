package geom

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// loopEdges numbers the corners of loops in a row and lists the edges between them.
func loopEdges(loops [][]Vec2) (edges [][2]int32, points []Vec2) {
	for _, l := range loops {
		first := int32(len(points))
		for i := range l {
			edges = append(edges, [2]int32{first + int32(i), first + int32((i+1)%len(l))})
		}
		points = append(points, l...)
	}
	return edges, points
}

func filledLoops(edges [][2]int32, points []Vec2) ([][3]int32, bool) {
	return fillLoops(edges, func(id int32) Vec2 { return points[id] })
}

func turningOf(a, b, c Vec2) int {
	return Turning(Vec{X: a.X, Y: a.Y}, Vec{X: b.X, Y: b.Y}, Vec{X: c.X, Y: c.Y})
}

// checkFilled holds a filling against its edges: triangles the right way up that have each
// edge of the loops once and every other edge once each way, and so fill each place as
// often as the loops go round it. Of each edge within, no corner is in the circle round the
// triangle beyond by more than rounding, unless to turn the edge is not possible.
func checkFilled(t *testing.T, edges [][2]int32, points []Vec2, list [][3]int32) {
	t.Helper()
	beside := map[[2]int32]int32{} // by edge: the corner on its left
	area, want := 0.0, 0.0
	for _, v := range list {
		a, b, c := points[v[0]], points[v[1]], points[v[2]]
		if turningOf(a, b, c) <= 0 {
			t.Errorf("triangle %v is the wrong way up", v)
		}
		area += b.Sub(a).Cross(c.Sub(a)) / 2
		for i := range v {
			e := [2]int32{v[i], v[(i+1)%3]}
			if _, twice := beside[e]; twice {
				t.Errorf("edge %v is there twice", e)
			}
			beside[e] = v[(i+2)%3]
		}
	}
	size := 0.0
	for _, e := range edges {
		a, b := points[e[0]].Sub(points[0]), points[e[1]].Sub(points[0])
		want += a.Cross(b) / 2
		size = max(size, a.Dot(a))
		if _, ok := beside[e]; !ok {
			t.Errorf("edge %v is not there", e)
		}
		if _, ok := beside[[2]int32{e[1], e[0]}]; ok {
			t.Errorf("edge %v has triangles on both sides", e)
		}
	}
	if math.Abs(area-want) > 1e-12*size {
		t.Errorf("%.15g are filled, want %.15g", area, want)
	}
	inner := 0
	for e, c := range beside {
		d, ok := beside[[2]int32{e[1], e[0]}]
		if !ok {
			continue
		}
		inner++
		p, q, r, s := points[e[0]], points[e[1]], points[c], points[d]
		if turningOf(r, p, s) > 0 && turningOf(s, q, r) > 0 && angleAt(r, p, q)+angleAt(s, p, q) > math.Pi+1e-9 {
			t.Errorf("edge %v between %v and %v is to be turned", e, c, d)
		}
	}
	if inner+len(edges) != 3*len(list) {
		t.Errorf("%d edges within and %d of the loops in %d triangles", inner, len(edges), len(list))
	}
}

// angleAt is the angle at which two points are seen from p, in radians.
func angleAt(p, a, b Vec2) float64 {
	a, b = a.Sub(p), b.Sub(p)
	return math.Abs(math.Atan2(a.Cross(b), a.Dot(b)))
}

// along adds corners on the sides of a loop, so many a side and off them by so much outwards.
func along(l []Vec2, n int, off float64) (out []Vec2) {
	for i, a := range l {
		b := l[(i+1)%len(l)]
		way := b.Sub(a)
		for k := range n + 1 {
			p := a.Add(way.Mul(float64(k) / float64(n+1)))
			if k > 0 {
				p = p.Add(Vec2{way.Y, -way.X}.Mul(off / way.Norm()))
			}
			out = append(out, p)
		}
	}
	return out
}

var (
	comb = []Vec2{{0, 0}, {9, 0}, {9, 5}, {8, 1}, {7, 5}, {6, 1}, {5, 5}, {4, 1}, {3, 5}, {2, 1}, {1, 5}, {0.5, 1}}
	// A spiral in which corners see few others.
	spiral = []Vec2{{0, 0}, {9, 0}, {9, 9}, {1, 9}, {1, 3}, {6, 3}, {6, 6}, {3, 6}, {3, 5}, {5, 5}, {5, 4}, {2, 4}, {2, 8}, {8, 8}, {8, 1}, {0, 1}}
)

// Loops of any kind are filled, turned and mirrored as well, in any order and far away.
func TestLoopsAreFilled(t *testing.T) {
	hole := func(x, y, size float64) []Vec2 { return reversed(square(x, y, size)) }
	for name, loops := range map[string][][]Vec2{
		"nothing":                       {},
		"a triangle":                    {{{0, 0}, {1, 0}, {0, 1}}},
		"a square":                      {square(0, 0, 1)},
		"a comb":                        {comb},
		"a spiral":                      {spiral},
		"corners in line":               {along(square(0, 0, 3), 5, 0)},
		"corners a hair outside a line": {along(square(0, 0, 3), 5, 1e-9)},
		"corners a hair inside a line":  {along(square(0, 0, 3), 5, -1e-9)},
		"a hole":                        {square(0, 0, 3), hole(1, 1, 1)},
		"a hole whose sides have corners in line": {square(0, 0, 3), along(hole(1, 1, 1), 3, 0)},
		"holes in a row":                            {square(0, 0, 9), hole(1, 1, 1), hole(3, 1, 1), hole(5, 1, 1), hole(7, 1, 1)},
		"holes above one another":                   {square(0, 0, 9), hole(1, 1, 1), hole(1, 3, 1), hole(1, 5, 1), hole(1, 7, 1)},
		"holes all over":                            {square(0, 0, 9), hole(1, 1, 2), hole(4, 1.5, 1), hole(6, 1, 2), hole(1, 4, 1), hole(3, 4, 3), hole(7, 5, 1), hole(2, 7.5, 1)},
		"holes that look at one corner":             {{{0, 0}, {9, 4.5}, {0, 9}}, hole(1, 4, 1), hole(3, 4, 1), hole(5, 4, 1), hole(1, 2, 1), hole(1, 6, 1)},
		"a hole that looks at a corner turned in":   {{{0, 0}, {9, 0}, {9, 9}, {6, 4.5}, {9, 9.5}, {0, 10}}, hole(1, 4, 1)},
		"a hole right of which corners are in line": {{{0, 0}, {9, 0}, {9, 2}, {6, 2}, {6.5, 3}, {7, 4}, {9, 4}, {9, 9}, {0, 9}}, {{1, 4}, {4, 2}, {1, 1}}},
		"a hole that looks along a side":            {{{0, 0}, {9, 0}, {9, 4}, {6, 4}, {6, 5}, {9, 5}, {9, 9}, {0, 9}}, {{1, 3}, {2, 6}, {4, 4}}},
		"two apart":                                 {square(0, 0, 1), square(3, 0.5, 1)},
		"two beside each other, each with a hole":   {square(0, 0, 3), square(3.1, 0, 3), hole(1, 1, 1), hole(4.1, 1, 1)},
		"an island in a hole":                       {square(0, 0, 9), hole(1, 1, 7), square(2, 2, 5)},
		"an island with a hole in a hole":           {hole(3, 3, 3), square(2, 2, 5), square(0, 0, 9), hole(1, 1, 7)},
		"islands in a comb's hole":                  {square(-2, -2, 14), reversed(comb), square(1, 0.2, 0.5), square(8.3, 0.7, 0.5)},
	} {
		for k := range 24 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 6)
			var placed [][]Vec2
			for _, l := range loops {
				var moved []Vec2
				for _, p := range l {
					if k >= 12 {
						p.Y = -p.Y
					}
					q := Vec2{cos*p.X - sin*p.Y, sin*p.X + cos*p.Y}
					if k%2 == 1 {
						q = q.Add(Vec2{300, -300})
					}
					moved = append(moved, q)
				}
				if k >= 12 {
					slices.Reverse(moved)
				}
				placed = append(placed, moved)
			}
			edges, points := loopEdges(placed)
			// Turning rounds corners: those meant to be in line may be a hair beside it.
			list, ok := filledLoops(edges, points)
			if !ok {
				t.Errorf("%s, placed %d: not filled", name, k)
				continue
			}
			holes := 0
			for _, l := range placed {
				if loopArea(Outline{l}) < 0 {
					holes++
				}
			}
			if want := len(points) - 2*(len(placed)-2*holes); len(list) != want {
				t.Errorf("%s, placed %d: %d triangles, want %d", name, k, len(list), want)
			}
			checkFilled(t, edges, points, list)
			if t.Failed() {
				t.Fatalf("%s, placed %d", name, k)
			}
		}
	}
}

// What are no loops, or loops that touch, cross or go the wrong way round, is not filled.
func TestWhatIsNoLoopIsNotFilled(t *testing.T) {
	outer := square(0, 0, 9)
	for name, loops := range map[string][][]Vec2{
		"a point":                   {{{1, 1}}},
		"there and back":            {{{1, 1}, {2, 2}}},
		"the wrong way round":       {reversed(outer)},
		"a hole alone beside":       {outer, reversed(square(10, 0, 1))},
		"a hole in a hole":          {outer, reversed(square(1, 1, 5)), reversed(square(2, 2, 1))},
		"two, one in the other":     {outer, square(1, 1, 1)},
		"two at one place":          {outer, outer},
		"a hole as large as it is":  {outer, reversed(outer)},
		"two that cross":            {outer, square(8, 8, 5)},
		"a hole that crosses":       {outer, reversed(square(8, 8, 5))},
		"a corner on a side":        {outer, {{9, 4}, {12, 3}, {12, 5}}},
		"a hole's corner on a side": {outer, {{9, 4}, {3, 3}, {3, 5}}},
		"a corner on a corner":      {outer, square(9, 9, 1)},
		"a hole's on a corner":      {outer, {{9, 9}, {6, 3}, {5, 5}}},
		"an eight":                  {{{0, 0}, {4, 4}, {4, 0}, {0, 4}}},
		"a thread":                  {{{0, 0}, {4, 0}, {6, 0}, {4, 0.0}, {4, 4}}},
		"a thread that ends within": {{{0, 0}, {4, 0}, {4, 2}, {2, 2}, {4, 2.0}, {4, 4}, {0, 4}}},
		"no area":                   {{{0, 0}, {1, 1}, {3, 3}}},
		"no number":                 {{{0, 0}, {math.NaN(), 1}, {3, 3}}},
	} {
		if list, ok := filledLoops(loopEdges(loops)); ok {
			t.Errorf("%s: filled with %v", name, list)
		}
	}
	points := square(0, 0, 1)
	for name, edges := range map[string][][2]int32{
		"open":               {{0, 1}, {1, 2}, {2, 3}},
		"one edge":           {{0, 1}},
		"an edge twice":      {{0, 1}, {1, 2}, {2, 3}, {3, 0}, {0, 1}},
		"two from a corner":  {{0, 1}, {1, 2}, {2, 3}, {3, 0}, {0, 2}},
		"two to a corner":    {{0, 1}, {1, 2}, {2, 3}, {3, 0}, {1, 3}},
		"from itself":        {{0, 1}, {1, 2}, {2, 0}, {3, 3}},
		"towards each other": {{0, 1}, {2, 1}, {2, 3}, {0, 3}},
	} {
		if list, ok := filledLoops(edges, points); ok {
			t.Errorf("%s: filled with %v", name, list)
		}
	}
}

// Stars with stars in them, and stars in those, as they come.
func TestRandomStarsAreFilled(t *testing.T) {
	const seed = 5
	rng := rand.New(rand.NewPCG(seed, 0))
	star := func(at Vec2, least, most float64) (l []Vec2) {
		n := 3 + rng.IntN(40)
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.9*rng.Float64()) / float64(n))
			r := least + (most-least)*rng.Float64()
			l = append(l, at.Add(Vec2{r * cos, r * sin}))
		}
		return l
	}
	for round := range 60 {
		loops := [][]Vec2{star(Vec2{}, 40, 90)}
		for x := range 5 {
			for y := range 5 { // 25 places in the middle, 8 apart
				if rng.IntN(3) == 0 {
					continue
				}
				at := Vec2{8 * (float64(x) - 2), 8 * (float64(y) - 2)}
				if at.Norm() > 15 { // sides of triangles come as near as 20
					continue
				}
				loops = append(loops, reversed(star(at, 2, 3.9)))
				if rng.IntN(2) == 0 {
					loops = append(loops, star(at, 0.2, 0.9))
				}
			}
		}
		edges, points := loopEdges(loops)
		rng.Shuffle(len(edges), func(i, k int) { edges[i], edges[k] = edges[k], edges[i] })
		list, ok := filledLoops(edges, points)
		if want := clearLoops(edges, points); ok != want {
			t.Fatalf("seed %d, round %d: %d corners filled: %v, want %v", seed, round, len(points), ok, want)
		}
		if ok {
			checkFilled(t, edges, points, list)
		}
		if t.Failed() {
			t.Fatalf("seed %d, round %d", seed, round)
		}
	}
}

// clearLoops looks at every pair of edges: whether loops touch neither others nor
// themselves, and are once round all that is on their left and not round what is on their
// right.
func clearLoops(edges [][2]int32, points []Vec2) bool {
	from := map[int32]int{}
	for _, e := range edges {
		from[e[0]]++
		from[e[1]] += 1000
	}
	for _, n := range from {
		if n != 1001 {
			return false
		}
	}
	for i, e := range edges {
		a, b := points[e[0]], points[e[1]]
		left, right := 0, 0
		mid, out := a.Add(b).Mul(0.5), b.Sub(a).Mul(1e-6)
		l, r := mid.Add(Vec2{-out.Y, out.X}), mid.Sub(Vec2{-out.Y, out.X})
		for k, f := range edges {
			c, d := points[f[0]], points[f[1]]
			left, right = left+windingStep(c, d, l), right+windingStep(c, d, r)
			if k == i {
				continue
			}
			switch {
			case e[1] == f[0] && e[0] == f[1]:
				return false
			case e[1] == f[0]:
				if turningOf(a, b, d) == 0 && a.Sub(b).Dot(d.Sub(b)) > 0 || c == d {
					return false
				}
			case e[0] == f[1]:
			case turningOf(a, b, c)*turningOf(a, b, d) <= 0 && turningOf(c, d, a)*turningOf(c, d, b) <= 0 &&
				max(min(a.X, b.X), min(c.X, d.X)) <= min(max(a.X, b.X), max(c.X, d.X)) &&
				max(min(a.Y, b.Y), min(c.Y, d.Y)) <= min(max(a.Y, b.Y), max(c.Y, d.Y)):
				return false
			}
		}
		if a == b || left != 1 || right != 0 {
			return false
		}
	}
	return true
}

// FuzzFillLoops fills loops exactly where they are clear of each other, and ends without a
// panic where they are not. A byte is a corner on a grid of 16 by 16, the first a mask of
// the corners that end a loop.
func FuzzFillLoops(f *testing.F) {
	f.Add([]byte{0, 0, 0x00, 0x40, 0x44, 0x04})
	f.Add([]byte{8, 0, 0x00, 0x60, 0x66, 0x06, 0x22, 0x23, 0x33})
	f.Add([]byte{8, 0, 0x00, 0x60, 0x66, 0x06, 0x22, 0x32, 0x33})
	f.Add([]byte{0x88, 0, 0x00, 0xf0, 0xff, 0x0f, 0x11, 0x1d, 0xdd, 0xd1, 0x22, 0x42, 0x44, 0x24})
	f.Add([]byte{0, 0, 0x00, 0x44, 0x40, 0x04})
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) < 3 || len(data) > 24 {
			return
		}
		ends := uint(data[0]) | uint(data[1])<<8
		loops := [][]Vec2{nil}
		for i, b := range data[2:] {
			last := len(loops) - 1
			loops[last] = append(loops[last], Vec2{float64(b >> 4), float64(b & 15)})
			if ends>>i&1 == 1 {
				loops = append(loops, nil)
			}
		}
		edges, points := loopEdges(loops)
		list, ok := filledLoops(edges, points)
		if want := clearLoops(edges, points); ok != want {
			t.Fatalf("%v filled: %v, want %v", loops, ok, want)
		}
		if ok {
			checkFilled(t, edges, points, list)
		}
	})
}

// Small loops on a small grid touch and cross in every way; some do not.
func TestLoopsOnAGridAreFilledWhereTheyAreClear(t *testing.T) {
	const seed = 8
	rng := rand.New(rand.NewPCG(seed, 0))
	filled := map[int]int{} // by number of loops
	for round := range 60000 {
		var loops [][]Vec2
		for range 1 + rng.IntN(3) {
			var l []Vec2
			wide := 2 + rng.IntN(5)
			x, y := rng.IntN(8-wide), rng.IntN(8-wide)
			for range 3 + rng.IntN(4) {
				l = append(l, Vec2{float64(x + rng.IntN(wide)), float64(y + rng.IntN(wide))})
			}
			loops = append(loops, l)
		}
		edges, points := loopEdges(loops)
		list, ok := filledLoops(edges, points)
		if want := clearLoops(edges, points); ok != want {
			t.Fatalf("seed %d, round %d: %v filled: %v, want %v", seed, round, loops, ok, want)
		}
		if ok {
			filled[len(loops)]++
			checkFilled(t, edges, points, list)
		}
		if t.Failed() {
			t.Fatalf("seed %d, round %d: %v", seed, round, loops)
		}
	}
	if filled[1] < 1000 || filled[2] < 30 || filled[3] < 1 {
		t.Errorf("filled by number of loops: %v", filled)
	}
}

// Many corners, on a circle, in rows and about a thousand holes.
func TestManyCornersAreFilled(t *testing.T) {
	circle := func(n int) (l []Vec2) {
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			l = append(l, Vec2{cos, sin})
		}
		return l
	}
	zigzag := func(n int) (l []Vec2) {
		for i := range n / 2 {
			l = append(l, Vec2{float64(i), float64(i % 2)})
		}
		for i := n/2 - 1; i >= 0; i-- {
			l = append(l, Vec2{float64(i), 0.1 + float64(i%2)})
		}
		return l
	}
	wall := [][]Vec2{square(-1, -1, 100)}
	for i := range 1000 {
		wall = append(wall, reversed(square(3*float64(i%32), 3*float64(i/32), 1)))
	}
	for name, loops := range map[string][][]Vec2{
		"circle": {circle(10000)}, "zigzag": {zigzag(10000)}, "rows": {along(square(0, 0, 1), 250, 0)}, "wall": wall,
	} {
		edges, points := loopEdges(loops)
		list, ok := filledLoops(edges, points)
		if !ok {
			t.Errorf("%s is not filled", name)
			continue
		}
		checkFilled(t, edges, points, list)
	}
}

// A row of corners a hair outside a side becomes triangles with far corners, not slivers.
func TestCornersNearlyInLineAreFilledWithoutSlivers(t *testing.T) {
	for _, off := range []float64{0, 1e-10, 1e-7} {
		edges, points := loopEdges([][]Vec2{along(square(0, 0, 5), 20, off)})
		list, ok := filledLoops(edges, points)
		if !ok {
			t.Fatalf("%g mm: not filled", off)
		}
		for _, v := range list {
			a, b, c := points[v[0]], points[v[1]], points[v[2]]
			if h := leastHeight(Vec{X: a.X, Y: a.Y}, Vec{X: b.X, Y: b.Y}, Vec{X: c.X, Y: c.Y}); h < 0.05 {
				t.Errorf("%g mm: a triangle is %g mm high", off, h)
			}
		}
	}
}

func BenchmarkFillLoops(b *testing.B) {
	for _, n := range []int{100, 2000, 10000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			rng := rand.New(rand.NewPCG(1, 1))
			var l []Vec2
			for i := range n {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
				r := 4 + rng.Float64()
				l = append(l, Vec2{r * cos, r * sin})
			}
			edges, points := loopEdges([][]Vec2{l})
			for b.Loop() {
				if _, ok := filledLoops(edges, points); !ok {
					b.Fatal("not filled")
				}
			}
		})
	}
}

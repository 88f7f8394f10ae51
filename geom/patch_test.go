package geom

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// Patches that need no second look, by hand.
func TestFlatFanTakesSmallLoops(t *testing.T) {
	ring := func(n int) ([]int32, *sampling, *leaf) {
		d, l := &sampling{}, &leaf{flat: true, links: make([]link, n)}
		ids := make([]int32, n)
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			d.at, d.normal = append(d.at, Vec{c, s, 0}), append(d.normal, Vec{Z: 1})
			ids[i] = int32(i)
		}
		return ids, d, l
	}
	all := Box{Vec{-2, -2, -2}, Vec{2, 2, 2}}
	for n := 3; n <= 8; n++ {
		ids, d, l := ring(n)
		if _, ok := flatFan(l, all, ids, d); ok != (n <= 6) {
			t.Errorf("%d corners: %v", n, ok)
		}
		l.flat = false
		if _, ok := flatFan(l, all, ids, d); ok {
			t.Errorf("%d corners of a leaf that is not flat", n)
		}
		l.flat, l.links = true, append(l.links, link{})
		if _, ok := flatFan(l, all, ids, d); ok {
			t.Errorf("%d corners with a link too many", n)
		}
	}
}

// Two flat leaves with a face between them that the surface crosses at four sides,
// as a blade had them: no edge of their fans runs along it but the two chords there.
func TestFlatFansKeepOffTheFaceBetweenThem(t *testing.T) {
	d := &sampling{at: []Vec{
		{1, 0.06, 1}, {1, 0, 0.94}, {1, 0.17, 0}, {1, 1, 0.73}, // on the face
		{0.67, 1, 1}, {0.78, 0, 0}, // beyond it on the lesser side
		{1.07, 1, 1}, {1.06, 0, 0}, // and on the greater
	}}
	for _, side := range []struct {
		ids    []int32
		cell   Box
		normal Vec
	}{
		{[]int32{4, 0, 1, 5, 2, 3}, Box{Vec{}, Vec{1, 1, 1}}, Vec{0.98, 0.17, -0.08}},
		{[]int32{1, 0, 6, 3, 2, 7}, Box{Vec{X: 1}, Vec{2, 1, 1}}, Vec{-0.98, 0.1, 0.1}},
	} {
		d.normal = slices.Repeat([]Vec{side.normal}, len(d.at))
		l := &leaf{flat: true, links: make([]link, len(side.ids))}
		start, ok := flatFan(l, side.cell, side.ids, d)
		if !ok {
			t.Fatal("no fan")
		}
		m := &TriMesh{Vertices: d.at}
		m.addLoop(&loop{ids: side.ids, start: start})
		for _, f := range m.Triangles {
			for k := range f {
				a, b := min(f[k], f[(k+1)%3]), max(f[k], f[(k+1)%3])
				if b < 4 && [2]int32{a, b} != [2]int32{0, 1} && [2]int32{a, b} != [2]int32{2, 3} {
					t.Errorf("the edge from %v to %v runs along the face", d.at[a], d.at[b])
				}
			}
		}
	}
}

// The samples of a triangle stand at its seven places, and nowhere else.
func TestPatchSamples(t *testing.T) {
	asked := 0
	tri := triangle{Vec{}, Vec{X: 12}, Vec{X: 48}} // its middle is at 20
	for _, c := range []struct {
		n    int
		peak float64 // the value is 1 there, and falls to nothing 0.4 mm away
		want float64
	}{
		{7, 20, 1}, {7, 6, 1}, {7, 30, 1}, {7, 24, 1}, {7, 10, 1}, {7, 16, 1}, {7, 34, 1},
		{3, 20, 1}, {3, 6, 1}, {3, 16, 1}, {3, 30, 0}, {3, 24, 0}, {7, 0, 0}, {7, 12, 0}, {7, 48, 0},
	} {
		w := witness{solid: bent{func(x float64) float64 { return -max(0, 1-math.Abs(x-c.peak)/0.4) }, &asked}}
		if got := w.samples(&tri, c.n); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%d samples, peak at %g: %g, want %g", c.n, c.peak, got, c.want)
		}
	}
	if allSamples != sampleCount(16) || fewSamples != sampleCount(17) {
		t.Error("patches of 16 triangles are sampled in full, larger ones less")
	}
}

// The farthest mark is the one reported.
func TestPatchMissesTheFarthestMark(t *testing.T) {
	patch := []triangle{{Vec{}, Vec{X: 4}, Vec{Y: 4}}, {Vec{Z: 9}, Vec{X: 4, Z: 9}, Vec{Y: 4, Z: 9}}}
	w := witness{marks: []Vec{{1, 1, 1}, {1, 1, -3}, {1, 1, 7}, {1, 1, 0}}}
	if far, at := w.missed(patch); far != 3 || at != (Vec{1, 1, -3}) {
		t.Errorf("%v at %v, want 3 at (1, 1, -3)", far, at)
	}
	if far, at := (&witness{}).missed(patch); far != 0 || at != (Vec{}) {
		t.Errorf("%v at %v without marks", far, at)
	}
}

// Points where sheets meet the faces of the cell are marks when the solid is as
// near to 0 there as the sheets are thick, to the last bit.
func TestMarksAreOnTheSkin(t *testing.T) {
	asked := 0
	b := BoxOf(Vec{}, Vec{1, 1, 1})
	parts := &sheets{slabs: []Slab{{N: Vec{X: 1}, D: 0.5, W: 0.25}}}
	most := onSurface + parts.thickness()
	for _, c := range []struct {
		value float64
		marks int
	}{{0, 4}, {most, 4}, {-most, 4}, {math.Nextafter(most, 1), 0}, {-math.Nextafter(most, 1), 0}} {
		w := witnessOf(bent{func(float64) float64 { return c.value }, &asked}, b, parts)
		if len(w.marks) != c.marks {
			t.Errorf("value %g: %d marks, want %d", c.value, len(w.marks), c.marks)
		}
		for _, p := range w.marks {
			if p.X != 0.5 || p.Y != 0 && p.Y != 1 || p.Z != 0 && p.Z != 1 {
				t.Errorf("a mark at %v", p)
			}
		}
	}
}

// What a patch may miss by, and what thinning may move it by after, stay within
// the tolerance together.
func TestPatchLimitsAddUp(t *testing.T) {
	if miss := patchLimit * patchShare; !(miss <= 1) {
		t.Errorf("a patch may miss by %g tolerances", miss)
	}
	if miss := flatLimit*patchShare + thinShare; !(miss <= 1) {
		t.Errorf("a flat patch and thinning may miss by %g tolerances", miss)
	}
}

// The triangles of a fan or a cone fill their loop: their area vectors add up to its
// own, from whichever corner, which a triangle too few does not.
func TestFansFillTheirLoop(t *testing.T) {
	for n := 3; n <= 7; n++ {
		d, ids := &sampling{}, []int32{}
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			d.at, ids = append(d.at, Vec{2 * cos, 2 * sin, 1}), append(ids, int32(i))
		}
		want := Vec{Z: float64(n) / 2 * 4 * math.Sin(2*math.Pi/float64(n))} // of a polygon in a circle of 2
		fills := map[string][]triangle{"cone": coneOf(Vec{0.3, 0.2, 5}, ids, d)}
		for start := range n {
			fills[fmt.Sprint("fan from ", start)] = fanOf(start, ids, d)
		}
		for name, fill := range fills {
			sum := Vec{}
			for i := range fill {
				sum = sum.Add(fill[i].normal().Mul(0.5))
			}
			if sum.Dist(want) > 1e-12 {
				t.Errorf("%d corners, %s: %v, want %v", n, name, sum, want)
			}
		}
	}
}

// A leaf through which a surface runs that is flat, or gently curved, is filled
// without an apex, all of it on the surface.
func TestTrialOfAGentleLeafIsFlat(t *testing.T) {
	n := Vec{1, 2, 4}.Unit()
	for name, s := range map[string]Solid{"plane": HalfSpace(n, 0.05), "ball": Ball(n.Mul(-1000), 1000)} {
		tree := newOctree(Box{Vec{-1, -1, -1}, Vec{1, 1, 1}}, 0.01, 1, 1, nil)
		b := Box{Vec{-0.5, -0.5, -0.5}, Vec{0.5, 0.5, 0.5}}
		tree.lattice = lattice{b.Min, Vec{1, 1, 1}.Mul(1. / 1024)}
		l := &leaf{solid: s, size: 1024}
		for i := range l.values {
			l.values[i] = s.Evaluate(b.Corner(i))
		}
		w := witnessOf(s, b, nil)
		if err := tree.trial(l, b, &w, true); err > 0.001 || len(l.patch.old) != 1 || l.patch.old[0].coned {
			t.Errorf("%s: off by %g, loops %+v", name, err, l.patch.old)
		}
		// Where a loop is too large for that, the apex is on the surface too.
		d := tree.outlineAlone(&leaf{solid: s, size: 1024, values: l.values})
		apex, err := tree.apex(&leaf{solid: s, flat: true}, b, []int32{0, 1, 2}, d, &w, false, 0)
		if v := s.Evaluate(apex); math.Abs(v) > 1e-9 || err > 0.001 {
			t.Errorf("%s: apex %v is %g off, its patch %g", name, apex, v, err)
		}
	}
}

// A patch worse than its limit is to be split, one that is thinned later sooner than
// another, and the least leaves not at all.
func TestPoorPatches(t *testing.T) {
	tree := &octree{tol: 1, least: 4}
	for _, c := range []struct {
		l    leaf
		want int
	}{
		{leaf{size: 8, flat: true, patch: patch{err: 0.99 * flatLimit}}, 0},
		{leaf{size: 8, flat: true, patch: patch{err: 1.01 * flatLimit}}, 1},
		{leaf{size: 8, patch: patch{err: 1.01 * flatLimit}}, 0},
		{leaf{size: 8, patch: patch{err: 1.01 * patchLimit}}, 1},
		{leaf{size: 4, patch: patch{err: 1.01 * patchLimit}}, 0},
		{leaf{size: 8, faceted: &facetLeaf{failed: true}}, 1},
		{leaf{size: 8, faceted: &facetLeaf{}}, 0},
	} {
		if got := len(tree.poor([]*leaf{&c.l})); got != c.want {
			t.Errorf("size %d, flat %v, faceted %v, off by %g: %d", c.l.size, c.l.flat, c.l.faceted != nil, c.l.patch.err, got)
		}
	}
}

// A cone that gets a vertex more is asked about where it is new, and nowhere else; no
// sample is taken twice.
func TestConesAreAskedAboutOnce(t *testing.T) {
	d, apex := &sampling{at: []Vec{{}, {X: 1}, {1, 1, 0}, {Y: 1}, {0.5, -0.1, 0}}}, Vec{0.5, 0.5, 0.5}
	asked := 0
	w := witness{solid: bent{func(float64) float64 { return 0.25 }, &asked}}
	four, five := []int32{0, 1, 2, 3}, []int32{0, 4, 1, 2, 3}
	if err, _ := w.error(coneOf(apex, four, d), 1); err != 0.25 || asked != 4*(allSamples-1) {
		t.Errorf("a cone of 4 triangles: off by %g, asked %d times", err, asked)
	}
	was := patch{err: 0.3, from: pointsOf([][]int32{four}, d), old: []loop{{ids: four, apex: apex, coned: true}}}
	d.at[1] = d.at[1].Add(Vec{Z: 0.5 * onSurface}) // as another cell found it
	asked = 0
	if err, ok := w.regrown(&was, coneOf(apex, five, d), 0.5); err != 0.3 || !ok || asked != 2*allSamples-1 {
		t.Errorf("a vertex more: off by %g, %v, asked %d times", err, ok, asked)
	}
	if _, ok := w.regrown(&was, coneOf(apex, five, d), 0.29); ok {
		t.Error("a cone that was too far off is kept")
	}
	w.marks = []Vec{{0.5, 0.5, 2}}
	if err, ok := w.regrown(&was, coneOf(apex, five, d), 0.5); ok {
		t.Errorf("a cone is kept that misses a landmark by %g", err)
	}
	if !was.redo([][]int32{four}, d) || was.loops[0].apex != apex {
		t.Error("a loop through the same points is not taken over")
	}
	d.at[1] = d.at[1].Add(Vec{Z: 2 * onSurface})
	if was.redo([][]int32{four}, d) {
		t.Error("a loop through other points is taken over")
	}
}

// The landmarks of a leaf are looked for once.
func TestMarksAreFoundOnce(t *testing.T) {
	asked := 0
	l := leaf{
		solid:  bent{func(float64) float64 { return 0 }, &asked},
		sheets: &sheets{slabs: []Slab{{N: Vec{X: 1}, D: 0.5, W: 0.25}}},
	}
	b := BoxOf(Vec{}, Vec{1, 1, 1})
	first := len(l.knownMarks(b))
	once := asked
	if again := len(l.knownMarks(b)); first != 4 || again != first || asked != once {
		t.Errorf("%d marks, then %d; asked %d times, then %d", first, again, once, asked-once)
	}
}

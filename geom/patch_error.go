package geom

import (
	"math"
	"slices"
)

// witness is what the patch of a leaf is held against: the solid in the cell,
// asked at points of the patch, and the solid's landmarks there.
type witness struct {
	solid Solid
	marks []Vec // on the surface
}

// witness is what the patch of a leaf, which fills b, is held against.
func (t *octree) witness(l *leaf, b Box) witness {
	w := witness{solid: l.solid, marks: l.knownMarks(b)}
	if l.keen {
		w.marks = append(slices.Clip(w.marks), t.edgePoints(l.solid, b)...)
	}
	return w
}

// knownMarks returns the landmarks in a leaf, which fills b, found when first asked for.
func (l *leaf) knownMarks(b Box) []Vec {
	if !l.marked {
		l.marks, l.marked = witnessOf(l.solid, b, l.sheets).marks, true
	}
	return l.marks
}

func witnessOf(s Solid, b Box, parts *sheets) witness {
	w := witness{solid: s}
	most := onSurface + parts.thickness()
	parts.corners(b, func(p Vec) {
		if math.Abs(s.Evaluate(p)) <= most {
			w.marks = append(w.marks, p)
		}
	})
	all := isMesh(s)
	Landmarks(s, b, func(p Vec) {
		if all || math.Abs(s.Evaluate(p)) <= onSurface {
			w.marks = append(w.marks, p)
		}
	})
	return w
}

// isMesh reports whether all landmarks of s are on its surface.
func isMesh(s Solid) bool {
	switch s := s.(type) {
	case *meshBody, *prunedMesh:
		return true
	case *placed:
		return isMesh(s.s)
	case *complement:
		return isMesh(s.s)
	}
	return false
}

// error returns how far the patch and the surface are found to be apart, and the
// landmark that is farthest from the patch. It gives up above limit. Where
// landmarks are dense, they leave little for samples to find.
func (w *witness) error(patch []triangle, limit float64) (err float64, missed Vec) {
	err, missed = w.missed(patch)
	n := sampleCount(len(patch))
	if len(w.marks) > 4*len(patch) {
		n = min(n, fewSamples)
	}
	for i := range patch {
		if err >= limit {
			break
		}
		err = max(err, w.samples(&patch[i], withoutShared(patch, i, n)))
	}
	return err, missed
}

// regrown returns the error of a cone from the apex of one sampled before, of which
// only the new triangles are asked about, and whether it is no more than enough.
func (w *witness) regrown(was *patch, cone []triangle, enough float64) (float64, bool) {
	if was.err > enough {
		return was.err, false
	}
	fresh := make([]triangle, 0, len(cone))
	for _, t := range cone {
		if !was.has(t.b, t.c) {
			fresh = append(fresh, t)
		}
	}
	far, _ := w.missed(cone)
	err := max(was.err, far)
	n := sampleCount(len(cone))
	for i := range fresh {
		if err > enough {
			break
		}
		err = max(err, w.samples(&fresh[i], withoutShared(fresh, i, n)))
	}
	return err, err <= enough
}

// withoutShared is n, less the last sample of triangle i, which lies on the edge where
// the next one has its second, if there is such an edge.
func withoutShared(patch []triangle, i, n int) int {
	next := &patch[(i+1)%len(patch)]
	if next.a == patch[i].a && next.b == patch[i].c {
		return min(n, allSamples-1)
	}
	return n
}

// missed returns how far the landmarks are from the patch at most, and which
// is.
func (w *witness) missed(patch []triangle) (far float64, at Vec) {
	worst := 0.0
	for _, p := range w.marks {
		near := math.Inf(1)
		for i := range patch {
			way, _ := patch[i].closest(p)
			near = min(near, way.Dot(way))
		}
		if near > worst {
			worst, at = near, p
		}
	}
	return math.Sqrt(worst), at
}

// samples asks the solid at the first n of seven points of a triangle: its
// middle, those of its edges, and half-way from the middle to its corners.
func (w *witness) samples(t *triangle, n int) float64 {
	m := t.a.Add(t.b).Add(t.c).Mul(1.0 / 3)
	points := [allSamples]Vec{m, t.a.Lerp(t.b, 0.5), m.Lerp(t.b, 0.5), t.b.Lerp(t.c, 0.5), m.Lerp(t.a, 0.5),
		m.Lerp(t.c, 0.5), t.c.Lerp(t.a, 0.5)}
	err := 0.0
	for _, p := range points[:n] {
		err = max(err, math.Abs(w.solid.Evaluate(p)))
	}
	return err
}

const (
	allSamples = 7
	fewSamples = 3
)

// sampleCount returns how many points to ask about in each triangle of a patch:
// fewer where many slim ones lie side by side.
func sampleCount(triangles int) int {
	if triangles > 16 {
		return fewSamples
	}
	return allSamples
}

// fanOf returns the triangles of a loop filled from vertex start.
func fanOf(start int, ids []int32, d *sampling) []triangle {
	n := len(ids)
	at := func(i int) Vec { return d.at[ids[(start+i)%n]] }
	fan := make([]triangle, 0, n-2)
	for i := 1; i+1 < n; i++ {
		fan = append(fan, triangle{at(0), at(i), at(i + 1)})
	}
	return fan
}

// coneOf returns the triangles of a loop filled from an apex.
func coneOf(apex Vec, ids []int32, d *sampling) []triangle {
	cone := make([]triangle, len(ids))
	for i, id := range ids {
		cone[i] = triangle{apex, d.at[id], d.at[ids[(i+1)%len(ids)]]}
	}
	return cone
}

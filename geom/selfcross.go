package geom

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"halfpour/geom/parallel"
)

// Crossing is a pair of triangles that meet where those of a sound mesh do not.
type Crossing struct {
	A, B   int // triangle indices, A < B
	Shared int // corners in the same place: 0, 1, 2, or 3 for one triangle upon the other
	At     Vec // near there, mm
}

// String returns, say, "triangles 12 and 340 cross near (12.4, -3.1, 8.0) mm".
func (c Crossing) String() string {
	return fmt.Sprintf("triangles %d and %d cross near (%.1f, %.1f, %.1f) mm", c.A, c.B, c.At.X, c.At.Y, c.At.Z)
}

// SelfCrossings returns the pairs of triangles that have more in common than
// the corner or the edge that they share: that cut through each other, touch,
// lie upon each other or are folded flat about their common edge. At most
// limit pairs come back, sorted by A and B; 0 or less means all. Which ones
// does not depend on the number of processors.
//
// Corners in the same place count as shared whatever their index. Triangles
// without area are passed over; Audit reports them. Vertices must be finite
// and indices in range. The answer is exact. The error is that of ctx.
func SelfCrossings(ctx context.Context, m *TriMesh, limit int) ([]Crossing, error) {
	return crossingsOf(ctx, m, nil, soundFans{}, limit)
}

// crossingsOf is SelfCrossings for triangles of which those of kin, and those of one of the
// fans, are known not to meet; of all when runs is nil.
func crossingsOf(ctx context.Context, m *TriMesh, runs []triangleRun, fans soundFans, limit int) ([]Crossing, error) {
	tree, err := newPairTree(ctx, m, runs, 0)
	if err != nil {
		return nil, err
	}
	all, err := inRounds(ctx, tree.tasks(), limit, func(task pairTask) (out []Crossing) {
		tree.eachNear(task, func(a, b int32) bool {
			if fans.holdBoth(m, a, b) {
				return true
			}
			p, q := m.cornersOf(a), m.cornersOf(b)
			if shared, ok := trianglesCross(p, q); ok {
				out = append(out, crossingOf(a, b, shared, &p, &q))
			}
			return limit <= 0 || len(out) < limit
		})
		return out
	})
	slices.SortFunc(all, compareCrossings)
	return all, err
}

func compareCrossings(c, d Crossing) int {
	return cmp.Or(cmp.Compare(c.A, d.A), cmp.Compare(c.B, d.B))
}

func crossingOf(a, b int32, shared int, p, q *[3]Vec) Crossing {
	at := BoxOf(p[:]...).Intersect(BoxOf(q[:]...)).Centre()
	return Crossing{int(min(a, b)), int(max(a, b)), shared, at}
}

// inRounds returns what find finds in the tasks, in their order, at most limit when that
// is above 0. Which does not depend on the number of processors.
func inRounds[T any](ctx context.Context, tasks []pairTask, limit int, find func(pairTask) []T) (all []T, err error) {
	// A mesh that crosses itself all over has pairs without number: stop after
	// a round that has found enough.
	const round = 256 // tasks
	for first := 0; first < len(tasks) && (limit <= 0 || len(all) < limit); first += round {
		found := make([][]T, min(round, len(tasks)-first))
		err := parallel.For(ctx, len(found), 0, func(i int) { found[i] = find(tasks[first+i]) })
		if err != nil {
			return nil, err
		}
		all = append(all, slices.Concat(found...)...)
	}
	if limit > 0 && len(all) > limit {
		all = all[:limit]
	}
	return all, nil
}

func (m *TriMesh) cornersOf(t int32) (p [3]Vec) {
	p[0], p[1], p[2] = m.Corners(int(t))
	return p
}

// trianglesCross counts the corners that two triangles share and reports
// whether they have more than those, and the edge between two of them, in
// common. Both must have an area.
func trianglesCross(p, q [3]Vec) (shared int, crosses bool) {
	shared = sharedFirst(&p, &q)
	return shared, !clearlyApart(&p, &q, shared, 0) && meetElsewhere(p, q, shared)
}

// sharedFirst brings the corners that two triangles share to the front of both.
func sharedFirst(p, q *[3]Vec) (shared int) {
	for i := range p {
		for j := shared; j < len(q); j++ {
			if p[i] == q[j] {
				p[i], p[shared] = p[shared], p[i]
				q[j], q[shared] = q[shared], q[j]
				shared++
				break
			}
		}
	}
	return shared
}

// meetElsewhere is trianglesCross where the shared corners come first.
func meetElsewhere(p, q [3]Vec, shared int) bool {
	switch shared {
	case 3:
		return true
	case 2:
		return folded(p[0], p[1], p[2], q[2])
	case 1:
		// What they have in common is convex and ends at the shared corner. If
		// there is more of it, its other end is where it leaves the first of the
		// two, and that is on the side opposite the corner.
		return sideMeets(p, q) || sideMeets(q, p)
	}
	ps, apart := sidesOf(p, q)
	if apart {
		return false
	}
	qs, apart := sidesOf(q, p)
	if apart {
		return false
	}
	for i := range 3 {
		j := (i + 1) % 3
		if segmentMeets(p[i], p[j], ps[i], ps[j], q) || segmentMeets(q[i], q[j], qs[i], qs[j], p) {
			return true
		}
	}
	return false
}

// folded reports whether c and d lie in one plane with, and on the same side
// of, the edge a b. Triangles on a common edge in different planes meet there
// only.
func folded(a, b, c, d Vec) bool {
	if orient3d(a, b, c, d) != 0 {
		return false
	}
	k, ok := seenAlong(a, b, c)
	return ok && k.orient2d(a, b, c) == k.orient2d(a, b, d)
}

// sidesOf returns on which side of q's plane each corner of p is, and whether
// all are strictly on one.
func sidesOf(p, q [3]Vec) (s [3]int, apart bool) {
	for i, v := range p {
		s[i] = orient3d(q[0], q[1], q[2], v)
	}
	return s, s[0] != 0 && s[0] == s[1] && s[1] == s[2]
}

// sideMeets reports whether the side of p opposite its first corner meets q.
func sideMeets(p, q [3]Vec) bool {
	s := orient3d(q[0], q[1], q[2], p[1])
	t := orient3d(q[0], q[1], q[2], p[2])
	return segmentMeets(p[1], p[2], s, t, q)
}

// segmentMeets reports whether the closed segment a b meets the closed
// triangle q; sa and sb are the sides of q's plane on which its ends are.
func segmentMeets(a, b Vec, sa, sb int, q [3]Vec) bool {
	switch {
	case sa*sb > 0:
		return false
	case sa == 0 && sb == 0:
		return segmentMeetsFlat(a, b, q)
	}
	// The line a b pierces the plane in one point: inside when the line passes
	// all three edges on the same side.
	var left, right bool
	for i := range 3 {
		switch orient3d(a, b, q[i], q[(i+1)%3]) {
		case 1:
			left = true
		case -1:
			right = true
		}
	}
	return !(left && right)
}

// segmentMeetsFlat is segmentMeets for a segment in q's plane.
func segmentMeetsFlat(a, b Vec, q [3]Vec) bool {
	k, ok := seenAlong(q[0], q[1], q[2])
	if !ok {
		return false
	}
	turn, inside := k.orient2d(q[0], q[1], q[2]), true
	for i := range 3 {
		c, d := q[i], q[(i+1)%3]
		if k.segmentsMeet(a, b, c, d) {
			return true
		}
		inside = inside && k.orient2d(c, d, a) == turn
	}
	return inside
}

// segmentsMeet reports whether the closed segments a b and c d, in one plane
// and projected along k, meet.
func (k axis) segmentsMeet(a, b, c, d Vec) bool {
	sa, sb := k.orient2d(c, d, a), k.orient2d(c, d, b)
	sc, sd := k.orient2d(a, b, c), k.orient2d(a, b, d)
	if sa == 0 && sb == 0 { // on one line, where boxes tell
		return !BoxOf(a, b).Intersect(BoxOf(c, d)).IsEmpty()
	}
	return sa*sb <= 0 && sc*sd <= 0
}

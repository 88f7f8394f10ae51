package geom

import "math"

// Intersect returns the points that are in all of the solids. Intersections
// among them are opened and nil ones dropped; of one solid it is that solid,
// of none the empty solid.
func Intersect(solids ...Solid) Solid {
	children := appendIntersection(make([]Solid, 0, len(solids)), solids)
	switch len(children) {
	case 0:
		return nothing{}
	case 1:
		return children[0]
	}
	return newIntersection(children)
}

// Subtract returns the points of s that are in none of the cuts; nil cuts are
// dropped, and a nil s gives the empty solid.
func Subtract(s Solid, cuts ...Solid) Solid {
	if s == nil {
		return nothing{}
	}
	children := appendIntersection(make([]Solid, 0, 1+len(cuts)), []Solid{s})
	for _, c := range appendUnion(nil, cuts) {
		children = append(children, &complement{c})
	}
	if len(children) == 1 {
		return children[0]
	}
	return newIntersection(children)
}

func appendIntersection(children, solids []Solid) []Solid {
	for _, s := range solids {
		switch s := s.(type) {
		case nil:
		case *intersection:
			children = append(children, s.children...)
		default:
			children = append(children, s)
		}
	}
	return children
}

func newIntersection(children []Solid) Solid {
	box := everywhere()
	for _, k := range children {
		box = box.Intersect(k.BoundingBox())
	}
	if box.IsEmpty() {
		return nothing{}
	}
	s := &intersection{children: children, box: box, clip: true}
	for _, k := range children {
		if k.BoundingBox() == box {
			s.clip = false // k's own value keeps law 2 for all
		}
	}
	return s
}

// complement is everything outside a solid.
type complement struct{ s Solid }

func (s *complement) BoundingBox() Box        { return everywhere() }
func (s *complement) Evaluate(p Vec) float64  { return -s.s.Evaluate(p) }
func (s *complement) Range(b Box) Interval    { return Range(s.s, b).Neg() }
func (s *complement) place(p Transform) Solid { return &complement{p.Solid(s.s)} }
func (s *complement) offset(d float64) Solid  { return &complement{Offset(s.s, -d)} }

func (s *complement) PruneByValue(b Box) Solid {
	part := PruneByValue(s.s, b)
	if same(part, s.s) {
		return s
	}
	return &complement{part}
}

func (s *complement) Gradient(p Vec) (float64, Vec) {
	v, n := Gradient(s.s, p)
	return -v, n.Neg()
}

func (s *complement) Slab(b Box) (Slab, bool) {
	l, ok := SlabOf(s.s, b)
	return Slab{N: l.N.Neg(), D: -l.D, W: l.W}, ok
}

// intersection is the greatest of its children's values. Beyond a corner of
// the common box all of them may under-state the distance from it; with clip
// set the value there is at least that distance, as law 2 wants. The solid is
// within the box, so its value on the box's surface is at least 0 and the two
// join without a step.
type intersection struct {
	children []Solid
	box      Box
	clip     bool
}

func (s *intersection) BoundingBox() Box { return s.box }

func (s *intersection) Evaluate(p Vec) float64 {
	most := s.children[0].Evaluate(p)
	for _, k := range s.children[1:] {
		if v := k.Evaluate(p); v > most {
			most = v
		}
	}
	if s.clip {
		if d := s.box.Distance(p); d > 0 && d > most {
			return d
		}
	}
	return most
}

func (s *intersection) Range(b Box) Interval {
	r := Range(s.children[0], b)
	for _, k := range s.children[1:] {
		r = r.Max(Range(k, b))
	}
	if s.clip {
		r = clipRange(r, s.box, b)
	}
	return r
}

// clipRange returns the range on b of a value of range r that is raised to the
// distance from box outside it.
func clipRange(r Interval, box, b Box) Interval {
	gap := b.Min.Sub(box.Max).Max(box.Min.Sub(b.Max)).Max(Vec{}).Norm()
	far := b.Max.Sub(box.Max).Max(box.Min.Sub(b.Min)).Max(Vec{}).Norm()
	if far > 0 {
		r.Hi = max(r.Hi, far)
	}
	if gap > 0 {
		r.Lo = max(r.Lo, gap)
	}
	return r
}

func (s *intersection) Gradient(p Vec) (float64, Vec) {
	if k := s.leading(p); k != nil {
		return Gradient(k, p)
	}
	return s.box.Distance(p), boxDirection(s.box, p)
}

// leading returns the child that gives the value at p, nil where the box
// does.
func (s *intersection) leading(p Vec) Solid {
	best, at := s.children[0].Evaluate(p), 0
	for i, k := range s.children[1:] {
		if v := k.Evaluate(p); v > best {
			best, at = v, i+1
		}
	}
	if s.clip {
		if d := s.box.Distance(p); d > 0 && d > best {
			return nil
		}
	}
	return s.children[at]
}

func (s *intersection) PruneByValue(b Box) Solid {
	var room [32]Interval
	ranges := room[:0]
	most := math.Inf(-1)
	for _, k := range s.children {
		r := Range(k, b)
		ranges = append(ranges, r)
		most = max(most, r.Lo)
	}
	most -= slack(most)
	children, changed := pruneChildren(s.children, b, func(i int) bool { return ranges[i].Hi < most })
	clip := s.clip && !(s.box.Contains(b.Min) && s.box.Contains(b.Max))
	switch {
	case !changed && clip == s.clip:
		return s
	case !changed:
		children = s.children
	}
	if len(children) == 1 && !clip {
		return children[0]
	}
	return &intersection{children, s.box, clip}
}

// Slab needs only signs: a child that b is inside of has no say.
func (s *intersection) Slab(b Box) (Slab, bool) {
	var m slabMerge
	for _, k := range s.children {
		r := Range(k, b)
		if r.Lo > 0 {
			return Slab{}, false
		}
		if r.Hi >= 0 && !m.intersect(k, b) {
			return Slab{}, false
		}
	}
	return m.result(b)
}

// place keeps the value exact: a clip box that does not stay a box cannot be
// taken along.
func (s *intersection) place(p Transform) Solid {
	if s.clip && !p.aligned() {
		return newPlaced(s, p)
	}
	children := make([]Solid, len(s.children))
	for i, k := range s.children {
		children[i] = p.Solid(k)
	}
	return newIntersection(children)
}

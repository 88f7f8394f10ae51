package geom

import (
	"math"
	"reflect"
)

// Union returns the points that are in any of the solids. Unions among them
// are opened and nil ones dropped; of one solid it is that solid, of none the
// empty solid.
func Union(solids ...Solid) Solid {
	children := appendUnion(make([]Solid, 0, len(solids)), solids)
	switch len(children) {
	case 0:
		return nothing{}
	case 1:
		return children[0]
	}
	box := EmptyBox()
	for _, k := range children {
		box = box.Union(k.BoundingBox())
	}
	return &union{children, box}
}

func appendUnion(children, solids []Solid) []Solid {
	for _, s := range solids {
		switch s := s.(type) {
		case nil, nothing:
		case *union:
			children = append(children, s.children...)
		default:
			children = append(children, s)
		}
	}
	return children
}

// nothing is the empty solid.
type nothing struct{}

func (nothing) Evaluate(Vec) float64        { return math.Inf(1) }
func (nothing) BoundingBox() Box            { return EmptyBox() }
func (nothing) Range(Box) Interval          { return Interval{math.Inf(1), math.Inf(1)} }
func (nothing) Gradient(Vec) (float64, Vec) { return math.Inf(1), Vec{Z: 1} }
func (nothing) place(Transform) Solid       { return nothing{} }
func (nothing) offset(float64) Solid        { return nothing{} }

// union is the least of its children's values.
type union struct {
	children []Solid // two or more
	box      Box
}

func (s *union) BoundingBox() Box { return s.box }

func (s *union) Evaluate(p Vec) float64 {
	least := s.children[0].Evaluate(p)
	for _, k := range s.children[1:] {
		if v := k.Evaluate(p); v < least {
			least = v
		}
	}
	return least
}

func (s *union) Range(b Box) Interval {
	r := Range(s.children[0], b)
	for _, k := range s.children[1:] {
		r = r.Min(Range(k, b))
	}
	return r
}

func (s *union) Gradient(p Vec) (float64, Vec) { return Gradient(s.leading(p), p) }

// leading returns the child that gives the value at p.
func (s *union) leading(p Vec) Solid {
	best, at := s.children[0].Evaluate(p), 0
	for i, k := range s.children[1:] {
		if v := k.Evaluate(p); v < best {
			best, at = v, i+1
		}
	}
	return s.children[at]
}

func (s *union) PruneByValue(b Box) Solid {
	var room [32]Interval
	ranges := room[:0]
	least := math.Inf(1)
	for _, k := range s.children {
		r := Range(k, b)
		ranges = append(ranges, r)
		least = min(least, r.Hi)
	}
	least += slack(least)
	children, changed := pruneChildren(s.children, b, func(i int) bool { return ranges[i].Lo > least })
	switch {
	case !changed:
		return s
	case len(children) == 1:
		return children[0]
	}
	return &union{children, s.box}
}

// slack is by how much one range must beat another before a child is dropped,
// so that the rounding of neither can matter.
func slack(v float64) float64 { return 1e-9 * (1 + math.Abs(v)) }

// pruneChildren prunes the children that are not dropped. It allocates only when
// something changes.
func pruneChildren(children []Solid, b Box, drop func(i int) bool) (kept []Solid, changed bool) {
	for i, k := range children {
		t := k
		if drop(i) {
			t = nil
		} else {
			t = PruneByValue(k, b)
		}
		if !changed && !same(t, k) {
			changed = true
			kept = append(make([]Solid, 0, len(children)), children[:i]...)
		}
		if changed && t != nil {
			kept = append(kept, t)
		}
	}
	return kept, changed
}

// same reports whether t, which s gave when pruned, is s itself. Values that
// are not pointers may not be comparable and count as new unless s cannot
// prune at all.
func same(t, s Solid) bool {
	if _, ok := s.(ValuePruner); !ok {
		return t != nil
	}
	kind := reflect.TypeOf(s)
	return kind.Kind() == reflect.Pointer && reflect.TypeOf(t) == kind && t == s
}

// Slab needs only signs: a child that b is outside of has no say.
func (s *union) Slab(b Box) (Slab, bool) {
	var m slabMerge
	for _, k := range s.children {
		r := Range(k, b)
		if r.Hi < 0 {
			return Slab{}, false
		}
		if r.Lo <= 0 && !m.union(k, b) {
			return Slab{}, false
		}
	}
	return m.result(b)
}

func (s *union) place(p Transform) Solid {
	children := make([]Solid, len(s.children))
	for i, k := range s.children {
		children[i] = p.Solid(k)
	}
	return Union(children...)
}

func (s *union) offset(d float64) Solid {
	children := make([]Solid, len(s.children))
	for i, k := range s.children {
		children[i] = Offset(k, d)
	}
	return Union(children...)
}

// slabMerge joins the slabs of the children that matter in a box into one
// with the first child's normal, which is thin where the surface is smooth
// across them, as at the joints of a wire.
type slabMerge struct {
	n       Vec
	in, out float64 // inside below, outside above
	count   int
}

// add returns the bounds of k's slab along the merged normal.
func (m *slabMerge) add(k Solid, b Box) (in, out float64, ok bool) {
	l, ok := SlabOf(k, b)
	if !ok {
		return 0, 0, false
	}
	m.count++
	if m.count == 1 {
		m.n = l.N
		return l.D - l.W, l.D + l.W, true
	}
	// Over b, n·p and l.N·p differ by what the difference of the two does.
	d := m.n.Sub(l.N)
	mid, reach := d.Dot(b.Centre()), tangentReach(b, d)
	return l.D - l.W + mid - reach, l.D + l.W + mid + reach, true
}

func (m *slabMerge) union(k Solid, b Box) bool {
	in, out, ok := m.add(k, b)
	if m.count == 1 {
		m.in, m.out = in, out
	} else {
		m.in, m.out = max(m.in, in), max(m.out, out)
	}
	return ok
}

func (m *slabMerge) intersect(k Solid, b Box) bool {
	in, out, ok := m.add(k, b)
	if m.count == 1 {
		m.in, m.out = in, out
	} else {
		m.in, m.out = min(m.in, in), min(m.out, out)
	}
	return ok
}

// result refuses a slab that says little: more than one child, and an edge
// between them.
func (m *slabMerge) result(b Box) (Slab, bool) {
	w := max(0, (m.out-m.in)/2)
	if m.count == 0 || m.count > 1 && w > b.HalfDiagonal()/8 {
		return Slab{}, false
	}
	return Slab{N: m.n, D: (m.in + m.out) / 2, W: w}, true
}

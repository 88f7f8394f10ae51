package column

import (
	"context"
	"math"
	"slices"

	"halfpour/geom"
)

// lineRange is a block of lines, i0 <= i < i1 and j0 <= j < j1, between two
// heights.
type lineRange struct {
	i0, i1, j0, j1 int
	z0, z1         float64
}

func (r lineRange) empty() bool { return r.i0 >= r.i1 || r.j0 >= r.j1 || r.z0 >= r.z1 }

// lineBlock holds the stretches of a block's lines.
type lineBlock struct {
	lineRange
	lines [][]Stretch
}

func newLineBlock(r lineRange) lineBlock {
	if r.empty() {
		return lineBlock{}
	}
	return lineBlock{r, make([][]Stretch, (r.i1-r.i0)*(r.j1-r.j0))}
}

func (b lineBlock) line(i, j int) *[]Stretch {
	return &b.lines[(j-b.j0)*(b.i1-b.i0)+i-b.i0]
}

// lineCutter cuts solids into lines: what is made of others by cutting those,
// a mesh by its triangles, and anything else by its values.
type lineCutter struct {
	*Grid
	workers int
}

func (c lineCutter) lines(ctx context.Context, s geom.Solid, r lineRange) (lineBlock, error) {
	r = c.within(s.BoundingBox(), r)
	if r.empty() {
		return lineBlock{}, ctx.Err()
	}
	parts := geom.PartsOf(s)
	switch {
	case parts.Mesh != nil:
		return c.ofMesh(parts.Mesh, parts.To, r), ctx.Err()
	case len(parts.Any) > 0:
		return c.ofUnion(ctx, parts.Any, r)
	case len(parts.All)+len(parts.None) > 0:
		return c.ofIntersection(ctx, parts, r)
	}
	return c.byValues(ctx, s, r)
}

// within prunes a block to a box.
func (c lineCutter) within(b geom.Box, r lineRange) lineRange {
	index := func(v, from float64, least, most int) int {
		return int(max(float64(least), min(float64(most), math.Ceil((v-from)/c.Step))))
	}
	r.i0, r.i1 = index(b.Min.X, c.x0, r.i0, r.i1), index(b.Max.X+c.Step*1e-6, c.x0, r.i0, r.i1)
	r.j0, r.j1 = index(b.Min.Y, c.y0, r.j0, r.j1), index(b.Max.Y+c.Step*1e-6, c.y0, r.j0, r.j1)
	r.z0, r.z1 = max(r.z0, b.Min.Z), min(r.z1, b.Max.Z)
	return r
}

func (c lineCutter) ofUnion(ctx context.Context, solids []geom.Solid, r lineRange) (lineBlock, error) {
	all := newLineBlock(r)
	for _, s := range solids {
		part, err := c.lines(ctx, s, r)
		if err != nil {
			return lineBlock{}, err
		}
		for j := part.j0; j < part.j1; j++ {
			for i := part.i0; i < part.i1; i++ {
				if l, p := all.line(i, j), *part.line(i, j); len(p) > 0 {
					*l = united(*l, p)
				}
			}
		}
	}
	return all, nil
}

// ofIntersection cuts what is to be kept first, and the rest only where that
// is.
func (c lineCutter) ofIntersection(ctx context.Context, parts geom.Parts, r lineRange) (lineBlock, error) {
	all := newLineBlock(r)
	for k := range all.lines {
		all.lines[k] = []Stretch{{r.z0, r.z1}}
	}
	for k, s := range append(slices.Clip(parts.All), parts.None...) {
		part, err := c.lines(ctx, s, r)
		if err != nil {
			return lineBlock{}, err
		}
		all.keep(part, k < len(parts.All))
	}
	return all, nil
}

// keep keeps of each line what is in the part's, or what is not.
func (b lineBlock) keep(part lineBlock, in bool) {
	for j := b.j0; j < b.j1; j++ {
		for i := b.i0; i < b.i1; i++ {
			l := b.line(i, j)
			var p []Stretch
			if i >= part.i0 && i < part.i1 && j >= part.j0 && j < part.j1 {
				p = *part.line(i, j)
			}
			switch {
			case in:
				*l = common(*l, p)
			case len(p) > 0:
				*l = common(*l, gaps(p))
			}
		}
	}
}

// united returns what is in a or b; both are in order.
func united(a, b []Stretch) []Stretch {
	if len(a) == 0 {
		return b
	}
	out := make([]Stretch, 0, len(a)+len(b))
	for len(a) > 0 || len(b) > 0 {
		if len(b) > 0 && (len(a) == 0 || b[0].Lo < a[0].Lo) {
			a, b = b, a
		}
		if n := len(out); n > 0 && out[n-1].Hi >= a[0].Lo {
			out[n-1].Hi = max(out[n-1].Hi, a[0].Hi)
		} else {
			out = append(out, a[0])
		}
		a = a[1:]
	}
	return out
}

// common returns what is in a and b.
func common(a, b []Stretch) []Stretch {
	var out []Stretch
	for len(a) > 0 && len(b) > 0 {
		if s := (Stretch{max(a[0].Lo, b[0].Lo), min(a[0].Hi, b[0].Hi)}); s.Lo < s.Hi {
			out = append(out, s)
		}
		if a[0].Hi < b[0].Hi {
			a = a[1:]
		} else {
			b = b[1:]
		}
	}
	return out
}

// gaps returns what is not in a.
func gaps(a []Stretch) []Stretch {
	out := make([]Stretch, 0, len(a)+1)
	from := math.Inf(-1)
	for _, s := range a {
		if s.Lo > from {
			out = append(out, Stretch{from, s.Lo})
		}
		from = s.Hi
	}
	return append(out, Stretch{from, math.Inf(1)})
}

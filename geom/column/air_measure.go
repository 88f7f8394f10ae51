package column

import (
	"context"
	"slices"

	"halfpour/geom"
	"halfpour/geom/parallel"
)

// measure returns the volume of a trap: of each of its lines the hollow in the
// upright prism round the line, over the liquid. Prisms beside the trap whose
// own line misses the hollow there belong to it too: its rim reaches into them.
func (a *airCells) measure(ctx context.Context, hollow geom.Solid, f trap) (float64, error) {
	parts := newTrapParts(a, f)
	lines := parts.lines(a.columns)
	volumes := make([]float64, len(lines))
	own := a.columns.frame.Solid(hollow)
	err := parallel.For(ctx, len(lines), 0, func(k int) {
		volumes[k] = geom.VolumeIn(ctx, own, parts.prisms(a.columns, lines[k]), a.columns.Step/4)
	})
	sum := 0.0
	for _, v := range volumes {
		sum += v
	}
	return sum, err
}

// trapPart is the air of a trap on one line, over liquid or down to the surface.
type trapPart struct {
	Stretch
	wet bool
}

func (p trapPart) meets(s Stretch) bool { return p.Lo < s.Hi && s.Lo < p.Hi }

// trapParts are a trap's parts by line, from below upwards.
type trapParts map[int32][]trapPart

func newTrapParts(a *airCells, f trap) trapParts {
	parts := trapParts{}
	for k, id := range f.cells {
		c, floor := a.list[id], f.floors[k]
		if c.hi-floor <= leastPourPortion {
			continue
		}
		list := parts[c.line]
		if n := len(list); n > 0 && list[n-1].Hi == c.lo {
			list[n-1].Hi = c.hi
			continue
		}
		wet := floor > c.lo || id > 0 && a.list[id-1].line == c.line && a.list[id-1].hi == c.lo
		parts[c.line] = append(list, trapPart{Stretch{floor, c.hi}, wet})
	}
	return parts
}

// lines returns the trap's lines and those beside, in order.
func (t trapParts) lines(c *Grid) []int32 {
	var all []int32
	for l := range t {
		i, j := int(l)%c.NX, int(l)/c.NX
		for y := max(0, j-1); y <= min(c.NY-1, j+1); y++ {
			for x := max(0, i-1); x <= min(c.NX-1, i+1); x++ {
				all = append(all, int32(y*c.NX+x))
			}
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// prisms returns the boxes round a line that the trap is in, in the columns'
// own coordinates.
func (t trapParts) prisms(c *Grid, line int32) []geom.Box {
	i, j := int(line)%c.NX, int(line)/c.NX
	var near []trapPart
	for y := max(0, j-1); y <= min(c.NY-1, j+1); y++ {
		for x := max(0, i-1); x <= min(c.NX-1, i+1); x++ {
			near = append(near, t[int32(y*c.NX+x)]...)
		}
	}
	parts, half := t[line], c.Step/2
	if len(parts) == 0 {
		parts = rimParts(near, c.Line(i, j))
	}
	var out []geom.Box
	for _, p := range parts {
		s := p.spread(near, c.Line(i, j), c.Step)
		out = append(out, geom.Box{Min: geom.Vec{X: c.x(i) - half, Y: c.y(j) - half, Z: s.Lo}, Max: geom.Vec{X: c.x(i) + half, Y: c.y(j) + half, Z: s.Hi}})
	}
	return out
}

// rimParts joins the parts beside a line and drops those at whose height the
// line itself is in the hollow, but not in the trap.
func rimParts(near []trapPart, own []Stretch) []trapPart {
	slices.SortFunc(near, func(p, q trapPart) int {
		if p.Lo < q.Lo {
			return -1
		}
		return 1
	})
	var out []trapPart
	for _, p := range near {
		if slices.ContainsFunc(own, p.meets) {
			continue
		}
		if n := len(out); n > 0 && out[n-1].Hi >= p.Lo {
			out[n-1].Hi = max(out[n-1].Hi, p.Hi)
			continue
		}
		out = append(out, p)
	}
	return out
}

// spread makes room for a roof, or a bottom without liquid, that is not level
// over the prism, but keeps clear of the line's next stretches above and below.
func (p trapPart) spread(near []trapPart, own []Stretch, step float64) Stretch {
	out := p.Stretch
	for _, q := range near {
		if q.meets(p.Stretch) {
			out.Hi = max(out.Hi, q.Hi)
			out.Lo = min(out.Lo, q.Lo)
		}
	}
	out.Hi += step
	out.Lo -= step
	for _, s := range own {
		if s.Lo > p.Hi {
			out.Hi = min(out.Hi, (p.Hi+s.Lo)/2)
		}
		if s.Hi < p.Lo {
			out.Lo = max(out.Lo, (p.Lo+s.Hi)/2)
		}
	}
	if p.wet {
		out.Lo = p.Lo
	}
	return out
}

package column

import (
	"math"

	"halfpour/geom"
	"halfpour/geom/unionfind"
)

// ThinPlace is where a solid, or a gap in it, is thinner than a limit between
// two surfaces that face apart, or each other, within some 35°: a rib or a post,
// a slot or a hole, but not the edge of a wedge blunter than that.
type ThinPlace struct {
	Thickness float64    // the least of it, mm, square to the surfaces
	At        geom.Vec   // in its middle there
	Across    geom.Vec   // unit vector from surface to surface
	Gap       bool       // a gap in the solid; else the solid
	Area      float64    // of the lines that meet it, as seen along them, mm²
	Middles   []geom.Vec // of it on each of those lines
}

// leastFacing is minus the cosine of the angle between two normals from which
// on surfaces face each other: 145°.
const leastFacing = 0.82

// obliquest is how much longer than a thin place's thickness a line through it
// may be: of three at right angles one is no longer than √3 times.
const obliquest = 1.75

// ThinPlaces returns where s, which the grid was cut from, is thinner than
// least as their lines tell: those along which a surface is met within some 55°
// of square. Grids along three axes tell of all surfaces. What is smaller than
// a step across the lines may be missed. Places that hang together are one.
func (c *Grid) ThinPlaces(s geom.Solid, least float64) []ThinPlace {
	t := thinSearch{Grid: c, s: s, least: least, groups: map[int32][]int32{}}
	for j := range c.NY {
		for i := range c.NX {
			line := c.Line(i, j)
			for k, x := range line {
				t.look(i, j, x, false)
				if k > 0 {
					t.look(i, j, Stretch{line[k-1].Hi, x.Lo}, true)
				}
			}
		}
	}
	var out []ThinPlace
	at := map[int32]int{}
	for k := range t.found {
		root := t.sets.Root(int32(k)) // not after k
		if root == int32(k) {
			at[root] = len(out)
			out = append(out, t.found[k].ThinPlace)
		}
		out[at[root]].Middles = append(out[at[root]].Middles, t.found[k].middle)
	}
	return out
}

// thinSearch gathers thin stretches and joins those that hang together.
type thinSearch struct {
	*Grid
	s      geom.Solid
	least  float64
	found  []thinStretch
	sets   unionfind.Sets    // of what was found
	groups map[int32][]int32 // of each line, what was found on it
}

type thinStretch struct {
	ThinPlace
	middle  geom.Vec
	stretch Stretch
}

// look judges one stretch and joins it to those beside it that it touches.
func (t *thinSearch) look(i, j int, x Stretch, gap bool) {
	if x.Hi-x.Lo > obliquest*t.least {
		return
	}
	_, low := geom.Gradient(t.s, t.At(i, j, x.Lo))
	_, top := geom.Gradient(t.s, t.At(i, j, x.Hi))
	if low.Dot(top) > -leastFacing {
		return
	}
	across := top.Sub(low).Unit()
	thick := (x.Hi - x.Lo) * math.Abs(across.Dot(t.back.Direction(geom.Vec{Z: 1})))
	if thick >= t.least {
		return
	}
	me := int32(len(t.found))
	t.sets = append(t.sets, me)
	place := ThinPlace{thick, t.At(i, j, (x.Lo+x.Hi)/2), across, gap, t.Step * t.Step, nil}
	t.found = append(t.found, thinStretch{place, place.At, x})
	line := int32(j*t.NX + i)
	t.groups[line] = append(t.groups[line], me)
	for _, d := range [4][2]int{{-1, 0}, {-1, -1}, {0, -1}, {1, -1}} { // seen before
		if n := i + d[0]; n < 0 || n >= t.NX || j+d[1] < 0 {
			continue
		}
		for _, o := range t.groups[line+int32(d[1]*t.NX+d[0])] {
			// Along a slant the stretches of neighbours are a step apart or so.
			f := &t.found[o]
			if f.Gap == gap && f.stretch.Lo < x.Hi+t.Step && x.Lo < f.stretch.Hi+t.Step {
				t.merge(o, me)
			}
		}
	}
}

// merge joins two places; the root of both has the thinnest and the whole area.
func (t *thinSearch) merge(i, j int32) {
	i, j = t.sets.Root(i), t.sets.Root(j)
	if i == j {
		return
	}
	t.sets.Join(i, j)
	low, high := &t.found[min(i, j)], &t.found[max(i, j)]
	area := low.Area + high.Area
	if high.Thickness < low.Thickness {
		low.ThinPlace = high.ThinPlace
	}
	low.Area = area
}

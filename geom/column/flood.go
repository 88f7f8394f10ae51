package column

import (
	"context"
	"math"

	"halfpour/geom"
)

// FloodOptions says how liquid finds its way. Zero fields take the defaults.
type FloodOptions struct {
	Gap     float64  // liquid goes only where a ball of this width does, mm; 0: anywhere
	Up      geom.Vec // along the lines that the room is cut into; default +Z
	Within  geom.Box // only this part counts; the zero value takes the room's box
	Step    float64  // between lines, mm; default 0.25
	Workers int      // 0: all processors; the flood does not depend on it
}

// Flooded is the part of a room that hangs together with a place.
type Flooded struct {
	columns *Grid
	reached []bool // of each stretch
}

// Flood finds where liquid under pressure comes to in a room, from a place in
// it: every part that hangs together with the part of the room nearest to
// that place, by ways no narrower than the gap. Along its lines the flood is
// exact; across them a way narrower than Step may be missed, and a wall
// thinner than Step is not seen.
func Flood(ctx context.Context, room geom.Solid, from geom.Vec, opt FloodOptions) (*Flooded, error) {
	if opt.Gap > 0 {
		room = geom.Offset(room, -opt.Gap/2)
	}
	c, err := Cut(ctx, room, Options{Up: opt.Up, Within: opt.Within, Step: opt.Step, Workers: opt.Workers})
	if err != nil {
		return nil, err
	}
	f := &Flooded{columns: c, reached: make([]bool, len(c.all))}
	start, ok := c.nearestStretch(from)
	if !ok {
		return f, nil
	}
	f.reached[start.stretch] = true
	for todo := []lineStretch{start}; len(todo) > 0; {
		at := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		s := c.all[at.stretch]
		for _, d := range fourSides {
			i, j := at.i+d[0], at.j+d[1]
			if i < 0 || j < 0 || i >= c.NX || j >= c.NY {
				continue
			}
			for k := c.first[j*c.NX+i]; k < c.first[j*c.NX+i+1]; k++ {
				if o := c.all[k]; !f.reached[k] && o.Lo < s.Hi && s.Lo < o.Hi {
					f.reached[k] = true
					todo = append(todo, lineStretch{i, j, k})
				}
			}
		}
	}
	return f, nil
}

// lineStretch is a stretch by its number and its line.
type lineStretch struct {
	i, j    int
	stretch int32
}

// nearestStretch returns the stretch that comes nearest to a point.
func (c *Grid) nearestStretch(p geom.Vec) (best lineStretch, ok bool) {
	q := c.frame.Point(p)
	least := math.Inf(1)
	c.eachStretch(func(s lineStretch) {
		x := c.all[s.stretch]
		d := geom.Vec{X: c.x(s.i) - q.X, Y: c.y(s.j) - q.Y, Z: max(0, max(x.Lo-q.Z, q.Z-x.Hi))}.Norm()
		if d < least {
			best, least, ok = s, d, true
		}
	})
	return best, ok
}

func (c *Grid) eachStretch(visit func(lineStretch)) {
	for j := range c.NY {
		for i := range c.NX {
			for k := c.first[j*c.NX+i]; k < c.first[j*c.NX+i+1]; k++ {
				visit(lineStretch{i, j, k})
			}
		}
	}
}

// Farthest returns the place reached that is farthest by some measure of
// distance, looked at every half step, and that distance; false when nothing
// is reached. Measure must change no faster than the distance between places.
func (f *Flooded) Farthest(measure func(geom.Vec) float64) (at geom.Vec, far float64, ok bool) {
	far = math.Inf(-1)
	f.columns.eachStretch(func(s lineStretch) {
		if !f.reached[s.stretch] {
			return
		}
		x := f.columns.all[s.stretch]
		for h := x.Lo; ; {
			p := f.columns.At(s.i, s.j, h)
			m := measure(p)
			if m > far {
				at, far, ok = p, m, true
			}
			if h >= x.Hi {
				break
			}
			h = min(x.Hi, h+max(f.columns.Step/2, far-m))
		}
	})
	return at, far, ok
}

package column

import (
	"context"
	"math"

	"halfpour/geom"
)

// Undercut is how far a body that is drawn out of a soft mold, or a mold that
// is drawn off a body, must give sideways: what lies under an overhang has to
// come out past the overhang's edge, and its depth is its level distance from
// there. A body without overhangs has none.
type Undercut struct {
	Depth float64  // the greatest, mm
	At    geom.Vec // on the body, where it reaches in that far
	Edge  geom.Vec // beside the overhang's edge, level with At

	// Room is all that lies under overhangs, mm³: air that stays there when the
	// mold's stuff is poured is no more.
	Room float64

	// Map has the depth on each line of the grid, index j·NX + i, to about
	// a step; 0 where nothing hangs over.
	Map []float32
}

// Draw says which part of a solid is drawn, and which way.
type Draw struct {
	From float64 // height of the parting plane
	Down bool    // the part below it, downwards; else the part above it, upwards
}

// side returns what is drawn of a line, seen so that it is drawn upwards from
// height 0: the lowest stretch first.
func (d Draw) side(line []Stretch, room []Stretch) []Stretch {
	out := room[:0]
	for k := range line {
		s := line[k]
		if d.Down {
			s = line[len(line)-1-k]
			s.Lo, s.Hi = d.From-s.Hi, d.From-s.Lo
		} else {
			s.Lo, s.Hi = s.Lo-d.From, s.Hi-d.From
		}
		if s.Hi > leastGap {
			out = append(out, Stretch{max(0, s.Lo), s.Hi})
		}
	}
	return out
}

// leastGap is the height of an overhang that is worth a look, mm: less is the
// roughness of a mesh.
const leastGap = 0.02

// overhang is a gap under an overhang.
type overhang struct {
	i, j  int
	gap   Stretch // over the parting plane
	depth float64
	toI   int // the nearest line that is free over the gap's bottom
	toJ   int
}

// Undercut returns the undercut of the part that is drawn, its depth to about
// a step of the grid, which must have been cut along the draw.
func (c *Grid) Undercut(d Draw) Undercut {
	u := Undercut{Map: make([]float32, c.NX*c.NY)}
	all := c.overhangs(d, u.Map)
	if len(all) == 0 {
		return u
	}
	worst := all[0]
	for _, o := range all {
		u.Room += (o.gap.Hi - o.gap.Lo) * c.Step * c.Step
		if o.depth > worst.depth {
			worst = o
		}
	}
	u.Depth = worst.depth
	u.At = c.At(worst.i, worst.j, d.height(worst.gap.Lo))
	u.Edge = c.At(worst.toI, worst.toJ, d.height(worst.gap.Lo))
	return u
}

// height takes a height over the parting plane to one of the grid.
func (d Draw) height(h float64) float64 {
	if d.Down {
		return d.From - h
	}
	return d.From + h
}

// overhangs fills in the map and returns all gaps.
func (c *Grid) overhangs(d Draw, depths []float32) []overhang {
	var all []overhang
	tops := make([]float32, c.NX*c.NY) // over the parting plane; 0: free
	room := make([]Stretch, 0, 16)
	for j := range c.NY {
		for i := range c.NX {
			if line := d.side(c.Line(i, j), room); len(line) > 0 {
				tops[j*c.NX+i] = float32(line[len(line)-1].Hi)
			}
		}
	}
	free := newFreeLines(c.NX, c.NY, tops)
	for j := range c.NY {
		for i := range c.NX {
			floor := 0.0
			for _, s := range d.side(c.Line(i, j), room) {
				if s.Lo-floor > leastGap {
					o := c.wayOut(free, overhang{i: i, j: j, gap: Stretch{floor, s.Lo}})
					k := j*c.NX + i
					depths[k] = max(depths[k], float32(o.depth))
					all = append(all, o)
				}
				floor = s.Hi
			}
		}
	}
	return all
}

// wayOut finds the nearest line that nothing stands on over the gap's bottom.
func (c *Grid) wayOut(free *freeLines, o overhang) overhang {
	var far int
	o.toI, o.toJ, far = free.nearest(o.i, o.j, o.gap.Lo+leastGap)
	o.depth = c.Step * math.Sqrt(float64(far))
	return o
}

// LeastUndercut returns the parting height between lo and hi at which the
// greater undercut of both sides is least, to a fortieth of the room, and that
// undercut, to about a step. Of a run of equals it takes the middle. It stops
// early with ctx's error.
func (c *Grid) LeastUndercut(ctx context.Context, lo, hi float64) (from, depth float64, err error) {
	const steps = 40
	var depths [steps + 1]float64
	least := math.Inf(1)
	for k := range depths {
		if err := ctx.Err(); err != nil {
			return 0, 0, err
		}
		at := lo + (hi-lo)*float64(k)/steps
		up, down := c.Undercut(Draw{From: at}).Depth, c.Undercut(Draw{From: at, Down: true}).Depth
		depths[k] = max(up, down)
		least = min(least, depths[k])
	}
	first, last := -1, -1
	for k, d := range depths {
		if d <= least+1e-9 {
			if first >= 0 && last != k-1 {
				break
			}
			if first < 0 {
				first = k
			}
			last = k
		}
	}
	return lo + (hi-lo)*float64(first+last)/2/steps, least, nil
}

package heat

import "math"

// How much of the cast volume may lie elsewhere than its mirror image, in all
// and in one cell, for halves to count as alike.
const alikeInAll, alikeInCell = 1e-3, 0.02

// fold leaves out what lies below the parting when it mirrors what lies above:
// heat then flows across it nowhere.
func (g *grid) fold() {
	z := g.lines[2]
	n := g.n(2)
	if n != 2*g.middle {
		return
	}
	for i := range g.middle {
		if math.Abs(z[i]+z[n-i]-2*z[g.middle]) > 1e-6 {
			return
		}
	}
	below := map[[3]int32]*leaf{}
	count := 0
	for i := range g.leaves {
		if l := &g.leaves[i]; int(l.hi[2]) <= g.middle {
			below[[3]int32{l.lo[0], l.lo[1], int32(n) - l.hi[2]}] = l
			count++
		}
	}
	if 2*count != len(g.leaves) {
		return
	}
	var above []leaf
	off, metal := 0.0, 0.0
	for _, l := range g.leaves {
		if int(l.lo[2]) < g.middle {
			continue
		}
		m := below[l.lo]
		if m == nil || m.hi[0] != l.hi[0] || m.hi[1] != l.hi[1] || int32(n)-m.lo[2] != l.hi[2] {
			return
		}
		d, v, ok := g.differ(l.cut, m.cut, g.box(l.lo, l.hi).Volume())
		if !ok {
			return
		}
		off, metal = off+d, metal+v
		above = append(above, l)
	}
	if off <= alikeInAll*metal {
		g.leaves, g.halved = above, true
	}
}

// differ compares a cell with its mirror image: the volume that differs, and
// that of what is cast.
func (g *grid) differ(a, b *cut, whole float64) (off, metal float64, ok bool) {
	volumes := func(c *cut) map[int]float64 {
		m := map[int]float64{}
		for i, body := range c.bodies {
			m[body] = c.volume[i]
		}
		return m
	}
	p, q := volumes(a), volumes(b)
	for body, v := range q {
		if _, has := p[body]; !has && v > alikeInCell*whole {
			return 0, 0, false
		}
	}
	for body := range len(g.scene.Bodies) + 1 {
		v, has := p[body]
		if !has {
			continue
		}
		d := math.Abs(v - q[body])
		if d > alikeInCell*whole {
			return 0, 0, false
		}
		if body < len(g.scene.Bodies) {
			off += d
			if g.scene.Bodies[body].Role.Cast() {
				metal += v
			}
		}
	}
	return off, metal, true
}

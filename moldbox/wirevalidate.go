package moldbox

import (
	"fmt"
	"math"

	"halfpour/geom"
)

func (h Hook) check(c *checker, at string) {
	c.within(at+".wire", h.Wire, 0.2, 6, "mm", "the wire's diameter")
	c.within(at+".eye_inside", h.EyeInside, 0.2, 30, "mm", "the diameter of the eye's opening")
	c.mm(at+".eye_rubber", h.EyeRubber, 0, 20)
	c.mm(at+".fit", h.Fit, 0, 1)
	c.mm(at+".bend", h.Bend, 0, 50)
	if len(h.Points) > 0 {
		h.checkPoints(c, at)
		return
	}
	ring := h.ringRadius()
	if h.Leg != 0 {
		c.within(at+".leg", h.Leg, ring+h.Wire, 200, "mm", "the leg starts outside the eye; 0 is a straight hook")
		c.within(at+".leg_angle", h.LegAngle, math.Pi/9, math.Pi*8/9, "rad", "π/2 is a 90° jig hook")
	}
	c.within(at+".shank", h.Shank, ring+h.Wire, 300, "mm", "")
	c.within(at+".gape", h.Gape, 2*h.Wire, 200, "mm", "the bend cannot be tighter than the wire")
	c.mm(at+".point", h.Point, 0, 200)
}

func (h Hook) checkPoints(c *checker, at string) {
	far := false
	for i, p := range h.Points {
		v := geom.Vec{X: p[0], Y: p[1]}
		field := fmt.Sprintf("%s.points[%d]", at, i)
		if !v.IsFinite() || v.Norm() > 500 {
			c.add(broken(field, "must be finite and within 500 mm of the eye", ""))
			return
		}
		if i > 0 && p == h.Points[i-1] {
			c.add(broken(field, "must differ from the point before it", "take it out"))
		}
		far = far || v.Norm() > h.ringRadius()+h.Wire
	}
	if !far {
		c.add(broken(at+".points", "must leave the eye", "the eye's centre is (0, 0)"))
	}
}

func (k Keeper) check(c *checker, at string) {
	c.within(at+".wire", k.Wire, 0.2, 6, "mm", "the wire's diameter")
	c.mm(at+".fit", k.Fit, 0, 1)
	c.mm(at+".bend", k.Bend, 0, 50)
	c.within(at+".count", float64(k.Count), 0, 32, "", "a head holds only so many")
	c.finite(at+".step", k.Step)
	if k.Count > 1 && !(k.Step.Norm() > leastStretch) {
		c.add(broken(at+".step", "must move the wires apart", "say how far the next is from the one before, such as [3, 0, 0]"))
	}
	ps := k.Points
	switch {
	case len(k.Points) > 0 && len(k.InHook) > 0:
		c.add(broken(at+".in_hook", "does not go with points", "give one of the two"))
		return
	case len(k.InHook) > 0:
		for _, p := range k.InHook {
			ps = append(ps, geom.Vec{X: p[0], Y: p[1]})
		}
	}
	if len(ps) < 2 {
		c.add(broken(at+".points", "must be at least two", "give the wire's axis from end to end"))
		return
	}
	for i, p := range ps {
		if !p.IsFinite() || p.Dist(ps[0]) > 500 {
			c.add(broken(fmt.Sprintf("%s.points[%d]", at, i), "must be finite and within 500 mm of the first", ""))
			return
		}
		if i > 0 && p.Dist(ps[i-1]) < leastStretch {
			c.add(broken(fmt.Sprintf("%s.points[%d]", at, i), "must differ from the point before it", "take it out"))
			return
		}
	}
}

// checkKeepers finds wires without any length in the parting plane.
func (v Cavity) checkKeepers(c *checker, at string) {
	for i, k := range v.Keepers {
		if len(k.axis(v, 1, 0).pieces) == 0 {
			c.add(broken(fmt.Sprintf("%s.keepers[%d].points", at, i), "must be apart in the parting plane",
				"they differ only along head.left; a wire lies in the plane where the halves meet"))
		}
	}
}

// leastStretch is the shortest distance of two points of a wire, mm.
const leastStretch = 1e-3

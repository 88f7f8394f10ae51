package moldbox

import (
	"fmt"
	"math"

	"halfpour/geom"
)

func (v Cavity) check(c *checker, at string) {
	before := len(c.errs)
	if v.Head == nil {
		c.add(broken(at+".Head", "is required", "a cavity needs the solid of its head"))
	}
	if _, err := v.Pose.axes(); err != nil {
		err.Field = at + ".Pose." + err.Field
		c.add(err)
	}
	c.finite(at+".Pose.Parting", geom.Vec{X: v.Pose.Parting})
	c.finite(at+".Eye", v.Eye)
	if v.Gate != nil {
		c.finite(at+".Gate", *v.Gate)
	}
	c.within(at+".Turn", v.Turn, -2*math.Pi, 2*math.Pi, "rad", "")
	if v.MetalVolume != 0 {
		c.within(at+".MetalVolume", v.MetalVolume, 0.1, 1e7, "mm³", "")
	}
	if v.Scale != 0 {
		c.within(at+".Scale", v.Scale, leastScale, maxScale, "", "is the head's file in mm?")
	}
	if v.Shrink != 0 {
		c.within(at+".Shrink", v.Shrink, 0.9, 1.2, "", "it is a factor near 1")
	}
	if v.Hook != nil {
		v.Hook.check(c, at+".Hook")
	}
	c.within(at+".Keepers", float64(len(v.Keepers)), 0, mostKeepers, "", "a head holds only so many")
	for i, k := range v.Keepers {
		k.check(c, fmt.Sprintf("%s.Keepers[%d]", at, i))
	}
	if len(c.errs) == before { // else there may be nothing to lay out
		v.checkKeepers(c, at)
	}
	c.mm(at+".Wall", v.Wall, 0, 20)
}

// mostKeepers is how many keepers a cavity may have, each of up to as many wires.
const mostKeepers = 32

func (c *checker) mm(field string, v, lo, hi float64) { c.within(field, v, lo, hi, "mm", "") }

func (c *checker) finite(field string, v geom.Vec) {
	if !v.IsFinite() {
		c.add(broken(field, "must be finite", "give three plain numbers in mm"))
	}
}

func (h Hook) check(c *checker, at string) {
	c.within(at+".Wire", h.Wire, 0.2, 6, "mm", "the wire's diameter")
	c.within(at+".EyeInside", h.EyeInside, 0.2, 30, "mm", "the diameter of the eye's opening")
	c.mm(at+".EyeRubber", h.EyeRubber, 0, 20)
	c.mm(at+".Fit", h.Fit, 0, 1)
	c.mm(at+".Bend", h.Bend, 0, 50)
	if len(h.Points) > 0 {
		h.checkPoints(c, at)
		return
	}
	ring := h.ringRadius()
	if h.Leg != 0 {
		c.within(at+".Leg", h.Leg, ring+h.Wire, 200, "mm", "the leg starts outside the eye; 0 is a straight hook")
		c.within(at+".LegAngle", h.LegAngle, math.Pi/9, math.Pi*8/9, "rad", "π/2 is a 90° jig hook")
	}
	c.within(at+".Shank", h.Shank, ring+h.Wire, 300, "mm", "")
	c.within(at+".Gape", h.Gape, 2*h.Wire, 200, "mm", "the bend cannot be tighter than the wire")
	c.mm(at+".Point", h.Point, 0, 200)
}

func (h Hook) checkPoints(c *checker, at string) {
	far := false
	if n := len(h.Points); n > mostPoints {
		c.within(at+".Points", float64(n), 1, mostPoints, "points", "give the wire's corners: its bends are made")
		return
	}
	for i, p := range h.Points {
		v := geom.Vec{X: p[0], Y: p[1]}
		field := fmt.Sprintf("%s.Points[%d]", at, i)
		if !v.IsFinite() || v.Norm() > 500 {
			c.add(broken(field, "must be finite and within 500 mm of the eye", ""))
			return
		}
		if i > 0 && p == h.Points[i-1] {
			c.add(broken(field, "must differ from the point before it", "remove it"))
		}
		far = far || v.Norm() > h.ringRadius()+h.Wire
	}
	if !far {
		c.add(broken(at+".Points", "must leave the eye", "the eye's centre is (0, 0)"))
	}
	points := make([]geom.Vec, len(h.Points))
	for i, p := range h.Points {
		points[i] = geom.Vec{X: p[0], Y: p[1]}
	}
	checkLength(c, at+".Points", points)
}

// mostPoints and longestWire bound the work that a wire makes: no hook has so many
// corners, none is so long.
const (
	mostPoints  = 500
	longestWire = 2000.0 // mm
)

func checkLength(c *checker, field string, points []geom.Vec) {
	length := 0.0
	for i := 1; i < len(points); i++ {
		length += points[i].Dist(points[i-1])
	}
	if length > longestWire {
		c.add(refused(field, "must make a wire no longer than", length, longestWire, "mm", "check the points and their unit"))
	}
}

func (k Keeper) check(c *checker, at string) {
	c.within(at+".Wire", k.Wire, 0.2, 6, "mm", "the wire's diameter")
	c.mm(at+".Fit", k.Fit, 0, 1)
	c.mm(at+".Bend", k.Bend, 0, 50)
	c.within(at+".Count", float64(k.Count), 0, mostKeepers, "", "a head holds only so many")
	c.finite(at+".Step", k.Step)
	if k.Count > 1 && !(k.Step.Norm() > leastStretch) {
		c.add(broken(at+".Step", "must move the wires apart", "say how far the next is from the one before, such as [3, 0, 0]"))
	}
	if across := float64(k.Count-1) * k.Step.Norm(); k.Count > 1 && across > largestHead {
		c.add(refused(at+".Step", "must space the first and last wire by at most", across, largestHead, "mm", "no head is larger"))
	}
	if n := len(k.Points) + len(k.InHook); n > mostPoints {
		c.within(at+".Points", float64(n), 2, mostPoints, "points", "give the wire's corners: its bends are made")
		return
	}
	ps := k.Points
	switch {
	case len(k.Points) > 0 && len(k.InHook) > 0:
		c.add(broken(at+".InHook", "cannot be used with points", "give one of them"))
		return
	case len(k.InHook) > 0:
		for i, p := range k.InHook {
			v := geom.Vec{X: p[0], Y: p[1]}
			if !v.IsFinite() || v.Norm() > 500 {
				c.add(broken(fmt.Sprintf("%s.InHook[%d]", at, i), "must be finite and within 500 mm of the eye", ""))
				return
			}
			ps = append(ps, v)
		}
	}
	if len(ps) < 2 {
		c.add(broken(at+".Points", "must be at least two", "give the wire's axis from end to end"))
		return
	}
	for i, p := range ps {
		if !p.IsFinite() || p.Dist(ps[0]) > 500 {
			c.add(broken(fmt.Sprintf("%s.Points[%d]", at, i), "must be finite and within 500 mm of the first", ""))
			return
		}
		if i > 0 && p.Dist(ps[i-1]) < leastStretch {
			c.add(broken(fmt.Sprintf("%s.Points[%d]", at, i), "must differ from the point before it", "remove it"))
			return
		}
	}
	checkLength(c, at+".Points", ps)
}

// checkKeepers finds wires without any length in the parting plane.
func (v Cavity) checkKeepers(c *checker, at string) {
	for i, k := range v.Keepers {
		if k.Mirror && v.Hook == nil {
			c.add(broken(fmt.Sprintf("%s.Keepers[%d].Mirror", at, i), "needs a hook", "a keeper is mirrored about the axis of the hook's shank"))
		}
		if len(k.axis(v, 1, 0).pieces) == 0 {
			c.add(broken(fmt.Sprintf("%s.Keepers[%d].Points", at, i), "must be apart in the parting plane", "").because(ApartAlongLeft))
		}
	}
}

// leastStretch is the shortest distance of two points of a wire, mm.
const leastStretch = 1e-3

package geom

import "math"

// measure returns what the solid within the facets has in b, of which s is the
// solid narrowed to b. It returns false where the box's greatest corner is too
// near the skin to tell its side.
func (k *facetKey) measure(s Solid, b Box) (cellSum, bool) {
	c := cellSum{size: b.Size()}
	switch side, ok := cornerSide(s, b); {
	case !ok:
		return c, false
	case side < 0:
		c.addCorner()
	}
	still := k.to == Identity()
	place := func(p Vec) Vec {
		if !still {
			p = k.to.Point(p)
		}
		return p.Sub(b.Min)
	}
	o := originalOf(k.to.Inverse(), b)
	k.body.tree.near(&o, 0, func(slot int32) float64 {
		t := k.body.tree.triangles[slot]
		p := flagged{n: 3}
		p.at[0], p.at[1], p.at[2] = place(t.a), place(t.b), place(t.c)
		if k.turned {
			p.at[1], p.at[2] = p.at[2], p.at[1]
		}
		p.clip(c.size)
		c.add(&p)
		return 0
	})
	return c, true
}

// cornerSide returns the value of s next to b's greatest corner within b.
func cornerSide(s Solid, b Box) (float64, bool) {
	size := b.Size()
	step := 1e-6 * min(size.X, size.Y, size.Z)
	v := s.Evaluate(b.Max.Sub(Vec{step, step, step}))
	return v, math.Abs(v) >= 0.3*step
}

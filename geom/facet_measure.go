package geom

import "math"

// facetSum is what the solid within facets has in a box.
type facetSum struct {
	cellSum
	loose float64 // mm³: by how much of the box's surface at most it is too large
}

// measuredFacets returns the mesh of which a pruned solid is made and nothing else; of
// one that crosses itself, the skin.
func measuredFacets(s Solid) (facetKey, bool) {
	k, ok := ownFacets(s)
	if !ok && k.body != nil {
		k.body, ok = k.body.skin()
	}
	return k, ok
}

// measure returns what the solid within the facets has in b, of which s is the
// solid pruned to b. Where the box's greatest corner is on the surface, as it is
// beside a face flush with the box, a box a little larger is measured. It
// returns false where that is of no help either.
func (k *facetKey) measure(s Solid, b Box, full bool) (facetSum, bool) {
	volume := b.Volume()
	for _, share := range [...]float64{0, 1, 1.7, 2.9} {
		wide := b
		wide.Max = b.Max.Add(b.Size().Mul(1e-6 * share))
		v := s.Evaluate(wide.Max)
		if math.Abs(v) <= cornerClear+1e-12*wide.Max.Norm() {
			continue
		}
		sum := facetSum{k.sum(wide, v < 0, full), wide.Volume() - volume}
		if slack := cellRounding * volume; sum.volume < -slack || sum.volume > wide.Volume()+slack {
			return sum, false // a shell that cuts through itself counts twice
		}
		return sum, true
	}
	return facetSum{}, false
}

// cornerClear is how far from the surface a corner must be, in mm, for its side to
// be told without doubt.
const cornerClear = 1e-9

// sum measures the facets in b, of which the greatest corner is inside or not;
// full with all moments.
func (k *facetKey) sum(b Box, cornerInside, full bool) cellSum {
	c := cellSum{size: b.Size(), full: full}
	if cornerInside {
		c.addCorner()
	}
	still := k.to == Identity()
	place := func(p Vec) Vec {
		if !still {
			p = k.to.Point(p)
		}
		return p.Sub(b.Min)
	}
	var whole func(*surfaceSum)
	if !full {
		from, square := k.to.Inverse().Point(b.Min), k.to.k*k.to.k
		cube := square * k.to.k
		if k.turned != k.to.Mirrors() {
			cube = -cube
		}
		whole = func(s *surfaceSum) {
			c.volume += cube * (s.vol + from.Dot(s.way))
			c.area += square * s.area
		}
	}
	k.inBox(b, whole, func(t *triangle) {
		p := flagged{n: 3}
		p.at[0], p.at[1], p.at[2] = place(t.a), place(t.b), place(t.c)
		if k.turned {
			p.at[1], p.at[2] = p.at[2], p.at[1]
		}
		p.clip(c.size)
		c.add(&p)
	})
	return c
}

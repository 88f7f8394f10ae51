package moldbox

import "halfpour/geom"

// fillTrays makes both halves of the mold, the block of rubber that their trays
// hold, and all that is not rubber in it.
func (b *builder) fillTrays(m *Mold) {
	left, right := newTray(b.spec, b.row.inside, b.row.left), newTray(b.spec, b.row.inside, b.row.right)
	m.Left, m.Right = b.half("left", left, b.leftMarks), b.half("right", right, b.rightMarks)
	m.Block = geom.Union(left.block(), toRight().Solid(right.block()))
	m.Void = geom.Intersect(m.Block, b.void())
}

// toRight takes mold coordinates to the right half's print coordinates, and
// back: a turn by 180° about Y.
func toRight() geom.Transform {
	return geom.FromAxes(geom.Vec{X: -1}, geom.Vec{Y: 1}, geom.Vec{Z: -1})
}

// half puts one half together in its print coordinates.
func (b *builder) half(name string, t tray, marks []mark) Half {
	h := t.half(name)
	h.Fill = t.fillSolid()
	standing := b.standing(h)
	h.coated, h.bare = b.frame(h, t, marks, standing), b.frame(h, t, nil, nil)
	h.Frame = h.coated
	if t.coat = b.spec.Finish.SealCoat; t.coat > 0 {
		h.Frame = b.frame(h, t, marks, standing)
	}
	var marking []geom.Solid
	for _, m := range marks {
		marking = append(marking, m.solid(-sink, b.spec.Marking.Relief))
	}
	h.Marking = geom.Union(marking...)
	return h
}

// standing is what stands on a half's floor but keys and marks, in mold coordinates.
func (b *builder) standing(h Half) []geom.Solid {
	all := b.hollows()
	for i := range b.cavities {
		all = append(all, b.cavities[i].relief[h.index()]...)
	}
	return all
}

// frame is the tray with what stands in it, keys and letters, smaller by the tray's
// coat. Sockets are grown balls cut off below the floor: they are made smaller,
// not moved.
func (b *builder) frame(h Half, t tray, marks []mark, standing []geom.Solid) geom.Solid {
	place := h.InMold()
	var bodies, recesses []geom.Solid
	for _, s := range standing {
		bodies = append(bodies, place.Solid(geom.Offset(s, -t.coat)))
	}
	for _, k := range b.keys {
		if k.BumpLeft == (h.index() == 0) { // the rubber's bump fills a recess in the floor
			recesses = append(recesses, place.Solid(k.dome(t.coat)))
		} else {
			bodies = append(bodies, place.Solid(k.dome(b.spec.Keys.Clearance-t.coat)))
		}
	}
	for _, m := range marks {
		bodies = append(bodies, m.solid(-sink-t.coat, b.spec.Marking.Relief-t.coat))
	}
	return geom.Union(t.solid(recesses), t.bodies(bodies))
}

// void is what is not rubber: hollows, marking, and the clearance between
// bumps and sockets.
func (b *builder) void() geom.Solid {
	all := b.hollows()
	for _, k := range b.keys {
		all = append(all, k.gap(b.spec.Keys.Clearance))
	}
	for _, m := range b.leftMarks {
		all = append(all, m.solid(0, b.spec.Marking.Relief))
	}
	for _, m := range b.rightMarks {
		all = append(all, toRight().Solid(m.solid(0, b.spec.Marking.Relief)))
	}
	return geom.Union(all...)
}

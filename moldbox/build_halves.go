package moldbox

import (
	"context"
	"math"

	"halfpour/geom"
)

// toRight takes mold coordinates to the right half's print coordinates, and
// back: a turn by 180° about Y.
func toRight() geom.Transform {
	return geom.FromAxes(geom.Vec{X: -1}, geom.Vec{Y: 1}, geom.Vec{Z: -1})
}

// placeKeysAndMarks looks for room for the keys and then for both halves' marks.
func (b *builder) placeKeysAndMarks(ctx context.Context) (left, right []mark, err error) {
	keys, findings, err := placeKeys(ctx, b.spec, b.row.inside, b.hollows())
	if err != nil {
		return nil, nil, err
	}
	b.keys, b.findings = keys, append(b.findings, findings...)
	return b.setMarks(ctx)
}

func (b *builder) setMarks(ctx context.Context) (left, right []mark, err error) {
	room := newMarkRoom(ctx, b.spec, b.row.inside, b.keys, b.hollows())
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	least, dropped := math.Inf(1), map[string][]string{}
	for _, half := range []struct {
		name  string
		right bool
		to    *[]mark
	}{{"LEFT", false, &left}, {"RIGHT", true, &right}} {
		m := &marker{markRoom: room, right: half.right}
		marks, smallest, without, err := m.marks(half.name)
		if err != nil {
			return nil, nil, err
		}
		*half.to, dropped[half.name] = marks, without
		least = math.Min(least, smallest)
	}
	b.findings = append(b.findings, checkMarks(b.spec, least, dropped)...)
	return left, right, nil
}

// half puts one half together in its print coordinates.
func (b *builder) half(name string, t tray, marks []mark) Half {
	place := func(s geom.Solid) geom.Solid { return s }
	if name == "right" {
		flip := toRight()
		place = flip.Solid
	}
	var bodies, recesses []geom.Solid
	for _, s := range b.hollows() {
		bodies = append(bodies, place(s))
	}
	for _, k := range b.keys {
		if k.BumpLeft == (name == "left") {
			// The rubber's bump fills a recess in the floor.
			recesses = append(recesses, place(k.bump()))
		} else {
			bodies = append(bodies, place(k.socket(b.spec.Keys.Clearance)))
		}
	}
	var marking []geom.Solid
	for _, m := range marks {
		marking = append(marking, m.solid(-sink, b.spec.Marking.Relief))
	}
	bodies = append(bodies, marking...)
	frame := geom.Union(t.solid(recesses), t.bodies(bodies))
	coated := frame
	if b.spec.Finish.SealCoat > 0 {
		frame = b.uncoated(t, place, name, marks)
	}
	return Half{
		Name:       name,
		Frame:      frame,
		coated:     coated,
		Fill:       t.fillSolid(),
		Marking:    geom.Union(marking...),
		FillHeight: t.fill,
		RimHeight:  t.rim,
		Floor:      t.floor,
		Inside:     insideBox(t),
		Outside:    t.outside(),
	}
}

// uncoated is the printed frame that the coat makes the tray with its bodies,
// recesses and letters. Sockets are grown balls cut off below the floor: they
// are made smaller, not moved.
func (b *builder) uncoated(t tray, place func(geom.Solid) geom.Solid, name string, marks []mark) geom.Solid {
	coat := b.spec.Finish.SealCoat
	t.coat = coat
	var bodies, recesses []geom.Solid
	for _, s := range b.hollows() {
		bodies = append(bodies, place(geom.Offset(s, -coat)))
	}
	for _, k := range b.keys {
		if k.BumpLeft == (name == "left") {
			recesses = append(recesses, place(k.recess(coat)))
		} else {
			bodies = append(bodies, place(k.socket(b.spec.Keys.Clearance-coat)))
		}
	}
	for _, m := range marks {
		bodies = append(bodies, m.solid(-sink-coat, b.spec.Marking.Relief-coat))
	}
	return geom.Union(t.solid(recesses), t.bodies(bodies))
}

// recess is the hollow in the floor for the bump under a coat.
func (k Key) recess(coat float64) geom.Solid {
	return geom.Intersect(k.ball(coat), geom.HalfSpace(geom.Vec{Z: -k.side()}, seam))
}

// insideBox is the rubber's rectangle in the parting plane, up to the fill
// line.
func insideBox(t tray) geom.Box {
	b := t.inside
	b.Min.Z, b.Max.Z = 0, t.fill
	return b
}

// void is what is not rubber: hollows, marking, and the clearance between
// bumps and sockets.
func (b *builder) void(left, right []mark) geom.Solid {
	all := b.hollows()
	for _, k := range b.keys {
		all = append(all, k.gap(b.spec.Keys.Clearance))
	}
	for _, m := range left {
		all = append(all, m.solid(0, b.spec.Marking.Relief))
	}
	for _, m := range right {
		all = append(all, toRight().Solid(m.solid(0, b.spec.Marking.Relief)))
	}
	return geom.Union(all...)
}

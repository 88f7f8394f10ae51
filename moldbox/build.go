package moldbox

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync"

	"halfpour/geom"
	"halfpour/geom/column"
)

// toRight takes mold coordinates to the right half's print coordinates, and
// back: a turn by 180° about Y.
func toRight() geom.Placement {
	return geom.FromAxes(geom.Vec{X: -1}, geom.Vec{Y: 1}, geom.Vec{Z: -1})
}

// Build makes the two halves of a mold. A broken rule of the spec, a head that
// the parting plane misses, a weight that no scale gives, cavities that the
// printer cannot hold and fewer than three keys are errors (SpecError); all
// that can be judged by looking at the result is a Finding. Equal specs give
// equal molds.
func Build(ctx context.Context, spec Spec) (*Mold, error) {
	if err := spec.Validate(); err != nil {
		return nil, err
	}
	if err := spec.CheckHeads(); err != nil {
		return nil, err
	}
	spec, err := chooseTurns(ctx, spec)
	if err != nil {
		return nil, err
	}
	if spec.Layout.Alternate || spec.Layout.Least {
		return buildLeast(ctx, spec)
	}
	return buildAsGiven(ctx, spec)
}

// buildAsGiven makes the mold with every cavity turned as the spec says.
func buildAsGiven(ctx context.Context, spec Spec) (*Mold, error) {
	parts, err := newParts(ctx, spec, nil)
	if err != nil {
		return nil, err
	}
	places := newArranger(ctx, spec)
	row, err := places.fitting(parts)
	if err != nil {
		return nil, err
	}
	b := &builder{spec: spec, parts: parts, row: row}
	b.findings = checkPrintable(spec)
	b.placeCavities()
	b.checkCavities(ctx)
	b.placeRunner(ctx)
	air, err := b.cutVents(ctx)
	if err != nil {
		return nil, err
	}
	var shapes []Finding
	var shapesErr error
	var looking sync.WaitGroup // at the heads by themselves, while keys and marks look for room
	looking.Go(func() {
		if shapes, shapesErr = b.checkShapes(ctx); shapesErr == nil {
			shapesErr = b.airOf(ctx, air)
		}
	})
	marksLeft, marksRight, err := b.placeKeysAndMarks(ctx)
	if looking.Wait(); err != nil {
		return nil, err
	}
	if shapesErr != nil {
		return nil, shapesErr
	}
	h := row.fillHeights(parts, spec)
	left, right := newTray(spec, b.row.inside, h.left), newTray(spec, b.row.inside, h.right)
	b.findings = append(b.findings, checkOutside(ctx, parts, b.cavities)...)
	b.findings = append(b.findings, checkNeighbours(ctx, parts, b.cavities, spec)...)
	b.findings = append(b.findings, shapes...)
	thinnest := b.thinnest(ctx, h)
	b.findings = append(b.findings, b.checkThinnest(thinnest)...)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	sortFindings(b.findings)
	block := geom.Union(left.block(), toRight().Solid(right.block()))
	return &Mold{
		Spec:     spec,
		Cavities: b.cavities,
		Rows:     b.row.rows,
		Runner:   b.runner,
		Keys:     b.keys,
		Left:     b.half("left", left, marksLeft),
		Right:    b.half("right", right, marksRight),
		Block:    block,
		Void:     geom.Intersect(block, b.void(marksLeft, marksRight)),
		Thinnest: thinnest,
		Findings: b.findings,
		made:     made{parts, places.known},
	}, nil
}

// newParts weighs and scales every cavity. Heads of one file are measured once,
// cavities that are alike made once. What was found of an earlier mold's heads
// need not be looked for again.
func newParts(ctx context.Context, spec Spec, earlier []*part) ([]*part, error) {
	parts := make([]*part, 0, len(spec.Cavities))
	for i, v := range spec.Cavities {
		drawn := 0.0
		var twin, kin *part
		for _, p := range slices.Concat(earlier, parts) {
			if sameSolid(v.Head, p.Cavity.Head) {
				drawn = p.drawn
			}
			if v.kin(p.Cavity) {
				kin = p
			}
		}
		for _, p := range parts {
			if v.same(p.Cavity) {
				twin = p
			}
		}
		var err error
		if drawn == 0 {
			if drawn, err = headVolume(ctx, v.Head); err != nil {
				return nil, err
			}
		}
		p := &part{}
		if twin != nil {
			*p = *twin
			p.Cavity = v
		} else if p, err = newPart(ctx, v, drawn, spec.branch(), kin, fmt.Sprintf("cavities[%d]", i)); err != nil {
			return nil, err
		} else {
			p.kind = i
		}
		parts = append(parts, p)
	}
	return parts, nil
}

// builder holds a mold while it is put together.
type builder struct {
	spec     Spec
	parts    []*part
	row      layout
	cavities []Placed
	runner   *Runner
	keys     []Key
	findings []Finding
}

// beyond is the y at which sprues and vents end, past the middle of the top
// edge's wall, which leans, at the height of the funnel.
func (b *builder) beyond() float64 {
	f := b.spec.Frame
	mouth := b.spec.Sprue.Mouth
	if feed := b.row.feed; feed != nil {
		mouth = feed.funnel(b.spec.Sprue).Mouth
	}
	return b.row.inside.Max.Y + f.Wall + 1 + mouth/2*math.Tan(f.Draft)
}

// placeCavities moves the parts to their places and puts the sprues on.
func (b *builder) placeCavities() {
	for i, p := range b.parts {
		p.move = b.row.at[i]
		place := p.toPart.Then(geom.Move(p.move))
		sprue, top, end := b.spec.branch(), b.row.tops[i], b.beyond()
		throat := top - p.gate.at.Add(p.move).Y - b.spec.Sprue.height()
		if b.row.feed != nil {
			end, throat = top, 0
		}
		depth, _ := p.neckDepth(sprue)
		gate := p.gate.at.Add(p.move)
		c := Placed{
			Name: p.Name, Scale: p.scale, Shrink: p.shrink,
			Head: place.Solid(p.Cavity.Head), Eye: p.move, GateAt: gate,
			Sprue:      sprue.solid(gate, top, end, depth),
			toEdge:     sprue.solid(gate, top, top, depth),
			Throat:     max(0, throat),
			ToMold:     place.Point,
			HeadVolume: p.weighed.head, WireInHead: p.inHead, MetalVolume: p.metal,
		}
		if c.Name == "" {
			c.Name = fmt.Sprintf("cavity %d", i+1)
		}
		b.layWires(p, &c)
		b.cavities = append(b.cavities, c)
	}
}

// checkCavities looks at each cavity by itself.
func (b *builder) checkCavities(ctx context.Context) {
	for i, p := range b.parts {
		b.findings = append(b.findings, checkCavity(ctx, p, &b.cavities[i], b.spec.branch())...)
	}
}

// cutVents plans the vents of one cavity after the other: from the high points
// of its outline, and then from what pockets of air are left. It returns those
// that stay, of each cavity that is like no earlier one.
func (b *builder) cutVents(ctx context.Context) ([][]column.Pocket, error) {
	ways := make([][]vent, len(b.parts))
	stay := make([][]column.Pocket, len(b.parts))
	clean := make([]bool, len(b.parts)) // no pockets from the outline's vents on
	for i := range b.parts {
		c := &b.cavities[i]
		v := b.venting(ctx, i)
		vents, findings := v.plan(c.Name)
		b.setVents(i, vents)
		if twin := b.twin(i, ways, vents); twin == i || !clean[twin] {
			outline := len(vents)
			var err error
			if vents, stay[i], err = b.ventPockets(ctx, i, v, vents); err != nil {
				return nil, err
			}
			findings = append(findings, b.trapped(i, stay[i])...)
			clean[i] = len(vents) == outline && len(stay[i]) == 0
		} else {
			clean[i] = true
		}
		ways[i] = vents
		c.AlikeTo = b.twin(i, ways, vents)
		b.findings = append(b.findings, findings...)
	}
	return stay, b.runnerAir(ctx)
}

// venting is what cavity i's vents need to know.
func (b *builder) venting(ctx context.Context, i int) *venting {
	v := &venting{
		ctx:  ctx,
		spec: b.spec.Vents, neck: max(b.spec.Sprue.GateWidth, leastRubber), part: b.parts[i], head: b.cavities[i].Head,
		inside: b.row.inside, corner: b.spec.Frame.Corner, end: b.beyond(),
	}
	for j := range b.cavities {
		if j != i {
			v.others = append(v.others, b.cavities[j].Head)
		}
		v.others = append(v.others, b.cavities[j].channels()...)
	}
	v.others = append(v.others, b.runner.channels()...)
	v.spec.Count = b.ventsBeside()
	return v
}

// twin returns the first cavity that i is a copy of when it has these vents,
// or i itself.
func (b *builder) twin(i int, ways [][]vent, vents []vent) int {
	p := b.parts[i]
	for j := range i {
		q := b.parts[j]
		move := p.move.Sub(q.move)
		if q.kind == p.kind && math.Abs(b.row.tops[i]-b.row.tops[j]-move.Y) < 1e-6 && sameVents(ways[j], vents, move) {
			return j
		}
	}
	return i
}

// setVents puts the vents on cavity i.
func (b *builder) setVents(i int, vents []vent) {
	c := &b.cavities[i]
	var solids []geom.Solid
	c.VentsAt, c.Vent = nil, nil
	for _, ch := range vents {
		c.VentsAt = append(c.VentsAt, ch.way[0])
		solids = append(solids, ch.solid)
	}
	if len(solids) > 0 {
		c.Vent = geom.Union(solids...)
	}
	c.Metal = b.metal(c, c.Vent)
}

// metal is what metal fills of a cavity up to the top edge; vent may be nil.
func (b *builder) metal(c *Placed, vent geom.Solid) geom.Solid {
	hollow := []geom.Solid{c.Head, c.Sprue}
	if vent != nil {
		hollow = append(hollow, vent)
	}
	level := geom.HalfSpace(geom.Vec{Y: 1}, b.row.inside.Max.Y)
	return geom.Subtract(geom.Intersect(geom.Union(hollow...), level), c.Wire)
}

// ventsBeside is how many vents a cavity is to have at least: none under a
// runner, to which its air rises and which has vents of its own.
func (b *builder) ventsBeside() int {
	if b.runner != nil {
		return 0
	}
	return b.spec.Vents.Count
}

// channels are the solids of a cavity besides its head.
func (c *Placed) channels() []geom.Solid {
	var s []geom.Solid
	for _, part := range []geom.Solid{c.Bed, c.Sprue, c.Vent} {
		if part != nil {
			s = append(s, part)
		}
	}
	return s
}

// hollows are all that is not rubber, keys and marking aside.
func (b *builder) hollows() []geom.Solid {
	var s []geom.Solid
	for i := range b.cavities {
		s = append(s, b.cavities[i].Head)
		s = append(s, b.cavities[i].channels()...)
	}
	return append(s, b.runner.channels()...)
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

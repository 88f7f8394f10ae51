package moldbox

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"halfpour/geom"
)

// Sketch is a mold near enough for first figures, made in a small part of the
// time that Build takes.
type Sketch struct {
	// Mold has cavities and runner, and of its halves the sizes. Its vents are
	// those of the high points of the heads' outlines alone, its keys the last
	// mold's; nothing has been checked.
	Mold *Mold

	Left, Right float64 // rubber, mm³
}

// made is what a mold was made of, for a sketch of one much like it and for a look.
type made struct {
	by     *builder
	parts  []*part
	spaced map[spacing]spaced
}

// ErrNoSketch says that a mold is too unlike the last one, or too much of it has
// to be looked for, to be sketched from it.
var ErrNoSketch = errors.New("cannot make a sketch from the last mold")

// NewSketch sketches a mold from the last one, which Build made to a spec much like
// this: cavities stand as far apart as there, but for what their boxes have
// grown, and heads are known. It fails with ErrNoSketch, or as Build does.
func NewSketch(ctx context.Context, spec Spec, last *Mold) (*Sketch, error) {
	if err := spec.Validate(); err != nil {
		return nil, err
	}
	if err := spec.CheckHeads(); err != nil {
		return nil, err
	}
	if len(spec.Cavities) != len(last.Cavities) || spec.Layout.Alternate || spec.Layout.Least {
		return nil, ErrNoSketch
	}
	spec.Cavities = slices.Clone(spec.Cavities)
	for i := range spec.Cavities {
		if v := &spec.Cavities[i]; v.AutoTurn {
			v.Turn = last.Spec.Cavities[i].Turn
		}
	}
	parts, err := newParts(ctx, spec, last.made.parts)
	if err != nil {
		return nil, err
	}
	places := newArranger(ctx, spec)
	places.last, places.tol = &last.made, sketchTol
	row, err := places.fitting(parts)
	if err != nil {
		return nil, err
	}
	b := &builder{spec: spec, parts: parts, row: row, keys: last.Keys}
	b.placeCavities()
	b.placeRunner(ctx)
	b.sketchVents(ctx)
	s := &Sketch{Mold: &Mold{
		Spec: spec, Cavities: b.cavities, Rows: row.rows, Runner: b.runner, Keys: last.Keys, Thinnest: last.Thinnest,
		made: made{parts: parts},
		Left: newTray(spec, row.inside, row.left).half("left"), Right: newTray(spec, row.inside, row.right).half("right"),
	}}
	if s.Left, err = s.Mold.sketchRubber(ctx, s.Mold.Left); err == nil {
		s.Right, err = s.Mold.sketchRubber(ctx, s.Mold.Right)
	}
	return s, err
}

// sketchTol is how much more room than asked cavities get whose distance the
// last mold does not tell, and how far seats may be off its own to be like them,
// mm.
const sketchTol = 0.5

// apart is the distance of two seats, of which all but the distance is known: as
// it was here between those most like them, and what their bodies have grown
// since, or what their funnels need. It does not know what is not like enough.
func (m *made) apart(key spacing, x spaced, l, r seat) (float64, bool) {
	if m == nil || !m.knows(key.left, l) || !m.knows(key.right, r) {
		return 0, false
	}
	off := func(k spacing) float64 { return math.Abs((k.yl - k.yr) - (key.yl - key.yr)) }
	var like []spacing
	for k := range m.spaced {
		if k.left == key.left && k.right == key.right && off(k) < sketchTol {
			like = append(like, k)
		}
	}
	if len(like) == 0 {
		return 0, false
	}
	nearest := slices.MinFunc(like, func(k, l spacing) int {
		return cmp.Or(cmp.Compare(off(k), off(l)), cmp.Compare(k.yl, l.yl), cmp.Compare(k.between, l.between), cmp.Compare(k.top, l.top))
	})
	was := m.spaced[nearest]
	if x.funnels < was.funnels && was.apart < was.funnels+sketchTol {
		return 0, false // their funnels kept the bodies apart
	}
	return math.Max(was.apart+x.bodies-was.bodies+key.between-nearest.between, x.funnels), true
}

// knows reports whether a seat has the shape, size aside, of that kind here.
func (m *made) knows(kind int, s seat) bool {
	return s.part == nil || kind < len(m.parts) && m.parts[kind].Cavity.kin(s.part.Cavity)
}

// sketchVents gives cavities the vents of their outlines; those of one kind get
// the first one's.
func (b *builder) sketchVents(ctx context.Context) {
	b.ventRunner(ctx)
	ways := make([][]vent, len(b.parts))
	for i, p := range b.parts {
		c := &b.cavities[i]
		c.AlikeTo = slices.IndexFunc(b.parts, func(q *part) bool { return q.kind == p.kind })
		if c.AlikeTo == i {
			ways[i], _ = b.venting(ctx, i).plan(c.Name)
		} else {
			move := geom.Move(p.move.Sub(b.parts[c.AlikeTo].move))
			for _, v := range ways[c.AlikeTo] {
				way := slices.Clone(v.way)
				for j := range way {
					way[j] = move.Point(way[j])
				}
				ways[i] = append(ways[i], vent{way, move.Solid(v.solid)})
			}
		}
		b.setVents(i, ways[i])
	}
}

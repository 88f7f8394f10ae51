package moldbox

import (
	"context"
	"fmt"
	"math"
	"sync"

	"halfpour/geom"
	"halfpour/geom/column"
	"halfpour/geom/parallel"
)

// shapeStep is how far apart the lines are along which a head is looked at, mm.
const shapeStep = 0.25

// leastFlaw is the area from which on an overhang or a thin place counts, mm²:
// less is the roughness of a mesh, or bridged by the nozzle.
const leastFlaw = 1.0

// checkShapes looks at every head as it is drawn out of the rubber, printed,
// and covered with rubber, and for its air; stay is what stays of that. Cavities
// that are alike are looked at once.
func (b *builder) checkShapes(ctx context.Context, stay [][]column.Pocket) ([]Finding, error) {
	var all []Finding
	found := make([][]Finding, len(b.cavities))
	for i := range b.cavities {
		c := &b.cavities[i]
		if c.AlikeTo < i {
			from := &b.cavities[c.AlikeTo]
			found[i] = movedFindings(found[c.AlikeTo], from, c)
			apart := c.Eye.Sub(from.Eye)
			if t := from.Thin; t != nil {
				c.Thin = &ThinSection{t.Thickness, t.At.Add(apart), t.HeadAt}
			}
			c.Left, c.Right, c.BestParting = from.Left.moved(apart), from.Right.moved(apart), from.BestParting
		} else {
			s := shapeCheck{builder: b, part: b.parts[i], cavity: c}
			if err := s.run(ctx); err != nil {
				return nil, err
			}
			found[i] = s.found
		}
		all = append(all, found[i]...)
	}
	return all, b.airOf(ctx, stay)
}

// movedFindings are those of a cavity for one that is alike.
func movedFindings(fs []Finding, from, to *Placed) []Finding {
	var out []Finding
	for _, f := range fs {
		f.Cavity = to.Name
		if f.At != nil {
			at := f.At.Add(to.Eye.Sub(from.Eye))
			f.At = &at
		}
		out = append(out, f)
	}
	return out
}

// moved is d for a cavity that is alike and stands elsewhere.
func (d *Drawn) moved(by geom.Vec) *Drawn {
	e := *d
	e.At, e.Map.Least = d.At.Add(by), d.Map.Least.Add(by)
	return &e
}

// shapeCheck looks at one head.
type shapeCheck struct {
	*builder
	part   *part
	cavity *Placed
	best   func() (BestParting, error) // looked for when first asked
	fin    fin                         // the most slender so far
	found  []Finding
}

func (s *shapeCheck) add(f Finding, at geom.Vec) {
	f.Cavity, f.At, f.HeadAt = s.cavity.Name, &at, s.part.inFile(at)
	s.found = append(s.found, f)
}

// run looks at both halves and at what is thin at once; the findings come in a
// fixed order.
func (s *shapeCheck) run(ctx context.Context) error {
	upright, err := column.Cut(ctx, s.cavity.Head, column.Options{Step: shapeStep})
	if err != nil {
		return err
	}
	half := func(name string, to **Drawn) func(*shapeCheck) error {
		return func(c *shapeCheck) error {
			d := column.Draw{Down: name == "right"}
			u := upright.Undercut(d)
			if limit := c.spec.Checks.Undercut; limit > 0 && u.Depth+2*shapeStep >= limit {
				var err error
				if u, err = upright.SharpUndercut(ctx, c.cavity.Head, d); err != nil {
					return err
				}
			}
			*to = c.drawn(upright, u, name)
			if err := c.undercut(u, name); err != nil {
				return err
			}
			c.overhang(upright, d, name)
			return c.bubbles(ctx, u, d, name)
		}
	}
	looks := []func(*shapeCheck) error{half("left", &s.cavity.Left), half("right", &s.cavity.Right), func(c *shapeCheck) error {
		c.halvesDiffer(upright)
		c.checkPieces(upright)
		if err := c.flash(ctx); err != nil {
			return err
		}
		if err := c.beds(ctx); err != nil {
			return err
		}
		return c.thin(ctx, upright)
	}}
	best := sync.OnceValues(func() (BestParting, error) { return s.bestParting(ctx, upright) })
	parts, errs := make([]shapeCheck, len(looks)), make([]error, len(looks))
	if err := parallel.For(ctx, len(looks), 0, func(k int) {
		parts[k] = shapeCheck{builder: s.builder, part: s.part, cavity: s.cavity, best: best}
		errs[k] = looks[k](&parts[k])
	}); err != nil {
		return err
	}
	for k := range parts {
		if errs[k] != nil {
			return errs[k]
		}
		s.found = append(s.found, parts[k].found...)
	}
	if math.Max(s.cavity.Left.Depth, s.cavity.Right.Depth) > easyDraw {
		b, err := best()
		if err != nil {
			return err
		}
		s.cavity.BestParting = &b
	}
	return nil
}

// drawn takes over what was found of one half.
func (s *shapeCheck) drawn(c *column.Grid, u column.Undercut, half string) *Drawn {
	d := &Drawn{Half: half, Depth: u.Depth, Map: DepthMap{c.At(0, 0, 0), c.Step, c.NX, c.NY, u.Map}}
	if u.Depth > 0 {
		d.At, d.HeadAt = u.At, *s.part.inFile(u.At)
	}
	return d
}

// easyDraw is the undercut from which on a better parting is looked for, mm.
const easyDraw = 2 * shapeStep

// bestParting looks through all that leaves something of the head to each half.
func (s *shapeCheck) bestParting(ctx context.Context, c *column.Grid) (BestParting, error) {
	z := s.part.headBox
	from, depth, err := c.LeastUndercut(ctx, z.Min.Z+leastBehind, z.Max.Z-leastBehind)
	return BestParting{s.part.partingAt(from), depth}, err
}

// undercut finds what the rubber cannot give way to.
func (s *shapeCheck) undercut(u column.Undercut, half string) error {
	limit := s.spec.Checks.Undercut
	if limit <= 0 || u.Depth <= limit {
		return nil
	}
	b, err := s.best()
	if err != nil {
		return err
	}
	f := Finding{Severity: Warn, Code: "undercut", Value: u.Depth, Limit: limit, Unit: "mm",
		Message: "the rubber of the " + half + " half has to stretch too far when you pull it off the print, and the casting out of it"}
	if b.Depth < u.Depth-shapeStep {
		f.Cause, f.Figures = PartingElsewhere, []any{b.Parting, b.Depth + shapeStep}
	}
	s.add(f, u.At)
	return nil
}

// overhang finds what needs support when the frame is printed.
func (s *shapeCheck) overhang(c *column.Grid, d column.Draw, half string) {
	limit := s.spec.Checks.Overhang
	if limit <= 0 {
		return
	}
	o := c.Overhang(s.cavity.Head, d, limit)
	if o.Area < leastFlaw {
		return
	}
	const degrees = 180 / math.Pi
	s.add(Finding{Severity: Warn, Code: "overhang", Value: o.Steepest * degrees, Limit: limit * degrees, Unit: "°",
		Message: fmt.Sprintf("the head overhangs too steeply in the %s frame, over %.1f mm²: the print droops there without support", half, o.Area)}, o.At)
}

// bubbles finds air that stays under the head when the rubber is poured.
func (s *shapeCheck) bubbles(ctx context.Context, u column.Undercut, d column.Draw, half string) error {
	if u.Room < s.spec.Checks.Air {
		return nil
	}
	up := geom.Vec{Z: 1}
	room := s.part.headBox
	room.Min, room.Max = room.Min.Add(s.part.move), room.Max.Add(s.part.move)
	room = room.Grow(2)
	if d.Down {
		up.Z, room.Max.Z = -1, 0
	} else {
		room.Min.Z = 0
	}
	solids := append([]geom.Solid{s.cavity.Head}, s.cavity.channels()...)
	corner := room.Corner(0)
	corner.Z = 0
	top := math.Max(room.Max.Z, -room.Min.Z) - 0.5
	left, err := column.Pockets(ctx, geom.Subtract(geom.Block(room), solids...), column.Pour{
		Up: up, Source: corner, Open: geom.HalfSpace(up.Neg(), -top), Step: airStep, Least: s.spec.Checks.Air,
	})
	for _, p := range left {
		s.add(Finding{Severity: Warn, Code: "bubble", Value: p.Volume, Limit: s.spec.Checks.Air, Unit: "mm³",
			Message: "air stays under the head when the rubber of the " + half + " half is poured"}, p.Top)
	}
	return err
}

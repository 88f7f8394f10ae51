package moldbox

import (
	"context"
	"fmt"
	"math"

	"halfpour/geom"
	"halfpour/geom/column"
)

// floodStep is how far apart the lines are along which metal is followed, mm.
const floodStep = 0.15

// flash follows metal along beds that are wider than their wires by more than
// it takes to shut it off.
func (s *shapeCheck) flash(ctx context.Context) error {
	limit := s.spec.Checks
	widest, name := 0.0, ""
	for _, w := range s.part.wires {
		if w.fit > widest {
			widest, name = w.fit, w.name
		}
	}
	if widest <= limit.Gap || s.cavity.Wire == nil {
		return nil
	}
	room := geom.Subtract(geom.Union(s.cavity.Head, s.cavity.Bed), s.cavity.Wire)
	f, err := column.Flood(ctx, room, s.cavity.GateAt, column.FloodOptions{
		Step: floodStep, Within: room.BoundingBox().Intersect(s.inBlock()),
	})
	if err != nil {
		return err
	}
	at, far, ok := f.Farthest(s.cavity.Head.Evaluate)
	if !ok || far <= limit.Flash {
		return nil
	}
	s.add(Finding{Severity: Warn, Code: "metal-along-wire", Value: far, Limit: limit.Flash, Unit: "mm",
		Message: fmt.Sprintf("the bed leaves a gap of %.2g mm around %s: metal runs out of the head along it", widest, name),
		Figures: []any{limit.Gap}}, at)
	return nil
}

// inBlock is the room within the edges of the rubber.
func (s *shapeCheck) inBlock() geom.Box {
	in := s.row.inside
	in.Min.Z, in.Max.Z = math.Inf(-1), math.Inf(1)
	return in
}

// halvesDiffer finds where a face of the head lies in the parting plane, so
// that metal is on one side of it and rubber on the other.
func (s *shapeCheck) halvesDiffer(c *column.Grid) {
	const off = 1e-3
	lines, where := 0, geom.Vec{}
	var at []geom.Vec
	for j := range c.NY {
		for i := range c.NX {
			left, right := false, false
			for _, x := range c.Line(i, j) {
				left = left || x.Lo < off && x.Hi > off
				right = right || x.Lo < -off && x.Hi > -off
			}
			if left != right {
				lines++
				at = append(at, c.At(i, j, 0))
				where = where.Add(at[len(at)-1])
			}
		}
	}
	area := float64(lines) * shapeStep * shapeStep
	if area < leastFlaw {
		return
	}
	where = nearestOf(at, where.Mul(1/float64(lines)))
	s.add(Finding{Severity: Note, Code: "halves-differ", Value: area, Limit: leastFlaw, Unit: "mm²",
		Message: "a face of the head lies in the parting plane, so metal lies flat against the other half"}, where)
}

// nearestOf returns the one of ps that is nearest to p.
func nearestOf(ps []geom.Vec, p geom.Vec) geom.Vec {
	best := ps[0]
	for _, q := range ps {
		if q.Dist(p) < best.Dist(p) {
			best = q
		}
	}
	return best
}

package moldbox

import (
	"context"
	"fmt"

	"halfpour/geom"
	"halfpour/geom/column"
)

// bedStep is how far apart the lines are along which the bed of a drawn body is
// looked at, mm: barbs are small.
const bedStep = 0.1

// beds looks at the beds of bodies that CAD has drawn: whether the rubber lets go of
// them, and whether they can be printed.
func (s *shapeCheck) beds(ctx context.Context) error {
	for i, w := range s.part.wires {
		if w.body == nil {
			continue
		}
		for _, r := range s.part.relief[i] {
			s.add(Finding{Severity: Note, Code: "bed-relieved", Value: r.depth, Limit: leastRelief, Unit: "mm",
				Message: fmt.Sprintf("the bed of %s is widened towards the parting plane in the %s half, so that the rubber lets go of it", w.called(), [2]string{"left", "right"}[r.half()])},
				r.at.Add(s.part.move))
		}
		bed := s.cavity.Wires[i].Bed
		upright, err := column.Cut(ctx, bed, column.Options{Step: bedStep})
		if err != nil {
			return err
		}
		for _, half := range []string{"left", "right"} {
			if err := s.heldByBed(ctx, upright, bed, w, half); err != nil {
				return err
			}
		}
		if err := s.thinBed(ctx, bed, w); err != nil {
			return err
		}
	}
	return nil
}

// heldByBed finds what of a wire a half's rubber does not let go of.
func (s *shapeCheck) heldByBed(ctx context.Context, upright *column.Grid, bed geom.Solid, w partWire, half string) error {
	limit := s.spec.Checks.Undercut
	if limit <= 0 {
		return nil
	}
	u, err := upright.SharpUndercut(ctx, bed, column.Draw{Down: half == "right"})
	if err != nil || u.Depth <= limit {
		return err
	}
	s.add(Finding{Severity: Stop, Code: "wire-held", Value: u.Depth, Limit: limit, Unit: "mm",
		Message: fmt.Sprintf("the rubber of the %s half reaches under %s and has to stretch too far to let go of it; a wider bed there would let metal in", half, w.called())}, u.At)
	return nil
}

// thinBed finds what of a bed is thinner than the nozzle can print.
func (s *shapeCheck) thinBed(ctx context.Context, bed geom.Solid, w partWire) error {
	least := s.spec.Print.Nozzle + 2*s.spec.Finish.SealCoat
	var worst *column.ThinPlace
	for _, along := range []geom.Vec{{X: 1}, {Y: 1}} {
		c, err := column.Cut(ctx, bed, column.Options{Up: along, Step: bedStep})
		if err != nil {
			return err
		}
		for _, p := range c.ThinPlaces(bed, least-bedSlack) {
			if !p.Gap && p.Area >= leastFlaw && (worst == nil || p.Thickness < worst.Thickness) {
				worst = &p
			}
		}
	}
	if worst != nil {
		s.add(Finding{Severity: Warn, Code: "bed-too-fine", Value: worst.Thickness, Limit: least, Unit: "mm",
			Message: fmt.Sprintf("the bed of %s is finer than the nozzle can print", w.called())}, worst.At)
	}
	return nil
}

// bedSlack is how much thinner than the nozzle a bed may be without a word, mm: it is
// made as wide as that where it would be finer.
const bedSlack = 0.03

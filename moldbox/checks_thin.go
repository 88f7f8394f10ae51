package moldbox

import (
	"context"
	"fmt"
	"math"

	"halfpour/geom"
	"halfpour/geom/column"
)

// thinMetal is the thickness from which on a section of metal is not told of,
// mm: thicker ones fill and stay open as the gate does.
const thinMetal = 1.5

// thin finds ribs and slots that the nozzle cannot print, and the thinnest
// section of metal. For the print, what is thin upright is no matter: layers
// are thinner.
func (s *shapeCheck) thin(ctx context.Context, upright *column.Grid) error {
	nozzle := s.spec.Print.Nozzle
	var worst [2]*column.ThinPlace // ribs, slots
	s.thinMetal(ctx, upright)
	for _, along := range []geom.Vec{{X: 1}, {Y: 1}} {
		c, err := column.Cut(ctx, s.cavity.Head, column.Options{Up: along, Step: shapeStep})
		if err != nil {
			return err
		}
		s.thinMetal(ctx, c)
		for _, p := range c.ThinPlaces(s.cavity.Head, nozzle) {
			k := 0
			if p.Gap {
				k = 1
			}
			if p.Area >= leastFlaw && math.Abs(p.Across.Z) < 0.5 && (worst[k] == nil || p.Thickness < worst[k].Thickness) {
				worst[k] = &p
			}
		}
	}
	s.tellFin()
	s.tellThin(worst[0], "rib-thinner-than-nozzle", "a rib or post of the head is thinner than the nozzle can print")
	s.tellThin(worst[1], "slot-thinner-than-nozzle", "a slot or hole in the head is narrower than the nozzle can print")
	return nil
}

func (s *shapeCheck) tellThin(p *column.ThinPlace, code, message string) {
	if p != nil {
		s.add(Finding{Severity: Warn, Code: code, Value: p.Thickness, Limit: s.spec.Print.Nozzle, Unit: "mm",
			Message: message}, p.At)
	}
}

// thinMetal takes the thinnest section that some columns show, and the most slender
// fin of rubber.
func (s *shapeCheck) thinMetal(ctx context.Context, c *column.Grid) {
	places := c.ThinPlaces(s.cavity.Head, thinMetal)
	s.fins(ctx, places)
	for _, p := range places {
		if p.Gap || p.Area < leastFlaw || s.cavity.Thin != nil && s.cavity.Thin.Thickness <= p.Thickness {
			continue
		}
		s.cavity.Thin = &ThinSection{p.Thickness, p.At, *s.part.inFile(p.At)}
	}
}

const (
	// finSlender is how many times as deep as it is wide a slit in the head may be:
	// the rubber in a deeper one is a fin that folds over or tears off when the
	// casting is drawn (common practice, no source).
	finSlender = 3.0
	// leastFin is the depth from which on a slit counts, mm: less is engraving.
	leastFin  = 1.0
	finOpen   = 0.6  // distance to the slit's sides, in widths, at which it has opened: within, it is a half
	finStep   = 0.05 // of the way out of a slit, mm
	mostFin   = 20.0 // that is followed, mm
	finPlaces = 24   // of a slit that are looked at
)

// fin is rubber in a slit of the head.
type fin struct {
	width, depth float64 // mm
	at           geom.Vec
}

// worse prefers the more slender fin.
func (f fin) worse(g fin) bool { return g.width == 0 || f.depth*g.width > g.depth*f.width }

// fins takes the most slender fin that a slit among some thin places makes.
func (s *shapeCheck) fins(ctx context.Context, places []column.ThinPlace) {
	for _, p := range places {
		if ctx.Err() != nil || !p.Gap || p.Area < leastFlaw || p.Thickness >= s.spec.Checks.Rubber {
			continue
		}
		for k := 0; k < len(p.Middles); k += (len(p.Middles) + finPlaces - 1) / finPlaces {
			if f := s.finAt(p.Middles[k], p.Across, p.Thickness); f.width > 0 && f.worse(s.fin) {
				s.fin = f
			}
		}
	}
}

// finAt measures the fin at the middle of a slit: to the nearest side where its
// rubber hangs on the rest, from where it ends opposite, in metal or at the other
// half. Its width is 0 where it hangs on nothing or on both sides.
func (s *shapeCheck) finAt(at, across geom.Vec, width float64) fin {
	if math.Abs(at.Z) < finStep { // on one side of the parting plane
		at.Z = finStep
	}
	f := fin{depth: math.Inf(1), at: at}
	u := geom.Upright(across).Inverse()
	for k := range 8 {
		sin, cos := math.Sincos(math.Pi * float64(k) / 8)
		dir := u.Direction(geom.Vec{X: cos, Y: sin})
		a, openA := s.wayOut(at, dir, width)
		b, openB := s.wayOut(at, dir.Neg(), width)
		if openA != openB && a+b < f.depth {
			f.width, f.depth = width, a+b
		}
	}
	return f
}

// wayOut follows a slit until it opens, or ends.
func (s *shapeCheck) wayOut(at, dir geom.Vec, width float64) (way float64, open bool) {
	for way = finStep; way < mostFin; way += finStep {
		q := at.Add(dir.Mul(way))
		if q.Z*at.Z < 0 {
			return way - finStep/2, false // at the other half
		}
		switch d := s.cavity.Head.Evaluate(q); {
		case d < 0:
			return way - finStep/2, false
		case d > finOpen*width:
			return way - math.Sqrt(finOpen*finOpen-0.25)*width - finStep/2, true
		}
	}
	return way, false
}

func (s *shapeCheck) tellFin() {
	f := s.fin
	if f.width == 0 || f.depth < leastFin || f.depth <= finSlender*f.width {
		return
	}
	limit := math.Min(f.depth/finSlender, s.spec.Checks.Rubber)
	s.add(Finding{Severity: Warn, Code: "rubber-fin", Value: f.width, Limit: limit, Unit: "mm",
		Message: fmt.Sprintf("the rubber in a slit of the head is a fin %.2f mm thick and %.1f mm deep: it tears when you pull castings out", f.width, f.depth),
		Figures: []any{math.Ceil(10*limit) / 10, finSlender * f.width}}, f.at)
}

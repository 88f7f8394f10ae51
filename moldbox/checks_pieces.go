package moldbox

import (
	"fmt"
	"math"

	"halfpour/geom"
	"halfpour/geom/column"
)

const (
	// leastPiece is the depth from which on a piece of a head counts, mm: half a
	// step of the lines. A thinner one may hang on the rest between two lines.
	leastPiece = shapeStep / 2
	// leastHover is how far over the floor of its frame a piece hovers that no
	// printer bridges, mm: half a layer (common practice, no source).
	leastHover = 0.1
)

// checkPieces finds pieces of the head that the gate does not feed, and those that
// stand on nothing in print.
func (s *shapeCheck) checkPieces(upright *column.Grid) {
	channels := geom.Union(s.cavity.channels()...)
	for _, p := range upright.Pieces() {
		switch over := math.Max(p.Low, -p.High); {
		case s.touches(p, s.cavity.Sprue) || s.depth(p) < leastPiece:
		case over > leastHover && !s.touches(p, channels):
			s.add(Finding{Severity: Stop, Code: "piece-floats", Value: over, Limit: leastHover, Unit: "mm",
				Message: fmt.Sprintf("a piece of the head, %.3g mm³, is attached to nothing: the printer would print it in mid-air", p.Volume)}, p.Middle)
		default:
			s.add(Finding{Severity: Stop, Code: "piece-unfed", Value: p.Volume, Limit: 0, Unit: "mm³",
				Message: fmt.Sprintf("no neck of %.2g mm or more joins a piece of the head to the one the metal enters: that piece stays empty", shapeStep)}, p.Middle)
		}
	}
}

// touches reports whether a stretch of the piece comes to a solid that lies in the
// parting plane.
func (s *shapeCheck) touches(p column.Piece, solid geom.Solid) bool {
	const near = shapeStep / 2 // the lines may miss a narrow gate by this
	box, found := solid.BoundingBox().Grow(near), false
	p.Each(func(low, high geom.Vec) bool {
		at := low
		at.Z = math.Max(low.Z, math.Min(0, high.Z))
		found = box.Contains(at) && solid.Evaluate(at) < near
		return !found
	})
	return found
}

// depth is how deep the deepest middle of a stretch lies in the head.
func (s *shapeCheck) depth(p column.Piece) float64 {
	deepest := 0.0
	p.Each(func(low, high geom.Vec) bool {
		deepest = math.Max(deepest, -s.cavity.Head.Evaluate(low.Lerp(high, 0.5)))
		return deepest < leastPiece
	})
	return deepest
}

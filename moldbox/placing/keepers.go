package placing

import (
	"math"
)

// A keeper as it is proposed, mm (common practice, no source).
const (
	usualKeeper   = 0.9 // diameter of its wire
	keeperHeld    = 4.0 // of it lie in the head
	keeperOut     = 6.0 // behind the head
	keeperBarb    = 1.2 // its end stands away from the shank by this
	keeperWall    = 0.5 // metal round it
	keeperShank   = 1.3 // the thickest shank that it has to clear
	keeperRubber  = 1.7 // rubber between it and a collar that it passes
	keeperBeside  = 0.1 // metal between it and the shank
	keeperOffStep = 0.1
)

// keepers are spikes along the shank, out of the tail, one over it and one under
// it: as near to it as metal allows, within the collar or, where that is too thin,
// beside it. Where there is no room there is none.
func (s *surface) keepers(out *Proposal, e ends, hints Hints) (list [][][2]float64) {
	wire := hints.KeeperWire
	if wire == 0 {
		wire = usualKeeper
	}
	eye := out.Eyes[0].At
	tail, axis := e.nose.Neg(), s.axisPoint(&e)
	foot := eye.Add(e.back.Mul(axis.Sub(eye).Dot(e.back)))
	// depth is how deep in the scaled head a place in the hook's plane is.
	depth := func(x, y float64) float64 {
		return -s.solid.Evaluate(foot.Add(tail.Mul(x/out.Scale)).Add(e.back.Mul(y/out.Scale))) * out.Scale
	}
	below := axis.Sub(eye).Dot(e.back) // of the shank's axis from the eye
	for _, side := range []float64{1, -1}[:max(0, min(hints.Keepers, 2))] {
		if x, y, ok := s.keeperAt(depth, side, wire, out, e); ok {
			at := func(x, y float64) [2]float64 { return [2]float64{math.Round(10*x) / 10, math.Round(10*(below+y)) / 10} }
			end := x + keeperOut
			list = append(list, [][2]float64{at(x-keeperHeld, y), at(end, y), at(end+1.5, y+side*keeperBarb)})
		}
	}
	return list
}

// keeperAt finds how far back and how far off the shank's axis a keeper leaves
// the head.
func (s *surface) keeperAt(depth func(x, y float64) float64, side, wire float64, out *Proposal, e ends) (x, y float64, ok bool) {
	need := wire/2 + keeperWall
	least := keeperShank/2 + keeperBeside + wire/2
	collar := 0.0
	if e.shank != nil && !e.shank.rod.Bore {
		collar = e.shank.rod.Radius * out.Scale
	}
	for off := least; off < out.Size.Y*out.Scale/2; off += keeperOffStep {
		if off+need > collar && off < collar+wire/2+keeperRubber {
			continue // neither in the collar nor beside it
		}
		y = side * off
		for x = out.Size.X * out.Scale; x > -out.Size.X*out.Scale && depth(x, y) < 0; x -= 0.1 {
		}
		held := true
		for in := 2 * need; in <= keeperHeld; in += 0.2 {
			held = held && depth(x-in, y) >= need
		}
		if held {
			return math.Round(10*x) / 10, y, true
		}
	}
	return 0, 0, false
}

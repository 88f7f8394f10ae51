package placing

import (
	"math"

	"halfpour/geom"
)

// Eye is where the middle of the hook's eye may be.
type Eye struct {
	At geom.Vec // in the parting plane, the file's coordinates, mm
	Reason
}

const (
	// eyeOver is how far over the head an eye's middle stands: half a ring of 4 mm
	// and the rubber that is to part it from metal (common practice, no source).
	eyeOver = 4.0
	// eyeAlong is how far behind the nose, of the head without its collar, an eye
	// stands (common practice, no source).
	eyeAlong = 0.4
)

// eyes are the candidates, the likeliest first, of a head that comes to be scaled
// about the shank's axis. leg is from the eye to that axis, mm, 0 when not known.
func (s *surface) eyes(p Plane, e ends, leg, scale float64) (list []Eye) {
	start := s.onPlane(p, s.axisPoint(&e))
	if e.leg != nil {
		// Where the leg's axis meets the shank's, both in the plane.
		way, across := e.leg.way, p.Normal.Cross(e.nose)
		t := start.Sub(e.leg.at).Dot(across) / way.Dot(across)
		corner := e.leg.at.Add(way.Mul(t))
		out := math.Max(0, -t*scale) // of the head
		eye := Eye{corner.Add(way.Mul(out + eyeOver)), Reason{Likely, "on the axis of the leg's bore, 4 mm outside the head"}}
		if leg > 0 {
			eye = Eye{corner.Add(way.Mul(leg)), Reason{Sure, "on the axis of the leg's bore, the hook's leg from the shank's axis"}}
			if leg < out+0.5 {
				eye.Reason = Reason{Unsure, "on the axis of the leg's bore, but with this leg it would lie in the head: is the hook the right one?"}
			}
		}
		list = append(list, eye)
	}
	nose, tail := s.extent(e.nose.Neg())
	if e.shank != nil && !e.shank.rod.Bore { // the body without its collar
		tail = math.Min(e.shank.rod.From.Dot(e.nose.Neg()), e.shank.rod.To.Dot(e.nose.Neg()))
	}
	foot := start.Add(e.nose.Neg().Mul(nose + eyeAlong*(tail-nose) - start.Dot(e.nose.Neg())))
	// A head whose back is under the axis there still has its eye clear of the shank.
	high := math.Max(0, s.top(foot, e.back).Sub(foot).Dot(e.back)*scale)
	if leg > high+0.5*eyeOver {
		list = append(list, Eye{foot.Add(e.back.Mul(leg)), Reason{Unsure, "over the back, two fifths behind the nose, the hook's leg from the shank's axis"}})
	}
	return append(list, Eye{foot.Add(e.back.Mul(high + eyeOver)), Reason{Unsure, "over the back, two fifths behind the nose, 4 mm outside the head"}})
}

func (s *surface) onPlane(p Plane, v geom.Vec) geom.Vec {
	return v.Sub(p.Normal.Mul(v.Dot(p.Normal) - p.At))
}

// top is the last place of the head above a place, along a direction.
func (s *surface) top(at, up geom.Vec) geom.Vec {
	_, high := s.extent(up)
	for h := high - at.Dot(up) + 0.01*s.size; h > -s.size; {
		q := at.Add(up.Mul(h))
		d := s.solid.Evaluate(q)
		if d < 1e-3*s.size {
			return q
		}
		h -= d
	}
	return at
}

package placing

import (
	"math"

	"halfpour/geom"
)

// exit is where a collar or a bore leaves the head.
type exit struct {
	rod Rod
	at  geom.Vec // where its round part ends
	way geom.Vec // out of the head
}

// exits finds where the rods leave.
func (s *surface) exits(rods []Rod) (list []exit) {
	for _, r := range rods {
		if r.Bore {
			if r.OpenTo {
				list = append(list, exit{r, r.To, r.Axis})
			}
			if r.OpenFrom {
				list = append(list, exit{r, r.From, r.Axis.Neg()})
			}
			continue
		}
		for _, e := range []exit{{r, r.To, r.Axis}, {r, r.From, r.Axis.Neg()}} {
			_, high := s.extent(e.way)
			if high-e.at.Dot(e.way) < 1.3*r.Radius && r.Radius < 0.75*s.widest(r) {
				list = append(list, e)
			}
		}
	}
	return list
}

// widest is how far the surface is from a rod's axis at most.
func (s *surface) widest(r Rod) (most float64) {
	for _, q := range s.spots {
		d := q.at.Sub(r.From)
		most = math.Max(most, d.Sub(r.Axis.Mul(d.Dot(r.Axis))).Norm())
	}
	return most
}

// ends is which way the head faces, and by what.
type ends struct {
	nose, back       geom.Vec
	noseWhy, backWhy Reason
	shank            *exit // where the hook's shank leaves
	leg              *exit // where its leg does
}

// faces finds nose and back. Of a plane that is not sure nothing follows for the
// back.
func (s *surface) faces(p Plane, planeWhy Reason, rods []Rod) ends {
	exits := s.exits(rods)
	dents := s.sockets(p)
	e := ends{}
	e.findShank(s.longest(p.Normal), exits)
	if e.shank != nil {
		e.nose = e.shank.way.Neg()
	} else {
		e.guessNose(s, p, dents)
	}
	e.findLeg(exits)
	e.findBack(s, p, dents)
	if planeWhy.Trust == Unsure {
		e.backWhy = Reason{Unsure, "the head mirrors in no plane that shows which way is up"}
	}
	return e
}

// findShank takes the exit by which the shank leaves.
func (e *ends) findShank(long geom.Vec, exits []exit) {
	var best *exit
	score := func(x exit) float64 {
		v := math.Abs(x.way.Dot(long)) // the shank goes lengthwise
		if !x.rod.Bore {
			v += 2
		}
		return v
	}
	for i := range exits {
		if best == nil || score(exits[i]) > score(*best) {
			best = &exits[i]
		}
	}
	if best == nil || best.rod.Bore && math.Abs(best.way.Dot(long)) < 0.6 {
		return
	}
	against := 0
	for _, x := range exits {
		if x.rod.Bore == best.rod.Bore && x.way.Dot(best.way) < -0.9 && 2*x.rod.points > best.rod.points {
			against++
		}
	}
	e.shank = best
	switch {
	case against > 0:
		e.noseWhy = Reason{Unsure, "a collar or bore leaves at both ends: took one for the tail"}
	case best.rod.Bore:
		e.noseWhy = Reason{Likely, "the bore that leaves lengthwise is taken for the shank's: it leaves at the tail"}
		for _, x := range exits {
			if x.rod.Bore && math.Abs(x.way.Dot(best.way)) < 0.9 {
				e.noseWhy = Reason{Sure, "one bore leaves lengthwise, for the shank, another across it, for the leg"}
			}
		}
	default:
		e.noseWhy = Reason{Sure, "the collar is at the tail"}
	}
}

// guessNose goes by eye sockets, else by where most of the head is.
func (e *ends) guessNose(s *surface, p Plane, dents []geom.Vec) {
	long := s.longest(p.Normal)
	low, high := s.extent(long)
	middle := (low + high) / 2
	if len(dents) > 0 {
		if off := dents[0].Dot(long) - middle; math.Abs(off) > 0.05*s.size {
			e.nose, e.noseWhy = long.Mul(math.Copysign(1, off)), Reason{Likely, "the eye sockets are nearer that end; no collar and no bore was found, so it points along the longest axis, give or take a few degrees"}
			return
		}
	}
	e.nose, e.noseWhy = long.Mul(math.Copysign(1, s.mid.Dot(long)-middle)), Reason{Unsure, "no collar, bore or eye sockets found; took the heavier end of the longest axis"}
}

// mostAlong is the cosine of 22°: no leg is bent less far off the shank's axis, or farther
// back to it.
const mostAlong = 0.93

// findLeg takes the bore that leaves across the shank.
func (e *ends) findLeg(exits []exit) {
	for i, x := range exits {
		if across := math.Abs(x.way.Dot(e.nose)); x.rod.Bore && across < mostAlong && (e.leg == nil || across < math.Abs(e.leg.way.Dot(e.nose))) {
			e.leg = &exits[i]
		}
	}
}

// findBack goes by the leg's bore, else by the eye sockets, which sit above the
// middle.
func (e *ends) findBack(s *surface, p Plane, dents []geom.Vec) {
	e.back = p.Normal.Cross(e.nose)
	e.backWhy = Reason{Unsure, "no bore for a leg and no eye sockets found: turn it round if the head comes out upside down"}
	if e.leg != nil {
		e.back = e.back.Mul(math.Copysign(1, e.leg.way.Dot(e.back)))
		e.backWhy = Reason{Sure, "the bore for the hook's leg leaves there"}
		return
	}
	if len(dents) > 0 {
		if up := dents[0].Sub(s.axisPoint(e)).Dot(e.back); math.Abs(up) > 0.02*s.size {
			e.back, e.backWhy = e.back.Mul(math.Copysign(1, up)), Reason{Likely, "the eye sockets sit above the middle"}
			return
		}
	}
	greatest := 0.0
	for _, x := range []float64{e.back.Z, e.back.Y, e.back.X} {
		if math.Abs(x) > math.Abs(greatest)+1e-3 {
			greatest = x
		}
	}
	if greatest < 0 {
		e.back = e.back.Neg()
	}
}

// axisPoint is a point of the shank's axis, or the middle of the surface.
func (s *surface) axisPoint(e *ends) geom.Vec {
	if e.shank != nil {
		return e.shank.at
	}
	return s.mid
}

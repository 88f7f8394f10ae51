package placing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"halfpour/geom"
)

const (
	alikeShare  = 0.04 // two planes whose shares differ by less mirror alike,
	clearlyLess = 0.3  // unless one leaves that much less of what the other leaves
	clearlyLost = 0.004
	sureShare   = 0.97
	likelyShare = 0.85
)

// choose takes one of the planes, the best first, and says how sure that is.
func (s *surface) choose(planes []Plane) (Plane, Reason) {
	best := planes[0]
	var near []Plane
	for _, p := range planes {
		if p.Share >= best.Share-alikeShare {
			near = append(near, p)
		}
	}
	why := Reason{Unsure, best.says()}
	switch {
	case best.Share < likelyShare:
		why.Why += ": that is little; say yourself where the halves meet"
		return best, why
	case len(near) > 1 && best.lost() > clearlyLess*near[1].lost():
		if axis, round := roundAbout(near); round {
			return s.roundPlane(axis, best)
		}
		best = s.thinnest(near)
		return best, Reason{Likely, fmt.Sprintf("%s; %d planes do so: took the one across which the head is thinnest", best.says(), len(near))}
	case best.Share >= sureShare:
		why.Trust = Sure
	default:
		why.Trust = Likely
	}
	return best, why
}

func (p Plane) says() string {
	text := fmt.Sprintf("%.0f %% of the surface mirrors", math.Floor(100*p.Share))
	if p.Off > 0 {
		text += fmt.Sprintf(", the rest is off by up to %.2g", p.Off)
	}
	return text
}

// roundAbout is the axis of a body of revolution: three planes or more through
// one line, of those that mirror.
func roundAbout(planes []Plane) (axis geom.Vec, round bool) {
	for i, p := range planes {
		for _, q := range planes[:i] {
			c := p.Normal.Cross(q.Normal)
			if c.Norm() < 0.3 {
				continue
			}
			c = c.Unit()
			through := 0
			for _, r := range planes {
				if math.Abs(r.Normal.Dot(c)) < 0.05 {
					through++
				}
			}
			if through >= 4 {
				return c, true
			}
		}
	}
	return geom.Vec{}, false
}

// lost is the share that does not mirror, and a little for what 2500 points do
// not tell.
func (p Plane) lost() float64 { return 1 - p.Share + clearlyLost }

// roundPlane takes one of the planes through the axis of a body of revolution:
// the one in which bores and sockets mirror too or, without any, the one that a
// file axis is square to.
func (s *surface) roundPlane(axis geom.Vec, best Plane) (Plane, Reason) {
	first := s.through(axis)
	planes := make([]Plane, 60)
	for i := range planes {
		n := geom.Rotate(axis, math.Pi*float64(i)/float64(len(planes))).Direction(first.Normal)
		planes[i] = s.judge(Plane{Normal: n, At: s.mid.Dot(n)}, finePoints)
	}
	byShare := slices.Clone(planes)
	slices.SortStableFunc(byShare, func(a, b Plane) int { return cmp.Compare(b.Share, a.Share) })
	top, usual := s.finish(byShare[0]), byShare[len(byShare)/2]
	if top.lost() < clearlyLess*usual.lost() {
		return top, Reason{Likely, top.says() + "; it is round about its axis but for what lies in this plane"}
	}
	if first = s.finish(first); first.Share >= best.Share-alikeShare {
		best = first
	}
	return best, Reason{Likely, "it is round about its axis, so any plane through the axis does; took one that a file axis is square to"}
}

// through is the plane through an axis that a file axis is most nearly square
// to: z before y before x.
func (s *surface) through(axis geom.Vec) Plane {
	best, most := geom.Vec{}, 0.0
	for _, a := range []geom.Vec{{Z: 1}, {Y: 1}, {X: 1}} {
		n := a.Sub(axis.Mul(a.Dot(axis)))
		if n.Norm() > most+0.1 {
			best, most = n.Unit(), n.Norm()
		}
	}
	return Plane{Normal: best, At: s.mid.Dot(best)}
}

// thinnest takes, of planes that mirror alike, the one across which the head is
// thinnest: heads are taller and longer than they are wide.
func (s *surface) thinnest(planes []Plane) Plane {
	best, least := planes[0], math.Inf(1)
	for _, p := range planes {
		low, high := s.extent(p.Normal)
		if high-low < least*0.99 {
			best, least = p, high-low
		}
	}
	return best
}

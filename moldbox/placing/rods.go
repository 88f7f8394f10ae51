package placing

import (
	"cmp"
	"math"
	"slices"

	"halfpour/geom"
)

// Rod is a round part of the surface whose axis lies in the mirror plane: a
// collar, or a bore for a hook's wire.
type Rod struct {
	Bore     bool
	Axis     geom.Vec // unit, in the plane
	From, To geom.Vec // ends of the round part, on the axis; To is ahead along Axis
	Radius   float64
	Coverage float64 // share of the way round that the surface was found on
	OpenFrom bool    // a bore: it leaves the head behind From
	OpenTo   bool    // and ahead of To
	points   int     // points that lie on it
}

// Length is of the round part along its axis.
func (r Rod) Length() float64 { return r.To.Dist(r.From) }

const (
	rodTurns   = 180  // directions of axes that are tried
	rodBins    = 240  // places and radii over the head's size
	rodSquare  = 0.05 // sine of how far a normal may be off square to the axis
	rodWidest  = 0.25 // radius, as a share of the head's size
	rodSectors = 24   // round the axis
	rodLeast   = 25   // points on a rod
)

// rods finds the round parts whose axis lies in a mirror plane: an axis in the
// plane is met by the normals of its round surface, so that a point and its
// normal tell where it is and how far. Points vote for it (a Hough transform),
// and the places with the most votes are fitted to their points.
func (s *surface) rods(p Plane) []Rod {
	flat := s.flatten(p)
	type cell struct {
		turn, place, radius, votes int
	}
	var peaks []cell
	for turn := range rodTurns {
		sin, cos := math.Sincos(math.Pi * float64(turn) / rodTurns)
		votes := map[[2]int]int{}
		for _, q := range flat {
			if math.Abs(cos*q.n.X+sin*q.n.Y) > rodSquare || math.Abs(q.n.Z) < 0.15 {
				continue
			}
			across, up := cos*q.at.Y-sin*q.at.X, cos*q.n.Y-sin*q.n.X
			radius := q.at.Z / q.n.Z
			if math.Abs(radius) > rodWidest*s.size {
				continue
			}
			place := across - up*radius
			votes[[2]int{int(math.Round(place / s.size * rodBins)), int(math.Round(radius / s.size * rodBins))}]++
		}
		for at, n := range votes {
			if n >= rodLeast/3 {
				peaks = append(peaks, cell{turn, at[0], at[1], n})
			}
		}
	}
	slices.SortFunc(peaks, func(a, b cell) int {
		return cmp.Or(cmp.Compare(b.votes, a.votes), cmp.Compare(a.turn, b.turn), cmp.Compare(a.place, b.place), cmp.Compare(a.radius, b.radius))
	})
	var list []Rod
	tried := 0
	var seen []cell
	for _, c := range peaks {
		if tried == 60 {
			break
		}
		if slices.ContainsFunc(seen, func(d cell) bool {
			turn := min((c.turn-d.turn+rodTurns)%rodTurns, (d.turn-c.turn+rodTurns)%rodTurns)
			return turn <= 4 && abs(c.place-d.place) <= 4 && abs(c.radius-d.radius) <= 3
		}) {
			continue
		}
		seen, tried = append(seen, c), tried+1
		r, ok := s.fitRod(p, flat, math.Pi*float64(c.turn)/rodTurns, float64(c.place)/rodBins*s.size, float64(c.radius)/rodBins*s.size)
		if ok && !slices.ContainsFunc(list, r.alike) {
			list = append(list, r)
		}
	}
	return list
}

func abs(x int) int { return max(x, -x) }

func (r Rod) alike(q Rod) bool {
	if r.Bore != q.Bore || math.Abs(r.Axis.Dot(q.Axis)) < math.Cos(5*math.Pi/180) {
		return false
	}
	d := q.From.Sub(r.From)
	return d.Sub(r.Axis.Mul(d.Dot(r.Axis))).Norm() < 0.5*r.Radius && math.Abs(r.Radius-q.Radius) < 0.3*r.Radius
}

// flatSpot is a spot seen from the plane: x and y in it, z out of it.
type flatSpot struct{ at, n geom.Vec }

func (s *surface) flatten(p Plane) []flatSpot {
	e1, e2 := beside(p.Normal)
	list := make([]flatSpot, len(s.spots))
	for i, q := range s.spots {
		d := q.at.Sub(s.mid)
		list[i] = flatSpot{geom.Vec{X: d.Dot(e1), Y: d.Dot(e2), Z: q.at.Dot(p.Normal) - p.At},
			geom.Vec{X: q.normal.Dot(e1), Y: q.normal.Dot(e2), Z: q.normal.Dot(p.Normal)}}
	}
	return list
}

// fitRod fits an axis in the plane, at an angle and a place across, to the
// points about a radius from it, which is below 0 for a bore.
func (s *surface) fitRod(p Plane, flat []flatSpot, angle, place, radius float64) (Rod, bool) {
	within := 1.5 / rodBins * s.size
	var on []flatSpot
	for round := range 8 {
		sin, cos := math.Sincos(angle)
		on = on[:0]
		var a [3][3]float64
		var b [3]float64
		for _, q := range flat {
			across := cos*q.at.Y - sin*q.at.X - place
			far := math.Hypot(across, q.at.Z)
			up := cos*q.n.Y - sin*q.n.X
			if math.Abs(far-math.Abs(radius)) > within || math.Abs(cos*q.n.X+sin*q.n.Y) > rodSquare ||
				math.Copysign(1, radius)*(up*across+q.n.Z*q.at.Z) < 0.95*far || far == 0 {
				continue
			}
			on = append(on, q)
			along := cos*q.at.X + sin*q.at.Y
			j := [3]float64{-along / s.size * across / far, -across / far, -1}
			for r := range 3 {
				for c := range 3 {
					a[r][c] += j[r] * j[c]
				}
				b[r] -= j[r] * (far - math.Abs(radius))
			}
		}
		if len(on) < rodLeast {
			return Rod{}, false
		}
		for r := range 3 {
			a[r][r] += 1e-9 * float64(len(on))
		}
		x := solve3(a, b)
		angle += x[0] / s.size
		place += x[1]
		radius = math.Copysign(math.Abs(radius)+x[2], radius)
		if round == 3 {
			within /= 2
		}
	}
	return s.measureRod(p, on, angle, place, radius)
}

// measureRod finds the longest unbroken part of a rod that is round.
func (s *surface) measureRod(p Plane, on []flatSpot, angle, place, radius float64) (Rod, bool) {
	sin, cos := math.Sincos(angle)
	along := func(q flatSpot) float64 { return cos*q.at.X + sin*q.at.Y }
	slices.SortFunc(on, func(a, b flatSpot) int { return cmp.Compare(along(a), along(b)) })
	r := math.Abs(radius)
	gap := math.Max(0.5*r, 0.02*s.size)
	from, best := 0, [2]int{}
	for i := range on {
		if i > 0 && along(on[i])-along(on[i-1]) > gap {
			from = i
		}
		if i-from > best[1]-best[0] {
			best = [2]int{from, i}
		}
	}
	run := on[best[0] : best[1]+1]
	if len(run) < rodLeast {
		return Rod{}, false
	}
	var sectors [rodSectors]bool
	for _, q := range run {
		a := math.Atan2(q.at.Z, cos*q.at.Y-sin*q.at.X-place) / (2 * math.Pi)
		sectors[int((a+1)*rodSectors)%rodSectors] = true
	}
	round := 0
	for _, there := range sectors {
		if there {
			round++
		}
	}
	e1, e2 := beside(p.Normal)
	origin := s.mid.Add(p.Normal.Mul(p.At - s.mid.Dot(p.Normal)))
	axis := e1.Mul(cos).Add(e2.Mul(sin))
	on0 := origin.Add(e2.Mul(cos).Sub(e1.Mul(sin)).Mul(place))
	rod := Rod{Bore: radius < 0, Axis: axis, Radius: r, Coverage: float64(round) / rodSectors, points: len(run),
		From: on0.Add(axis.Mul(along(run[0]))), To: on0.Add(axis.Mul(along(run[len(run)-1])))}
	if rod.Bore {
		rod.OpenFrom, rod.OpenTo = s.leaves(rod.From, axis.Neg()), s.leaves(rod.To, axis)
	}
	return rod, rod.Coverage > 0.7 && rod.Length() > 0.5*r
}

// leaves reports whether one gets out of the head from a place in a bore, along
// its axis.
func (s *surface) leaves(at, way geom.Vec) bool {
	box := s.solid.BoundingBox()
	for t := 0.0; t < s.size; t += 0.01 * s.size {
		q := at.Add(way.Mul(t))
		if !box.Contains(q) {
			return true
		}
		if s.solid.Evaluate(q) < 0 {
			return false
		}
	}
	return true
}

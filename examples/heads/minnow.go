package heads

import (
	"math"

	"halfpour/geom"
)

// The minnow's main dimensions, in mm. The nose is at -X, the back at +Y, the
// left flank at +Z; the origin is on the collar's axis, at the shoulder.
const (
	minnowNose     = -21.0
	minnowShoulder = 1.1 // length of the step from the body to the collar
	collarRadius   = 2.2
	collarEnd      = 5.0
	collarDome     = 1.5 // length of the collar's rounded end
)

// MinnowEye returns where the hook's eye stands: 4 mm over the back, ahead of
// the middle of the head.
func MinnowEye() geom.Vec {
	const x = -11.5
	return geom.Vec{X: x, Y: minnowBack.at(x) + 4}
}

// The body's half heights over and under the axis, and its half width.
var (
	minnowBack  = newCurve(-21, 0, -20, 1.75, -18, 3.0, -15, 4.15, -11, 5.1, -7, 5.75, -3.5, 5.6, 0, 4.9)
	minnowBelly = newCurve(-21, 0, -20, 1.70, -18, 2.85, -15, 4.0, -11, 5.15, -7, 5.9, -3.5, 5.75, 0, 4.8)
	minnowFlank = newCurve(-21, 0, -20, 1.50, -18, 2.40, -15, 3.25, -11, 4.0, -7.5, 4.32, -3.5, 4.15, 0, 3.5)
)

// minnowRadius returns how far the smooth body's surface is from the axis at x,
// at an angle from the back: a superellipse, flatter on the flanks than an
// ellipse, that turns into a circle at the collar.
func minnowRadius(x, angle float64) float64 {
	collar := collarRadius
	if dome := collarEnd - collarDome; x > dome {
		t := (x - dome) / collarDome
		collar *= math.Sqrt(math.Max(0, 1-t*t))
	}
	if x >= 0 {
		return collar
	}
	s, c := math.Sincos(angle)
	high := minnowBack
	if c < 0 {
		high = minnowBelly
	}
	const power = 2.3
	body := math.Pow(math.Pow(math.Abs(c)/high.at(x), power)+math.Pow(math.Abs(s)/minnowFlank.at(x), power), -1/power)
	return body + (collarRadius-body)*smoothstep(-minnowShoulder, 0, x)
}

func minnowSurface(x, angle float64) geom.Vec {
	r := 0.0
	if x > minnowNose && x < collarEnd {
		r = minnowRadius(x, angle)
	}
	s, c := math.Sincos(angle)
	return geom.Vec{X: x, Y: r * c, Z: r * s}
}

// minnowNormal returns the outward normal of the smooth body.
func minnowNormal(x, angle float64) geom.Vec {
	const h = 1e-4
	along := minnowSurface(x+h, angle).Sub(minnowSurface(x-h, angle))
	around := minnowSurface(x, angle+h).Sub(minnowSurface(x, angle-h))
	return around.Cross(along).Unit()
}

// section is a cross-section of the smooth body with a table of its length.
type section struct {
	x      float64
	length []float64 // from the back to each of even angles
}

const sectionSteps = 128

func newSection(x float64) *section {
	s := &section{x: x, length: make([]float64, sectionSteps+1)}
	last := minnowSurface(x, 0)
	for i := 1; i <= sectionSteps; i++ {
		p := minnowSurface(x, math.Pi*float64(i)/sectionSteps)
		s.length[i] = s.length[i-1] + p.Dist(last)
		last = p
	}
	return s
}

// half is the length from the back to the belly.
func (s *section) half() float64 { return s.length[sectionSteps] }

// angle returns the angle at a share of that length.
func (s *section) angle(part float64) float64 {
	want := part * s.half()
	lo, hi := 0, sectionSteps
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; s.length[mid] <= want {
			lo = mid
		} else {
			hi = mid
		}
	}
	t := (want - s.length[lo]) / (s.length[hi] - s.length[lo])
	return math.Pi * (float64(lo) + t) / sectionSteps
}

// Minnow returns a detailed bait head of about 26 x 12 x 9 mm, collar
// included, out of about that many triangles (1,000 and more) of nearly even
// size; 100,000 show every scale. It is a smooth body with mouth, gill plate,
// eye sockets and overlapping scales raised on it along its normals, by less
// than its curvature allows, so that it cannot meet itself.
func Minnow(triangles int) *geom.TriMesh {
	table := minnowLengths()
	// The number of facets goes with the inverse square of their side.
	side := 0.5
	for range 6 {
		side *= math.Sqrt(float64(countFacets(planRings(table, side))) / float64(max(triangles, 1000)))
	}
	sites := spread(planRings(table, side))
	settle(sites)
	rings := make([]halfRing, len(sites))
	for i, ring := range sites {
		for _, at := range ring {
			rings[i] = append(rings[i], minnowPoint(at))
		}
	}
	return loft(rings)
}

// halfCount plans a ring: where it is and into how many sides each flank of
// it is divided.
type halfCount struct {
	x float64
	n int
}

// lengthwise is a fine table along the body: the mean length of lines from
// the nose, and the half girth.
type lengthwise struct{ x, along, half float64 }

func minnowLengths() []lengthwise {
	const steps, lines = 3000, 9
	table := make([]lengthwise, steps+1)
	var last [lines]geom.Vec
	for i := range table {
		// Close together at the ends, where the surface stands across the axis.
		x := minnowNose + (collarEnd-minnowNose)*(1-math.Cos(math.Pi*float64(i)/steps))/2
		table[i] = lengthwise{x: x, half: newSection(x).half()}
		for k := range last {
			p := minnowSurface(x, math.Pi*(float64(k)+0.5)/lines)
			if i > 0 {
				table[i].along += p.Dist(last[k]) / lines
			}
			last[k] = p
		}
		if i > 0 {
			table[i].along += table[i-1].along
		}
	}
	return table
}

func planRings(table []lengthwise, side float64) []halfCount {
	total := table[len(table)-1].along
	n := int(math.Round(total / (side * math.Sqrt(3) / 2)))
	plan := []halfCount{{x: minnowNose}}
	at := 0
	for i := 1; i < n; i++ {
		want := total * float64(i) / float64(n)
		for table[at+1].along < want {
			at++
		}
		a, b := table[at], table[at+1]
		t := (want - a.along) / (b.along - a.along)
		half := a.half + (b.half-a.half)*t
		plan = append(plan, halfCount{a.x + (b.x-a.x)*t, max(2, int(math.Round(half/side)))})
	}
	return append(plan, halfCount{x: collarEnd})
}

func countFacets(plan []halfCount) int {
	sum := 0
	for i := 1; i < len(plan); i++ {
		sum += 2 * (plan[i-1].n + plan[i].n)
	}
	return sum
}

package heads

import (
	"math"

	"halfpour/geom"
)

// The ball's collar, as shares of the diameter. Invented.
const (
	ballCollarRadius = 0.22
	ballCollarLength = 0.45 // behind the ball
	ballCollarEdge   = 0.08 // radius of its rounded rim
)

// Ball returns a plain ball head of the diameter, in mm, about the origin,
// with a collar along +X for the soft bait. subdivisions is the number of
// facets' sides on a quarter of a great circle, at least 4: 24 makes about
// 8,000 triangles.
func Ball(diameter float64, subdivisions int) *geom.TriMesh {
	side := math.Pi / 4 * diameter / float64(max(subdivisions, 4))
	var rings []halfRing
	for _, p := range ballProfile(diameter).walk(side * math.Sqrt(3) / 2) {
		n := max(2, int(math.Round(math.Pi*p.radius/side)))
		if p.radius < side/4 {
			n = 0
		}
		ring := halfRing{}
		for k := 0; k <= n; k++ {
			s, c := math.Sincos(math.Pi * float64(k) / math.Max(1, float64(n)))
			ring = append(ring, geom.Vec{X: p.x, Y: p.radius * c, Z: p.radius * s})
		}
		rings = append(rings, ring)
	}
	return loft(rings)
}

// BallEye returns where the hook's eye stands: 4 mm over the ball of that
// diameter, a little ahead of its middle.
func BallEye(diameter float64) geom.Vec {
	x := -0.12 * diameter
	return geom.Vec{X: x, Y: math.Sqrt(diameter*diameter/4-x*x) + 4}
}

// station is a place on a head's profile.
type station struct{ x, radius float64 }

// profile is the generating line of a body of revolution: pieces that meet at
// corners, each a path over 0..1.
type profile []func(t float64) station

func ballProfile(d float64) profile {
	r, c, e := d/2, ballCollarRadius*d, ballCollarEdge*d
	end := r + ballCollarLength*d
	neck := math.Asin(c / r)
	arc := func(x, y, radius, from, to float64) func(float64) station {
		return func(t float64) station {
			s, c := math.Sincos(from + (to-from)*t)
			return station{x + radius*c, y + radius*s}
		}
	}
	line := func(a, b station) func(float64) station {
		return func(t float64) station {
			return station{a.x + (b.x-a.x)*t, a.radius + (b.radius-a.radius)*t}
		}
	}
	return profile{
		arc(0, 0, r, math.Pi, math.Pi/2),
		arc(0, 0, r, math.Pi/2, neck),
		line(station{r * math.Cos(neck), c}, station{end - e, c}),
		arc(end-e, c-e, e, math.Pi/2, 0),
		line(station{end, c - e}, station{end, 0}),
	}
}

// walk returns stations about step apart, one on each corner.
func (p profile) walk(step float64) []station {
	stations := []station{p[0](0)}
	for _, piece := range p {
		const fine = 200
		length := 0.0
		for i := range fine {
			a, b := piece(float64(i)/fine), piece(float64(i+1)/fine)
			length += math.Hypot(b.x-a.x, b.radius-a.radius)
		}
		n := max(1, int(math.Round(length/step)))
		for i := 1; i <= n; i++ { // every piece goes at an even pace
			stations = append(stations, piece(float64(i)/float64(n)))
		}
	}
	stations[0].radius = 0
	return stations
}

package main

import "math"

// ring is a cross-section of the head: at x, of so many points, shrunk towards
// the axis where it lies in the collar's flat end.
type ring struct {
	x, shrunk float64
	points    int
}

// planRings spreads points over the head so that facets are nearly even; each
// ring counts twice its points, once on either side. The collar's rim is a
// ring.
func planRings(facets int) []ring {
	along, area := profile()
	length := along[len(along)-1].length
	side := math.Sqrt(4 * area / (math.Sqrt(3) * float64(facets)))
	row := side * math.Sqrt(3) / 2
	body, end := int(math.Ceil(length/row)), int(math.Ceil(collarRadius/row))
	var rings []ring
	at := 0
	for i := 1; i <= body; i++ {
		for at < len(along)-2 && along[at+1].length < length*float64(i)/float64(body) {
			at++
		}
		rings = append(rings, ring{x: along[at+1].x, shrunk: 1})
	}
	rings[body-1].x = collarEnd
	for i := 1; i < end; i++ {
		rings = append(rings, ring{x: collarEnd, shrunk: 1 - float64(i)/float64(end)})
	}
	sharePoints(rings, facets/2)
	return rings
}

// sharePoints deals the points out to the rings by their girths.
func sharePoints(rings []ring, points int) {
	const fewest = 3
	sum, widest := 0.0, 0
	for i, r := range rings {
		sum += r.girth()
		if r.girth() > rings[widest].girth() {
			widest = i
		}
	}
	owed := 0.0
	for i, r := range rings {
		owed += r.girth() / sum * float64(points)
		rings[i].points = max(fewest, int(math.Round(owed)))
		owed -= float64(rings[i].points)
	}
	rings[widest].points += int(math.Round(owed))
}

func (r ring) girth() float64 { return r.shrunk * girth(r.x) }

func girth(x float64) float64 {
	return math.Pi * (bodyRadius(x, 0) + bodyRadius(x, math.Pi/2))
}

// station is a place along the head and the length of the way there on the
// surface, from the nose.
type station struct{ x, length float64 }

// profile returns a fine table of stations down to the collar's rim, and the
// area of the smooth head.
func profile() (along []station, area float64) {
	const steps = 50_000
	const middle, half = (headLength + collarEnd) / 2, (headLength - collarEnd) / 2
	last := station{x: headLength}
	along = append(along, last)
	for i := 1; i <= steps; i++ {
		// Close together at the nose, where the surface stands across the axis.
		x := middle + half*math.Cos(math.Pi*float64(i)/steps)
		way := math.Hypot(x-last.x, (girth(x)-girth(last.x))/(2*math.Pi))
		last = station{x, last.length + way}
		along = append(along, last)
		area += way * girth(x)
	}
	return along, area + math.Pi*collarRadius*collarRadius
}

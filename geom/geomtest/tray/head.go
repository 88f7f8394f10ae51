package main

import (
	"fmt"
	"math"

	"halfpour/geom"
)

// fewestFacets is the coarsest head; the finest is what 32-bit numbers count.
const (
	fewestFacets = 200
	mostFacets   = 100_000_000
)

// Head returns the head of the reference workload, out of exactly that many
// facets of nearly even size. The number must be even, as it is of every
// closed mesh.
func Head(facets int) (*geom.TriMesh, error) {
	if facets < fewestFacets || facets > mostFacets || facets%2 != 0 {
		return nil, fmt.Errorf("a head has an even number of facets from %d to %d, got %d", fewestFacets, mostFacets, facets)
	}
	m := &geom.TriMesh{}
	point := func(p geom.Vec) int32 {
		m.Vertices = append(m.Vertices, p)
		return int32(len(m.Vertices) - 1)
	}
	facet := func(a, b, c int32) { m.Triangles = append(m.Triangles, [3]int32{a, b, c}) }
	nose := point(geom.Vec{X: headLength})
	var last ringOfPoints
	for i, r := range planRings(facets) {
		// No half or whole step, which keeps vertices off y = 0 and z = 0.
		next := ringOfPoints{turns: r.turns(0.137 + float64(i%2)/2)}
		for _, turn := range next.turns {
			p := surface(r.x, 2*math.Pi*turn)
			next.ids = append(next.ids, point(geom.Vec{X: p.X, Y: r.shrunk * p.Y, Z: r.shrunk * p.Z}))
		}
		if i == 0 {
			next.sides(func(a, b int32) { facet(nose, a, b) })
		} else {
			zip(last, next, facet)
		}
		last = next
	}
	end := point(geom.Vec{X: collarEnd})
	last.sides(func(a, b int32) { facet(end, b, a) })
	return m, nil
}

// turns returns the angles of the ring's points, in turns: evenly from a share
// of their distance on, but the nearest to a socket's rim on the rim.
func (r ring) turns(shift float64) []float64 {
	turns := make([]float64, r.points)
	for j := range turns {
		turns[j] = (float64(j) + shift) / float64(r.points)
	}
	for j := 1; j < len(turns); j++ {
		lo, hi := turns[j-1], turns[j]
		if inSocket(r.x, lo) == inSocket(r.x, hi) {
			continue
		}
		rim := rimBetween(r.x, lo, hi)
		if rim-lo < hi-rim {
			turns[j-1] = rim
		} else {
			turns[j] = rim
		}
	}
	return turns
}

// rimBetween returns where between two turns, one of them in a socket, the rim
// is, to rounding on the side of lo.
func rimBetween(x, lo, hi float64) float64 {
	inside := inSocket(x, lo)
	for range 50 {
		if mid := (lo + hi) / 2; inSocket(x, mid) == inside {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// ringOfPoints is a ring of vertices with their angles, in turns.
type ringOfPoints struct {
	ids   []int32
	turns []float64
}

func (r ringOfPoints) at(j int) int32 { return r.ids[j%len(r.ids)] }

// turn is the angle of point j, which may be the first one again.
func (r ringOfPoints) turn(j int) float64 {
	if j == len(r.turns) {
		return 1 + r.turns[0]
	}
	return r.turns[j]
}

func (r ringOfPoints) sides(side func(a, b int32)) {
	for j := range r.ids {
		side(r.at(j), r.at(j+1))
	}
}

// zip fills the gap between a ring and the next one behind it: of the two
// points that come next the one at the lesser angle is joined.
func zip(front, rear ringOfPoints, facet func(a, b, c int32)) {
	m, n := len(front.ids), len(rear.ids)
	for i, j := 0, 0; i < m || j < n; {
		if j == n || i < m && front.turn(i+1) < rear.turn(j+1) {
			facet(front.at(i), rear.at(j), front.at(i+1))
			i++
		} else {
			facet(front.at(i), rear.at(j), rear.at(j+1))
			j++
		}
	}
}

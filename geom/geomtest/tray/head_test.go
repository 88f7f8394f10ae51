package main

import (
	"math"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

func TestHead(t *testing.T) {
	for _, facets := range []int{fewestFacets, 202, 1998, 50_000} {
		m, err := Head(facets)
		if err != nil {
			t.Fatal(err)
		}
		if len(m.Triangles) != facets {
			t.Errorf("asked for %d facets, got %d", facets, len(m.Triangles))
		}
		geomtest.CheckMesh(t, m)
		box := m.BoundingBox()
		if box.Max.X != headLength || math.Abs(box.Min.X-collarEnd) > 1e-9 {
			t.Errorf("%d facets: from x = %g to %g", facets, box.Min.X, box.Max.X)
		}
	}
	for _, facets := range []int{-2, 0, fewestFacets - 2, 1001, mostFacets + 2} {
		if _, err := Head(facets); err == nil {
			t.Errorf("%d facets: want an error", facets)
		}
	}
}

// A finer head is nearer the same shape: chords leave a share of the volume
// that goes with one over the facets.
func TestHeadsOfAllFinenessesAreOne(t *testing.T) {
	var volumes []float64
	for _, facets := range []int{12_500, 50_000, 200_000} {
		m, err := Head(facets)
		if err != nil {
			t.Fatal(err)
		}
		volumes = append(volumes, m.Volume())
	}
	first, second := volumes[1]-volumes[0], volumes[2]-volumes[1]
	if first < 0 || second < 0 || second > first/2 || first > 1e-3*volumes[2] {
		t.Errorf("volumes %.3f: they do not settle", volumes)
	}
}

// The surface has what the workload is about: relief finer than its facets may
// hide, and hollows with a rim.
func TestSurfaceHasScalesAndSockets(t *testing.T) {
	highest, lowest := 0.0, 1.0
	for i := range 2000 {
		x := -7 + 4*float64(i)/2000 // three rows
		h := scales(x, 0.7)
		highest, lowest = math.Max(highest, h), math.Min(lowest, h)
	}
	if highest < 0.75 || lowest > 0.4 {
		t.Errorf("scales from %.2f to %.2f of their height", lowest, highest)
	}
	for _, side := range []float64{1, -1} {
		middle := geom.Vec{X: socket.X, Z: side * socket.Z}
		deepest := 0.0
		for i := range 1000 {
			x := socketX - 2 + 4*float64(i)/1000
			p := surface(x, side*math.Pi/2)
			deepest = math.Max(deepest, bodyRadius(x, math.Pi/2)-math.Abs(p.Z))
			if d := p.Dist(middle); d < socketRadius-1e-9 {
				t.Errorf("surface at x = %g is %g mm from the middle of the socket", x, d)
			}
		}
		if math.Abs(deepest-socketDepth) > 0.1 {
			t.Errorf("a socket %.3f mm deep, want about %g", deepest, socketDepth)
		}
	}
}

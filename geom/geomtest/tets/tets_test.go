package tets

import (
	"math"
	"testing"

	"halfpour/geom"
)

// Volumes of both regions are right, all tetrahedra have one, and nodes of the
// surface lie on it.
func TestBall(t *testing.T) {
	const r = 2.0
	ball := geom.Ball(geom.Vec{}, r)
	box := geom.Box{Min: geom.Vec{X: -4, Y: -4}, Max: geom.Vec{X: 4, Y: 5, Z: 6.4}}
	last := 0.0
	for _, h := range []float64{0.4, 0.2} {
		m, err := New(ball, box, Options{Finest: h, Halvings: 3, Size: func(d float64) float64 { return math.Max(h, 0.4*math.Abs(d)) }, Plane: 3.2})
		if err != nil {
			t.Fatal(err)
		}
		var in, out float64
		worst := 1.0
		crossing := 0
		for n, t := range m.Tets {
			low, high := 0, 0
			for _, i := range t {
				if z := m.Points[i].Z; z > 3.2+1e-9 {
					high++
				} else if z < 3.2-1e-9 {
					low++
				}
			}
			if low > 0 && high > 0 {
				crossing++
			}
			p := m.Points[t[0]]
			v := m.Points[t[1]].Sub(p).Cross(m.Points[t[2]].Sub(p)).Dot(m.Points[t[3]].Sub(p)) / 6
			if m.Region[n] == SolidRegion {
				in += v
			} else {
				out += v
			}
			worst = math.Min(worst, v/math.Pow(longest(m, t), 3))
		}
		half := 2 * math.Pi * r * r * r / 3
		t.Log(h, len(m.Points), len(m.Tets), in/half, in+out, worst)
		off := math.Abs(in/half - 1)
		d := box.Max.Sub(box.Min)
		if off > 0.3*h*h || math.Abs(in+out-d.X*d.Y*d.Z) > 1e-9 || worst < 1e-3 || crossing > 0 {
			t.Errorf("cells of %g: volume off by %g", h, off)
		}
		if last > 0 && off > last/3 {
			t.Errorf("off by %g after %g", off, last)
		}
		last = off
	}
}

func longest(m *Mesh, t [4]int32) float64 {
	most := 0.0
	for _, e := range edges {
		most = math.Max(most, m.Points[t[e[0]]].Sub(m.Points[t[e[1]]]).Norm())
	}
	return most
}

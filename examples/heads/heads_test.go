package heads

import (
	"context"
	"fmt"
	"math"
	"testing"

	"halfpour/geom"
)

// checkHead holds what is true of every head: closed and sound, nowhere
// through itself, the left flank the mirror image of the right, no sliver
// facets.
func checkHead(t *testing.T, m *geom.TriMesh, leastAngle float64) {
	t.Helper()
	for _, f := range geom.Audit(m) {
		t.Errorf("audit: %v", f)
	}
	crossings, err := geom.SelfCrossings(context.Background(), m, 5)
	if err != nil || len(crossings) > 0 {
		t.Errorf("facets that cross: %v, %v", crossings, err)
	}
	if v := m.Volume(); !(v > 0) {
		t.Errorf("volume %v", v)
	}
	at := map[geom.Vec]bool{}
	for _, v := range m.Vertices {
		at[v] = true
	}
	for _, v := range m.Vertices {
		if v.Z = -v.Z; !at[v] {
			t.Fatalf("%v has no counterpart", v)
		}
	}
	worst, where := math.Pi, 0
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		for range 3 {
			u, v := b.Sub(a), c.Sub(a)
			if angle := math.Atan2(u.Cross(v).Norm(), u.Dot(v)); angle < worst {
				worst, where = angle, i
			}
			a, b, c = b, c, a
		}
	}
	if worst < leastAngle*math.Pi/180 {
		a, _, _ := m.Corners(where)
		t.Errorf("facet %d at %v has an angle of %.2f°", where, a, worst*180/math.Pi)
	}
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within {
		t.Errorf("%s is %v, want %v ± %v", what, got, want, within)
	}
}

func TestBall(t *testing.T) {
	for _, d := range []float64{4, 10, 16} {
		for _, n := range []int{4, 9, 24, 30} {
			t.Run(fmt.Sprintf("%g mm in %d", d, n), func(t *testing.T) {
				m := Ball(d, n)
				checkHead(t, m, 10)
				b := m.BoundingBox()
				near(t, "length", b.Size().X, d*(1+ballCollarLength), 1e-9)
				near(t, "height", b.Size().Y, d, 1e-9)
				near(t, "width", b.Size().Z, d, d/float64(n*n))
				near(t, "nose", b.Min.X, -d/2, 1e-9)
			})
		}
	}
}

// TestBallVolume compares with the closed forms: a ball less the cap under
// the collar, a cylinder, and a rim of which the rounding takes
// πe²((2-π/2)c - (5/3-π/2)e) off (Pappus: the square e² less a quarter disc).
func TestBallVolume(t *testing.T) {
	const d = 10.0
	r, c, e := d/2, ballCollarRadius*d, ballCollarEdge*d
	cap := r - math.Sqrt(r*r-c*c)
	ball := 4.0/3*math.Pi*r*r*r - math.Pi*cap*cap*(3*r-cap)/3
	collar := math.Pi * c * c * (ballCollarLength*d + cap)
	rim := math.Pi * e * e * ((2-math.Pi/2)*c - (5.0/3-math.Pi/2)*e)
	want := ball + collar - rim
	last := math.Inf(1)
	for _, n := range []int{8, 16, 32, 64} {
		off := math.Abs(Ball(d, n).Volume()-want) / want
		if off > last/3 || off > 1.5/float64(n*n) {
			t.Errorf("at %d the volume is off by %.4f %%, before by %.4f %%", n, 100*off, 100*last)
		}
		last = off
	}
}

func TestBallIsAsFineAsPromised(t *testing.T) {
	if n := len(Ball(10, 24).Triangles); n < 7500 || n > 8500 {
		t.Errorf("%d triangles", n)
	}
}

func TestMinnow(t *testing.T) {
	for _, n := range []int{1000, 8000, 100000} {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			m := Minnow(n)
			checkHead(t, m, 0.5)
			near(t, "number of triangles", float64(len(m.Triangles)), float64(n), 0.05*float64(n))
			b := m.BoundingBox()
			near(t, "length", b.Size().X, 26, 1e-9)
			near(t, "height", b.Size().Y, 12, 0.25)
			near(t, "width", b.Size().Z, 9, 0.25)
			near(t, "nose", b.Min.X, minnowNose, 1e-9)
		})
	}
}

func TestMinnowFacetsAreEven(t *testing.T) {
	m := Minnow(100000)
	mean := m.Area() / float64(len(m.Triangles))
	odd := 0
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		if area := 0.5 * b.Sub(a).Cross(c.Sub(a)).Norm(); area < mean/3 || area > 3*mean {
			odd++
		}
	}
	if share := float64(odd) / float64(len(m.Triangles)); share > 0.04 {
		t.Errorf("%.1f %% of the facets have less than a third or more than three times the mean area", 100*share)
	}
}

// TestMinnowFacetsLieOverTheBody: seen along the normal of the smooth body
// underneath, no facet is turned over. With relief less than the body's radii
// that leaves no way for it to meet itself.
func TestMinnowFacetsLieOverTheBody(t *testing.T) {
	for _, n := range []int{3000, 30000, 100000} {
		m := Minnow(n)
		turned := 0
		for i := range m.Triangles {
			a, b, c := m.Corners(i)
			mid := a.Add(b).Add(c).Mul(1.0 / 3)
			if mid.X < minnowNose+0.2 || mid.X > collarEnd-0.2 {
				continue // the poles, where the axis says nothing about the normal
			}
			under := minnowNormal(mid.X, math.Atan2(mid.Z, mid.Y))
			if b.Sub(a).Cross(c.Sub(a)).Dot(under) <= 0 {
				turned++
				t.Logf("facet %d at %v", i, mid)
			}
		}
		if turned > 0 {
			t.Errorf("of %d facets %d are turned over", len(m.Triangles), turned)
		}
	}
}

func TestMinnowDetails(t *testing.T) {
	m := Minnow(100000)
	s := leftSocket
	rim, deepest := 0, 0.0
	for _, v := range m.Vertices {
		height, flat := s.split(v)
		if height < -socketReach {
			continue
		}
		if math.Abs(flat.Norm()-socketRadius) < 1e-6 {
			rim++
			near(t, "height of the rim", height, 0, 1e-6)
		}
		if flat.Norm() < socketRadius {
			deepest = math.Min(deepest, height)
		}
	}
	near(t, "depth of the socket", -deepest, socketDepth, 0.01)
	if least := int(math.Ceil(2 * math.Pi * socketRadius / 0.16)); rim < least {
		t.Errorf("%d vertices on the rim, want %d", rim, least)
	}
	collar := 0
	for _, v := range m.Vertices {
		if v.X > 0.1 && v.X < collarEnd-collarDome {
			collar++
			near(t, "radius of the collar", math.Hypot(v.Y, v.Z), collarRadius, 1e-9)
		}
	}
	if collar < 1000 {
		t.Errorf("%d vertices on the collar", collar)
	}
	low, high := math.Inf(1), math.Inf(-1)
	for i := range 2000 { // along the flank, over five columns of scales
		x := -7 + 5*float64(i)/2000
		angle := math.Pi / 2
		h := relief(site{x: x, angle: angle, half: 15, tract: tractAt(x, angle)})
		low, high = math.Min(low, h), math.Max(high, h)
	}
	if high < 0.12 || high > 0.181 || low < 0 || high-low < 0.12 {
		t.Errorf("scales stand from %v to %v mm", low, high)
	}
}

func TestEyesStandClearOfTheirHeads(t *testing.T) {
	for _, c := range []struct {
		name string
		m    *geom.TriMesh
		eye  geom.Vec
	}{
		{"ball", Ball(10, 24), BallEye(10)},
		{"minnow", Minnow(30000), MinnowEye()},
	} {
		least, above := math.Inf(1), math.Inf(-1)
		for _, v := range c.m.Vertices {
			least = math.Min(least, v.Dist(c.eye))
			if math.Abs(v.X-c.eye.X) < 0.3 && math.Abs(v.Z) < 0.3 {
				above = math.Max(above, v.Y)
			}
		}
		if c.eye.Z != 0 || least < 3.4 || least > 4.2 {
			t.Errorf("%s: eye at %v, %v mm from the head", c.name, c.eye, least)
		}
		near(t, c.name+": eye over the back", c.eye.Y-above, 4, 0.35)
	}
}

func BenchmarkMinnow(b *testing.B) {
	for b.Loop() {
		Minnow(100000)
	}
}

package moldbox

import (
	"math"
	"sync"
	"testing"

	"halfpour/geom"
)

// The molds that the tests build. Their heads face the way of the mold at turn
// 0: nose -x, back +y, left +z.

var plainPose = Pose{Nose: geom.Vec{X: -1}, Back: geom.Vec{Y: 1}}

// jigHook is a 90° jig hook of 1 mm wire.
func jigHook() *Hook {
	return &Hook{
		Name: "90° jig hook", Wire: 1, EyeInside: 2.2, Leg: 8, LegAngle: math.Pi / 2,
		Shank: 24, Gape: 9, Point: 6, Fit: 0.05,
	}
}

// ballCavity is a ball head of radius r on a jig hook whose shank passes
// through its middle, standing nose up so that metal enters at the nose.
func ballCavity(r float64) Cavity {
	hook := jigHook()
	hook.Leg = r + 2.6
	return Cavity{
		Name: "ball", Head: geom.Ball(geom.Vec{}, r), Pose: plainPose, Turn: -math.Pi / 2,
		Eye: geom.Vec{X: -0.3 * r, Y: hook.Leg}, Hook: hook,
	}
}

// ballSpec is a mold of n equal ball heads of 3/8 oz (10.631071171875 g) of
// tin-bismuth 42-58: 1/(0.42/7.287 + 0.58/9.79) is 8.5557 g/cm³.
func ballSpec(n int) Spec {
	spec := Default()
	spec.Title = "ball jig"
	spec.Marking.Lines = []string{"BALL JIG", "3/8 OZ"}
	c := ballCavity(6)
	for range n {
		c.MetalVolume = 10631.071171875 / 8.5557
		c.Shrink = 1 / (0.996 * 0.999)
		spec.Cavities = append(spec.Cavities, c)
	}
	return spec
}

// ballMolds keeps the molds of ballMold.
var ballMolds sync.Map

// ballMold is the mold of ballSpec, built once.
func ballMold(t testing.TB, n int) *Mold {
	t.Helper()
	if m, ok := ballMolds.Load(n); ok {
		return m.(*Mold)
	}
	m := buildOf(t, ballSpec(n))
	ballMolds.Store(n, m)
	return m
}

// plainBalls is a mold of bare balls without hooks.
func plainBalls(radii ...float64) Spec {
	spec := Default()
	for _, r := range radii {
		spec.Cavities = append(spec.Cavities, Cavity{Head: geom.Ball(geom.Vec{}, r), Pose: plainPose})
	}
	return spec
}

// revolved is a closed mesh of a profile (x, radius) turned about the x axis,
// squeezed across to the given share in z; the first and last radius are 0.
func revolved(profile [][2]float64, sides int, flat float64) *geom.TriMesh {
	m := &geom.TriMesh{}
	last := len(profile) - 1
	ring := func(i, j int) int32 {
		switch i {
		case 0:
			return 0
		case last:
			return int32(1 + (last-1)*sides)
		}
		return int32(1 + (i-1)*sides + j%sides)
	}
	m.Vertices = append(m.Vertices, geom.Vec{X: profile[0][0]})
	for _, p := range profile[1:last] {
		for j := range sides {
			s, c := math.Sincos(2 * math.Pi * float64(j) / float64(sides))
			m.Vertices = append(m.Vertices, geom.Vec{X: p[0], Y: p[1] * c, Z: flat * p[1] * s})
		}
	}
	m.Vertices = append(m.Vertices, geom.Vec{X: profile[last][0]})
	for i := range last {
		for j := range sides {
			a, b, c, d := ring(i, j), ring(i, j+1), ring(i+1, j), ring(i+1, j+1)
			if a != b {
				m.Triangles = append(m.Triangles, [3]int32{a, b, d})
			}
			if c != d {
				m.Triangles = append(m.Triangles, [3]int32{a, d, c})
			}
		}
	}
	return m
}

// darterProfile is a minnow-like head 24 mm long with a collar behind.
func darterProfile(rings int) [][2]float64 {
	var ps [][2]float64
	for i := 0; i <= rings; i++ {
		t := float64(i) / float64(rings)
		r := 6 * math.Sqrt(t*(1.15-t)) * (1 - 0.35*t)
		if t > 0.75 { // the collar
			r = math.Max(r, 2.6)
		}
		if i == rings {
			r = 0
		}
		ps = append(ps, [2]float64{-12 + 24*t, r})
	}
	return ps
}

// darterMesh is the minnow-like head with about 2·sides·rings triangles.
func darterMesh(t testing.TB, rings, sides int) *geom.MeshSolid {
	t.Helper()
	head, err := geom.NewMeshSolid(revolved(darterProfile(rings), sides, 0.85))
	if err != nil {
		t.Fatal(err)
	}
	return head
}

// darterSpec is a mold of n heads of different weights out of one mesh, on jig
// hooks, standing nose up.
func darterSpec(t testing.TB, n int) Spec {
	head := darterMesh(t, 96, 96)
	spec := Default()
	spec.Title = "darter"
	spec.Marking.Lines = []string{"DARTER"}
	for i := range n {
		hook := jigHook()
		hook.Leg = 7.5
		spec.Cavities = append(spec.Cavities, Cavity{
			Name: []string{"1/8 oz", "3/16 oz", "1/4 oz", "5/16 oz", "3/8 oz"}[i%5],
			Head: head, Pose: plainPose, Turn: -math.Pi / 2, Hook: hook,
			Eye:         geom.Vec{X: -5, Y: 7.5},
			MetalVolume: (3543.69 + 1771.85*float64(i%5)) / 8.5557,
			Shrink:      1.004,
		})
	}
	return spec
}

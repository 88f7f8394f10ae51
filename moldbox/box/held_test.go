package box

import (
	"math"
	"math/rand/v2"
	"testing"

	"halfpour/geom"
)

// drafted is a tray of 20 facets whose room is a frustum of a pyramid, its
// floor a x b at z = 0 and leaning out by lean a mm of height.
func drafted(a, b, lean, high float64) *geom.TriMesh {
	ring := func(x, y, z float64) []geom.Vec {
		return []geom.Vec{{X: -x, Y: -y, Z: z}, {X: x, Y: -y, Z: z}, {X: x, Y: y, Z: z}, {X: -x, Y: y, Z: z}}
	}
	x, y := a/2+lean*high, b/2+lean*high
	m := &geom.TriMesh{}
	for _, r := range [][]geom.Vec{ring(x+3, y+3, -3), ring(x+3, y+3, high), ring(x, y, high), ring(a/2, b/2, 0)} {
		m.Vertices = append(m.Vertices, r...)
	}
	quad := func(p, q, r, s int32) {
		m.Triangles = append(m.Triangles, [3]int32{p, q, r}, [3]int32{p, r, s})
	}
	quad(3, 2, 1, 0)
	for i := range int32(4) {
		j := (i + 1) % 4
		for k := range int32(3) { // outer wall, rim, inner wall
			quad(4*k+i, 4*k+j, 4*k+4+j, 4*k+4+i)
		}
	}
	quad(12, 13, 14, 15)
	return m
}

// frustum is the volume of that room up to a level.
func frustum(a, b, lean, level float64) float64 {
	return a*b*level + (a+b)*lean*level*level + 4*lean*lean*level*level*level/3
}

// What a room holds is what its closed form says, at any level, wherever the
// frame lies.
func TestHeldIsExact(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 9))
	for range 200 {
		a, b, lean, high := 20+60*r.Float64(), 20+60*r.Float64(), 0.3*r.Float64(), 8+20*r.Float64()
		at := geom.Vec{X: 200*r.Float64() - 100, Y: 200*r.Float64() - 100, Z: 200*r.Float64() - 100}
		m := drafted(a, b, lean, high).Transform(func(v geom.Vec) geom.Vec { return v.Add(at) }, false)
		s, ok := findSpill(m)
		if !ok || math.Abs(s.level-(high+at.Z)) > 1e-9 {
			t.Fatalf("a tray %g x %g with lean %g, %g high: spills at %g, %v", a, b, lean, high, s.level-at.Z, ok)
		}
		for range 5 {
			level := high * r.Float64()
			want := frustum(a, b, lean, level)
			if got := held(m, s.lowest, level+at.Z); math.Abs(got-want) > 1e-9*want+1e-9 {
				t.Fatalf("a tray %g x %g with lean %g holds %.9g up to %g, want %.9g", a, b, lean, got, level, want)
			}
		}
	}
}

// A frame turned any way up is found to hold the same.
func TestEveryWayUp(t *testing.T) {
	m := drafted(50, 30, 0.1, 16)
	want := frustum(50, 30, 0.1, 13)
	for _, way := range turns {
		turned := m.Transform(way.inverse, false)
		_, f, found := Spec{Options: Options{Freeboard: 3}}.stand(Input{Mesh: turned})
		if f == nil || found.up != way.up || math.Abs(f.Volume/want-1) > 1e-9 {
			t.Errorf("open towards %v: found %v, %+v", way.up, found.up, f)
		}
		_, f, _ = Spec{Options: Options{Freeboard: 3}}.stand(Input{Mesh: turned, Up: way.up.Mul(-1)})
		if f != nil {
			t.Errorf("upside down it holds %g mm³", f.Volume)
		}
	}
}

// Where nothing is a room, none is found.
func TestNoRoom(t *testing.T) {
	lid := drafted(50, 30, 0.1, 16)
	for i, v := range lid.Vertices {
		lid.Vertices[i] = geom.Vec{X: v.X, Y: v.Y, Z: -v.Z}
	}
	lid = lid.Transform(func(v geom.Vec) geom.Vec { return v }, true)
	if f, ok := Look(lid, Options{Freeboard: 3}); ok {
		t.Errorf("a lid holds %g mm³", f.Volume)
	}
}

package moldbox

import (
	"context"
	"errors"
	"math"
	"testing"

	"halfpour/geom"
)

// throughWire is what a straight round wire through the middle of a ball takes
// out of it: the ball less the ring that a drilled hole leaves,
// 4/3·π(R³ - (R²-r²)^(3/2)) (the napkin ring: its volume is that of a ball of
// radius √(R²-r²)).
func throughWire(ball, wire float64) float64 {
	return 4.0 / 3 * math.Pi * (ball*ball*ball - math.Pow(ball*ball-wire*wire, 1.5))
}

// throughBall is a ball of radius 6 with the eye before its nose and a straight
// shank through its middle.
func throughBall() Cavity {
	return Cavity{
		Head: geom.Ball(geom.Vec{}, 6), Pose: plainPose, Eye: geom.Vec{X: -9},
		Hook: &Hook{Wire: 1.2, EyeInside: 2, Shank: 60, Gape: 20, Point: 4, Fit: 0.05},
	}
}

const ballVolume = 4.0 / 3 * math.Pi * 216 // of radius 6

func TestHeadVolume(t *testing.T) {
	mesh := darterMesh(t, 16, 16)
	v, err := headVolume(context.Background(), mesh)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "one shell", v, mesh.Mesh().Volume(), 0)

	// A second shell that overlaps the first must not count twice.
	m := mesh.Mesh()
	shifted := m.Transform(func(p geom.Vec) geom.Vec { return p.Add(geom.Vec{X: 6}) }, false)
	both := &geom.TriMesh{Vertices: append(append([]geom.Vec{}, m.Vertices...), shifted.Vertices...)}
	both.Triangles = append(both.Triangles, m.Triangles...)
	for _, tr := range shifted.Triangles {
		for i := range tr {
			tr[i] += int32(len(m.Vertices))
		}
		both.Triangles = append(both.Triangles, tr)
	}
	two, err := geom.NewMeshSolid(both)
	if err != nil {
		t.Fatal(err)
	}
	other, err := geom.NewMeshSolid(shifted)
	if err != nil {
		t.Fatal(err)
	}
	if v, err = headVolume(context.Background(), two); err != nil {
		t.Fatal(err)
	}
	shared := volume(t, geom.Intersect(mesh, other), geom.Box{})
	near(t, "two shells", v, 2*m.Volume()-shared.Best, 2e-3*v)
}

func TestWireInHead(t *testing.T) {
	w, err := weigh(context.Background(), throughBall(), ballVolume, "Cavities[0]")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "head", w.head, ballVolume, 1e-9)
	near(t, "wire in head", w.inHead, throughWire(6, 0.6), 1e-4*ballVolume)
	near(t, "metal", w.metal, w.head-w.inHead, 1e-9)
}

func TestWeightSolve(t *testing.T) {
	for _, metal := range []float64{300, 904.778684234, 2500} {
		v := throughBall()
		v.MetalVolume = metal
		w, err := weigh(context.Background(), v, ballVolume, "Cavities[0]")
		if err != nil {
			t.Fatal(err)
		}
		r := 6 * w.scale
		exact := 4.0/3*math.Pi*r*r*r - throughWire(r, 0.6)
		near(t, "metal by closed form", exact, metal, 5e-4*metal)
		near(t, "metal as told", w.metal, metal, 5e-4*metal)
	}
}

func TestWeightCannotBeMet(t *testing.T) {
	v := throughBall()
	v.MetalVolume = 9e6 // the ball as modelled holds 905 mm³: a scale of 21.5
	_, err := weigh(context.Background(), v, ballVolume, "Cavities[0]")
	var se *SpecError
	if !errors.As(err, &se) || se.Field != "Cavities[0].MetalVolume" {
		t.Errorf("error is %v, want a SpecError of Cavities[0].MetalVolume", err)
	}
}

// Scale is about the eye: in the mold, the eye stays and the head's middle
// moves away from it by the scale.
func TestScaleAboutEye(t *testing.T) {
	v := throughBall()
	v.Scale, v.Shrink = 1.5, 1.01
	p, err := newPart(context.Background(), v, ballVolume, Default(), nil, "Cavities[0]")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "eye", p.toPart.Point(v.Eye).Norm(), 0, 1e-12)
	near(t, "middle", p.toPart.Point(geom.Vec{}).Dist(geom.Vec{X: 9 * 1.515}), 0, 1e-9)
	near(t, "front of the head", p.headBox.Min.X, 3*1.515, 2*reachTol)
	near(t, "ring of the wire, true size", p.bedBox.Min.X, -(1+1.2)-0.05, 2*reachTol)
}

func TestSameCavity(t *testing.T) {
	a := ballCavity(6)
	b := a
	b.Name, b.Hook = "another", jigHook()
	*b.Hook = *a.Hook
	if !a.same(b) {
		t.Error("equal cavities of different names are not the same")
	}
	b.Hook.Shank++
	if a.same(b) {
		t.Error("cavities with different hooks are the same")
	}
}

// ellipsoid is one of revolution about x, of half lengths a and b, with a value
// that keeps the laws: its least half length times how much it would have to
// be scaled, less 1, to reach the point.
type ellipsoid struct{ a, b float64 }

func (e ellipsoid) Evaluate(p geom.Vec) float64 {
	k := geom.Vec{X: p.X / e.a, Y: p.Y / e.b, Z: p.Z / e.b}.Norm()
	return math.Min(e.a, e.b) * (k - 1)
}

func (e ellipsoid) BoundingBox() geom.Box {
	v := geom.Vec{X: e.a, Y: e.b, Z: e.b}
	return geom.Box{Min: v.Neg(), Max: v}
}

// A straight wire of radius r along the axis takes 4/3·π·a·b²·(1 - (1-r²/b²)^(3/2))
// out of an ellipsoid: the sum over rings of the wire's section of the chord
// 2a·√(1-ρ²/b²) through them.
func TestWeightOfAnEllipsoid(t *testing.T) {
	for _, c := range []struct{ a, b, wire, metal float64 }{
		{12, 5, 1.2, 0}, {12, 5, 1.2, 800}, {12, 5, 1.2, 3000}, {5, 9, 1, 1100}, {8, 4, 2.4, 300},
	} {
		v := Cavity{Head: ellipsoid{c.a, c.b}, Pose: plainPose, MetalVolume: c.metal,
			Keepers: []Keeper{{Wire: c.wire, Points: []geom.Vec{{X: -60}, {X: 60}}}}}
		v.Eye = geom.Vec{X: 2} // scaled about a place off the middle
		w, err := weigh(context.Background(), v, 4.0/3*math.Pi*c.a*c.b*c.b, "Cavities[0]")
		if err != nil {
			t.Fatal(err)
		}
		a, b, r := c.a*w.scale, c.b*w.scale, c.wire/2
		head := 4.0 / 3 * math.Pi * a * b * b
		taken := head * (1 - math.Pow(1-r*r/(b*b), 1.5))
		near(t, "wire in head", w.inHead, taken, 2e-3*taken)
		near(t, "metal as told", w.metal, head-taken, 5e-4*(head-taken))
		if c.metal > 0 {
			near(t, "metal by closed form", head-taken, c.metal, 5e-4*c.metal)
		} else if w.scale != 1 {
			t.Errorf("a head as drawn has the scale %g", w.scale)
		}
	}
}

// A neck runs into the head until its rim lies in metal: w mm wide over a ball of R,
// R - √(R²-w²/4) deep at its sides, found in steps of 0.1 mm.
func TestNeckDepth(t *testing.T) {
	p := partsOf(t, plainBalls(6))[0]
	for _, c := range []struct {
		wide, thick, want float64
		covered           bool
	}{
		{3, 2.4, 0.4, true}, // no less, though 0.19 would do
		{6, 2.4, 6 - math.Sqrt(36-9), true},
		{2.4, 6, 6 - math.Sqrt(36-9), true},
		{10, 2.4, 6 - math.Sqrt(36-25), true},
		{13, 2.4, 1, false},
	} {
		s := Default().Sprue
		s.GateWidth, s.GateThickness = c.wide, c.thick
		depth, covered := p.neckDepth(s)
		if covered != c.covered || depth < c.want-0.02 || depth > c.want+0.25 { // 0.05 mm below the surface
			t.Errorf("gate %g x %g: %.2f mm, covered %v, want %.2f", c.wide, c.thick, depth, covered, c.want)
		}
	}
}

// Metal of sprue and vent counts up to the edge and not in the head; a head's area
// goes by the square of its size.
func TestMeasureCavities(t *testing.T) {
	m := &Mold{Cavities: []Placed{
		{Head: block(-5, -5, -5, 5, 1, 5), Sprue: block(-1, 0, -1, 1, 12, 1), Vent: block(3, 0, -0.5, 4, 12, 0.5), Scale: 2, Shrink: 1.1},
		{Head: block(-5, -5, -5, 5, 1, 5), Sprue: block(-1, 0, -1, 1, 12, 1), Scale: 2, Shrink: 1.1, AlikeTo: 1},
		{AlikeTo: 0},
	}}
	for i := range m.Cavities {
		m.Cavities[i].ToMold = func(p geom.Vec) geom.Vec { return p }
	}
	m.Left.Inside.Max.Y = 9
	to := make([]MeasuredCavity, 3)
	heads := []*geom.TriMesh{cubeAt(geom.Vec{}, 2), cubeAt(geom.Vec{}, 1), nil}
	if err := m.measureCavities(context.Background(), heads, to); err != nil {
		t.Fatal(err)
	}
	for i, want := range []MeasuredCavity{{Runner: 8 * (4 + 1), Area: 24 * 2.2 * 2.2}, {Runner: 8 * 4, Area: 6 * 2.2 * 2.2}, {Runner: 8 * (4 + 1), Area: 24 * 2.2 * 2.2}} {
		near(t, "runner", to[i].Runner, want.Runner, 0.01*want.Runner)
		near(t, "area", to[i].Area, want.Area, 1e-9)
	}
}

// Each half must hold 0.2 mm of a head, no more.
func TestLeastBehindTheParting(t *testing.T) {
	for low, ok := range map[float64]bool{-0.2: true, -0.19: false, -5.8: true, -5.81: false} {
		head, err := geom.NewMeshSolid(cubeAt(geom.Vec{X: -3, Y: -3, Z: low}, 6))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := newPart(context.Background(), Cavity{Head: head, Pose: plainPose}, 216, Default(), nil, "Cavities[0]"); (err == nil) != ok {
			t.Errorf("a cube from %g to %g mm: %v", low, low+6, err)
		}
	}
}

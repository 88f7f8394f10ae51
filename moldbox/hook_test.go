package moldbox

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.9g, want %.9g ± %g", what, got, want, tol)
	}
}

func TestWirePieces(t *testing.T) {
	// Half a torus by Pappus: its way πR times its section πd²/4, with R 6 and d 1.
	bend := wireAxis{wire: 1, pieces: []piece{arc(geom.Vec{}, geom.Vec{X: 6}, math.Pi)}}
	near(t, "half torus", bend.pieces[0].length()*math.Pi/4, 14.804406602, 1e-9)
	near(t, "bend's end", bend.pieces[0].to.Dist(geom.Vec{X: -6}), 0, 1e-12)
	// A cylinder: πd²L/4 with d 1, L 20.
	near(t, "straight", line(geom.Vec{}, geom.Vec{X: 20}).length()*math.Pi/4, 15.707963268, 1e-9)
}

func TestHookLengths(t *testing.T) {
	ring := 2 * math.Pi * 1.6 // EyeInside 2.2, wire 1
	for _, c := range []struct {
		name string
		hook Hook
		want float64
	}{
		{"straight", Hook{Wire: 1, EyeInside: 2.2, Shank: 20, Gape: 8, Point: 5}, ring + (20 - 1.6) + math.Pi*4 + 5},
		// The round corner of radius 1.5 replaces 2·1.5 by π/2·1.5.
		{"90° leg", Hook{Wire: 1, EyeInside: 2.2, Leg: 8, LegAngle: math.Pi / 2, Shank: 24, Gape: 9, Point: 6},
			ring + (8 - 1.6) + 24 - 3 + math.Pi*0.75 + math.Pi*4.5 + 6},
		{"points", Hook{Wire: 1, EyeInside: 2.2, Points: [][2]float64{{0, 0}, {10, 0}, {10, 5}}}, ring + (10 - 1.6) + 5 - 3 + math.Pi*0.75},
		{"points off the eye", Hook{Wire: 1, EyeInside: 2.2, Points: [][2]float64{{0, -6}, {12, -6}}}, ring + (6 - 1.6) + 12 - 3 + math.Pi*0.75},
		{"wide bend", Hook{Wire: 1, EyeInside: 2.2, Bend: 2, Points: [][2]float64{{0, -6}, {12, -6}}}, ring + (6 - 1.6) + 12 - 5 + math.Pi*1.25},
	} {
		near(t, c.name, c.hook.axis().length(), c.want, 1e-9)
	}
}

func TestHookPlaces(t *testing.T) {
	// The leg runs down, the shank to the tail, the point back at the gape.
	for _, degrees := range []float64{60, 90, 120} {
		h := *jigHook()
		h.LegAngle = degrees * math.Pi / 180
		ps := h.axis().pieces
		s, c := math.Sincos(h.LegAngle)
		shank, point := ps[2], ps[4]
		near(t, "shank's y", shank.to.Y, -8*s, 1e-9)
		near(t, "shank's end", shank.to.X, 24-8*c, 1e-9)
		near(t, "corner joins shank", ps[1].to.Dist(shank.from), 0, 1e-9)
		near(t, "corner is level", ps[1].to.Y, -8*s, 1e-9)
		near(t, "point's y", point.to.Y, -8*s+9, 1e-9)
		near(t, "point's x", point.to.X, 24-8*c-6, 1e-9)
	}
}

// The closed form of the wire against the volume of its solid. What differs:
// the ball in which the wire starts fills the saddle at the eye not quite.
func TestWireVolume(t *testing.T) {
	for _, h := range []Hook{
		*jigHook(),
		{Wire: 1.4, EyeInside: 3, Shank: 20, Gape: 8, Point: 5},
		{Wire: 1, EyeInside: 2.2, Points: [][2]float64{{0, -6}, {12, -6}, {15, -2}, {12, 0}}},
		{Wire: 1.2, EyeInside: 2.4, EyeAcross: true, Leg: 8, LegAngle: math.Pi / 3, Shank: 24, Gape: 9, Point: 6},
	} {
		axis := h.axis()
		v, err := geom.Integrate(context.Background(), axis.tube(h.Wire/2, geom.Identity()), geom.IntegrateOptions{RelTol: 2e-4})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "volume", h.Volume(), v.Best, 3e-4*v.Best)
	}
}

// A hook that Validate refuses has no volume, whatever is wrong with it.
func TestVolumeOfBrokenHooks(t *testing.T) {
	for _, h := range []Hook{
		{}, {Wire: 1, EyeInside: 2, Points: [][2]float64{{0, 0}, {0, 0}}}, {Wire: 1, EyeInside: 2, Shank: math.NaN(), Gape: 8},
		{Wire: 1, EyeInside: 2, Leg: 9, LegAngle: 0, Shank: 20, Gape: 8}, {Wire: 1, EyeInside: 2, Points: [][2]float64{{math.Inf(1), 0}}},
	} {
		if v := h.Volume(); v != 0 {
			t.Errorf("%+v: %g mm³", h, v)
		}
	}
}

func TestAlongStaysInWire(t *testing.T) {
	h := *jigHook()
	axis := h.axis()
	wire := axis.tube(h.Wire/2, geom.Identity())
	for _, p := range axis.along(0.5) {
		if d := wire.Evaluate(p); d > -0.4 {
			t.Fatalf("at %v the wire's value is %.3f, want about -0.5", p, d)
		}
	}
}

// A head around all of the wire holds all of it, one beside it nothing, and a
// half-space through the eye's axis half of a symmetric ring.
func TestWireWithin(t *testing.T) {
	axis := jigHook().axis()
	near(t, "all", axis.within(context.Background(), geom.Ball(geom.Vec{X: 10}, 80)), axis.volume(), 1e-9)
	near(t, "nothing", axis.within(context.Background(), geom.Ball(geom.Vec{Y: 60}, 20)), 0, 0)
	// The bend's outer half turn beyond the shank's end, by Pappus.
	end := axis.pieces[2].to.X
	beyond := axis.within(context.Background(), geom.HalfSpace(geom.Vec{X: -1}, -end))
	near(t, "bend", beyond, math.Pi*4.5*math.Pi/4, 2e-3*beyond)
	// Off the centre of the section: a slice of the straight shank.
	at := axis.pieces[2].from.Lerp(axis.pieces[2].to, 0.5)
	low := geom.Intersect(geom.HalfSpace(geom.Vec{Y: 1}, at.Y-0.2), geom.Ball(at, 4))
	segment := 0.25*math.Acos(0.4) - 0.2*math.Sqrt(0.25-0.04) // circular segment, r 0.5, 0.2 off the middle
	near(t, "segment of the shank", axis.within(context.Background(), low), 8*segment, 0.08*8*segment)
}

package geom_test

import (
	"context"
	"math"
	"math/rand"
	"testing"

	"halfpour/geom"
)

// Closed forms: sphere 4/3πr³, cap πh²(3R-h)/3, frustum πh(R²+Rr+r²)/3, torus
// 2π²Rr². The values are these at the sizes named.
func TestIntegrateClosedForms(t *testing.T) {
	up := geom.Vec{Z: 1}
	capOf := func(h float64) geom.Solid {
		return geom.Intersect(geom.Ball(geom.Vec{}, 5), geom.HalfSpace(geom.Vec{Z: -1}, h-5))
	}
	for _, c := range []struct {
		name string
		s    geom.Solid
		want float64
	}{
		{"sphere r 5", geom.Ball(geom.Vec{}, 5), 523.598775598},
		{"cap R 5 h 1", capOf(1), 14.660765717},
		{"cap R 5 h 2", capOf(2), 54.454272663},
		{"cap R 5 h 5", capOf(5), 261.799387799},
		{"cap R 5 h 8", capOf(8), 469.144502936},
		{"frustum 6, 3, 10", geom.Frustum(geom.Vec{}, geom.Vec{Z: 10}, 6, 3), 659.734457254},
		{"cone 6, 0, 10", geom.Frustum(geom.Vec{}, geom.Vec{Z: 10}, 6, 0), 376.991118431},
		{"cylinder 6, 6, 10", geom.Frustum(geom.Vec{}, geom.Vec{Z: 10}, 6, 6), 1130.973355292},
		{"torus 10, 2", geom.Torus(geom.Vec{}, up, 10, 2), 789.568352087},
		{"block", geom.Block(geom.Box{Max: geom.Vec{X: 2, Y: 3, Z: 4}}), 24},
		{"dome 3, 2", geom.Dome(geom.Vec{}, up, 3, 2), math.Pi * 2 / 6 * (3*9 + 4)},
	} {
		rng := rand.New(rand.NewSource(1))
		for i := 0; i < 3; i++ {
			place := geom.Identity()
			if i > 0 {
				place = geom.Turn(randomPoint(rng, inBlock).Unit(), 6*rng.Float64()).Then(geom.Move(randomPoint(rng, inBlock)))
			}
			got, err := geom.Integrate(context.Background(), place.Solid(c.s), geom.IntegrateOptions{})
			if err != nil {
				t.Fatal(err)
			}
			if c.want < got.Lo || c.want > got.Hi {
				t.Errorf("%s, place %d: %.6f is outside [%.6f, %.6f]", c.name, i, c.want, got.Lo, got.Hi)
			}
			if e := math.Abs(got.Best - c.want); e > got.Error+1e-6*c.want || e > 5e-4*c.want {
				t.Errorf("%s, place %d: best %.6f is off %.6f by %.2g, expected error %.2g", c.name, i, got.Best, c.want, e, got.Error)
			}
		}
	}
}

func TestIntegrateAreaAndCentroid(t *testing.T) {
	at := geom.Vec{X: 3, Y: -2, Z: 7}
	got, err := geom.Integrate(context.Background(), geom.Ball(at, 5), geom.IntegrateOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if d := got.Centroid.Dist(at); d > 0.01 {
		t.Errorf("centroid %v is %.4f mm off", got.Centroid, d)
	}
	if e := math.Abs(got.Area/314.159265359 - 1); e > 0.01 {
		t.Errorf("area %.3f, want 314.159", got.Area)
	}
}

func TestIntegrateWithinABox(t *testing.T) {
	half := geom.Box{Min: geom.Vec{X: -9, Y: -9, Z: 0}, Max: geom.Vec{X: 9, Y: 9, Z: 9}}
	got, err := geom.Integrate(context.Background(), geom.Ball(geom.Vec{}, 5), geom.IntegrateOptions{Within: half})
	if err != nil {
		t.Fatal(err)
	}
	if e := math.Abs(got.Best/261.799387799 - 1); e > 3e-4 {
		t.Errorf("got %.5f, want 261.79939", got.Best)
	}
}

// The sum must not depend on how the work was shared out.
func TestIntegrateIsTheSameForAnyWorkers(t *testing.T) {
	s := randomSolid(rand.New(rand.NewSource(2)), 9)
	one, err1 := geom.Integrate(context.Background(), s, geom.IntegrateOptions{Workers: 1})
	many, err2 := geom.Integrate(context.Background(), s, geom.IntegrateOptions{Workers: 5})
	if err1 != nil || err2 != nil || one != many {
		t.Errorf("1 worker: %+v, %v; 5 workers: %+v, %v", one, err1, many, err2)
	}
}

func TestIntegrateOfNothing(t *testing.T) {
	apart := geom.Intersect(geom.Ball(geom.Vec{}, 1), geom.Ball(geom.Vec{X: 5}, 1))
	got, err := geom.Integrate(context.Background(), apart, geom.IntegrateOptions{})
	if err != nil || got.Best != 0 || got.Hi != 0 {
		t.Errorf("got %+v, %v", got, err)
	}
}

func TestIntegrateStopsWhenCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := geom.Integrate(ctx, geom.Ball(geom.Vec{}, 5), geom.IntegrateOptions{}); err != context.Canceled {
		t.Errorf("got %v", err)
	}
}

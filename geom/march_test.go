package geom

import (
	"math"
	"testing"
)

// The stretches of a sine, by its zeros; and that steps are as long as values
// allow, no shorter than asked and end at the end.
func TestStretches(t *testing.T) {
	var got [][2]float64
	Stretches(math.Sin, -1, 10, 0.01, 1e-9, 1e-9, func(lo, hi float64) { got = append(got, [2]float64{lo, hi}) })
	want := [][2]float64{{-1, 0}, {math.Pi, 2 * math.Pi}, {3 * math.Pi, 10}}
	if len(got) != len(want) {
		t.Fatalf("%v, want %v", got, want)
	}
	for k := range want {
		if math.Abs(got[k][0]-want[k][0]) > 1e-8 || math.Abs(got[k][1]-want[k][1]) > 1e-8 {
			t.Errorf("%v, want %v", got[k], want[k])
		}
	}
}

func TestMarch(t *testing.T) {
	f := func(x float64) float64 { return 4 - x }
	var places []float64
	for at, v := range March(f, 0, 4.2, f(0), 0.25) {
		if v != f(at) {
			t.Errorf("%g at %g, want %g", v, at, f(at))
		}
		places = append(places, at)
	}
	if want := []float64{0, 4, 4.2}; len(places) != 3 || places[1] != want[1] || places[2] != want[2] {
		t.Errorf("at %v, want %v", places, want)
	}
	n := 0
	for range March(f, 0, 9, f(0), 0.25) {
		if n++; n == 2 {
			break
		}
	}
	if n != 2 {
		t.Errorf("%d steps after a break at 2", n)
	}
}

package heat

import (
	"math"
	"testing"
)

// The table is that of the functions, also between its steps.
func TestErfcTable(t *testing.T) {
	for i := range 6001 {
		x := beyond * float64(i) / 6000
		e, g := erfcs.at(x)
		if d := math.Max(math.Abs(e-math.Erfc(x)), math.Abs(g-math.Exp(-x*x)/math.SqrtPi)); d > 1e-10 {
			t.Fatalf("off by %.2g at %g", d, x)
		}
	}
}

package page

import (
	"context"
	"math"
	"testing"
)

// The air that the page lights up is the air that the checks tell of: in a
// head with its nose down, and in heads under a runner.
func TestPocketsAreTheChecks(t *testing.T) {
	for _, c := range []struct{ example, old, new string }{
		{"ball-jig", "turn = -90", "turn = 90"},
		{"minnow-gang", "turn = -90", "turn = 100"},
	} {
		m, _, err := moldOf(c.example, c.old, c.new)
		if err != nil {
			t.Fatal(err)
		}
		pockets, err := findPockets(context.Background(), m)
		if err != nil {
			t.Fatal(err)
		}
		told := 0
		for _, f := range m.Findings {
			if f.Code != "air-trapped" {
				continue
			}
			told++
			found := false
			for _, p := range pockets {
				found = found || p.Top.Dist(*f.At) < 1e-9 && math.Abs(p.Volume-f.Value) < 1e-9
			}
			if !found {
				t.Errorf("%s: %.2f mm³ of air at %v is not lit up", c.example, f.Value, *f.At)
			}
		}
		if told == 0 || len(pockets) != told {
			t.Errorf("%s: %d pockets are lit up, %d told of", c.example, len(pockets), told)
		}
	}
}

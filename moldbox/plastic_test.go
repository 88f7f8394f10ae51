package moldbox

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

// The frames' plastic, found by way of the rubber, is what they hold when
// measured by themselves.
func TestPlasticByWayOfTheRubber(t *testing.T) {
	spec := ballSpec(2)
	for _, coat := range []float64{0, 0.1} {
		spec.Finish.SealCoat = coat
		m := buildOf(t, spec)
		for _, h := range []Half{m.Left, m.Right} {
			measure := func(s geom.Solid) geom.Integral {
				v, err := geom.Integrate(context.Background(), s, geom.IntegrateOptions{RelTol: 1e-3})
				if err != nil {
					t.Fatal(err)
				}
				return v
			}
			want := measure(h.Frame)
			got, err := m.frameVolume(context.Background(), h, measure(h.Rubber()), 1e-3)
			if err != nil || got.Lo > want.Hi || got.Hi < want.Lo || math.Abs(got.Best-want.Best) > 2e-3*want.Best {
				t.Errorf("%s half, coat of %g mm: %.1f to %.1f mm³ (%v), measured %.1f to %.1f", h.Name, coat, got.Lo, got.Hi, err, want.Lo, want.Hi)
			}
		}
	}
}

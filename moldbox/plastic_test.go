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
			measure := func(s geom.Solid) float64 {
				v, err := geom.Integrate(context.Background(), s, geom.IntegrateOptions{RelTol: 1e-3})
				if err != nil {
					t.Fatal(err)
				}
				return v.Best
			}
			want := measure(h.Frame)
			got, err := m.Plastic(context.Background(), h, measure(h.Rubber()))
			if err != nil || math.Abs(got-want) > plasticShare*want {
				t.Errorf("%s half, coat of %g mm: %.1f mm³ (%v), measured %.1f", h.Name, coat, got, err, want)
			}
		}
	}
}

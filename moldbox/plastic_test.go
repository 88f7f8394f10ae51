package moldbox

import (
	"context"
	"math"
	"math/rand/v2"
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

// Outside of the fill solid a frame is its tray, unless something stands higher than the
// rubber.
func TestShellOfAFrame(t *testing.T) {
	const seed = 12
	r := rand.New(rand.NewPCG(seed, 1))
	m := ballMold(t, 3)
	for _, h := range m.Halves() {
		shell := m.shell(h)
		if shell == h.Frame {
			t.Fatalf("%s half: the whole frame", h.Name)
		}
		box, asked := h.Outside.Grow(1), 0
		for range 20_000 {
			size := box.Size()
			p := box.Min.Add(geom.Vec{X: r.Float64() * size.X, Y: r.Float64() * size.Y, Z: r.Float64() * size.Z})
			if geom.Inside(h.Fill, p) {
				continue
			}
			if geom.Inside(h.Frame, p) {
				asked++
			}
			if geom.Inside(shell, p) != geom.Inside(h.Frame, p) {
				t.Fatalf("seed %d, %s half: %v is in one of frame and tray", seed, h.Name, p)
			}
		}
		if asked < 1000 {
			t.Errorf("%s half: only %d places in the frame", h.Name, asked)
		}
		h.FillHeight = 1
		if m.shell(h) != h.Frame {
			t.Errorf("%s half: cavities higher than the rubber are left out", h.Name)
		}
	}
}

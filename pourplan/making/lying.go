package making

import (
	"context"
	"errors"
	"math"

	"halfpour/geom"
	"halfpour/pourplan"
)

// Lie is how the heads of the mold lie, whether or not a mold can be made of them;
// what is not open yet is taken at about the size that it will have. It fails with
// ErrNoHead where a head cannot be read, or as its context.
func (m *Mold) Lie(ctx context.Context) ([]pourplan.LyingHead, error) {
	if len(m.spec.Cavities) == 0 {
		if err := m.readHeads(ctx); ctx.Err() != nil {
			return nil, ctx.Err()
		} else if len(m.spec.Cavities) == 0 {
			return nil, errors.Join(ErrNoHead, err)
		}
	}
	heads, cavities := m.Job.LyingHeads()
	for i := range heads {
		h, v := &heads[i], m.spec.Cavities[cavities[i]]
		h.Mesh = m.heads[h.File].Mesh
		h.Lying = v.Lie(m.scaleNear(cavities[i], h))
		for k, p := range h.Points {
			if p.InHook {
				at := h.FromFile.Inverse().Point(geom.Vec{X: p.Flat[0], Y: p.Flat[1]})
				h.Points[k].At = &at
			}
		}
		for _, f := range m.Findings {
			if f.Cavity == v.Name && f.HeadAt != nil {
				h.Findings = append(h.Findings, f)
			}
		}
	}
	return heads, nil
}

// scaleNear is the scale of a cavity's head: of the mold, else of the last one with
// the same head and weight, else of one of metal alone.
func (m *Mold) scaleNear(i int, h *pourplan.LyingHead) float64 {
	v := m.spec.Cavities[i]
	if m.Solids != nil {
		return m.Solids.Cavities[i].Scale
	}
	if v.MetalVolume == 0 {
		return v.Scale
	}
	if last := m.earlier.Solids; last != nil && i < len(last.Cavities) {
		if m.earlier.heads[h.File] == m.heads[h.File] && last.Spec.Cavities[i].MetalVolume == v.MetalVolume {
			return last.Cavities[i].Scale
		}
	}
	return math.Cbrt(v.MetalVolume / (h.Mesh.Volume() * math.Pow(h.Unit, 3)))
}

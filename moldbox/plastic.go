package moldbox

import (
	"context"
	"math"

	"halfpour/geom"
)

// plasticShare is how well Plastic measures.
const plasticShare = 2e-2

// Plastic returns the volume of a half's frame as it is printed, mm³, when its
// rubber has been measured. Its error is the context's.
func (m *Mold) Plastic(ctx context.Context, h Half, rubber geom.Integral) (float64, error) {
	v, err := m.frameVolume(ctx, h, rubber, plasticShare)
	return v.Best, err
}

// frameVolume measures a half's frame to a share of it when its rubber has been
// measured: what of the fill solid is no rubber is frame, so that heads and channels
// need not be gone over again. Under a seal coat that is not so, and the frame is
// measured by itself. Its error is the context's.
func (m *Mold) frameVolume(ctx context.Context, h Half, rubber geom.Integral, share float64) (geom.Integral, error) {
	opt := geom.IntegrateOptions{RelTol: share}
	if m.Spec.Finish.SealCoat > 0 {
		return geom.Integrate(ctx, h.Frame, opt)
	}
	fill, err := geom.Integrate(ctx, h.Fill, opt)
	if err != nil {
		return geom.Integral{}, err
	}
	opt.AbsTol = share * math.Max(0, fill.Best-rubber.Best) // as much of the frame is inside
	// What settles most boxes stands first.
	v, err := geom.Integrate(ctx, geom.Intersect(geom.Subtract(geom.Block(h.Outside.Grow(1)), h.Fill), m.shell(h)), opt)
	v.Lo += fill.Lo - rubber.Hi
	v.Best += fill.Best - rubber.Best
	v.Hi += fill.Hi - rubber.Lo
	return v, err
}

// shell is a solid that outside of the fill solid is the frame of a half: as a rule the
// tray alone, as all that stands in it ends where the fill solid does, but at the top.
func (m *Mold) shell(h Half) geom.Solid {
	b := m.made.by
	if b == nil {
		return h.Frame
	}
	for _, s := range b.standing(h) {
		if h.InMold().Box(s.BoundingBox()).Max.Z > h.FillHeight {
			return h.Frame
		}
	}
	return h.bare
}

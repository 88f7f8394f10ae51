package moldbox

import (
	"context"

	"halfpour/geom"
)

// plasticShare is how well Plastic measures.
const plasticShare = 2e-2

// Plastic returns the volume of a half's frame as it is printed, mm³, when its
// rubber has been measured: what of the fill solid is no rubber is frame, so
// that heads and channels need not be gone over again. Under a seal coat that
// is not so, and the frame is measured by itself.
func (m *Mold) Plastic(ctx context.Context, h Half, rubber float64) (float64, error) {
	opt := geom.IntegrateOptions{RelTol: plasticShare}
	if m.Spec.Finish.SealCoat > 0 {
		v, err := geom.Integrate(ctx, h.Frame, opt)
		return v.Best, err
	}
	// What settles most boxes stands first.
	outside, err := geom.Integrate(ctx, geom.Intersect(geom.Subtract(geom.Block(h.Outside.Grow(1)), h.Fill), h.Frame), opt)
	if err != nil {
		return 0, err
	}
	fill, err := geom.Integrate(ctx, h.Fill, opt)
	return outside.Best + fill.Best - rubber, err
}

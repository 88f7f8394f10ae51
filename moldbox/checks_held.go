package moldbox

import (
	"context"
	"math"
)

// leastHeld is the length of wire, in diameters, that metal must hold: with less
// the casting turns on its wire and comes off (common practice, no source).
const leastHeld = 1.0

// checkHeld finds wires that the head does not hold.
func checkHeld(ctx context.Context, p *part, c *Placed) []Finding {
	var fs []Finding
	for i, w := range p.wires {
		d := w.axis.wire
		held := p.shares[i] / (math.Pi / 4 * d * d)
		if held >= leastHeld*d {
			continue
		}
		at := p.turn.Point(w.axis.pieces[0].from).Add(p.move)
		f := Finding{Severity: Stop, Code: "wire-misses-head", Cavity: c.Name, At: &at, HeadAt: p.inFile(at),
			Value: held, Limit: leastHeld * d, Unit: "mm",
			Message: w.called() + " does not pass through the head: the casting cannot hold it"}
		if w.hook() {
			f.Code, f.At, f.HeadAt = "hook-misses-head", &c.Eye, p.inFile(c.Eye)
			if w.body == nil && p.heldUpsideDown(ctx) {
				f.Message = "the hook points away from the head: its back is probably turned round"
				f.Cause, f.Figures = BackTurned, []any{p.Pose.opposite().Back}
			}
		}
		fs = append(fs, f)
	}
	return fs
}

// heldUpsideDown reports whether the head would hold its hook with its back turned
// round.
func (p *part) heldUpsideDown(ctx context.Context) bool {
	v := p.Cavity
	v.Pose = v.Pose.opposite()
	v.Keepers = nil
	d := v.Hook.Wire
	return v.wiresWithin(ctx, p.scale)[0] >= leastHeld*math.Pi/4*d*d*d
}

package moldbox

import (
	"context"
	"math"

	"halfpour/geom"
)

// laidBody is the body of a wire as it lies in the hook's plane, its eye at the
// origin.
type laidBody struct {
	solid  geom.Solid
	volume float64 // mm³
	off    float64 // how far its axis leaves the plane, mm
	offAt  geom.Vec
	turned float64 // of a hook's eye, how far its ring is turned out of the plane, radians

	shank piece // its axis, from under the eye

	hole geom.Solid // the opening of a hook's eye, as deep as the wire; nil without an eye
	web  geom.Solid // that closes it where the eye stands across; nil where it lies flat
	fine []geom.Solid
}

// Lay returns the hook h with what was measured of the body in place of its
// dimensions. As drawn it lies as it does in a file of the head's coordinates, its
// eye in the parting plane; else its shank runs towards the tail and its point is on
// the side of the back. Where the body is thinner than finest its bed is as wide as
// that, so that it can be printed.
func (b *HookBody) Lay(h Hook, pose Pose, asDrawn bool, finest float64) Hook {
	turn := geom.FromAxes(b.Tail, b.Back, b.normal()).Inverse()
	if f, err := pose.axes(); asDrawn && err == nil {
		turn = f.rotation()
	}
	there := geom.Move(b.Eye.Neg()).Then(turn)
	h.Wire, h.EyeInside, h.Leg, h.LegAngle, h.Shank, h.Gape, h.Point = b.Wire, b.EyeInside, 0, 0, 0, 0, 0
	h.Points, h.Bend = nil, roundest
	laid := &laidBody{solid: there.Solid(b.solid), volume: b.Volume}
	for _, p := range b.axis {
		at := there.Point(p)
		h.Points = append(h.Points, [2]float64{at.X, at.Y})
		laid.see(at)
	}
	foot := there.Point(b.Foot)
	laid.shank = line(foot, foot.Add(turn.Direction(b.Tail).Mul(b.Shank)))
	laid.turned = math.Acos(math.Min(1, math.Abs(turn.Direction(b.ringWay[2]).Z)))
	h.EyeAcross = laid.turned > math.Pi/4
	ring := geom.FromAxes(b.ringWay[0], b.ringWay[1], b.ringWay[2]).Then(geom.Move(b.Eye)).Then(there)
	laid.hole = ring.Solid(geom.Prism(geom.Polygon(b.hole...), -b.Wire/2, b.Wire/2))
	if h.EyeAcross {
		wide := make([]geom.Vec2, len(b.hole))
		for i, p := range b.hole {
			wide[i] = p.Mul(1 + b.Wire/2/p.Norm())
		}
		laid.web = ring.Solid(geom.Prism(geom.Polygon(wide...), -eyeWeb/2, eyeWeb/2))
	}
	laid.fine = laid.widened(b.WireBody, there, finest, h.Fit)
	h.body = laid
	return h
}

// Lay returns the keeper k with what was measured of the body in place of its points. It
// lies as drawn in the head's coordinates.
// Where the body is thinner than finest its bed is as wide as that.
func (b *WireBody) Lay(k Keeper, pose Pose, finest float64) Keeper {
	turn, first := geom.Identity(), b.axis[0]
	if f, err := pose.axes(); err == nil {
		turn = f.rotation()
		first, _ = pose.onParting(first)
	}
	there := geom.Move(first.Neg()).Then(turn)
	k.Wire, k.Points, k.InHook, k.Bend = b.Wire, b.axis, nil, roundest
	laid := &laidBody{solid: there.Solid(b.solid), volume: b.Volume}
	for _, p := range b.axis {
		laid.see(there.Point(p))
	}
	laid.fine = laid.widened(b, there, finest, k.Fit)
	k.body = laid
	return k
}

// see takes note of a place of the axis.
func (l *laidBody) see(at geom.Vec) {
	if math.Abs(at.Z) > l.off {
		l.off, l.offAt = math.Abs(at.Z), at
	}
}

// placed is the body moved or mirrored.
func (l *laidBody) placed(to geom.Transform) *laidBody {
	moved := *l
	moved.solid, moved.offAt, moved.fine = to.Solid(l.solid), to.Point(l.offAt), nil
	for _, s := range l.fine {
		moved.fine = append(moved.fine, to.Solid(s))
	}
	return &moved
}

// mirrored is the wire on the other side of a straight piece.
func (w partWire) mirrored(about piece) partWire {
	way := about.along(0)
	turn := geom.Rotate(geom.Vec{Z: 1}, math.Atan2(way.Y, way.X))
	over := geom.Move(about.from.Neg()).Then(turn.Inverse()).Then(geom.MirrorY()).Then(turn).Then(geom.Move(about.from))
	a := w.axis
	a.pieces = nil
	for _, p := range w.axis.pieces {
		a.pieces = append(a.pieces, piece{over.Point(p.from), over.Point(p.to), over.Point(p.centre), -p.sweep})
	}
	w.axis, w.flipped = a, true
	if w.body != nil {
		w.body = w.body.placed(over)
	}
	return w
}

// roundest is a radius so large that bends take all they may: the axis of a body
// comes in short straight stretches.
const roundest = 50.0

// widened are wires along the axis and the barbs where the body with its clearance is
// thinner than finest.
func (l *laidBody) widened(b *WireBody, there geom.Transform, finest, fit float64) (list []geom.Solid) {
	const step = 0.1
	for _, way := range append([][]geom.Vec{b.axis}, b.barbs...) {
		var run []geom.Vec
		end := there.Point(way[len(way)-1])
		for i := 1; i < len(way); i++ {
			from, to := there.Point(way[i-1]), there.Point(way[i])
			n := math.Ceil(from.Dist(to) / step)
			for k := range int(n) {
				at := from.Lerp(to, (float64(k)+0.5)/n)
				thin := fit-l.solid.Evaluate(at) < finest/2
				if thin && (at.Dist(end) > finest/2 || len(run) == 0) {
					run = append(run, at)
				}
				if last := i == len(way)-1 && k == int(n)-1; len(run) > 0 && (!thin || last) {
					list, run = append(list, geom.Wire(run, finest/2)), nil
				}
			}
		}
	}
	return list
}

// bed is the body wider by fit, with what closes the eye and what makes it wide
// enough to print.
func (l *laidBody) bed(fit float64, place geom.Transform) geom.Solid {
	parts := []geom.Solid{geom.Offset(place.Solid(l.solid), fit)}
	if l.web != nil {
		parts = append(parts, place.Solid(l.web))
	}
	for _, s := range l.fine {
		parts = append(parts, place.Solid(s))
	}
	return geom.Union(parts...)
}

// bedOut is the bed of a body that leaves the mold by a straight stretch: the body's up to
// there, then a round one along the axis, which ends beyond the edge.
func (l *laidBody) bedOut(fit float64, place geom.Transform, axis wireAxis) geom.Solid {
	out := axis.pieces[axis.out-1]
	way := out.along(0)
	from := out.from.Add(way.Mul(math.Min(axis.wire, out.length()/2)))
	along := geom.Rotate(geom.Vec{Z: 1}, math.Atan2(way.Y, way.X))
	room := along.Inverse().Box(l.solid.BoundingBox()).Grow(1)
	room.Max.X = from.Dot(way)
	stays := geom.Intersect(l.bed(fit, place), along.Then(place).Solid(geom.Block(room)))
	return geom.Union(stays, place.Solid(geom.Capsule(from, out.to, axis.wire/2+fit)))
}

// bodyShare is how well the part of a body in the head is measured, of the body.
const bodyShare = 5e-4

// within is how much of the body lies in a head that stands in the hook's plane,
// mm³; of a stopped context it is 0.
func (l *laidBody) within(ctx context.Context, head geom.Solid) float64 {
	v, err := geom.Integrate(ctx, geom.Intersect(l.solid, head), geom.IntegrateOptions{
		RelTol: bodyShare, AbsTol: bodyShare * l.volume, Within: l.solid.BoundingBox().Intersect(head.BoundingBox()),
	})
	if err != nil {
		return 0
	}
	return v.Best
}

package moldbox

import (
	"fmt"
	"math"

	"halfpour/geom"
)

// Anchor is the place of a head that stays where it is to its hook, whatever the
// head is scaled to: the hook keeps its size.
type Anchor string

const (
	AnchorEye    Anchor = "eye"    // the hook's eye; the zero value stands for it
	AnchorShank  Anchor = "shank"  // the shank's axis, under the eye
	AnchorCollar Anchor = "collar" // where the shank's axis leaves the head at the tail
)

// anchor is what the head is scaled about, in the hook's plane, the eye at the
// origin.
func (v Cavity) anchor() geom.Vec {
	if v.Hook == nil || v.Anchor != AnchorShank && v.Anchor != AnchorCollar {
		return geom.Vec{}
	}
	shank := v.Hook.shankAxis()
	way := shank.along(0)
	if way.X < 0 {
		way = way.Neg()
	}
	foot := shank.from.Sub(way.Mul(shank.from.Dot(way)))
	if v.Anchor == AnchorShank {
		return foot
	}
	return v.collar(foot, way)
}

// shankAxis is the straight shank's axis; of a hook given by points, its longest
// straight stretch.
func (h Hook) shankAxis() piece {
	switch {
	case h.body != nil:
		return h.body.shank
	case len(h.Points) == 0:
		return h.axis().pieces[h.shankIndex()]
	}
	return h.axis().longest()
}

// longest is the longest straight piece.
func (a wireAxis) longest() piece { return a.pieces[a.longestAt()] }

func (a wireAxis) longestAt() (best int) {
	for i, p := range a.pieces {
		if p.straight() && (!a.pieces[best].straight() || p.length() > a.pieces[best].length()) {
			best = i
		}
	}
	return best
}

// collar is where an axis leaves the head as modelled, the way it runs; a point
// of the axis where it does not meet the head.
func (v Cavity) collar(from, way geom.Vec) geom.Vec {
	const near = 1e-3 // mm
	at := v.toEye()
	head := at.Solid(v.Head)
	size := head.BoundingBox().Size().Norm() + head.BoundingBox().Distance(from)
	for t := size; t > -size; {
		q := from.Add(way.Mul(t))
		d := head.Evaluate(q)
		if d < near {
			return q
		}
		t -= d
	}
	return from
}

// toEye takes the head's file to the hook's plane, its eye at the origin, at the
// head's size as modelled.
func (v Cavity) toEye() geom.Transform {
	b, _ := v.Pose.axes()
	eye, _ := v.Pose.onParting(v.Eye)
	return geom.Move(eye.Neg()).Then(b.rotation())
}

// toHook is toEye with the head scaled about its anchor.
func (v Cavity) toHook(scale float64) geom.Transform {
	to := v.toEye()
	if a := v.anchor(); a != (geom.Vec{}) {
		return to.Then(geom.Move(a.Neg())).Then(geom.Scale(scale)).Then(geom.Move(a))
	}
	return to.Then(geom.Scale(scale))
}

// leastShift is how far scaling moves the hook in its head, mm, before it is said:
// less does not show on a casting (common practice, no source).
const leastShift = 0.3

// checkScale says what scaling the head has moved: all of the hook but what the
// head is anchored to lies elsewhere in it than drawn.
func checkScale(p *part, c *Placed, add func(Finding, geom.Vec)) {
	if p.Hook == nil || p.scale == 1 {
		return
	}
	shank := p.Hook.shankAxis()
	way := shank.along(0)
	leg := shank.from.Sub(way.Mul(shank.from.Dot(way))).Norm() // from the eye to the shank's axis
	shift := leg * math.Abs(p.scale-1)
	if shift < leastShift {
		return
	}
	f := Finding{Severity: Note, Code: "scale-shifts", Value: shift, Limit: leastShift, Unit: "mm", Figures: []any{p.scale},
		Message: fmt.Sprintf("the head is modelled size x %.2f, scaled about the eye: the shank lies %.1f mm off its place in the head as drawn", p.scale, shift)}
	if p.Anchor == AnchorShank || p.Anchor == AnchorCollar {
		f.Cause = EyeShifted
		way := "nearer to the head than"
		if p.scale < 1 {
			way = "farther from the head than"
		}
		f.Message = fmt.Sprintf("the head is modelled size x %.2f, scaled about the %s: the eye stands %.1f mm %s as modelled", p.scale, p.Anchor, shift, way)
	}
	add(f, c.Eye)
}

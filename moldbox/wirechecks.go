package moldbox

import (
	"context"
	"fmt"
	"math"

	"halfpour/geom"
)

// checkWires looks at the wires of one cavity: the eye, what runs into what,
// and the metal round them.
func checkWires(ctx context.Context, p *part, c *Placed) []Finding {
	var fs []Finding
	add := func(f Finding, at geom.Vec) { // at in the part's coordinates
		at = at.Add(p.move)
		f.Cavity, f.At, f.HeadAt = c.Name, &at, p.inFile(at)
		fs = append(fs, f)
	}
	if p.Hook != nil {
		p.checkEye(add)
		p.checkHook(add)
	}
	for i, w := range p.wires {
		if ctx.Err() != nil {
			return fs
		}
		if at, off := p.offParting(w); off > leastOff {
			f := Finding{Severity: Warn, Code: "wire-off-parting", Value: off, Limit: leastOff, Unit: "mm",
				Message: fmt.Sprintf("%s is up to %.2f mm off the parting plane; the mold puts it in the plane", w.called(), off)}
			if w.body != nil {
				f.Message = fmt.Sprintf("%s is up to %.2f mm off the parting plane; the mold takes it as drawn", w.called(), off)
				f.Cause = DrawnOff
			}
			add(f, at)
		}
		if at, crosses := w.axis.crossesItself(ctx); crosses {
			add(Finding{Severity: Stop, Code: "wire-crosses-itself",
				Message: w.called() + " crosses itself: it cannot lie flat where the halves meet"}, p.turn.Point(at))
		}
		for j := range i {
			if n, ok := nearest(c.Wires[j].Wire, c.Wires[i].Wire, leastOverlap); ok && n.gap < -leastOverlap {
				add(Finding{Severity: Stop, Code: "wires-cross", Value: -n.gap, Limit: 0, Unit: "mm",
					Message: fmt.Sprintf("%s runs into %s: both lie where the halves meet", w.called(), p.wires[j].called())}, n.at.Sub(p.move))
			}
		}
		p.checkWall(ctx, w, add)
	}
	return fs
}

const (
	leastOff     = 0.1  // off the parting plane, mm
	leastOverlap = 0.05 // of two wires, mm: they may touch
	leastShutOff = 0.5  // rubber between an eye's opening and metal that holds at all, mm (common practice, no source)
)

// offParting is how far a keeper's points were given off the parting plane, and
// where the worst is, in the part's coordinates.
func (p *part) offParting(w partWire) (at geom.Vec, worst float64) {
	if w.body != nil {
		return p.turn.Point(w.body.offAt), w.body.off
	}
	if w.hook() {
		return at, 0
	}
	for _, q := range p.Keepers[w.keeper].Points {
		if flat, off := p.Pose.onParting(q); math.Abs(off) > worst {
			at, worst = p.toPart.Point(flat), math.Abs(off)
		}
	}
	return at, worst
}

// opening is the room within the eye's ring, in the part's coordinates.
func (p *part) opening() geom.Solid {
	if body := p.wires[0].body; body != nil {
		return p.turn.Solid(body.hole)
	}
	a := p.wires[0].axis
	half := a.ringAxis().Mul(a.wire / 2)
	r := p.Hook.EyeInside / 2
	return p.turn.Solid(geom.Frustum(half.Neg(), half, r, r))
}

// An eye's opening is shut off where its ring lies within mostTurned of the parting
// plane, or of square across it (common practice, no source).
const mostTurned = 20 * math.Pi / 180

// checkEye finds metal in or near the eye's opening, and an opening that cannot be
// shut off.
func (p *part) checkEye(add func(Finding, geom.Vec)) {
	if body := p.wires[0].body; body != nil && math.Min(body.turned, math.Pi/2-body.turned) > mostTurned {
		add(Finding{Severity: Stop, Code: "eye-turned", Value: body.turned * 180 / math.Pi, Limit: mostTurned * 180 / math.Pi, Unit: "°",
			Message: "the eye's ring stands neither in the parting plane nor across it: rubber cannot shut its opening off"}, geom.Vec{})
	}
	want := math.Max(p.Hook.EyeRubber, leastOverlap)
	n, ok := nearest(p.head, p.opening(), want)
	if !ok {
		return
	}
	f := Finding{Severity: Warn, Code: "eye-rubber-thin", Value: math.Max(0, n.gap), Limit: want, Unit: "mm",
		Message: "too little rubber between the opening of the eye and metal"}
	if n.gap < math.Min(want, leastShutOff) {
		f.Severity, f.Code, f.Message = Stop, "eye-not-clear", "almost no rubber keeps metal out of the opening of the eye"
	}
	if n.gap <= 0 {
		f.Message = "metal fills the opening of the eye"
	}
	add(f, n.at)
}

// checkHook finds a bend or point that stands in the head. Of a hook by points
// only the end is known to be its point.
func (p *part) checkHook(add func(Finding, geom.Vec)) {
	a := p.wires[0].axis
	free := []geom.Vec{a.pieces[len(a.pieces)-1].to}
	if len(p.Hook.Points) == 0 {
		bend := a
		bend.pieces = a.pieces[p.Hook.shankIndex()+1:]
		free = bend.along(0.25)
	}
	least, where := math.Inf(1), geom.Vec{}
	for _, q := range free {
		at := p.turn.Point(q)
		if d := valueNear(p.head, at, least+a.wire/2) - a.wire/2; d < least {
			least, where = d, at
		}
	}
	if least < 0 {
		add(Finding{Severity: Stop, Code: "hook-in-metal", Value: -least, Limit: 0, Unit: "mm",
			Message: "the bend or the point of the hook lies in the head's metal"}, where)
	}
}

// crossesItself looks for two places of the axis that are far from each other
// along the wire and nearer than its thickness across.
func (a wireAxis) crossesItself(ctx context.Context) (geom.Vec, bool) {
	type place struct {
		at  geom.Vec
		way float64
	}
	var seen []place
	way := 0.0
	step, far, close := a.wire/4, 4*a.wire, 0.95*a.wire
	for _, p := range a.pieces {
		n := int(math.Ceil(p.length()/step)) + 1
		for i := range n + 1 {
			if ctx.Err() != nil {
				return geom.Vec{}, false
			}
			q := place{p.at(float64(i) / float64(n)), way + p.length()*float64(i)/float64(n)}
			if q.way > far && a.ringDistance(q.at) < close {
				return q.at, true
			}
			for _, s := range seen {
				if q.way-s.way > far && q.at.Dist(s.at) < close {
					return q.at, true
				}
			}
			seen = append(seen, q)
		}
		way += p.length()
	}
	return geom.Vec{}, false
}

// ringDistance is from a point of the plane to the axis of the eye's ring.
func (a wireAxis) ringDistance(q geom.Vec) float64 {
	switch {
	case a.ring == 0:
		return math.Inf(1)
	case a.across:
		foot := a.way().Mul(a.ring)
		return math.Min(q.Dist(foot), q.Dist(foot.Neg()))
	}
	return math.Abs(q.Norm() - a.ring)
}

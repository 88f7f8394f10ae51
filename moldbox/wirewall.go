package moldbox

import (
	"context"
	"fmt"
	"math"

	"halfpour/geom"
)

// atSurface is how far from where a wire enters or leaves the head, in wires, its
// wall of metal is judged only where the surface runs along the wire: elsewhere it
// begins at nothing there.
const atSurface = 2.5

// A surface runs along a wire when it keeps within 10° of it over alongSurface mm to both
// sides. At that slope a wall that begins at nothing is no thicker than half a wire
// after atSurface wires, and would be found there.
const (
	alongSurface = 0.2
	alongSlope   = 0.17
)

// checkWall finds where the metal round a wire is thinner than asked.
func (p *part) checkWall(ctx context.Context, w partWire, add func(Finding, geom.Vec)) {
	if at, bored := p.bored(ctx, w); bored {
		f := Finding{Severity: Stop, Code: "wire-in-hole", Message: fmt.Sprintf("the head has a hole where %s goes", w.called())}
		if p.KeepBores {
			f.Severity, f.Cause = Warn, BoreKept
			f.Message += ", and it is kept: rubber fills it around the wire"
		}
		add(f, at)
		return
	}
	if p.Wall == 0 {
		return
	}
	wall, at, found := p.thinnest(ctx, w)
	if !found || wall >= p.Wall-0.01 {
		return
	}
	f := Finding{Severity: Stop, Code: "metal-thin", Value: math.Max(0, wall), Limit: p.Wall, Unit: "mm",
		Message: fmt.Sprintf("the metal around %s is too thin", w.called())}
	if !p.growthCovers(at) {
		f.Cause = HookOutgrown
	}
	if wall < leastOverlap {
		f.Code = "wire-breaks-out"
		f.Message = fmt.Sprintf("%s does not fit in the head: it breaks through the side", w.called())
		if p.MetalVolume > 0 {
			f.Message = fmt.Sprintf("%s does not fit in a head of this weight: it breaks through the side", w.called())
		}
	}
	add(f, at)
}

// bored finds a hole that the head was drawn with for a wire: along two wires or
// more the axis is out of the head, with metal on all sides within a wire of it.
func (p *part) bored(ctx context.Context, w partWire) (where geom.Vec, found bool) {
	run := 0.0
	for _, q := range w.axis.pieces {
		n := max(1, int(math.Ceil(q.length()/boreStep)))
		for i := 0; i < n && ctx.Err() == nil; i++ {
			t := (float64(i) + 0.5) / float64(n)
			out, _ := q.across(t)
			at := p.turn.Point(q.at(t))
			if _, round := wallRound(p.head, at, p.turn.Direction(out), geom.Vec{Z: 1}, w.axis.wire); round == 0 {
				run = 0
			} else if run += q.length() / float64(n); run >= leastBore*w.axis.wire {
				return at, true
			}
		}
	}
	return geom.Vec{}, false
}

// growthCovers reports whether a place in the head would lie deeper in it were it
// a little larger: it grows about the hook's eye, away from a wire that stands
// on that side.
func (p *part) growthCovers(at geom.Vec) bool {
	const k = 1.05
	return k*p.head.Evaluate(at.Mul(1/k)) < p.head.Evaluate(at)
}

// thinnest returns the least metal beside a wire, up to a little over what is
// asked, and where in the part's coordinates. It looks straight across the
// wire, every 0.2 mm of it in the head; near where it enters or leaves, at surface
// that runs along it, such as that of a short collar. A wire that runs along the head's surface, half in it, has less than none.
func (p *part) thinnest(ctx context.Context, w partWire) (least float64, where geom.Vec, found bool) {
	const step = 0.2
	type place struct {
		at, out, way geom.Vec
		inside       float64 // depth below the surface
	}
	var along []place
	r := w.axis.wire / 2
	for _, q := range w.axis.pieces {
		n := max(1, int(math.Ceil(q.length()/step)))
		for i := range n {
			t := (float64(i) + 0.5) / float64(n)
			out, _ := q.across(t)
			at := p.turn.Point(q.at(t))
			along = append(along, place{at, p.turn.Direction(out), p.turn.Direction(q.along(t)), -valueNear(p.head, at, r)})
		}
	}
	margin := int(math.Ceil(atSurface * w.axis.wire / step))
	grazes := 0
	for i, q := range along {
		if ctx.Err() != nil {
			break
		}
		if q.inside <= 0 && q.inside > -r {
			if grazes++; grazes > margin && (!found || q.inside-r < least) {
				least, where, found = q.inside-r, q.at, true
			}
			continue
		}
		grazes = 0
		deep := true // all of the wire within margin, as far as it goes, is in the head
		for j := max(0, i-margin); j <= min(len(along)-1, i+margin); j++ {
			deep = deep && along[j].inside > 0
		}
		if q.inside <= 0 || q.inside-r >= p.Wall {
			continue
		}
		way := q.way
		if deep {
			way = geom.Vec{}
		}
		if wall := p.across(q.at, q.out, way, r+p.Wall) - r; !found || wall < least {
			least, where, found = wall, q.at, true
		}
	}
	return least, where, found
}

// across is how far the surface is from a place in the head, at most so far as
// most, looking straight across the wire. When way, the wire's direction, is not
// zero, only surface that runs along it counts.
func (p *part) across(at, out, way geom.Vec, most float64) float64 {
	const spokes = 16
	for i := range spokes {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / spokes)
		dir := out.Mul(cos).Add(geom.Vec{Z: sin})
		on := func(t float64) float64 { return p.head.Evaluate(at.Add(dir.Mul(t))) }
		for t, d := range geom.March(on, 0, most, on(0), 0.01) {
			if d >= -1e-3 {
				if hit := at.Add(dir.Mul(t)); way == (geom.Vec{}) || p.surfaceAlong(hit, way) {
					most = t
				}
				break
			}
		}
	}
	return most
}

// surfaceAlong reports whether the head's surface at a place runs along a direction.
func (p *part) surfaceAlong(at, way geom.Vec) bool {
	for _, step := range []float64{-alongSurface, alongSurface} {
		if math.Abs(p.head.Evaluate(at.Add(way.Mul(step)))) > alongSlope*alongSurface {
			return false
		}
	}
	return true
}

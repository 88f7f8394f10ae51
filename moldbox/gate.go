package moldbox

import (
	"context"
	"math"
	"sort"

	"halfpour/geom"
)

// leastRubber is the thinnest rubber that may stand between a channel and
// anything else: thinner tears when the casting is drawn (common practice, no
// source).
const leastRubber = 1.5

// gateChoice is where metal enters a part, in the part's coordinates.
type gateChoice struct {
	found bool
	at    geom.Vec // on the head's outline in the parting plane
	clear bool     // neck and throat keep leastRubber from the hook's bed
	rise  float64  // how much longer the throat must be for the funnel to pass the bed
	moved float64  // how far above the asked point the outline is

	depth   float64 // that the neck must reach below the gate
	covered bool    // all of the neck ends in the head
}

// halfWidth is the sprue's half width at a height above the gate, with the
// throat longer by rise.
func (s SprueSpec) halfWidth(up, rise float64) float64 {
	if up < s.GateLength {
		return s.GateWidth / 2
	}
	slope := (s.Mouth - s.Throat) / 2 / s.Length // of the funnel's wall
	in := math.Max(0, up-s.GateLength-rise) * slope
	return math.Min(s.Mouth/2, s.Throat/2+in)
}

// passes reports whether the sprue over g keeps leastRubber from the bed.
func (p *part) passes(ctx context.Context, s SprueSpec, g geom.Vec, rise float64) bool {
	if p.bed == nil {
		return true
	}
	const step = 0.4
	top := p.bed.BoundingBox().Max.Y + s.Mouth/2 + leastRubber - g.Y
	for up := 0.0; up < top && ctx.Err() == nil; up += step {
		if p.bedDistance(geom.Vec{X: g.X, Y: g.Y + up}) < s.halfWidth(up, rise)+leastRubber {
			return false
		}
	}
	return true
}

// mostRise is how much longer a throat may get to pass a hook, mm: beyond it
// metal freezes on the way, and a wire that leaves by the top edge is never
// passed.
const mostRise = 60

// chooseGate takes the asked gate, or the highest point of the head's outline
// that carries the neck and lets neck and throat pass the hook.
func chooseGate(ctx context.Context, p *part, s SprueSpec) gateChoice {
	var g gateChoice
	if p.Gate != nil {
		asked := p.toPart.Point(*p.Gate)
		top, ok := p.cut.top(asked.X)
		g = gateChoice{found: ok, at: geom.Vec{X: asked.X, Y: top}, moved: top - asked.Y}
	} else {
		g.at, g.found = p.highestGate(ctx, s)
	}
	if !g.found {
		return g
	}
	g.clear = p.passes(ctx, s, g.at, math.Inf(1))
	if g.clear {
		for g.clear && !p.passes(ctx, s, g.at, g.rise) {
			g.rise += 0.5
			g.clear = g.rise <= mostRise
		}
	}
	return g
}

// highestGate looks for the highest free place; when nothing is free it takes
// the highest, and when the head is narrower than the neck, its highest point.
func (p *part) highestGate(ctx context.Context, s SprueSpec) (geom.Vec, bool) {
	for _, ask := range []func(geom.Vec) bool{
		func(g geom.Vec) bool { return p.carries(g, s.GateWidth) && p.passes(ctx, s, g, math.Inf(1)) },
		func(g geom.Vec) bool { return p.passes(ctx, s, g, math.Inf(1)) },
		func(geom.Vec) bool { return true },
	} {
		if g, ok := p.highest(ask); ok {
			return g, true
		}
	}
	return geom.Vec{}, false
}

// highest returns the highest top of a column that ask agrees to; of a flat
// run of them, the middle.
func (p *part) highest(ask func(geom.Vec) bool) (geom.Vec, bool) {
	type candidate struct {
		column int
		at     geom.Vec
	}
	var all []candidate
	for i := range p.cut.columns {
		if top, ok := p.cut.top(p.cut.x(i)); ok {
			all = append(all, candidate{i, geom.Vec{X: p.cut.x(i), Y: top}})
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].at.Y > all[j].at.Y })
	const level = 0.01
	for _, c := range all {
		if !ask(c.at) {
			continue
		}
		lo, hi := c.column, c.column
		flat := func(i int) bool {
			top, ok := p.cut.top(p.cut.x(i))
			return ok && top > c.at.Y-level && ask(geom.Vec{X: p.cut.x(i), Y: top})
		}
		for flat(lo - 1) {
			lo--
		}
		for flat(hi + 1) {
			hi++
		}
		x := p.cut.x((lo + hi) / 2)
		top, _ := p.cut.top(x)
		return geom.Vec{X: x, Y: top}, true
	}
	return geom.Vec{}, false
}

// carries reports whether the head is under both sides of a neck at g, at most
// a neck's width lower.
func (p *part) carries(g geom.Vec, width float64) bool {
	for _, side := range []float64{-0.5, 0.5} {
		if top, ok := p.cut.top(g.X + side*width); !ok || top < g.Y-width {
			return false
		}
	}
	return true
}

// neckDepth is how far the neck must reach below the gate so that its end lies
// in the head, and whether one was found in the upper 60 % of the column.
func (p *part) neckDepth(s SprueSpec) (float64, bool) {
	spans := p.cut.column(p.gate.at.X)
	last := spans[len(spans)-1]
	most := math.Max(0.4, 0.6*(last.hi-last.lo))
	w, t := s.GateWidth/2, s.GateThickness/2
	rim := []geom.Vec{{X: w}, {X: -w}, {Z: t}, {Z: -t}}
	for depth := 0.4; depth <= most; depth += 0.1 {
		in := true
		for _, r := range rim {
			if p.head.Evaluate(p.gate.at.Add(r).Sub(geom.Vec{Y: depth})) > -0.05 {
				in = false
				break
			}
		}
		if in {
			return depth, true
		}
	}
	return math.Min(1, most), false
}

package moldbox

import (
	"context"
	"fmt"
	"math"
	"slices"

	"halfpour/geom"
)

// betweenTol is how much nearer than asked neighbours may be before it is a
// finding: what the bounds of their boxes can be off by.
const betweenTol = 2 * reachTol

// leastBetween is the rubber between cavities below which they count as one
// hollow, mm.
const leastBetween = 0.1

// neighbours are two cavities of a row that are too near to each other.
type neighbours struct {
	a, b int
	nearness
	severity   Severity
	code, what string
}

// checkNeighbours finds cavities that run into each other or leave less rubber
// than asked between them, and wires that cross outside the mold. Of cavities that
// run into each other and of those that do not, the nearest are told, the others
// counted. At the pitch that is found from the solids there are none.
func (b *builder) checkNeighbours(ctx context.Context) {
	b.checkOutside(ctx)
	if b.spec.Frame.Pitch == 0 {
		return
	}
	near := b.nearNeighbours(ctx)
	for _, severity := range []Severity{Stop, Warn} {
		var worst *neighbours
		count := 0
		for i := range near {
			n := &near[i]
			if n.severity != severity {
				continue
			}
			count++
			if worst == nil || n.gap < worst.gap-betweenTol { // alike pairs differ by less
				worst = n
			}
		}
		if worst != nil {
			b.tooNear(ctx, worst, count)
		}
	}
}

// tooNear tells the worst of some pairs of neighbours.
func (b *builder) tooNear(ctx context.Context, worst *neighbours, pairs int) {
	f := Finding{Severity: worst.severity, Code: worst.code, Cavity: b.cavities[worst.a].Name, At: &worst.at,
		HeadAt: b.parts[worst.a].inFile(worst.at), Value: math.Max(0, worst.gap), Limit: b.spec.Frame.Between, Unit: "mm",
		Message: worst.what, Figures: []any{math.Ceil(10*roomyPitch(ctx, b.parts, b.spec)) / 10}}
	if pairs > 1 {
		f.Message += fmt.Sprintf(", the worst of %d pairs", pairs)
	}
	b.findings = append(b.findings, f)
}

// checkOutside finds wires of neighbours that cross where both are outside the
// mold: in it, their beds are looked at.
func (b *builder) checkOutside(ctx context.Context) {
	leaves := func(p *part) bool {
		return slices.ContainsFunc(p.wires, func(w partWire) bool { return w.axis.out > 0 })
	}
	cs := b.cavities
	for i := range cs {
		for j := range i {
			if ctx.Err() != nil || !leaves(b.parts[i]) || !leaves(b.parts[j]) {
				continue
			}
			if n, ok := nearest(cs[j].Wire, cs[i].Wire, leastOverlap); ok {
				b.findings = append(b.findings, Finding{Severity: Stop, Code: "wires-cross", Cavity: cs[j].Name, At: &n.at, HeadAt: b.parts[j].inFile(n.at),
					Value: math.Max(0, n.gap), Limit: leastOverlap, Unit: "mm",
					Message: "its wire runs into that of " + cs[i].Name, Cause: CrossOutside})
			}
		}
	}
}

// nearNeighbours looks at every pair of a row whose stretches along it come
// nearer than asked: a row at its own pitch has none.
func (b *builder) nearNeighbours(ctx context.Context) []neighbours {
	within := b.spec.Frame.Between - betweenTol
	cs := b.cavities
	along, whole := make([]span, len(cs)), make([]geom.Solid, len(cs))
	for i, p := range b.parts {
		left, right := p.sides(p.sprue)
		x := p.gate.at.X + p.move.X
		along[i], whole[i] = span{x - left, x + right}, cs[i].hollow()
	}
	var near []neighbours
	for i := range cs {
		for j := i + 1; j < len(cs); j++ {
			if ctx.Err() != nil || along[j].lo-along[i].hi >= within || along[i].lo-along[j].hi >= within {
				continue
			}
			if at, ok := nearest(whole[i], whole[j], within); ok {
				n := neighbours{a: i, b: j, nearness: at}
				n.describe(&cs[i], &cs[j], whole[i], whole[j])
				near = append(near, n)
			}
		}
	}
	return near
}

// hollow is all of a cavity that metal or wire fills up to the top edge, vents
// aside: they keep clear by themselves.
func (c *Placed) hollow() geom.Solid { return geom.Union(c.Head, c.Bed, c.toEdge) }

// describe says what the matter is between a and b.
func (n *neighbours) describe(a, b *Placed, wholeA, wholeB geom.Solid) {
	crosses := func(bed, whole geom.Solid) bool {
		if bed == nil {
			return false
		}
		_, ok := nearest(bed, whole, leastBetween)
		return ok
	}
	n.severity, n.code = Stop, "wire-crosses"
	switch {
	case n.gap >= leastBetween:
		n.severity, n.code = Warn, "cavities-too-near"
		n.what = "leaves too little rubber next to " + b.Name
		return
	case crosses(a.Bed, wholeB):
		n.what = "its hook runs into " + b.Name
	case crosses(b.Bed, wholeA):
		n.what = "the hook of " + b.Name + " runs into it"
	default:
		n.code = "cavities-collide"
		n.what = "runs into " + b.Name
	}
	if n.gap < 0 {
		n.what += fmt.Sprintf(", %.1f mm deep", -n.gap)
	}
}

package moldbox

import (
	"context"
	"fmt"
	"math"
	"sort"

	"halfpour/geom"
)

// checkCavities looks at each cavity by itself, vents aside; at those of one kind, as
// far from the top edge, once.
func (b *builder) checkCavities(ctx context.Context) []Finding {
	var all []Finding
	found := make([][]Finding, len(b.parts))
	for i, p := range b.parts {
		c, first := &b.cavities[i], &b.cavities[p.kind]
		if p.kind < i && math.Abs(c.Throat-first.Throat) < 1e-9 {
			found[i] = movedFindings(found[p.kind], first, c)
		} else {
			found[i] = checkCavity(ctx, p, c)
		}
		all = append(all, found[i]...)
	}
	return all
}

// checkCavity looks at one cavity by itself.
func checkCavity(ctx context.Context, p *part, c *Placed) []Finding {
	s := p.sprue
	var fs []Finding
	add := func(f Finding, at geom.Vec) {
		f.Cavity, f.At, f.HeadAt = c.Name, &at, p.inFile(at)
		fs = append(fs, f)
	}
	if p.AutoTurn {
		add(Finding{Severity: Note, Code: "turn-chosen", Value: p.Turn * 180 / math.Pi, Unit: "°",
			Message: fmt.Sprintf("turned by %.0f°: this traps the least air and, after that, takes the least rubber", p.Turn*180/math.Pi)}, c.Eye)
	}
	checkScale(p, c, add)
	if off := math.Abs(p.eyeOff); p.Hook != nil && off > leastOff {
		f := Finding{Severity: Warn, Code: "eye-off-parting", Value: off, Limit: leastOff, Unit: "mm",
			Message: fmt.Sprintf("the eye is %.2f mm off the parting plane; the mold puts it in the plane", off)}
		// Beyond its own radius the eye comes to lie beside the place that was given.
		if radius := p.Hook.EyeInside/2 + p.Hook.Wire; off > radius {
			f.Severity, f.Limit = Stop, radius
			f.Message = fmt.Sprintf("the eye is %.2f mm off the parting plane: a hook must lie in that plane", off)
			f.Cause = EyeElsewhere
		}
		add(f, c.Eye)
	}
	if !p.gate.clear {
		add(Finding{Severity: Stop, Code: "gate-on-hook", Value: p.bedDistance(p.gate.at), Limit: s.GateWidth/2 + leastRubber, Unit: "mm",
			Message: "the gate or the throat above it runs into a wire's bed"}, c.GateAt)
	}
	if math.Abs(p.gate.moved) > 1 {
		add(Finding{Severity: Note, Code: "gate-moved", Value: p.gate.moved, Limit: 1, Unit: "mm",
			Message: fmt.Sprintf("the neck comes straight down and meets the head %.1f mm above the gate you gave", p.gate.moved)}, c.GateAt)
	}
	if !p.gate.covered {
		add(Finding{Severity: Warn, Code: "gate-overhangs",
			Message: fmt.Sprintf("the neck of %.4g x %.4g mm is wider or thicker than the head under it", s.GateWidth, s.GateThickness)}, c.GateAt)
	}
	if gap, at := p.throatGap(); gap < math.Min(1, s.GateLength/2) {
		add(Finding{Severity: Warn, Code: "sprue-near-head", Value: math.Max(0, gap), Limit: math.Min(1, s.GateLength/2), Unit: "mm",
			Message: "too little rubber between the sprue and the head next to the gate"}, at.Add(p.move))
	}
	if long := c.Throat; long > longSprue*s.Throat {
		add(Finding{Severity: Note, Code: "long-sprue", Value: long, Limit: longSprue * s.Throat, Unit: "mm",
			Message: fmt.Sprintf("metal runs down a throat of %.4g mm for %.0f mm: it may freeze on the way", s.Throat, long)}, c.GateAt)
	}
	fs = append(fs, checkWires(ctx, p, c)...)
	return append(fs, checkHeld(ctx, p, c)...)
}

// longSprue is how many times its own width a throat may be long without a
// word (common practice, no source).
const longSprue = 10

// throatGap is the least rubber between the head and the sprue above its neck,
// and where, in the part's coordinates.
func (p *part) throatGap() (float64, geom.Vec) {
	s := p.sprue
	least, where := math.Inf(1), p.gate.at
	for up := s.GateLength; p.gate.at.Y+up < p.headBox.Max.Y+s.Mouth; up += 0.5 {
		w := s.halfWidth(up, p.gate.rise)
		for _, r := range []geom.Vec{{X: w}, {X: -w}, {Z: w}, {Z: -w}} {
			q := p.gate.at.Add(r).Add(geom.Vec{Y: up})
			if d := valueNear(p.head, q, least); d < least {
				least, where = d, q
			}
		}
	}
	return least, where
}

// checkPrintable finds features that the nozzle cannot make.
func (b *builder) checkPrintable() {
	spec := b.spec
	coat := 2 * spec.Finish.SealCoat // what stands on the floor is printed thinner by it
	small := func(what string, cause Cause, size float64) {
		if size < spec.Print.Nozzle-1e-9 {
			b.findings = append(b.findings, Finding{Severity: Warn, Code: "thinner-than-nozzle", Value: size, Limit: spec.Print.Nozzle, Unit: "mm",
				Message: what + " is thinner than the nozzle can print", Cause: cause})
		}
	}
	small("a vent", ThinVent, spec.Vents.Width-coat)
	small("the gate", ThinGate, spec.Sprue.GateWidth-coat)
	small("a stem of the marking", ThinStem, spec.Marking.Height/leastCapital)
	bed, hole, web := math.Inf(1), math.Inf(1), math.Inf(1)
	for _, p := range b.parts {
		for _, w := range p.wires {
			bed = math.Min(bed, w.axis.wire+2*w.fit)
			switch a := w.axis; {
			case a.ring > 0 && a.across:
				web = eyeWeb
			case a.ring > 0:
				hole = math.Min(hole, 2*a.ring-a.wire-2*w.fit)
			}
		}
	}
	small("a wire's bed", ThinBed, bed-coat)
	small("the hole for the rubber post in an eye's ring", ThinPost, hole+coat)
	small("the web in an eye turned across the plane", ThinWeb, web-coat)
}

// sortFindings puts the severe first and keeps the order of the checks.
func sortFindings(fs []Finding) {
	rank := map[Severity]int{Stop: 0, Warn: 1, Note: 2}
	sort.SliceStable(fs, func(i, j int) bool { return rank[fs[i].Severity] < rank[fs[j].Severity] })
}

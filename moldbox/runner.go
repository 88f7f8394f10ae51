package moldbox

import (
	"context"
	"fmt"
	"math"

	"halfpour/geom"
)

// Runner is the channel of a mold with one funnel: it comes down from the
// funnel, and from it arms run to both sides over each row, rising to their
// ends, with a branch down to every gate.
type Runner struct {
	Solid    geom.Solid // funnel, down and arms; it runs on past the top edge into the frame's wall
	Vent     geom.Solid // from the arms' ends to the top edge; nil when none has room
	Metal    geom.Solid // what metal fills of it up to the top edge, branches left out
	Diameter float64    // of the arms
	Down     float64    // diameter of the channel below the funnel
	Foot     geom.Vec   // where the channel below the funnel ends, in the lowest arms
}

// How much wider than the gates on it a runner is, by area: the gates stay the
// narrowest place, so that metal stands before all of them before it is through
// any (common practice, no source). By V/A it is to stay open longer than the
// gates: freezing time goes with its square.
const (
	runnerOverGates  = 1.2
	runnerOverGateVA = 1.25
)

// gateSection is the area of the neck, a slot with round sides, and V/A of a
// long bar of it.
func (s SprueSpec) gateSection() (area, modulus float64) {
	round := math.Min(s.GateWidth, s.GateThickness)
	long := math.Max(s.GateWidth, s.GateThickness) - round
	area = long*round + math.Pi/4*round*round
	return area, area / (2*long + math.Pi*round)
}

// runnerSize is how wide a runner is and why.
type runnerSize struct {
	arm, down float64 // radii
	why       string
}

// size sizes a runner of which an arm feeds at most onArm gates, and which feeds
// all of them.
func (r RunnerSpec) size(s SprueSpec, onArm, all int) runnerSize {
	area, modulus := s.gateSection()
	byArea := math.Sqrt(runnerOverGates * area * float64(onArm) / math.Pi)
	byModulus := 2 * runnerOverGateVA * modulus
	byBranch := s.Throat/2 + seam
	size := runnerSize{down: math.Max(s.Throat/2, math.Sqrt(runnerOverGates*area*float64(all)/math.Pi))}
	switch {
	case r.Diameter > 0:
		size.arm = r.Diameter / 2
		size.why = fmt.Sprintf("as asked: %.1f x the area of the gates on an arm, %.1f x the V/A of a gate",
			math.Pi*size.arm*size.arm/(area*float64(onArm)), size.arm/2/modulus)
	case byArea >= byModulus && byArea >= byBranch:
		size.arm = byArea
		size.why = fmt.Sprintf("%.2g x the area of the gates on an arm, %d at most, so that the gates are the narrowest and fill together",
			runnerOverGates, onArm)
	case byModulus >= byBranch:
		size.arm = byModulus
		size.why = fmt.Sprintf("%.3g x the V/A of a gate, so that it freezes after the gates", runnerOverGateVA)
	default:
		size.arm = byBranch
		size.why = "as wide as its branches, which have the sprue's throat"
	}
	return size
}

// branch is the sprue of one cavity: with a runner it has no funnel.
func (s Spec) branch() SprueSpec {
	b := s.Sprue
	if s.Runner.On {
		b.Mouth = b.Throat
	}
	return b
}

// feed is a runner in the layout.
type feed struct {
	runnerSize
	x    float64 // of the funnel
	rise float64 // of the arms, height over width
	rows []feedRow
}

// feedRow is the pair of arms over one row.
type feedRow struct{ y, left, right float64 } // y of the axis at the funnel, x of the ends

// height is the arms' axis over x.
func (f *feed) height(row int, x float64) float64 {
	return f.rows[row].y + math.Abs(x-f.x)*f.rise
}

// ends are the outer ends of a row's arms; one that feeds nothing has none.
func (f *feed) ends(row int) []geom.Vec {
	var ps []geom.Vec
	for _, x := range []float64{f.rows[row].left, f.rows[row].right} {
		if math.Abs(x-f.x) > f.arm {
			ps = append(ps, geom.Vec{X: x, Y: f.height(row, x)})
		}
	}
	return ps
}

// solid is the runner with its funnel. top is the rubber's edge, end where the
// funnel ends beyond it.
func (f *feed) solid(s SprueSpec, top, end float64) geom.Solid {
	foot := f.foot()
	parts := []geom.Solid{geom.Ball(foot, f.down)}
	parts = append(parts, f.funnel(s).funnel(f.x, foot.Y, top, end)...)
	for row := range f.rows {
		middle := geom.Vec{X: f.x, Y: f.rows[row].y}
		for _, p := range f.ends(row) {
			parts = append(parts, geom.Capsule(middle, p, f.arm))
		}
	}
	return geom.Union(parts...)
}

// foot is where the way down from the funnel ends.
func (f *feed) foot() geom.Vec { return geom.Vec{X: f.x, Y: f.rows[len(f.rows)-1].y} }

// funnel is the sprue's funnel over the runner's own throat, half as wide again
// at least.
func (f *feed) funnel(s SprueSpec) SprueSpec {
	s.Throat = 2 * f.down
	s.Mouth = math.Max(s.Mouth, 1.5*s.Throat)
	return s
}

// placeRunner makes the runner of the layout, still without vents.
func (b *builder) placeRunner(ctx context.Context) {
	f := b.row.feed
	if f == nil {
		return
	}
	b.runner = &Runner{Solid: f.solid(b.spec.Sprue, b.row.inside.Max.Y, b.beyond()), Diameter: 2 * f.arm, Down: 2 * f.down, Foot: f.foot()}
	b.findings = append(b.findings, Finding{Severity: Note, Code: "runner-sized",
		Message: fmt.Sprintf("the runner is %.1f mm across: %s; below the funnel %.1f mm", b.runner.Diameter, f.why, b.runner.Down)})
	b.checkRunner(ctx)
}

// checkRunner finds heads and beds that leave too little rubber to the runner.
func (b *builder) checkRunner(ctx context.Context) {
	for i := range b.cavities {
		if ctx.Err() != nil {
			return
		}
		c := &b.cavities[i]
		n, near := nearest(geom.Union(c.Head, c.Bed), b.runner.Solid, leastRubber-betweenTol)
		if !near {
			continue
		}
		b.findings = append(b.findings, Finding{Severity: Stop, Code: "runner-hits", Cavity: c.Name, At: &n.at, HeadAt: b.parts[i].inFile(n.at),
			Value: math.Max(0, n.gap), Limit: leastRubber, Unit: "mm", Message: "leaves too little rubber next to the runner"})
	}
}

// SharedRunner is the metal that all cavities share: that of the runner less the
// cavities' branches; nil without a runner.
func (m *Mold) SharedRunner() geom.Solid {
	if m.Runner == nil {
		return nil
	}
	var branches []geom.Solid
	for _, c := range m.Cavities {
		branches = append(branches, c.Sprue)
	}
	return geom.Subtract(m.Runner.Metal, branches...)
}

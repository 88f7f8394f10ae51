package moldbox

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"halfpour/geom"
)

func runnerSpec(n, rows int) Spec {
	spec := ballSpec(n)
	spec.Runner.On, spec.Layout.Rows = true, rows
	return spec
}

func TestGateSection(t *testing.T) {
	// 3 x 2.4: a rectangle of 0.6 x 2.4 between two half circles.
	area, modulus := Default().Sprue.gateSection()
	near(t, "area", area, 0.6*2.4+math.Pi*1.2*1.2, 1e-12)
	near(t, "V/A", modulus, area/(2*0.6+2*math.Pi*1.2), 1e-12)
}

func TestRunnerSize(t *testing.T) {
	s := Default().Sprue
	area, modulus := s.gateSection()
	thin := s
	thin.Throat = 1
	for _, c := range []struct {
		what       string
		sprue      SprueSpec
		diameter   float64
		onArm, all int
		arm, down  float64
	}{
		{"many gates: by area", s, 0, 6, 12, math.Sqrt(1.2 * 6 * area / math.Pi), math.Sqrt(1.2 * 12 * area / math.Pi)},
		{"one gate: as its branch", s, 0, 1, 1, 2.3, 2},
		{"one gate, thin branch: by V/A", thin, 0, 1, 1, 2 * 1.25 * modulus, math.Sqrt(1.2 * area / math.Pi)},
		{"as asked", s, 7, 6, 12, 3.5, math.Sqrt(1.2 * 12 * area / math.Pi)},
	} {
		size := RunnerSpec{Diameter: c.diameter}.size(c.sprue, c.onArm, c.all)
		near(t, c.what+": arm", size.arm, c.arm, 1e-12)
		near(t, c.what+": down", size.down, c.down, 1e-12)
		if size.why == "" {
			t.Errorf("%s: no reason", c.what)
		}
	}
}

func TestDealUnderRunner(t *testing.T) {
	for _, c := range []struct {
		parts, rows int
		want        []int
	}{
		{6, 1, []int{6}}, {6, 2, []int{2, 4}}, {8, 2, []int{4, 4}}, {5, 2, []int{2, 3}}, {3, 2, []int{1, 2}},
		{12, 3, []int{4, 4, 4}}, {9, 3, []int{2, 2, 5}}, {4, 4, []int{1, 1, 1, 1}},
	} {
		if got := dealUnderRunner(c.parts, c.rows); !slices.Equal(got, c.want) {
			t.Errorf("%d in %d rows: %v, want %v", c.parts, c.rows, got, c.want)
		}
	}
}

// Every gate hangs on the runner, every arm has a vent, all rubber is as thick
// as asked, and metal fills one piece from the funnel to every head.
func TestRunnerFeedsAll(t *testing.T) {
	const seed = 31
	r := rand.New(rand.NewPCG(seed, 1))
	for _, c := range []struct{ cavities, rows int }{{1, 1}, {3, 1}, {4, 2}, {7, 2}, {6, 3}} {
		spec := runnerSpec(c.cavities, c.rows)
		for i := range spec.Cavities {
			spec.Cavities[i].MetalVolume *= 0.6 + 0.8*r.Float64()
		}
		m := buildOf(t, spec)
		for _, f := range m.Findings {
			if f.Severity != Note {
				t.Errorf("%v: %s %s: %s", c, f.Severity, f.Code, f.Message)
			}
		}
		if !hasFinding(m, "runner-sized", Note) || m.Rows != c.rows {
			t.Errorf("%v: %d rows, findings %v", c, m.Rows, m.Findings)
		}
		top := m.Left.Inside.Max.Y
		if b := m.Runner.Solid.BoundingBox(); b.Max.Y < top || m.Runner.Metal.BoundingBox().Max.Y > top+1e-9 {
			t.Errorf("%v: the runner ends at %.2f, its metal at %.2f mm, the top edge is at %.2f", c, b.Max.Y, m.Runner.Metal.BoundingBox().Max.Y, top)
		}
		if c.cavities > 1 && m.Runner.Vent == nil {
			t.Errorf("%v: no vents", c)
		}
		for i := range m.Cavities {
			v := &m.Cavities[i]
			// From inside the runner down the branch, through the neck, into the head.
			filled := geom.Union(m.Runner.Solid, v.Sprue, v.Head)
			for y := v.GateAt.Y - 1; ; y += 0.1 {
				at := geom.Vec{X: v.GateAt.X, Y: y}
				if geom.Inside(m.Runner.Solid, at) {
					break
				}
				if !geom.Inside(filled, at) || y > top {
					t.Errorf("%v: the way to %s is blocked at %v", c, v.Name, at)
					break
				}
			}
			if n, near := nearest(m.Runner.Solid, geom.Union(v.Head, v.Bed), leastRubber-nearTol); near {
				t.Errorf("%v: %s is %.2f mm from the runner", c, v.Name, n.gap)
			}
		}
		if gap, found := leastGap(m, spec.Frame.Between+1); found && gap < spec.Frame.Between-nearTol {
			t.Errorf("seed %d, %v: %.3f mm between the nearest, want %.3f", seed, c, gap, spec.Frame.Between)
		}
	}
}

// Arms rise from the funnel to their ends, so that air runs ahead of the metal.
func TestRunnerRises(t *testing.T) {
	spec := runnerSpec(5, 1)
	spec.Runner.Rise = 5 * math.Pi / 180
	m := buildOf(t, spec)
	for i := range m.Cavities {
		x := m.Cavities[i].GateAt.X
		axis := geom.Vec{X: x, Y: m.Runner.Foot.Y + math.Abs(x-m.Runner.Foot.X)*math.Tan(spec.Runner.Rise)}
		if d := m.Runner.Solid.Evaluate(axis); d > -0.99*m.Runner.Diameter/2 {
			t.Errorf("cavity %d: the arm's axis is not at %v: %.2f mm inside", i, axis, -d)
		}
	}
}

// A vent starts on the surface of an arm's outer end, 30° off the top of it, and runs on
// into it; a cavity under a runner needs no vent of its own.
func TestRunnerVentsStartOnTheArms(t *testing.T) {
	spec := runnerSpec(3, 1)
	b := placedOf(t, spec)
	f := &feed{runnerSize: spec.Runner.size(spec.Sprue, 2, 3), rows: []feedRow{{y: 12, left: -30, right: 30}}}
	b.row.feed = f
	cavities := b.cavities
	b.cavities = nil
	b.placeRunner(context.Background())
	b.ventRunner(context.Background())
	for _, side := range []float64{-1, 1} {
		start := geom.Vec{X: side * (30 + f.arm/2), Y: 12 + f.arm*math.Sqrt(0.75)}
		near(t, "start on the arm", b.runner.Solid.Evaluate(start), 0, 1e-6)
		for up, inside := range map[float64]bool{-0.25: true, 0.2: true, -0.6: false} {
			if got := geom.Inside(b.runner.Vent, start.Add(geom.Vec{Y: up})); got != inside {
				t.Errorf("%g mm up from %v: in the vent is %v", up, start, got)
			}
		}
	}
	b.cavities = cavities
	if b.venting(context.Background(), 0).spec.Count != 0 {
		t.Error("cavities under a runner have vents of their own")
	}
}

// A wire that leaves the mold by the top edge runs into the runner.
func TestRunnerHits(t *testing.T) {
	spec := runnerSpec(2, 1)
	c := spec.Cavities[0]
	c.Keepers = []Keeper{{Name: "wire", Wire: 0.8, Fit: 0.05, Points: []geom.Vec{{X: -1, Y: 3}, {X: -60, Y: 3}}, Leaves: true}}
	spec.Cavities[0] = c
	if m := buildOf(t, spec); !hasFinding(m, "runner-hits", Stop) {
		t.Errorf("no stop among %v", m.Findings)
	}
}

// The funnel stands over the middle between a row's outer gates, and where the way
// down passes a row, over that.
func TestFunnelOverTheMiddle(t *testing.T) {
	spec := runnerSpec(3, 1)
	parts := partsOf(t, spec)
	f := &feed{runnerSize: spec.Runner.size(spec.Sprue, 2, 3)}
	a := newArranger(context.Background(), spec)
	xs := a.fedRow(parts, f, false).xs
	if len(xs) != 3 || xs[2] < 20 {
		t.Fatalf("gates at %v", xs)
	}
	near(t, "outer gates", xs[0]+xs[2], 0, 1e-9)
	xs = a.fedRow(parts[:2], f, true).xs
	if len(xs) != 2 || xs[0] > -f.down || xs[1] < f.down {
		t.Errorf("gates beside the way down at %v", xs)
	}
}

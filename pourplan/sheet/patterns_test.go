package sheet

import (
	"math"
	"strings"
	"testing"

	"halfpour/pourplan"

	"halfpour/geom"
	"halfpour/pourplan/internal/plantest"
)

func lengthOf(points []geom.Vec2, closed bool) float64 {
	sum := 0.0
	for i := 1; i < len(points); i++ {
		sum += points[i].Sub(points[i-1]).Norm()
	}
	if closed && len(points) > 1 {
		sum += points[0].Sub(points[len(points)-1]).Norm()
	}
	return sum
}

// A pattern is as long as its wire, and its box and ends are where the bends,
// followed by hand, take them.
func TestWirePatterns(t *testing.T) {
	for _, c := range []struct {
		name  string
		wire  pourplan.WirePlan
		size  geom.Vec2 // of the box, thickness included
		start geom.Vec2 // in it, y down
		end   geom.Vec2
	}{
		{"straight", pourplan.WirePlan{DiameterMM: 1, LengthMM: 20, Bends: []pourplan.BendPlan{{StraightMM: 20}}},
			geom.Vec2{X: 21, Y: 1}, geom.Vec2{X: 0.5, Y: 0.5}, geom.Vec2{X: 20.5, Y: 0.5}},
		{"sharp corner to the left, which is up", pourplan.WirePlan{DiameterMM: 1, LengthMM: 18, Bends: []pourplan.BendPlan{{StraightMM: 10, BendDeg: 90, InsideMM: 0}, {StraightMM: 8}}},
			geom.Vec2{X: 11, Y: 9}, geom.Vec2{X: 0.5, Y: 8.5}, geom.Vec2{X: 10.5, Y: 0.5}},
		// The axis bends round 2 + 0.5 mm.
		{"round bend to the right", pourplan.WirePlan{DiameterMM: 1, LengthMM: 16 + 2.5*math.Pi/2, Bends: []pourplan.BendPlan{{StraightMM: 10, BendDeg: -90, InsideMM: 2}, {StraightMM: 6}}},
			geom.Vec2{X: 13.5, Y: 9.5}, geom.Vec2{X: 0.5, Y: 0.5}, geom.Vec2{X: 13, Y: 9}},
		// A ring round 1.1 mm, axis 1.6 mm, before the leg.
		{"eye", pourplan.WirePlan{DiameterMM: 1, LengthMM: 10 + 2*math.Pi*1.6, Bends: []pourplan.BendPlan{{StraightMM: 0, BendDeg: 360, InsideMM: 1.1}, {StraightMM: 10}}},
			geom.Vec2{X: 14.2, Y: 4.2}, geom.Vec2{X: 3.7, Y: 2.1}, geom.Vec2{X: 13.7, Y: 2.1}},
	} {
		p := newWirePattern(c.wire)
		if got := lengthOf(p.axis, false) + lengthOf(p.ring, true); math.Abs(got-c.wire.LengthMM) > 0.03 {
			t.Errorf("%s: %.3f mm of wire are drawn, want %.3f", c.name, got, c.wire.LengthMM)
		}
		for _, at := range []struct {
			what      string
			got, want geom.Vec2
		}{{"size", p.size, c.size}, {"start", p.axis[0], c.start}, {"end", p.axis[len(p.axis)-1], c.end}} {
			if at.got.Sub(at.want).Norm() > 0.02 {
				t.Errorf("%s: %s is %v, want %v", c.name, at.what, at.got, at.want)
			}
		}
	}
}

// On paper patterns are in true size: the blank of a wire of 16 mm is 16 mm long,
// and the 50 mm of the bar are.
func TestPatternsAreTrueToSize(t *testing.T) {
	for name, drawings := range map[string][]pourplan.Drawing{"with the drawings": drawingsOf(t, plantest.Mold(t, 1)), "on a page of its own": nil} {
		pages, err := layOut(sheetPlan(t, plantest.Job(1, "")+plantest.Keepers(1)), drawings, nil, Letter)
		if err != nil {
			t.Fatal(err)
		}
		blanks, bars := 0, 0
		for _, p := range pages {
			if len(find([]*page{p}, "3 × spike 1")) == 0 {
				continue
			}
			for _, s := range p.shapes {
				for _, l := range s.loops {
					if l.closed || len(l.points) != 2 {
						continue
					}
					switch length := lengthOf(l.points, false); {
					case s.width == 0.8 && math.Abs(length-16) < 1e-9:
						blanks++
					case s.width == 0.5 && math.Abs(length-50) < 1e-9:
						bars++
					}
				}
			}
		}
		if blanks != 1 || bars != 1 {
			t.Errorf("%s: %d blanks of 16 mm and %d bars of 50 mm stand on one page, want 1 and 1", name, blanks, bars)
		}
		all := ""
		for _, text := range find(pages, "cut ") {
			all += text.text
		}
		if !strings.Contains(all, "0.8 mm thick; cut 16 mm (0.63 in)") {
			t.Errorf("%s: the words are %q", name, all)
		}
	}
}

package pourplan

import (
	"slices"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

// A map of five by three points comes out as three by two values, each the
// deepest of the points it stands for.
func TestDepthMap(t *testing.T) {
	m := depthMap(moldbox.DepthMap{Least: geom.Vec{X: 10, Y: -4}, Step: 0.25, NX: 5, NY: 3, Depths: []float32{
		0, 0.5, 0, 0, 1,
		0.25, 0, 0, 0, 0,
		0, 0, 0.125, 0.75, 0.3,
	}})
	if want := []string{"50 0 100", "0 75 30"}; !slices.Equal(m.Rows, want) {
		t.Errorf("rows %q, want %q", m.Rows, want)
	}
	if m.StepMM != 0.5 || m.LeastMM != [2]float64{10.125, -3.875} {
		t.Errorf("step %g mm from %v", m.StepMM, m.LeastMM)
	}
}

// A copy of an earlier cavity has its depths but no map of its own; a shallow
// undercut has none either.
func TestPlanDraw(t *testing.T) {
	deep := &moldbox.Drawn{Depth: 0.8, HeadAt: geom.Vec{X: 1, Y: 2, Z: 3}, Map: moldbox.DepthMap{Step: 0.25, NX: 1, NY: 1, Depths: []float32{0.8}}}
	m := moldbox.MeasuredCavity{Left: deep, Right: &moldbox.Drawn{}, BestParting: &moldbox.BestParting{Parting: 1.5, Depth: 0.2}}
	d := planDraw(m, true)
	if d.Left.DepthMM != 0.8 || *d.Left.HeadAtMM != [3]float64{1, 2, 3} || d.Left.Map == nil || *d.BestPartingMM != 1.5 || *d.BestDepthMM != 0.2 {
		t.Errorf("%+v", d)
	}
	if d.Right.DepthMM != 0 || d.Right.HeadAtMM != nil || d.Right.Map != nil {
		t.Errorf("right: %+v", d.Right)
	}
	if d := planDraw(m, false); d.Left.Map != nil || d.Left.DepthMM != 0.8 {
		t.Errorf("of a copy: %+v", d.Left)
	}
}

func TestPlanAir(t *testing.T) {
	air := planAir([]moldbox.AirPocket{{Volume: 9, Height: 2, HeadAt: geom.Vec{Y: 5}, Vent: 1}, {Volume: 3, Vent: -1}})
	if len(air) != 2 || air[0].Vent != 2 || air[0].VolumeMM3 != 9 || air[0].HeadAtMM != [3]float64{0, 5, 0} || air[1].Vent != 0 {
		t.Errorf("%+v", air)
	}
}

// A map is given from an undercut of 0.3 mm on; one whose sides are known on one
// half alone is none.
func TestPlanDrawBounds(t *testing.T) {
	drawn := func(depth float64) *moldbox.Drawn {
		return &moldbox.Drawn{Depth: depth, Map: moldbox.DepthMap{Step: 0.25, NX: 1, NY: 1, Depths: []float32{1}}}
	}
	for depth, mapped := range map[float64]bool{0.3: true, 0.299: false, 0.001: false} {
		d := planDraw(moldbox.MeasuredCavity{Left: drawn(depth), Right: drawn(0)}, true)
		if (d.Left.Map != nil) != mapped || d.Left.HeadAtMM == nil || d.Right.HeadAtMM != nil || d.BestPartingMM != nil {
			t.Errorf("%g mm: %+v", depth, d)
		}
	}
	if d := planDraw(moldbox.MeasuredCavity{Left: drawn(1)}, true); d != nil {
		t.Errorf("half known: %+v", d)
	}
	if d := planDraw(moldbox.MeasuredCavity{Right: drawn(1)}, true); d != nil {
		t.Errorf("half known: %+v", d)
	}
	air := planAir([]moldbox.AirPocket{{Volume: 9, Height: 2, Vent: 0}})
	if air[0].Vent != 1 || air[0].HeightMM != 2 {
		t.Errorf("%+v", air)
	}
}

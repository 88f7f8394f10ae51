package pourplan

import (
	"math"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

// By hand: with layers of 0.2 mm, cells that run 1.25, 2.5 and 5 mm a mm have steps of 0.25,
// 0.5 and 1 mm; 1.2 is narrower, 0 level. Each cell is 0.5 x 0.5 mm.
func TestStepDrawings(t *testing.T) {
	m := moldbox.RunMap{Step: 0.5, NX: 4, NY: 3, Least: geom.Vec{X: 10, Y: 20}, Runs: []float32{
		-1, 1.25, 1.3, -1,
		0, 2.5, 1.25, 1.2,
		5, 5, 5, 5,
	}}
	in := moldbox.Measured{Cavities: []moldbox.MeasuredCavity{{Name: "a"}, {Name: "b", Slopes: moldbox.Slopes{Mean: 0.4, Runs: [2]moldbox.RunMap{m, m}}}}}
	list := StepDrawings(in, &PrintPlan{LayerMM: 0.2})
	if len(list) != 2 {
		t.Fatalf("%d drawings", len(list))
	}
	for i, half := range []string{"left", "right"} {
		d := list[i]
		if want := "0.25 to 0.5 mm 30 %, 0.5 to 1 mm 10 %, over 1 mm 40 %"; d.Half != half || !strings.HasSuffix(d.Name, want) || !strings.Contains(d.Name, "layers of 0.20 mm leave on b") {
			t.Errorf("%s: %q", half, d.Name)
		}
		low, high := geom.Vec2{X: 9.75, Y: 19.75}, geom.Vec2{X: 11.75, Y: 21.25}
		if half == "right" { // seen from the other side
			low.X, high.X = -high.X, -low.X
		}
		if d.Low != low || d.High != high {
			t.Errorf("%s: from %v to %v", half, d.Low, d.High)
		}
		areas := map[AreaKind]float64{}
		for _, a := range d.Areas {
			for _, loop := range a.Outline {
				areas[a.Kind] += math.Abs(loopArea(loop))
			}
		}
		for kind, cells := range map[AreaKind]float64{HeadFlank: 10, NarrowSteps: 3, WideSteps: 1, WidestSteps: 4} {
			if math.Abs(areas[kind]-cells/4) > 1e-9 {
				t.Errorf("%s, %s: %g mm², want %g", half, kind, areas[kind], cells/4)
			}
		}
		if n := len(d.Areas[3].Outline[0]); n != 4 {
			t.Errorf("a row of four cells has %d corners", n)
		}
	}
	if list := StepDrawings(in, nil); list != nil {
		t.Error("steps before anything is meshed")
	}
	m.NX, m.NY = 2, 6
	if d := drawSteps("b", "left", m, 0.2); d.High.X-d.Low.X != 3 || d.High.Y-d.Low.Y != 1 {
		t.Errorf("a head that stands is drawn standing: %v to %v", d.Low, d.High)
	}
}

func loopArea(loop []geom.Vec2) (twice float64) {
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		twice += p.X*q.Y - q.X*p.Y
	}
	return twice / 2
}

// Whatever cells are inside, the outline holds just them.
func TestTracedCellsKeepTheirArea(t *testing.T) {
	place := func(i, j int) geom.Vec2 { return geom.Vec2{X: float64(i), Y: float64(j)} }
	for pattern := range 1 << 12 {
		area := 0.0
		cells := 0
		inside := func(i, j int) bool { return i >= 0 && j >= 0 && i < 4 && j < 3 && pattern>>(4*j+i)&1 == 1 }
		for k := range 12 {
			cells += pattern >> k & 1
		}
		for _, loop := range traceCells(4, 3, inside, place) {
			area += loopArea(loop) // holes run the other way
		}
		if area != float64(cells) {
			t.Fatalf("pattern %b: %g of %d", pattern, area, cells)
		}
	}
}

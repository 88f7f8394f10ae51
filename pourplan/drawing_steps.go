package pourplan

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"halfpour/geom"
	"halfpour/moldbox"
)

// Steps of layers on a head, by how wide they are.
const (
	HeadFlank   AreaKind = "flank"  // all of the head
	NarrowSteps AreaKind = "step-1" // from the least of StepWidths on
	WideSteps   AreaKind = "step-2"
	WidestSteps AreaKind = "step-3"
)

// StepKinds are the kinds of steps, the narrowest first; what is narrower is not drawn.
var StepKinds = [...]AreaKind{NarrowSteps, WideSteps, WidestSteps}

// StepWidths are the least widths of StepKinds, mm: from 1 mm on a step shows as a terrace
// (moldbox.StepWidth), one of a quarter only in a low light (common practice, no source).
var StepWidths = [len(StepKinds)]float64{0.25, 0.5, 1}

// StepDrawings are both flanks of the head that has the highest steps, as the casting shows
// them when printed with the plan's layers; none as long as nothing is meshed.
func StepDrawings(in moldbox.Measured, p *PrintPlan) (list []Drawing) {
	if p == nil || len(in.Cavities) == 0 {
		return nil
	}
	c := slices.MaxFunc(in.Cavities, func(a, b moldbox.MeasuredCavity) int { return cmp.Compare(a.Slopes.Mean, b.Slopes.Mean) })
	for i, m := range c.Slopes.Runs {
		if m.Step > 0 {
			list = append(list, drawSteps(c.Name, [2]string{"left", "right"}[i], m, p.LayerMM))
		}
	}
	return list
}

// drawSteps draws a flank as one looks at it: the right one from the right.
func drawSteps(head, half string, m moldbox.RunMap, layer float64) Drawing {
	kind := make([]int, len(m.Runs)) // how many of StepWidths a cell reaches; -1 without a head
	var seen [len(StepKinds) + 1]int
	cells := 0
	for k, run := range m.Runs {
		if kind[k] = -1; run < 0 {
			continue
		}
		kind[k] = 0
		for _, least := range StepWidths {
			if layer*float64(run) >= least {
				kind[k]++
			}
		}
		seen[kind[k]]++
		cells++
	}
	across := 1.0
	if half == "right" {
		across = -1
	}
	upright := m.NY > m.NX // laid down, the mouth of the sprue to the left
	place := func(i, j int) geom.Vec2 {
		p := geom.Vec2{X: across * (m.Least.X + (float64(i)-0.5)*m.Step), Y: m.Least.Y + (float64(j)-0.5)*m.Step}
		if upright {
			return geom.Vec2{X: -p.Y, Y: p.X}
		}
		return p
	}
	inside := func(is func(int) bool) func(i, j int) bool {
		return func(i, j int) bool { return i >= 0 && j >= 0 && i < m.NX && j < m.NY && is(kind[j*m.NX+i]) }
	}
	d := Drawing{Half: half, View: Flank}
	u, v := place(0, 0), place(m.NX, m.NY)
	d.Low, d.High = geom.Vec2{X: min(u.X, v.X), Y: min(u.Y, v.Y)}, geom.Vec2{X: max(u.X, v.X), Y: max(u.Y, v.Y)}
	d.Areas = []Area{{HeadFlank, traceCells(m.NX, m.NY, inside(func(k int) bool { return k >= 0 }), place)}}
	percent := make([]string, len(StepKinds))
	for i, of := range StepKinds {
		d.Areas = append(d.Areas, Area{of, traceCells(m.NX, m.NY, inside(func(k int) bool { return k == i+1 }), place)})
		percent[i] = fmt.Sprintf("%s %.0f %%", StepRange(i), 100*float64(seen[i+1])/math.Max(1, float64(cells)))
	}
	d.Dimensions = []Dimension{{From: d.Low, To: geom.Vec2{X: d.High.X, Y: d.Low.Y}, Side: Bottom, Text: dimensionText(d.High.X - d.Low.X)}}
	d.Name = fmt.Sprintf("%s half, steps that layers of %s leave on %s, as it comes out of it; the darker the wider: %s", half, LayerText(layer), head, strings.Join(percent, ", "))
	return d
}

// StepRange says how wide the steps of one of StepKinds are.
func StepRange(i int) string {
	if i == len(StepWidths)-1 {
		return fmt.Sprintf("over %g mm", StepWidths[i])
	}
	return fmt.Sprintf("%g to %g mm", StepWidths[i], StepWidths[i+1])
}

// traceCells is the outline of the cells of a grid that are inside, its corners placed.
func traceCells(nx, ny int, inside func(i, j int) bool, place func(i, j int) geom.Vec2) (out geom.Outline) {
	type corner [2]int
	next := map[corner][]corner{} // along the edges, with the inside to the left
	var starts []corner
	edge := func(from, to corner) {
		next[from], starts = append(next[from], to), append(starts, from)
	}
	for j := range ny {
		for i := range nx {
			if !inside(i, j) {
				continue
			}
			a, b, c, d := corner{i, j}, corner{i + 1, j}, corner{i + 1, j + 1}, corner{i, j + 1}
			for _, e := range []struct {
				open     bool
				from, to corner
			}{{!inside(i, j-1), a, b}, {!inside(i+1, j), b, c}, {!inside(i, j+1), c, d}, {!inside(i-1, j), d, a}} {
				if e.open {
					edge(e.from, e.to)
				}
			}
		}
	}
	for _, start := range starts {
		var loop []geom.Vec2
		var was corner
		for at := start; len(next[at]) > 0; {
			to := next[at][0]
			next[at] = next[at][1:]
			way := corner{to[0] - at[0], to[1] - at[1]}
			if way != was { // straight on needs no corner
				loop = append(loop, place(at[0], at[1]))
			}
			at, was = to, way
		}
		if len(loop) > 0 {
			out = append(out, loop)
		}
	}
	return out
}

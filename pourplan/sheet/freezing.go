package sheet

import (
	"fmt"
	"math"
	"slices"

	"halfpour/geom"
	"halfpour/moldbox"
)

// freezeMap is when the metal along the parting plane is solid, cell by cell.
type freezeMap struct {
	nx, ny int
	step   float64   // mm of the mold
	after  []float64 // s from the pour; NaN where there is no metal
}

// solidShare is from when on a cell counts as solid.
const solidShare = 0.99

// newFreezeMap reads the times off a cut's moments, in straight lines between them; what
// is not solid at the last of them is after all s. It leaves out what is round the
// metal, and is false without metal.
func newFreezeMap(c moldbox.HeatCut, all float64) (freezeMap, bool) {
	low, high := [2]int{c.NX, c.NY}, [2]int{-1, -1}
	after := make([]float64, c.NX*c.NY)
	for k := range after {
		after[k] = math.NaN()
		for t, solid := range c.Solid {
			s := float64(solid[k])
			if s < 0 {
				break
			}
			if s < solidShare {
				after[k] = math.Max(all, c.Times[t])
				continue
			}
			after[k] = c.Times[t]
			if t > 0 {
				was := float64(c.Solid[t-1][k])
				after[k] -= (c.Times[t] - c.Times[t-1]) * (s - solidShare) / math.Max(s-was, 1e-9)
			}
			break
		}
		if !math.IsNaN(after[k]) {
			i, j := k%c.NX, k/c.NX
			low, high = [2]int{min(low[0], i), min(low[1], j)}, [2]int{max(high[0], i), max(high[1], j)}
		}
	}
	if high[0] < 0 {
		return freezeMap{}, false
	}
	m := freezeMap{nx: high[0] - low[0] + 1, ny: high[1] - low[1] + 1, step: c.Step}
	for j := low[1]; j <= high[1]; j++ {
		m.after = append(m.after, after[j*c.NX+low[0]:j*c.NX+high[0]+1]...)
	}
	return m, true
}

// lying is the map with its longer side level: turned by a right angle, the mouth of
// the sprue to the left.
func (m freezeMap) lying() freezeMap {
	if m.nx >= m.ny {
		return m
	}
	t := freezeMap{nx: m.ny, ny: m.nx, step: m.step, after: make([]float64, len(m.after))}
	for j := range m.ny {
		for i := range m.nx {
			t.after[i*t.nx+(m.ny-1-j)] = m.after[j*m.nx+i]
		}
	}
	return t
}

// last is the middle of what is solid last, in cells, and when that is.
func (m freezeMap) last() (x, y, after float64) {
	for _, t := range m.after {
		if t > after {
			after = t
		}
	}
	n := 0.0
	for k, t := range m.after {
		if t >= 0.97*after {
			x, y, n = x+float64(k%m.nx)+0.5, y+float64(k/m.nx)+0.5, n+1
		}
	}
	return x / n, y / n, after
}

// freezeShades fill the quarters of the time that a shot takes, the earliest first.
var freezeShades = []float64{0.9, 0.72, 0.5, 0.2}

// freezing draws when the metal is solid: the later, the darker, with a ring round the
// last place. It fits at, and returns the width that it took.
func (s *sheet) freezing(p *page, at region, cuts []moldbox.HeatCut, solid float64) float64 {
	if len(cuts) == 0 {
		return 0
	}
	m, ok := newFreezeMap(cuts[0], solid)
	if !ok {
		return 0
	}
	m = m.lying()
	const legend = 30.0
	cell := math.Min((at.width-legend)/float64(m.nx), at.height/float64(m.ny))
	i, j, all := m.last()
	top := at.y + at.height
	shade := func(t float64) int {
		return min(len(freezeShades)-1, int(t/all*float64(len(freezeShades))))
	}
	for row := range m.ny {
		y := top - float64(row+1)*cell
		for from := 0; from < m.nx; {
			to := from + 1
			if math.IsNaN(m.after[row*m.nx+from]) {
				from = to
				continue
			}
			k := shade(m.after[row*m.nx+from])
			for to < m.nx && !math.IsNaN(m.after[row*m.nx+to]) && shade(m.after[row*m.nx+to]) == k {
				to++
			}
			p.rectangle(at.x+float64(from)*cell, y, float64(to-from)*cell, cell, none, freezeShades[k])
			from = to
		}
	}
	p.shapes = append(p.shapes, pageShape{loops: []pageLoop{{ring(at.x+i*cell, top-j*cell, 1.6), true}}, fill: none, width: 0.35})
	x := at.x + float64(m.nx)*cell + 3
	y := at.y
	p.text(x, y+smallStyle.ascent(), smallBold, alignLeft, "solid after, at about")
	y += smallStyle.lineHeight() + 0.3
	for k, gray := range freezeShades {
		square := geom.Vec2{X: x + float64(k%2)*legend/2, Y: y + float64(k/2)*(smallStyle.lineHeight()+0.2)}
		p.rectangle(square.X, square.Y+0.4, 2.6, 2.6, 0.15, gray)
		p.text(square.X+3.6, square.Y+smallStyle.ascent(), smallStyle, alignLeft, fmt.Sprintf("%.0f s", all*float64(k+1)/float64(len(freezeShades))))
	}
	y += 2*(smallStyle.lineHeight()+0.2) + 0.3
	p.text(x, y+smallStyle.ascent(), smallStyle, alignLeft, "ring: the last of all")
	return float64(m.nx)*cell + 3 + legend
}

// ring is a circle of straight sides.
func ring(x, y, r float64) (points []geom.Vec2) {
	for k := range 24 {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / 24)
		points = append(points, geom.Vec2{X: x + r*cos, Y: y + r*sin})
	}
	return slices.Clip(points)
}

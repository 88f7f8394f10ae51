package page

import (
	"strconv"
	"strings"

	"halfpour/pourplan"
)

// depthBands are what the depths of undercut maps are sorted into, mm: the
// least of each.
var depthBands = []float64{0.3, 0.6, 1, 2}

// markUndercut lays the undercut maps of a half's heads over its drawing from
// above, a path for each band of depths, and says in the drawing's name that it
// did.
func markUndercut(d *svg, of pourplan.Drawing, heads []pourplan.HeadPlan) {
	if of.View != pourplan.Above {
		return
	}
	bands := make([]strings.Builder, len(depthBands))
	for _, h := range heads {
		if h.Draw == nil {
			continue
		}
		m, across := h.Draw.Left.Map, 1.0
		if of.Half == "right" { // its tray is the mold turned about y
			m, across = h.Draw.Right.Map, -1
		}
		if m != nil {
			addSquares(bands, m, across)
		}
	}
	marked := false
	for i := range bands {
		if bands[i].Len() > 0 {
			d.Shapes = append(d.Shapes, shape{"undercut-" + strconv.Itoa(i+1), bands[i].String()})
			marked = true
		}
	}
	if marked {
		d.Name += ", with what the rubber must give way to: the darker the deeper"
	}
}

// addSquares adds a square for each value of a map to the band of its depth.
func addSquares(bands []strings.Builder, m *pourplan.DepthMap, across float64) {
	side := mm(m.StepMM)
	for j, row := range m.Rows {
		for i, word := range strings.Fields(row) {
			hundredths, err := strconv.Atoi(word)
			if err != nil {
				continue
			}
			band := -1
			for k, least := range depthBands {
				if float64(hundredths) >= 100*least {
					band = k
				}
			}
			if band < 0 {
				continue
			}
			x := across*(m.LeastMM[0]+float64(i)*m.StepMM) - m.StepMM/2
			y := -(m.LeastMM[1] + float64(j)*m.StepMM) - m.StepMM/2
			bands[band].WriteString("M" + mm(x) + " " + mm(y) + "h" + side + "v" + side + "h-" + side + "z")
		}
	}
}

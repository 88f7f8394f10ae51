package sheet

import (
	"fmt"
	"strings"

	"halfpour/pourplan"
)

// wirePages set the patterns of wires on pages of their own, each with a bar to
// check the printer by.
func (s *sheet) wirePages(plan *pourplan.Plan) {
	for list := patternsOf(plan); len(list) > 0; {
		p, body := s.newPage("Cut and bend")
		s.scaleBar(p, s.barRegion(body))
		body.height -= barRoom
		list, _ = s.patterns(p, body, list)
	}
}

// bendText tells how to bend a wire, such as "eye 2 mm inside; 12.4; 90° round
// 1; 8": straight stretches in mm, bends with their inside radius.
func bendText(w pourplan.WirePlan) string {
	var parts []string
	for _, b := range w.Bends {
		if b.BendDeg == 360 {
			parts = append(parts, "eye "+pourplan.FormatNumber(2*b.InsideMM, 2)+" mm inside")
			continue
		}
		if b.StraightMM > 0 {
			parts = append(parts, pourplan.FormatNumber(b.StraightMM, 1))
		}
		if b.BendDeg != 0 {
			turn := fmt.Sprintf("%+.0f°", b.BendDeg)
			if b.InsideMM > 0 {
				turn += " round " + pourplan.FormatNumber(b.InsideMM, 1)
			}
			parts = append(parts, turn)
		}
	}
	if len(parts) == 1 && len(w.Bends) == 1 {
		return "straight"
	}
	return strings.Join(parts, "; ")
}

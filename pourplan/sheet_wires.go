package pourplan

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// wireRow is the height of a row of the list of wires, and mostWireRows how
// many leave room for the steps of casting beside them.
const wireRow, mostWireRows = 4.7, 8

// wireTable lists the wires that are to be cut and bent for one shot, on a page
// of its own when there are many. It returns the page to go on with, and from
// where down.
func (s *sheet) wireTable(p *page, body region, y float64, plan *Plan) (*page, float64) {
	columns := []tableColumn{{0.07, "a shot"}, {0.19, "wire to cut"}, {0.08, "mm thick"}, {0.17, "length"},
		{0.49, "bend, left + and right - as seen from the left"}}
	var rows [][]string
	for _, w := range wiresToCut(plan) {
		for i, text := range s.faces.wrap(smallStyle, bendText(w), columns[4].share*body.width-3) {
			row := []string{"", "", "", "", text}
			if i == 0 {
				mm := math.Ceil(w.LengthMM)
				row = []string{strconv.Itoa(w.Count), w.Name, trimmed(w.DiameterMM, 2), fmt.Sprintf("%.0f mm (%.2f in)", mm, mm/MMPerInch), text}
			}
			rows = append(rows, row)
		}
	}
	if len(rows) == 0 {
		return p, y
	}
	const gap = 2.5
	if len(rows) <= mostWireRows {
		return p, s.table(p, region{body.x, y, body.width, 0}, columns, rows, wireRow) + gap
	}
	for len(rows) > 0 {
		own, room := s.newPage("Cut and bend")
		n := min(len(rows), int(room.height/wireRow)-2)
		s.table(own, region{room.x, room.y, room.width, 0}, columns, rows[:n], wireRow)
		rows = rows[n:]
	}
	return p, y
}

// wiresToCut are the kinds of wire that are bent at the bench, with how many
// of each a shot takes.
func wiresToCut(plan *Plan) []WirePlan {
	var list []WirePlan
	for _, h := range plan.Heads {
		for _, w := range h.Wires {
			if !w.ToCut {
				continue
			}
			if i := slices.IndexFunc(list, w.alike); i >= 0 {
				list[i].Count += w.Count
			} else {
				list = append(list, w)
			}
		}
	}
	return list
}

// bendText tells how to bend a wire, such as "eye 2 mm inside; 12.4; 90° round
// 1; 8": straight stretches in mm, bends with their inside radius.
func bendText(w WirePlan) string {
	var parts []string
	for _, b := range w.Bends {
		if b.BendDeg == 360 {
			parts = append(parts, "eye "+trimmed(2*b.InsideMM, 2)+" mm inside")
			continue
		}
		if b.StraightMM > 0 {
			parts = append(parts, trimmed(b.StraightMM, 1))
		}
		if b.BendDeg != 0 {
			turn := fmt.Sprintf("%+.0f°", b.BendDeg)
			if b.InsideMM > 0 {
				turn += " round " + trimmed(b.InsideMM, 1)
			}
			parts = append(parts, turn)
		}
	}
	if len(parts) == 1 && len(w.Bends) == 1 {
		return "straight"
	}
	return strings.Join(parts, "; ")
}

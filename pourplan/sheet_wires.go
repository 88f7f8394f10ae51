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

var wireColumns = []tableColumn{{0.07, "a shot"}, {0.19, "wire to cut"}, {0.08, "mm thick"}, {0.17, "length"},
	{0.49, "bend, left + and right - as seen from the left"}}

// wireRows list the wires that are to be cut and bent for one shot, in a table
// so wide.
func (s *sheet) wireRows(plan *Plan, width float64) [][]string {
	var rows [][]string
	for _, w := range wiresToCut(plan) {
		for i, text := range s.faces.wrap(smallStyle, bendText(w), wireColumns[4].share*width-3) {
			row := []string{"", "", "", "", text}
			if i == 0 {
				mm := math.Ceil(w.LengthMM)
				row = []string{strconv.Itoa(w.Count), w.Name, trimmed(w.DiameterMM, 2), fmt.Sprintf("%.0f mm (%.2f in)", mm, mm/MMPerInch), text}
			}
			rows = append(rows, row)
		}
	}
	return rows
}

// wireTable sets the list of wires on the page of casting and returns where it
// ends.
func (s *sheet) wireTable(p *page, body region, y float64, plan *Plan) float64 {
	const gap = 2.5
	rows := s.wireRows(plan, body.width)
	if len(rows) == 0 {
		return y
	}
	return s.table(p, region{body.x, y, body.width, 0}, wireColumns, rows, wireRow) + gap
}

// wirePages set the list of wires and their patterns on pages of their own,
// each with a bar to check the printer by.
func (s *sheet) wirePages(plan *Plan) {
	list := patternsOf(plan)
	if len(list) == 0 {
		return
	}
	page := func() (*page, region) {
		p, body := s.newPage("Cut and bend")
		s.scaleBar(p, s.barRegion(body))
		body.height -= barRoom
		return p, body
	}
	p, body := page()
	for rows := s.wireRows(plan, body.width); len(rows) > 0; {
		n := min(len(rows), int(body.height/wireRow)-1)
		end := s.table(p, region{body.x, body.y, body.width, 0}, wireColumns, rows[:n], wireRow) + 2*patternFall
		body.y, body.height = end, body.height-(end-body.y)
		if rows = rows[n:]; len(rows) > 0 {
			p, body = page()
		}
	}
	if s.patternsNeed(list, body.width) > body.height {
		p, body = page()
	}
	for list, _ = s.patterns(p, body, list); len(list) > 0; list, _ = s.patterns(p, body, list) {
		p, body = page()
	}
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

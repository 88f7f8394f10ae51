package page

import (
	"encoding/json"
	"fmt"
	"slices"

	"halfpour/pourplan"
)

// findings are the checks' findings, alike ones of several cavities once. Index
// is of the group: scripts find its places by it.
func (b builder) findings() []finding {
	var list []finding
	for i, g := range pourplan.GroupFindings(b.plan.Findings) {
		v := finding{Severity: g.Severity, Mark: g.Mark, Cavity: g.Where(), Message: g.Message, Remedy: g.Remedy, Index: i,
			Limit: pourplan.FormatLimit(g.Value, g.Limit, g.Unit), Shown: g.AtMM != nil}
		if place := g.Place(); place != "" {
			v.Place = place + " mm of the head"
		}
		list = append(list, v)
	}
	return list
}

// draw tells how heads come out of the rubber, and what the vents are for;
// heads like the one before are left out.
func (b builder) draw() section {
	under := table{Caption: "How far the rubber must stretch", Head: []string{"head", "left half", "right half"}}
	air := table{Caption: "Air that would stay without vents", Head: []string{"head", "volume", "height", "leaves by"}}
	for i, h := range b.plan.Heads {
		at := fmt.Sprintf("heads.%d.", i)
		if d := h.Draw; d != nil && (i == 0 || !sameDraw(d, b.plan.Heads[i-1].Draw)) {
			under.Rows = append(under.Rows, [][]figure{{text("%s", h.Name)}, {b.show(at+"draw.left.depth_mm", millimetres)}, {b.show(at+"draw.right.depth_mm", millimetres)}})
		}
		if i > 0 && slices.EqualFunc(h.Air, b.plan.Heads[i-1].Air, func(p, q pourplan.AirPlan) bool { return p == q }) {
			continue
		}
		for k, p := range h.Air {
			pocket := fmt.Sprintf("%sair.%d.", at, k)
			by := []figure{text("no vent: it stays")}
			if p.Vent > 0 {
				by = []figure{text("vent "), b.show(pocket+"vent_number", count)}
			}
			air.Rows = append(air.Rows, [][]figure{{text("%s", h.Name)}, {b.show(pocket+"volume_mm3", cubic)}, {b.show(pocket+"height_mm", millimetres)}, by})
		}
	}
	var s section
	for _, t := range []table{under, air} {
		if len(t.Rows) > 0 {
			s.Tables = append(s.Tables, t)
		}
	}
	return s
}

func cubic(v float64) string { return fmt.Sprintf("%.2f mm³", v) }

func sameDraw(a, b *pourplan.DrawPlan) bool {
	return b != nil && a.Left.DepthMM == b.Left.DepthMM && a.Right.DepthMM == b.Right.DepthMM
}

// onTray are the findings that are about the printed trays, or about rubber
// being poured into them; the rest are seen in the rubber.
var onTray = []string{"overhang", "bubble", "thinner-than-nozzle"}

// spot is where a finding is, for the scripts.
type spot struct {
	Index    int     `json:"index"` // of its group
	Mark     string  `json:"mark"`
	Severity string  `json:"severity"`
	At       geom3   `json:"at"` // mold coordinates
	Stage    string  `json:"stage"`
	Value    float64 `json:"value"`
}

func spots(p *pourplan.Plan) (string, error) {
	list := []spot{}
	for i, g := range pourplan.GroupFindings(p.Findings) {
		for _, k := range g.Members {
			f := p.Findings[k]
			if f.AtMM == nil {
				continue
			}
			s := spot{Index: i, Mark: f.Mark, Severity: f.Severity, At: geom3(*f.AtMM), Stage: "cast", Value: f.Value}
			if slices.Contains(onTray, f.Code) {
				s.Stage = "print"
			}
			list = append(list, s)
		}
	}
	data, err := json.Marshal(list)
	return string(data), err
}

package page

import (
	"encoding/json"
	"fmt"
	"slices"

	"halfpour/pourplan"
)

func (b builder) findings() []finding {
	var list []finding
	for i, f := range b.plan.Findings {
		v := finding{Severity: f.Severity, Mark: f.Mark, Cavity: f.Cavity, Message: f.Message, Remedy: f.Remedy, Index: i,
			Limit: pourplan.FormatLimit(f.Value, f.Limit, f.Unit), Shown: f.AtMM != nil}
		if at := f.HeadAtMM; at != nil {
			v.Place = fmt.Sprintf("(%.1f, %.1f, %.1f) mm of the head", at[0], at[1], at[2])
		}
		list = append(list, v)
	}
	return list
}

// onTray are the findings that are about the printed trays, or about rubber
// being poured into them; the rest are seen in the rubber.
var onTray = []string{"overhang", "bubble", "thinner-than-nozzle"}

// spot is where a finding is, for the scripts.
type spot struct {
	Index    int     `json:"index"`
	Mark     string  `json:"mark"`
	Severity string  `json:"severity"`
	At       geom3   `json:"at"` // mold coordinates
	Stage    string  `json:"stage"`
	Value    float64 `json:"value"`
}

func spots(p *pourplan.Plan) (string, error) {
	list := []spot{}
	for i, f := range p.Findings {
		if f.AtMM == nil {
			continue
		}
		s := spot{Index: i, Mark: f.Mark, Severity: f.Severity, At: geom3(*f.AtMM), Stage: "cast", Value: f.Value}
		if slices.Contains(onTray, f.Code) {
			s.Stage = "print"
		}
		list = append(list, s)
	}
	data, err := json.Marshal(list)
	return string(data), err
}

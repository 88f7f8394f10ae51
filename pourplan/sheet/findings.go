package sheet

import (
	"fmt"
	"strings"

	"halfpour/moldbox"
	"halfpour/pourplan"
)

// findings sets the first of what the checks say to stop or to look out for,
// and how many more there are. It returns where that ends: at.y when there is
// nothing.
func (s *sheet) findings(p *page, at region, found []pourplan.PlanFinding, most int) float64 {
	var texts []string
	for _, f := range found {
		if f.Severity == string(moldbox.Note) {
			continue
		}
		text := pourplan.Capitalise(f.Severity)
		if f.Mark != "" {
			text += " " + f.Mark
		}
		if f.Cavity != "" {
			text += ", " + f.Cavity
		}
		text += ": " + f.Message
		if limit := pourplan.FormatLimit(f.Value, f.Limit, f.Unit); limit != "" {
			text += " (" + limit + ")"
		}
		text += "."
		if f.Remedy != "" {
			text += " " + pourplan.Capitalise(f.Remedy) + "."
		}
		texts = append(texts, text)
	}
	if len(texts) == 0 {
		return at.y
	}
	heading := "What the checks say of this mold"
	if more := len(texts) - most; more > 0 {
		heading += fmt.Sprintf(" (%d more in the plan)", more)
		texts = texts[:most]
	}
	y := s.paragraph(p, at.x, at.y, at.width, smallBold, heading)
	for _, t := range texts {
		lines := s.faces.wrap(smallStyle, s.faces.printable(t), at.width)
		if len(lines) > 2 {
			lines = append(lines[:1], s.faces.clip(smallStyle, strings.Join(lines[1:], " "), at.width))
		}
		y = s.paragraph(p, at.x, y, at.width, smallStyle, strings.Join(lines, " "))
	}
	return y + 1
}

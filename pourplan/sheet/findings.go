package sheet

import (
	"math"
	"strings"

	"halfpour/moldbox"
	"halfpour/pourplan"
)

// The sheet names every finding that matters at the bench (Plan.AtBench), merged as
// on the terminal.

const findingsHeading = "What the checks say about this mold"

// findingText is a finding in full sentences, with what to change or without.
func findingText(g pourplan.FindingGroup, remedy bool) (head, text string) {
	head = pourplan.Capitalise(g.Severity)
	if g.Severity == string(moldbox.Warn) {
		head = "Warning"
	}
	if g.Mark != "" {
		head += " " + g.Mark
	}
	if where := g.Where(); where != "" {
		text = pourplan.Capitalise(where) + ": "
	}
	text += g.Message
	if limit := pourplan.FormatLimit(g.Value, g.Limit, g.Unit); limit != "" {
		text += " (" + limit + ")"
	}
	text += "."
	if remedy && g.Remedy != "" {
		text += " " + pourplan.Capitalise(g.Remedy) + "."
	}
	return head, text
}

// findings sets findings under a heading, stops always with what to change. It
// returns where they end.
func (s *sheet) findings(p *page, at region, list []pourplan.FindingGroup, remedies bool) float64 {
	y := s.paragraph(p, at.x, at.y, at.width, smallBold, findingsHeading) + 0.4
	for _, g := range list {
		head, text := findingText(g, remedies || g.Severity == string(moldbox.Stop))
		y = s.runIn(p, region{at.x, y, at.width, 0}, smallStyle, head, text) + 0.5
	}
	return y + 1
}

// besideFindings sets the findings at the foot of the drawings: with what to
// change, if the views from above keep their scale; else without it, if the views
// stay large enough; else on pages of their own, later. It returns the figures
// again, and what they may fill.
func (s *sheet) besideFindings(p *page, drawings []pourplan.Drawing, plan *pourplan.Plan, rows []figureRow, body region) ([]figureRow, region) {
	list := plan.AtBench()
	if len(list) == 0 {
		return rows, body
	}
	scale := rows[0].figures[0].scale
	for _, way := range []struct {
		remedies bool
		least    float64 // scale
	}{{true, scale}, {false, scale}, {false, math.Min(scale, leastScale)}} {
		less := body
		less.height -= s.findings(&page{}, region{body.x, 0, body.width, 0}, list, way.remedies)
		fewer, err := s.arrange(drawings, less)
		if err != nil || fewer[0].figures[0].scale < way.least {
			continue
		}
		s.findings(p, region{body.x, body.y + less.height, body.width, 0}, list, way.remedies)
		s.said = true
		return fewer, less
	}
	return rows, body
}

// findingPages set the findings on pages of their own.
func (s *sheet) findingPages(plan *pourplan.Plan) {
	for list := plan.AtBench(); len(list) > 0; {
		p, body := s.newPage("Checks")
		n := len(list)
		for n > 1 && s.findings(&page{}, body, list[:n], true) > body.y+body.height {
			n--
		}
		s.findings(p, body, list[:n], true)
		list = list[n:]
	}
}

// mostStops is how many stops the banner names.
const mostStops = 4

// stopBanner says on top of a page that this mold was built although the checks
// say stop, and why they do. It returns where it ends.
func (s *sheet) stopBanner(p *page, at region, plan *pourplan.Plan) float64 {
	stops := plan.Stops()
	if len(stops) == 0 {
		return at.y
	}
	const bar = 11.0
	p.bar(at.x, at.y, at.width, bar, titleStyle, "STOP: DO NOT POUR THIS MOLD")
	y := s.paragraph(p, at.x+2.5, at.y+bar+1.2, at.width-5, strongStyle, "It was built although the checks say stop:")
	for i, g := range stops {
		if i == mostStops && len(stops) > mostStops+1 {
			y = s.paragraph(p, at.x+2.5, y, at.width-5, bodyStyle, "and more: see “"+findingsHeading+"”.")
			break
		}
		_, text := findingText(g, false)
		y = s.paragraph(p, at.x+2.5, y, at.width-5, bodyStyle, strings.TrimSpace("– "+text))
	}
	p.rectangle(at.x, at.y, at.width, y+1-at.y, 0.6, none)
	return y + 3.5
}

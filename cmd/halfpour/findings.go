package main

import (
	"fmt"

	"halfpour/moldbox"
	"halfpour/pourplan"
)

// findingText is one line: cavities, what is wrong, where in the head's file, and
// the value against its limit.
func findingText(g pourplan.FindingGroup) string {
	text := g.Message
	if where := g.Where(); where != "" {
		text = where + ": " + text
	}
	if place := g.Place(); place != "" {
		text += ", at " + place + " mm of the head"
	}
	if limit := pourplan.FormatLimit(g.Value, g.Limit, g.Unit); limit != "" {
		text += " (" + limit + ")"
	}
	return text
}

// label is how errors name the mold.
func (w *work) label() string {
	if w.size == "" {
		return w.path
	}
	return w.path + ": " + w.size
}

// stopError is the fault of a mold that must not be made; nil when nothing
// says stop. With told, the findings themselves have been printed already.
func (w *work) stopError(told bool) error {
	out := &fault{code: exitStop}
	for _, g := range pourplan.GroupFindings(pourplan.PlanFindings(w.findings)) {
		if g.Severity != string(moldbox.Stop) {
			continue
		}
		p := problem{Message: w.label() + ": " + findingText(g), File: w.path, Rule: g.Code}
		if g.Remedy != "" {
			p.Hints = []string{g.Remedy}
		}
		out.problems = append(out.problems, p)
	}
	switch n := len(out.problems); {
	case n == 0:
		return nil
	case told && n == 1:
		out.problems = []problem{{Message: w.label() + ": a finding says stop", File: w.path, Rule: "stop"}}
	case told:
		out.problems = []problem{{Message: fmt.Sprintf("%s: %d findings say stop", w.label(), n), File: w.path, Rule: "stop"}}
	}
	last := &out.problems[len(out.problems)-1]
	last.Hints = append(last.Hints, "to build it all the same: halfpour build --anyway "+w.path)
	return out
}

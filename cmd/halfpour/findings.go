package main

import (
	"fmt"

	"halfpour/moldbox"
	"halfpour/pourplan"
	"halfpour/pourplan/making"
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

// label is how errors name a mold of the job.
func (f *jobFile) label(m pourplan.Mold) string {
	if m.Name == "" {
		return f.path
	}
	return f.path + ": " + m.Name
}

// stopFault is of molds that must not be made; nil when nothing says stop. With
// told, the findings themselves have been printed already.
func (f *jobFile) stopFault(molds []*making.Mold, told bool) error {
	out := &fault{code: exitStop}
	for _, m := range molds {
		out.problems = append(out.problems, f.stopProblems(m, told)...)
	}
	if len(out.problems) == 0 {
		return nil
	}
	return out
}

func (f *jobFile) stopProblems(m *making.Mold, told bool) []problem {
	list := f.stopList(m.Mold, m.Findings, told)
	if len(list) > 0 {
		last := &list[len(list)-1]
		last.Hints = append(last.Hints, f.seeHint(), "to build it anyway: halfpour build --anyway "+f.path)
	}
	return list
}

// stopList are the findings of a mold that say stop; with told, only how many.
func (f *jobFile) stopList(m pourplan.Mold, findings []moldbox.Finding, told bool) (list []problem) {
	label := f.label(m)
	for _, g := range pourplan.GroupFindings(pourplan.PlanFindings(findings)) {
		if g.Severity != string(moldbox.Stop) {
			continue
		}
		p := problem{Message: label + ": " + findingText(g), File: f.path, Rule: g.Code}
		if g.Remedy != "" {
			p.Hints = []string{g.Remedy}
		}
		list = append(list, p)
	}
	switch n := len(list); {
	case n == 0:
		return nil
	case told && n == 1:
		list = []problem{{Message: label + ": a finding says stop", File: f.path, Rule: "stop"}}
	case told:
		list = []problem{{Message: fmt.Sprintf("%s: %d findings say stop", label, n), File: f.path, Rule: "stop"}}
	}
	return list
}

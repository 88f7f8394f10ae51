package main

import (
	"fmt"
	"slices"
	"strings"

	"halfpour/moldbox"
	"halfpour/pourplan"
)

// findingGroup is a finding with the cavities that it is about.
type findingGroup struct {
	finding  moldbox.Finding
	cavities []string
	apart    bool // not at the same place of the head in all cavities
}

// severest puts stop before warn before note, each in the order given.
func severest(fs []moldbox.Finding) []moldbox.Finding {
	rank := map[moldbox.Severity]int{moldbox.Stop: 0, moldbox.Warn: 1, moldbox.Note: 2}
	out := slices.Clone(fs)
	slices.SortStableFunc(out, func(a, b moldbox.Finding) int { return rank[a.Severity] - rank[b.Severity] })
	return out
}

// groupFindings gathers findings that differ in their cavity alone.
func groupFindings(fs []moldbox.Finding) []findingGroup {
	var groups []findingGroup
next:
	for _, f := range fs {
		for i := range groups {
			g := &groups[i]
			if f.Cavity != "" && len(g.cavities) > 0 && g.finding.Code == f.Code &&
				g.finding.Message == f.Message && g.finding.Remedy == f.Remedy {
				g.cavities = append(g.cavities, f.Cavity)
				g.apart = g.apart || f.HeadAt == nil || g.finding.HeadAt == nil || f.HeadAt.Dist(*g.finding.HeadAt) > 0.1
				continue next
			}
		}
		g := findingGroup{finding: f}
		if f.Cavity != "" {
			g.cavities = []string{f.Cavity}
		}
		groups = append(groups, g)
	}
	return groups
}

// text is one line: cavities, what is wrong, where in the head's file, and the
// value against its limit.
func (g findingGroup) text() string {
	f := g.finding
	text := f.Message
	if len(g.cavities) > 0 {
		text = strings.Join(g.cavities, ", ") + ": " + text
	}
	if place := g.place(); place != "" {
		text += ", at " + place + " mm of the head"
	}
	if limit := pourplan.FormatLimit(f.Value, f.Limit, f.Unit); limit != "" {
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
	for _, g := range groupFindings(w.findings) {
		if g.finding.Severity != moldbox.Stop {
			continue
		}
		p := problem{Message: w.label() + ": " + g.text(), File: w.path, Rule: g.finding.Code}
		if g.finding.Remedy != "" {
			p.Hints = []string{g.finding.Remedy}
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

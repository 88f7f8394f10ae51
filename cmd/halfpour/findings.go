package main

import (
	"fmt"
	"strings"

	"halfpour/moldbox"
)

// sayFindings prints what the checks found; alike findings of several
// cavities make one entry.
func sayFindings(t *terminal, fs []moldbox.Finding) {
	for _, g := range groupFindings(fs) {
		f := g.finding
		word := fmt.Sprintf("%-5s", f.Severity)
		switch f.Severity {
		case moldbox.Stop:
			word = paint(t.outColour, red, word)
		case moldbox.Warn:
			word = paint(t.outColour, yellow, word)
		}
		where := ""
		if len(g.cavities) > 0 {
			where = strings.Join(g.cavities, ", ") + ": "
		}
		t.say("  %s  %s%s%s", word, where, f.Message, place(f, len(g.cavities)))
		if f.Remedy != "" {
			t.say("         %s", f.Remedy)
		}
	}
}

// place is where to look in the head's file; with several cavities the first
// one's place would mislead when they differ, so only one is shown.
func place(f moldbox.Finding, cavities int) string {
	if f.HeadAt == nil || cavities > 1 {
		return ""
	}
	return fmt.Sprintf(", at (%.1f, %.1f, %.1f) mm of the head", f.HeadAt.X, f.HeadAt.Y, f.HeadAt.Z)
}

type findingGroup struct {
	finding  moldbox.Finding
	cavities []string
}

func groupFindings(fs []moldbox.Finding) []findingGroup {
	var groups []findingGroup
next:
	for _, f := range fs {
		for i := range groups {
			g := &groups[i]
			if f.Cavity != "" && len(g.cavities) > 0 && g.finding.Code == f.Code &&
				g.finding.Message == f.Message && g.finding.Remedy == f.Remedy {
				g.cavities = append(g.cavities, f.Cavity)
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

// stopError is the fault of a mold that must not be made; nil when nothing
// says stop.
func stopError(fs []moldbox.Finding, hint string) error {
	var out fault
	for _, g := range groupFindings(fs) {
		f := g.finding
		if f.Severity != moldbox.Stop {
			continue
		}
		where := ""
		if len(g.cavities) > 0 {
			where = strings.Join(g.cavities, ", ") + ": "
		}
		p := problem{Message: where + f.Message + measured(f), Rule: f.Code}
		if f.Remedy != "" {
			p.Hints = []string{f.Remedy}
		}
		out.problems = append(out.problems, p)
	}
	if len(out.problems) == 0 {
		return nil
	}
	out.code = exitStop
	last := &out.problems[len(out.problems)-1]
	last.Hints = append(last.Hints, hint)
	return &out
}

// measured is the value against its limit.
func measured(f moldbox.Finding) string {
	if f.Value == 0 && f.Limit == 0 {
		return ""
	}
	return fmt.Sprintf(" (%.2f %s, limit %.2f %s)", f.Value, f.Unit, f.Limit, f.Unit)
}

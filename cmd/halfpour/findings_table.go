package main

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"halfpour/moldbox"
	"halfpour/pourplan"
)

// sayFindings prints what the checks found as a table; alike findings of
// several cavities make one row.
func sayFindings(t *terminal, fs []pourplan.PlanFinding) { t.sayGroups(pourplan.GroupFindings(fs)) }

func (t *terminal) sayGroups(groups []pourplan.FindingGroup) {
	for _, line := range findingLines(groups, t.columns(), t.outColour) {
		t.say("%s", line)
	}
}

// findingLines are the rows of the table, each with what is wrong and the
// remedy beneath, wrapped to so many columns. A column that would be empty is
// left out, and the heading where only names are left.
func findingLines(groups []pourplan.FindingGroup, width int, colour bool) []printable {
	if len(groups) == 0 {
		return nil
	}
	rows := [][]string{{"finding", "seen", "limit", "where"}}
	for _, g := range groups {
		seen, limit := findingFigures(g)
		if g.Place() != "" {
			rows[0][3] = "where, in mm in the head's file"
		}
		rows = append(rows, []string{g.Code, seen, limit, strings.Join(nonEmpty(g.Where(), g.Place()), " at ")})
	}
	widths := tableWidths(rows)
	var lines []printable
	plain := func(rows ...string) {
		for _, row := range rows {
			lines = append(lines, text("%s", row))
		}
	}
	if widths[1]+widths[2]+widths[3] > 0 {
		plain("  " + strings.Repeat(" ", rowIndent-2) + tableRow(rows[0], widths))
	}
	for i, f := range groups {
		word := fmt.Sprintf("%-*s", rowIndent-2, f.Severity)
		blank := strings.Repeat(" ", rowIndent)
		for j, line := range wrapLast(rows[i+1], widths, width-rowIndent) {
			if j > 0 {
				plain(blank + line)
				continue
			}
			lines = append(lines, text("  %s%s", paint(colour, severityColours[f.Severity], word), line))
		}
		plain(hanging("", f.Message, width)...)
		if f.Remedy != "" {
			plain(hanging("-> ", f.Remedy, width)...)
		}
	}
	if f := groups[0]; f.Severity != string(moldbox.Note) {
		plain(strings.Repeat(" ", rowIndent) + "what one means, and what helps: halfpour explain " + f.Code)
	}
	return lines
}

var severityColours = map[string]colour{string(moldbox.Stop): red, string(moldbox.Warn): yellow, string(moldbox.Note): bold}

// findingFigures are what was seen and its limit; "" for what is not about a number.
func findingFigures(f pourplan.FindingGroup) (seen, limit string) {
	if f.Value == 0 && f.Limit == 0 {
		return "", ""
	}
	seen = pourplan.FormatQuantity(f.Value, f.Unit)
	if f.Severity == string(moldbox.Note) && f.Limit == 0 {
		return seen, "" // it tells a figure and holds it against none
	}
	return seen, pourplan.FormatQuantity(f.Limit, f.Unit)
}

func nonEmpty(texts ...string) []string {
	var out []string
	for _, t := range texts {
		if t != "" {
			out = append(out, t)
		}
	}
	return out
}

// tableWidths are the columns' widths; 0 where all rows but the heading are
// empty.
func tableWidths(rows [][]string) []int {
	widths := make([]int, len(rows[0]))
	for _, r := range rows[1:] {
		for i, cell := range r {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	for i, head := range rows[0] {
		if widths[i] > 0 {
			widths[i] = max(widths[i], utf8.RuneCountInString(head))
		}
	}
	return widths
}

// tableRow sets cells in their columns: figures, the second and third, to the
// right.
func tableRow(cells []string, widths []int) string {
	line := ""
	for i, cell := range cells {
		if widths[i] == 0 {
			continue
		}
		pad := strings.Repeat(" ", max(0, widths[i]-utf8.RuneCountInString(cell)))
		if i == 1 || i == 2 {
			cell, pad = pad+cell, ""
		}
		line += cell + pad + "  "
	}
	return strings.TrimRight(line, " ")
}

// wrapLast is a row whose last cell goes on beneath itself when it is longer
// than the columns left for it.
func wrapLast(cells []string, widths []int, width int) []string {
	last := len(cells) - 1
	before := 0
	for _, w := range widths[:last] {
		if w > 0 {
			before += w + 2
		}
	}
	parts := wrapped(cells[last], max(width-before, 20))
	if len(parts) == 0 {
		return []string{tableRow(cells, widths)}
	}
	first := slices.Clone(cells)
	first[last] = parts[0]
	lines := []string{tableRow(first, widths)}
	for _, p := range parts[1:] {
		lines = append(lines, strings.Repeat(" ", before)+p)
	}
	return lines
}

// hanging is a paragraph under a row: its sign stands out to the left.
func hanging(sign, text string, width int) []string {
	var lines []string
	indent := rowIndent + len(sign)
	for i, line := range wrapped(text, width-indent) {
		if i == 0 {
			line = sign + line
		} else {
			line = strings.Repeat(" ", len(sign)) + line
		}
		lines = append(lines, strings.Repeat(" ", rowIndent)+line)
	}
	return lines
}

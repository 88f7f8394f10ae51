package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// sayFindings prints what the checks found as a table; alike findings of
// several cavities make one row.
func sayFindings(t *terminal, fs []moldbox.Finding) {
	for _, line := range findingLines(groupFindings(severest(fs)), t.columns(), t.outColour) {
		t.say("%s", line)
	}
}

// findingLines are the rows of the table, each with what is wrong and the
// remedy beneath, wrapped to so many columns. A column that would be empty is
// left out, and the heading where only names are left.
func findingLines(groups []findingGroup, width int, colour bool) []string {
	if len(groups) == 0 {
		return nil
	}
	rows := [][]string{{"finding", "seen", "limit", "where"}}
	for _, g := range groups {
		seen, limit := g.figures()
		if g.place() != "" {
			rows[0][3] = "where, in mm of the head's file"
		}
		rows = append(rows, []string{g.finding.Code, seen, limit, strings.Join(nonEmpty(g.cavityText(), g.place()), " at ")})
	}
	widths := tableWidths(rows)
	var lines []string
	if widths[1]+widths[2]+widths[3] > 0 {
		lines = append(lines, "  "+strings.Repeat(" ", rowIndent-2)+tableRow(rows[0], widths))
	}
	for i, g := range groups {
		f := g.finding
		word := fmt.Sprintf("%-*s", rowIndent-2, f.Severity)
		blank := strings.Repeat(" ", rowIndent)
		for j, line := range wrapLast(rows[i+1], widths, width-rowIndent) {
			if j > 0 {
				lines = append(lines, blank+line)
				continue
			}
			lines = append(lines, "  "+paint(colour, severityColours[f.Severity], word)+line)
		}
		lines = append(lines, hanging("", f.Message, width)...)
		if f.Remedy != "" {
			lines = append(lines, hanging("-> ", f.Remedy, width)...)
		}
	}
	if f := groups[0].finding; f.Severity != moldbox.Note {
		lines = append(lines, strings.Repeat(" ", rowIndent)+"what one means, and what helps: halfpour explain "+f.Code)
	}
	return lines
}

var severityColours = map[moldbox.Severity]colour{moldbox.Stop: red, moldbox.Warn: yellow, moldbox.Note: bold}

// figures are what was seen and its limit; "" for what is not about a number.
func (g findingGroup) figures() (seen, limit string) {
	f := g.finding
	if f.Value == 0 && f.Limit == 0 {
		return "", ""
	}
	seen = pourplan.FormatQuantity(f.Value, f.Unit)
	if f.Severity == moldbox.Note && f.Limit == 0 {
		return seen, "" // it tells a figure and holds it against none
	}
	return seen, pourplan.FormatQuantity(f.Limit, f.Unit)
}

// place is a point in the head's own coordinates, "" where there is none or
// where the cavities have different ones.
func (g findingGroup) place() string {
	if g.finding.HeadAt == nil || g.apart {
		return ""
	}
	return pointText(*g.finding.HeadAt)
}

// pointText is a place to a tenth of a millimetre.
func pointText(p geom.Vec) string {
	tenth := func(v float64) float64 { return math.Round(10*v)/10 + 0 } // which is never -0
	return fmt.Sprintf("(%.1f, %.1f, %.1f)", tenth(p.X), tenth(p.Y), tenth(p.Z))
}

// cavityText names the cavities: "cavity 1 to 5", "cavity 1, 3" where they are
// numbered so.
func (g findingGroup) cavityText() string {
	var numbers []string
	for i, name := range g.cavities {
		n, ok := strings.CutPrefix(name, "cavity ")
		if !ok {
			return strings.Join(g.cavities, ", ")
		}
		first, err := strconv.Atoi(strings.TrimPrefix(g.cavities[0], "cavity "))
		if err == nil && i > 1 && i == len(g.cavities)-1 && n == strconv.Itoa(first+i) {
			return fmt.Sprintf("cavity %d to %s", first, n) // they come in order, each once
		}
		numbers = append(numbers, n)
	}
	if len(numbers) == 0 {
		return ""
	}
	return "cavity " + strings.Join(numbers, ", ")
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

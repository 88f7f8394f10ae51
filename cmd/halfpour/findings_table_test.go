package main

import (
	"strings"
	"testing"
	"unicode/utf8"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// tableFindings are findings of all kinds, out of order.
func tableFindings() []moldbox.Finding {
	at := &geom.Vec{X: 4, Y: -2.04, Z: -0.01}
	fs := []moldbox.Finding{
		{Severity: moldbox.Note, Code: "turn-picked", Cavity: "cavity 1", Value: 150, Unit: "°", Message: "turned by 150°"},
		{Severity: moldbox.Stop, Code: "wires-cross", Cavity: "small", HeadAt: at, Value: 0.4, Limit: 0, Unit: "mm",
			Message: "two wires run through each other", Remedy: "move one of them"},
		{Severity: moldbox.Note, Code: "typical-figures", Message: "using typical values"},
	}
	for _, name := range []string{"cavity 1", "cavity 2", "cavity 3"} {
		fs = append(fs, moldbox.Finding{Severity: moldbox.Warn, Code: "air-trapped", Cavity: name, HeadAt: at, Value: 16.336, Limit: 0.5, Unit: "mm³",
			Message: "air stays in a pocket 1.9 mm high and no way for a vent is free; some may leave along the wire",
			Remedy:  "turn the cavity, move the gate, or use a narrower vent or sprue mouth"})
	}
	return fs
}

func TestFindingsAreATable(t *testing.T) {
	got := joined(findingLines(pourplan.GroupFindings(pourplan.PlanFindings(tableFindings())), 80, false))
	const want = `          finding               seen    limit  where, in mm in the head's file
  stop    wires-cross         0.4 mm     0 mm  small at (4.0, -2.0, 0.0)
          two wires run through each other
          -> move one of them
  warn    air-trapped      16.34 mm³  0.5 mm³  cavity 1 to 3 at (4.0, -2.0, 0.0)
          air stays in a pocket 1.9 mm high and no way for a vent is free; some
          may leave along the wire
          -> turn the cavity, move the gate, or use a narrower vent or sprue
             mouth
  note    turn-picked          150 °           cavity 1
          turned by 150°
  note    typical-figures
          using typical values
          what one means, and what helps: halfpour explain wires-cross`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// At any width no line is longer, but for words that are: and colour changes
// nothing but colour.
func TestFindingsKeepToTheWidth(t *testing.T) {
	groups := pourplan.GroupFindings(pourplan.PlanFindings(tableFindings()))
	for _, width := range []int{60, 72, 80, 100, 110} {
		plain := findingLines(groups, width, false)
		for _, line := range plain[1:] {
			line := string(line)
			if n := utf8.RuneCountInString(line); n > width && width >= 80 {
				t.Errorf("%d columns, got %d: %q", width, n, line)
			}
			if line != strings.TrimRight(line, " ") {
				t.Errorf("%q ends in a space", line)
			}
		}
		painted := joined(findingLines(groups, width, true))
		for _, c := range []colour{red, yellow, bold} {
			painted = strings.ReplaceAll(painted, "\x1b["+string(c)+"m", "")
		}
		if got := strings.ReplaceAll(painted, "\x1b[0m", ""); strings.Join(strings.Fields(got), " ") != strings.Join(strings.Fields(joined(plain)), " ") {
			t.Errorf("%d columns: with colour\n%q", width, got)
		}
	}
}

func joined(lines []printable) string {
	all := ""
	for i, line := range lines {
		if i > 0 {
			all += "\n"
		}
		all += string(line)
	}
	return all
}

func TestWrapped(t *testing.T) {
	for _, c := range []struct {
		text  string
		width int
		want  []string
	}{
		{"", 10, nil},
		{"one two three", 7, []string{"one two", "three"}},
		{"incomprehensible word", 5, []string{"incomprehensible", "word"}},
		{"near (1.0, -2.0, 3.0) of it", 12, []string{"near", "(1.0, -2.0, 3.0)", "of it"}},
		{"it is 12 mm", 8, []string{"it is", "12 mm"}},
	} {
		if got := wrapped(c.text, c.width); strings.Join(got, "|") != strings.Join(c.want, "|") {
			t.Errorf("%q in %d: got %q, want %q", c.text, c.width, got, c.want)
		}
	}
}

// On a narrow terminal rows go on under their text; elsewhere they are lines.
func TestRowsWrapOnATerminal(t *testing.T) {
	text := "neck of 3 x 2.4 mm: thin enough to snip, " + string(paint(true, bold, "thick enough")) + " to fill (metal wants 1.49 mm)"
	for width, want := range map[int]string{
		0:   "  gate    " + text + "\n",
		120: "  gate    " + text + "\n",
		60: "  gate    neck of 3 x 2.4 mm: thin enough to snip, " + "\x1b[1mthick\n" +
			"          enough\x1b[0m to fill (metal wants 1.49 mm)\n",
	} {
		var b strings.Builder
		(&terminal{out: &b, outWidth: width}).row("gate", "%s", printable(text))
		if b.String() != want {
			t.Errorf("%d columns: got %q, want %q", width, b.String(), want)
		}
	}
}

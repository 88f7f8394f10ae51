package main

import (
	"regexp"
	"strings"
	"unicode/utf8"
)

// rowIndent is where the text of a row begins, behind its label.
const rowIndent = 10

// row prints a labelled line of the result. On a terminal that is narrower it
// goes on beneath itself; elsewhere it stays one line, to be searched.
func (t *terminal) row(label, format string, args ...any) {
	line := text(format, args...)
	if t.outWidth == 0 || shownWidth(string(line))+rowIndent <= t.outWidth {
		t.say("  %-8s%s", label, line)
		return
	}
	for _, part := range wrapped(string(line), t.columns()-rowIndent) {
		t.say("  %-8s%s", label, printable(part))
		label = ""
	}
}

// escapes are what paint puts round text.
var escapes = regexp.MustCompile("\x1b\\[[0-9;]*m")

// shownWidth is how many columns a text takes.
func shownWidth(s string) int { return utf8.RuneCountInString(escapes.ReplaceAllString(s, "")) }

// wrapped breaks a text between words into lines of at most so many columns;
// a word that is longer, and what stands in parentheses, stays whole.
func wrapped(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range unbroken(strings.Fields(text)) {
		switch {
		case line == "":
			line = word
		case shownWidth(line)+1+shownWidth(word) > width:
			lines, line = append(lines, line), word
		default:
			line += " " + word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// unbroken joins the three words of a point and a number with its unit.
func unbroken(words []string) []string {
	var out []string
	for _, w := range words {
		if n := len(out) - 1; n >= 0 {
			open := strings.HasPrefix(out[n], "(") && strings.HasSuffix(out[n], ",") && utf8.RuneCountInString(out[n]) < 20
			unit := (w == "mm" || w == "mm³" || w == "mm²" || w == "g" || w == "°C" || w == "%") && endsInDigit(out[n])
			if open || unit {
				out[n] += " " + w
				continue
			}
		}
		out = append(out, w)
	}
	return out
}

func endsInDigit(s string) bool { return s != "" && s[len(s)-1] >= '0' && s[len(s)-1] <= '9' }

package pourplan

import (
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"
)

// The rules that a job file can break; JobError.Rule is one of them.
const (
	RuleSyntax     = "syntax"       // the file is no TOML
	RuleUnknownKey = "unknown-key"  // no such key in this table
	RuleValue      = "bad-value"    // of another kind or unit, or not a sensible number
	RuleRange      = "out-of-range" // too small or too large
	RuleMissing    = "missing"      // is required
	RuleConflict   = "conflict"     // does not go with another key
	RuleMold       = "no-mold"      // each figure is fine, but with these heads they make no mold
)

// JobError is one thing that is wrong with a job file.
type JobError struct {
	File      string // as ReadJob was told
	Line, Col int    // from 1, in characters; 0 when there is no place to point at
	Key       string // "hook.wire", "cavity[2].turn"
	Rule      string // one of the Rule constants
	Hint      string // what to do about it; may be empty
	Err       error  // what is wrong, with the value seen

	width int    // characters to underline
	text  string // the line
	above string // the line before it
}

// Error reads "job.toml:7:8: frame.wall: must be at least 0.8 mm, got 0.2 mm",
// without the hint.
func (e *JobError) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", e.Line, e.Col)
	}
	b.WriteString(": ")
	if e.Key != "" {
		b.WriteString(e.Key + ": ")
	}
	b.WriteString(e.Err.Error())
	return b.String()
}

// Unwrap returns what is wrong without its place.
func (e *JobError) Unwrap() error { return e.Err }

// Excerpt shows the line, the one above it, and carets under the place:
//
//	6 | [frame]
//	7 | wall = 0.2
//	           ^^^
//
// It is empty when the error has no place or no line worth showing. Every line ends in a newline.
func (e *JobError) Excerpt() string {
	if e.Line == 0 || e.text == "" {
		return ""
	}
	var b strings.Builder
	row := func(n int, text string) { fmt.Fprintf(&b, "%7d | %s\n", n, shown(text)) }
	if e.Line > 1 {
		row(e.Line-1, e.above)
	}
	row(e.Line, e.text)
	left := utf8.RuneCountInString(e.text)
	carets := max(1, min(e.width, left-e.Col+1))
	fmt.Fprintf(&b, "%s%s\n", strings.Repeat(" ", 10+e.Col-1), strings.Repeat("^", carets))
	return b.String()
}

// shown makes every character one column wide: tabs and control characters
// become spaces.
func shown(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, s)
}

// JobErrors is all that is wrong with a job file, in the order of the file;
// what has no place comes last.
type JobErrors []*JobError

// sorted puts the errors in the order of the file.
func (es JobErrors) sorted() JobErrors {
	sort.SliceStable(es, func(i, k int) bool {
		a, b := es[i], es[k]
		if (a.Line == 0) != (b.Line == 0) {
			return b.Line == 0
		}
		return a.Line < b.Line || a.Line == b.Line && a.Col < b.Col
	})
	return es
}

// Error puts each error on its own line.
func (es JobErrors) Error() string {
	lines := make([]string, len(es))
	for i, e := range es {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap returns the errors one by one.
func (es JobErrors) Unwrap() []error {
	list := make([]error, len(es))
	for i, e := range es {
		list[i] = e
	}
	return list
}

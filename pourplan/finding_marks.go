package pourplan

import (
	"halfpour/geom"
	"halfpour/moldbox"
)

// FindingMark is a finding of the checks that drawings and pictures show.
type FindingMark struct {
	Letter   string // "a" for the first
	Severity moldbox.Severity
	At       geom.Vec // mold coordinates
}

// findingLetters gives a letter to each finding that says stop or warn and has
// a place; "" to the rest. Findings that differ in cavity and place alone have
// the same. After z there are no more.
func findingLetters(fs []moldbox.Finding) []string {
	letters := make([]string, len(fs))
	type kind struct{ code, message string }
	known := map[kind]string{}
	for i, f := range fs {
		if f.At == nil || f.Severity == moldbox.Note {
			continue
		}
		k := kind{f.Code, f.Message}
		if _, ok := known[k]; !ok && len(known) < 26 {
			known[k] = string(rune('a' + len(known)))
		}
		letters[i] = known[k]
	}
	return letters
}

// FindingMarks returns the findings to be shown on one half: those that lie in
// it or within half a millimetre of the parting plane.
func FindingMarks(fs []PlanFinding, half moldbox.Half) []FindingMark {
	const near = 0.5
	var marks []FindingMark
	for _, f := range fs {
		if f.Mark == "" {
			continue
		}
		if at := vec(*f.AtMM); half.ToPrint(at).Z >= -near {
			marks = append(marks, FindingMark{f.Mark, moldbox.Severity(f.Severity), at})
		}
	}
	return marks
}

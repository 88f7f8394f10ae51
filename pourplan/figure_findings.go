package pourplan

import (
	"fmt"
	"slices"
	"strings"

	"halfpour/moldbox"
)

// FigureFindings are findings on a plan's figures; cast is the shot that they rest on,
// nil when none was computed.
func FigureFindings(p *Plan, cast *moldbox.MeasuredCast) []moldbox.Finding {
	return slices.Concat(typicalFindings(p), cautionFindings(p.Cautions), FillFindings(p), ScaleFindings(p), HeatFindings(p, cast), neckFindings(p.Gate))
}

// typicalFindings say which figures are not the job's.
func typicalFindings(p *Plan) []moldbox.Finding {
	var tables []string
	for _, key := range p.Typical {
		if table, _, _ := strings.Cut(key, "."); !slices.Contains(tables, table) {
			tables = append(tables, table)
		}
	}
	if len(tables) == 0 {
		return nil
	}
	figures := "figures"
	if len(p.Typical) == 1 {
		figures = "figure"
	}
	return []moldbox.Finding{{Severity: moldbox.Note, Code: "typical-figures", Remedy: "set the values from your data sheets",
		Message: fmt.Sprintf("using typical values for %d %s of [%s]", len(p.Typical), figures, strings.Join(tables, "] and ["))}}
}

// LookCode is of the finding that a plan is of a build for a look.
const LookCode = "for-a-look"

// LookFindings warn that a build is no more than for a look.
func LookFindings() []moldbox.Finding {
	return []moldbox.Finding{{Severity: moldbox.Warn, Code: LookCode, Message: "built coarsely, for a look: no shot is computed, so times and the heads' size go by rules of thumb",
		Remedy: "build again with a finer tolerance before you print and cast"}}
}

// ForLook reports whether the plan is of a build for a look.
func (p *Plan) ForLook() bool {
	return slices.ContainsFunc(p.Findings, func(f PlanFinding) bool { return f.Code == LookCode })
}

// CautionsToActOn are the codes of cautions that tell of something to change in
// the job before going to the bench.
var CautionsToActOn = []string{"plastic-softens", "resin-stops-cure", "too-slow", "cup-too-small", "pot-too-small"}

// cautionFindings are those cautions; what they say after the colon is the remedy.
func cautionFindings(cautions []Caution) []moldbox.Finding {
	var fs []moldbox.Finding
	for _, c := range cautions {
		if slices.Contains(CautionsToActOn, c.Code) {
			message, remedy, _ := strings.Cut(strings.TrimSuffix(c.Text, "."), ": ")
			fs = append(fs, moldbox.Finding{Severity: moldbox.Warn, Code: c.Code, Message: message, Remedy: remedy})
		}
	}
	return fs
}

// neckFindings are about a gate that cannot be snipped, or does not fill.
func neckFindings(g GatePlan) []moldbox.Finding {
	if g.Snips && g.Fills {
		return nil
	}
	return []moldbox.Finding{{Severity: moldbox.Warn, Code: "gate-neck", Message: g.Text(),
		Remedy: "change sprue.gate_width and sprue.gate_thickness, or pour hotter"}}
}

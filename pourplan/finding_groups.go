package pourplan

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"halfpour/moldbox"
)

// PlanFindings are findings as they stand in a plan, with their letters.
func PlanFindings(fs []moldbox.Finding) []PlanFinding {
	list := []PlanFinding{}
	letters := findingLetters(fs)
	for i, f := range fs {
		g := PlanFinding{Severity: string(f.Severity), Code: f.Code, Mark: letters[i], Cavity: f.Cavity, Message: f.Message,
			Value: f.Value, Limit: f.Limit, Unit: f.Unit, Remedy: Remedy(f)}
		if f.At != nil {
			at := xyz(*f.At)
			g.AtMM = &at
		}
		if f.HeadAt != nil {
			at := xyz(*f.HeadAt)
			g.HeadAtMM = &at
		}
		list = append(list, g)
	}
	return list
}

// FindingGroup is a finding with all cavities that have it. Its value is the
// worst of them, its places are those of the first.
type FindingGroup struct {
	PlanFinding
	Cavities []string
	Members  []int // places in the list that was grouped

	apart bool // not at the same place of the head in all cavities
}

// GroupFindings gathers findings that differ in cavity, place and value alone,
// and puts stop before warn before note. Terminal, sheet and page show groups.
func GroupFindings(fs []PlanFinding) []FindingGroup {
	var groups []FindingGroup
next:
	for i, f := range fs {
		for k := range groups {
			if groups[k].alike(f) {
				groups[k].add(i, f)
				continue next
			}
		}
		g := FindingGroup{PlanFinding: f, Members: []int{i}}
		if f.Cavity != "" {
			g.Cavities = []string{f.Cavity}
		}
		groups = append(groups, g)
	}
	rank := map[string]int{string(moldbox.Stop): 0, string(moldbox.Warn): 1, string(moldbox.Note): 2}
	slices.SortStableFunc(groups, func(a, b FindingGroup) int { return rank[a.Severity] - rank[b.Severity] })
	return groups
}

func (g *FindingGroup) alike(f PlanFinding) bool {
	return f.Cavity != "" && len(g.Cavities) > 0 && g.Severity == f.Severity && g.Code == f.Code && g.Message == f.Message && g.Remedy == f.Remedy
}

func (g *FindingGroup) add(i int, f PlanFinding) {
	g.Members = append(g.Members, i)
	if !slices.Contains(g.Cavities, f.Cavity) {
		g.Cavities = append(g.Cavities, f.Cavity)
	}
	g.apart = g.apart || f.HeadAtMM == nil || g.HeadAtMM == nil || distance(*f.HeadAtMM, *g.HeadAtMM) > 0.1
	if f.Limit == g.Limit && math.Abs(f.Value-f.Limit) > math.Abs(g.Value-g.Limit) {
		g.Value = f.Value
	}
}

func distance(p, q [3]float64) float64 {
	return math.Sqrt((p[0]-q[0])*(p[0]-q[0]) + (p[1]-q[1])*(p[1]-q[1]) + (p[2]-q[2])*(p[2]-q[2]))
}

// Where names the cavities: "cavity 1 to 5", "cavity 1, 3" where they are
// numbered so; "" for a finding about the whole mold.
func (g FindingGroup) Where() string {
	var numbers []string
	for i, name := range g.Cavities {
		n, ok := strings.CutPrefix(name, "cavity ")
		if !ok {
			return strings.Join(g.Cavities, ", ")
		}
		first, err := strconv.Atoi(strings.TrimPrefix(g.Cavities[0], "cavity "))
		if err == nil && i > 1 && i == len(g.Cavities)-1 && n == strconv.Itoa(first+i) {
			return fmt.Sprintf("cavity %d to %s", first, n) // they come in order, each once
		}
		numbers = append(numbers, n)
	}
	if len(numbers) == 0 {
		return ""
	}
	return "cavity " + strings.Join(numbers, ", ")
}

// Place is a point in the head's own coordinates to a tenth of a millimetre,
// "(4.0, -2.0, 0.0)"; "" where there is none or where the cavities have
// different ones.
func (g FindingGroup) Place() string {
	if g.HeadAtMM == nil || g.apart {
		return ""
	}
	tenth := func(v float64) float64 { return math.Round(10*v)/10 + 0 } // which is never -0
	p := *g.HeadAtMM
	return fmt.Sprintf("(%.1f, %.1f, %.1f)", tenth(p[0]), tenth(p[1]), tenth(p[2]))
}

// Stops are the findings that say the mold must not be made as it is. A plan has
// them only when somebody built it anyway.
func (p *Plan) Stops() []FindingGroup {
	var list []FindingGroup
	for _, g := range GroupFindings(p.Findings) {
		if g.Severity == string(moldbox.Stop) {
			list = append(list, g)
		}
	}
	return list
}

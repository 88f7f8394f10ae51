package main

import (
	"fmt"
	"strings"

	"halfpour/moldbox"
	"halfpour/pourplan"
	"halfpour/pourplan/making"
)

// sizesReport is what "check --json" and "build --json" print for a job with
// sizes.
type sizesReport struct {
	Schema int               `json:"schema"`           // reportSchema
	Job    string            `json:"job"`              // path as the user named it
	Folder string            `json:"folder,omitempty"` // of a build, that the sizes' folders are in
	Files  []writtenFile     `json:"files,omitempty"`  // beside the sizes' folders
	Sizes  []sizeReport      `json:"sizes"`            // in the job's order
	List   *pourplan.RunList `json:"buying_list"`      // what all of them take
}

// sizeReport is one size of it; the files and the proof are a build's.
type sizeReport struct {
	Name   string         `json:"name"`             // of the size
	Folder string         `json:"folder,omitempty"` // of a build, that the files are in
	Files  []writtenFile  `json:"files,omitempty"`  // of a build
	Proof  *moldbox.Proof `json:"proof,omitempty"`  // of a build
	Plan   *pourplan.Plan `json:"plan"`             // every figure of this size's mold
}

func reportsOf(run *making.Run) []sizeReport {
	var list []sizeReport
	for _, m := range run.Molds {
		list = append(list, sizeReport{Name: m.Name, Plan: m.Plan})
	}
	return list
}

// report prints what a build has made.
func (f *jobFile) report(t *terminal, run *making.Run, products []*product, wrote written) error {
	if run.List == nil {
		return f.reportMold(t, products[0], wrote.molds[0])
	}
	if t.json {
		r := sizesReport{reportSchema, f.path, wrote.folder, wrote.files, reportsOf(run), run.List}
		for i, p := range products {
			r.Sizes[i].Folder, r.Sizes[i].Proof, r.Sizes[i].Files = p.folder, &p.Proof, wrote.molds[i]
		}
		return writeJSON(t, r)
	}
	f.sayTable(t, run)
	for _, m := range run.Molds {
		t.row("proof", "%s: frames closed, none crossing, %+.4f %% and %+.4f %% off their solids; parts add up to the block within %+.4f %%",
			m.Name, m.Proof.Left.OffPercent(), m.Proof.Right.OffPercent(), 100*m.Proof.Whole.Apart()/m.Proof.Whole.Block)
	}
	sayList(t, run.List)
	sayAllNotes(t, run)
	t.say("wrote %s", wrote.folder)
	for _, f := range wrote.files {
		t.say("  %s", fileLine(f))
	}
	for i, m := range run.Molds {
		total := int64(0)
		for _, f := range wrote.molds[i] {
			total += f.Size
		}
		t.say("  %-16s%8.1f kB in %s", m.Folder+"/", float64(total)/1000, counted(len(wrote.molds[i]), "file", "files"))
	}
	return nil
}

// sayTable prints a line a size.
func (f *jobFile) sayTable(t *terminal, run *making.Run) {
	title := f.job.Title
	if title == "" {
		title = f.name()
	}
	t.say("%s: %s", paint(t.outColour, bold, title), counted(len(run.Molds), "size", "sizes"))
	rows := [][]string{{"size", "heads", "finished", "drawn x", "rubber A", "B", "metal a shot", "frame"}}
	for _, m := range run.Molds {
		p := m.Plan
		h, f, step := p.Heads[0], p.Frames[0].OutsideMM, p.Rubber.ScaleStepG
		rows = append(rows, []string{m.Name, fmt.Sprint(len(p.Heads)), pourplan.FormatMass(h.FinishedG.Best), fmt.Sprintf("%.3f", h.Scale),
			pourplan.OnScale(p.Rubber.TotalAG, step) + " g", pourplan.OnScale(p.Rubber.TotalBG, step) + " g", pourplan.FormatMass(p.Metal.ShotG),
			fmt.Sprintf("%.1f x %.1f x %.1f mm", f[0], f[1], f[2])})
	}
	for _, line := range columns(rows) {
		t.say("  %s", line)
	}
}

// columns pads the cells of each column to its widest.
func columns(rows [][]string) []string {
	width := make([]int, len(rows[0]))
	for _, r := range rows {
		for i, cell := range r {
			width[i] = max(width[i], len([]rune(cell)))
		}
	}
	var lines []string
	for _, r := range rows {
		line := ""
		for i, cell := range r {
			line += cell + strings.Repeat(" ", width[i]-len([]rune(cell))+2)
		}
		lines = append(lines, strings.TrimRight(line, " "))
	}
	return lines
}

func sayList(t *terminal, list *pourplan.RunList) {
	t.say("  buying list")
	for _, line := range list.Lines() {
		t.say("    %s", line)
	}
}

// sayAllNotes prints the findings of all sizes, alike ones once: those of a cavity
// with the name of their size, those that every size has without.
func sayAllNotes(t *terminal, run *making.Run) {
	var all []pourplan.PlanFinding
	for _, m := range run.Molds {
		for _, f := range m.Plan.Findings {
			f.Cavity = strings.TrimSpace(m.Name + " " + f.Cavity)
			all = append(all, f)
		}
	}
	groups := pourplan.GroupFindings(all)
	for i, g := range groups {
		everywhere := len(g.Cavities) == len(run.Molds)
		for k, m := range run.Molds {
			everywhere = everywhere && g.Cavities[k] == m.Name
		}
		if everywhere {
			groups[i].Cavities = nil
		}
	}
	t.sayGroups(groups)
}

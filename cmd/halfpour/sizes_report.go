package main

import (
	"fmt"
	"strings"

	"halfpour/moldbox"
	"halfpour/pourplan"
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

func reportsOf(sizes []*sizeWork) []sizeReport {
	var list []sizeReport
	for _, s := range sizes {
		r := sizeReport{Name: s.Name, Plan: s.plan}
		if s.product != nil {
			r.Folder, r.Proof = s.product.folder, &s.product.proof
		}
		list = append(list, r)
	}
	return list
}

// reportSizes prints what a build of several sizes has made.
func reportSizes(t *terminal, w *work, sizes []*sizeWork, folder string, wrote writtenRun) error {
	if t.json {
		r := sizesReport{reportSchema, w.path, folder, wrote.files, reportsOf(sizes), wrote.list}
		for i := range r.Sizes {
			r.Sizes[i].Files = wrote.sizes[i]
		}
		return writeJSON(t, r)
	}
	sayTable(t, w, sizes)
	for _, s := range sizes {
		p := s.product.proof
		t.row("proof", "%s: frames closed, none crossing, %+.4f %% and %+.4f %% off their solids; parts make the block to %+.4f %%",
			s.Name, p.Left.OffPercent(), p.Right.OffPercent(), 100*p.Whole.Apart()/p.Whole.Block)
	}
	sayList(t, wrote.list)
	sayAllNotes(t, sizes)
	t.say("wrote %s", folder)
	for _, f := range wrote.files {
		t.say("  %s", fileLine(f))
	}
	for i, s := range sizes {
		total := int64(0)
		for _, f := range wrote.sizes[i] {
			total += f.Size
		}
		t.say("  %-16s%8.1f kB in %s", s.Folder+"/", float64(total)/1000, counted(len(wrote.sizes[i]), "file", "files"))
	}
	return nil
}

// sayTable prints a line a size.
func sayTable(t *terminal, w *work, sizes []*sizeWork) {
	title := w.job.Title
	if title == "" {
		title = w.name()
	}
	t.say("%s: %s", paint(t.outColour, bold, title), counted(len(sizes), "size", "sizes"))
	rows := [][]string{{"size", "heads", "finished", "drawn x", "rubber A", "B", "metal a shot", "frame"}}
	for _, s := range sizes {
		p := s.plan
		h, f, step := p.Heads[0], p.Frames[0].OutsideMM, p.Rubber.ScaleStepG
		rows = append(rows, []string{s.Name, fmt.Sprint(len(p.Heads)), pourplan.FormatMass(h.FinishedG.Best), fmt.Sprintf("%.3f", h.Scale),
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

// sayAllNotes prints the findings of all sizes, alike ones once.
func sayAllNotes(t *terminal, sizes []*sizeWork) {
	var all []moldbox.Finding
	for i, s := range sizes {
		for _, f := range planNotes(s.plan) {
			if f.Severity == moldbox.Note && i > 0 {
				continue // of the job, and told with the first size
			}
			all = append(all, f)
		}
		for _, f := range s.findings {
			if f.Cavity == "" {
				f.Cavity = s.Name
			} else {
				f.Cavity = s.Name + " " + f.Cavity
			}
			all = append(all, f)
		}
	}
	sayFindings(t, all)
}

// stopOfAll is the fault of all sizes that must not be made; nil when nothing
// says stop.
func stopOfAll(w *work, sizes []*sizeWork, told bool) error {
	out := &fault{code: exitStop}
	for _, s := range sizes {
		if err := s.stopError(told); err != nil {
			out.problems = append(out.problems, faultOf(err).problems...)
		}
	}
	if len(out.problems) == 0 {
		return nil
	}
	return out
}

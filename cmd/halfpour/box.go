package main

import (
	"context"
	"io"
	"path/filepath"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/moldbox"
	"halfpour/pourplan"
	"halfpour/pourplan/making"
	"halfpour/pourplan/sheet"
)

// This file carries out check and build for a job with [box]: frames that are drawn
// already, for which halfpour plans the rubber.

// boxOutputs are the files that such a build writes.
var boxOutputs = []string{"pour-sheet.pdf", "plan.json"}

// withoutBox refuses a job with [box] where a head is needed.
func (f *jobFile) withoutBox() error {
	if f.job.Box == nil {
		return nil
	}
	return usageError(f.path+" is a job with [box], of frames that are drawn already: only check, build and mix work with it",
		"halfpour check "+f.path)
}

// lookAtBox looks at the frames, and prints what a person needs to know.
func (f *jobFile) lookAtBox(ctx context.Context, t *terminal) (*making.Box, error) {
	bar := newProgress(t)
	b, err := making.LookAtBox(ctx, f.job, f.readHead)
	bar.clear()
	if err != nil {
		return nil, jobFault(err)
	}
	return b, nil
}

func (f *jobFile) sayBox(t *terminal, b *making.Box) {
	if p := b.Plan; p != nil {
		title := p.Title
		if title == "" {
			title = f.name()
		}
		t.say("%s: rubber for two frames that you have drawn", paint(t.outColour, bold, title))
		for i, h := range p.Rubber.Halves {
			t.row("holds", "%s: %.1f ml (%.2f US fl oz) up to %s over the floor, %s under the rim", h.Half, h.VolumeML.Best, h.VolumeFlOz,
				pourplan.FormatLength(h.FillFromFloorMM), pourplan.FormatLength(p.Frames[i].RimMM-h.FillFromFloorMM))
		}
		sayRubber(t, p, "measured exactly")
		sayShopping(t, p)
		sayFindings(t, p.Findings)
		return
	}
	sayFindings(t, pourplan.PlanFindings(b.Findings))
}

// checkBox is "halfpour check" of such a job.
func (f *jobFile) checkBox(ctx context.Context, t *terminal, picture string) error {
	if picture != "" {
		return usageError("--picture shows how a head lies, and a job with [box] has none")
	}
	b, err := f.lookAtBox(ctx, t)
	if err != nil {
		return err
	}
	if t.json && b.Plan != nil {
		if err := writeJSON(t, checkReport{Schema: reportSchema, Job: f.path, Plan: b.Plan}); err != nil {
			return err
		}
	}
	f.sayBox(t, b)
	return f.boxStop(b, b.Plan != nil && t.json || !t.quiet && !t.json)
}

// boxStop is of frames that take no rubber, or not as they are.
func (f *jobFile) boxStop(b *making.Box, told bool) error {
	problems := f.stopList(pourplan.Mold{}, b.Findings, told)
	if len(problems) == 0 {
		return nil
	}
	if b.Plan != nil {
		last := &problems[len(problems)-1]
		last.Hints = append(last.Hints, "to plan it anyway: halfpour build --anyway "+f.path)
	}
	return &fault{code: exitStop, problems: problems}
}

// buildBox is "halfpour build" of such a job: its sheet and its plan.
func (f *jobFile) buildBox(ctx context.Context, t *terminal, opt buildOptions) error {
	if opt.picture != "" || opt.weighed {
		return usageError("--picture and --weighed need a head, and a job with [box] has none")
	}
	folder := f.outputFolder(opt.out)
	var places []string
	for _, name := range boxOutputs {
		places = append(places, filepath.Join(folder, name))
	}
	if place := fileset.Overwrites(f.files(), places); place != "" {
		return usageError(place+" is a file of the job and would be overwritten", "name another folder with --out")
	}
	if err := fileset.Probe(folder); err != nil {
		return err
	}
	b, err := f.lookAtBox(ctx, t)
	if err != nil {
		return err
	}
	if b.Plan == nil || b.Says(moldbox.Stop) && !opt.anyway {
		return f.boxStop(b, false)
	}
	paper := papers[opt.paper]
	if opt.paper == "" {
		paper = papers[f.job.Output.Paper]
	}
	files, err := writeBox(ctx, b.Plan, paper, folder)
	if err != nil {
		return err
	}
	t.sayChanged(f)
	if t.json {
		return writeJSON(t, boxReport{reportSchema, f.path, folder, files, b.Plan})
	}
	f.sayBox(t, b)
	t.say("wrote %s", folder)
	for _, w := range files {
		t.say("  %s", fileLine(w))
	}
	t.say("next: weigh and pour by pour-sheet.pdf")
	return nil
}

// boxReport is what "build --json" prints of a job with [box].
type boxReport struct {
	Schema int            `json:"schema"` // reportSchema
	Job    string         `json:"job"`    // path as the user named it
	Folder string         `json:"folder"` // that the files are in
	Files  []writtenFile  `json:"files"`  // that were written
	Plan   *pourplan.Plan `json:"plan"`   // every figure; no heads and no metal are in it
}

// writeBox writes sheet and plan, both or none.
func writeBox(ctx context.Context, p *pourplan.Plan, paper sheet.Paper, folder string) ([]writtenFile, error) {
	set, err := fileset.New(ctx, folder)
	if err != nil {
		return nil, err
	}
	defer set.Discard()
	for name, write := range map[string]func(io.Writer) error{
		"pour-sheet.pdf": func(w io.Writer) error { return sheet.WritePour(w, p, nil, nil, paper) },
		"plan.json":      func(w io.Writer) error { return writePlan(w, p) },
	} {
		if err := set.Create(ctx, name, write); err != nil {
			return nil, err
		}
	}
	sizes := set.Sizes()
	if err := set.Commit(); err != nil {
		return nil, err
	}
	var files []writtenFile
	for _, name := range boxOutputs {
		files = append(files, writtenFile{name, filepath.Join(folder, name), sizes[name]})
	}
	return files, nil
}

package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/moldbox/head"
	"halfpour/pourplan"
)

// work is a job on its way to a mold.
type work struct {
	path       string // as the user named it; "-" for standard input
	size       string // that the mold is for, "" when the job is of one mold
	sizeFolder string // of that size in the output folder
	weighed    bool   // the fill factor is that of the account
	job        *pourplan.Job
	heads      map[string]*head.Head // by the file's name in the job
	inputs     inputs
	spec       moldbox.Spec // that the mold was made to
	mold       *moldbox.Mold
	kept       *kept // by an earlier run of a watched build; nil without one

	// findings are the heads' and the mold's.
	findings []moldbox.Finding
}

// readWork reads a job, of one mold or of several sizes.
// Sets of files that were interrupted, in its folder or in those of its builds,
// are finished if they can be; whoever needs them asks again.
func readWork(ctx context.Context, t *terminal, path string) (*work, error) {
	w := &work{path: path, heads: map[string]*head.Head{}, inputs: inputs{}}
	_ = t.finish(ctx, w.folder())
	if err := w.readJob(ctx, t); err != nil {
		return w, err
	}
	for _, m := range w.job.Molds() {
		_ = t.finish(ctx, filepath.Join(w.outputFolder(""), m.Folder))
	}
	_ = t.finish(ctx, w.outputFolder(""))
	return w, nil
}

// open reads the heads and builds the mold's solids.
func (w *work) open(ctx context.Context) error {
	if w.weighed {
		if err := w.useWeights(ctx); err != nil {
			return err
		}
	}
	if err := w.buildMold(ctx); err != nil {
		return jobFault(w.job.Explain(err))
	}
	w.noteHeads()
	w.findings = append(w.findings, w.mold.Findings...)
	return ctx.Err()
}

// buildMold makes the mold. Meanwhile it looks for heads that cut through
// themselves, as few do; with one, it makes the mold again.
func (w *work) buildMold(ctx context.Context) error {
	load := func(file string) (geom.Solid, error) { return w.loadHead(ctx, file) }
	spec, err := w.job.Spec(load)
	if err != nil {
		return err
	}
	w.spec = spec
	if err := spec.CheckHeads(); err != nil { // before looking for crossings, which takes long
		return err
	}
	if w.kept.knows(spec, w.heads) {
		w.mold = w.kept.mold
		return nil
	}
	var buildErr error // of no matter when a head has to be taken otherwise
	crossed := false
	err = together(ctx, []func(context.Context) error{
		func(ctx context.Context) error {
			w.mold, buildErr = moldbox.Build(ctx, spec)
			return nil
		},
		func(ctx context.Context) (err error) {
			crossed, err = w.lookForCrossings(ctx)
			return err
		},
	})
	if err != nil || !crossed {
		return errors.Join(err, buildErr)
	}
	if w.spec, err = w.job.Spec(load); err == nil {
		w.mold, err = moldbox.Build(ctx, w.spec)
	}
	return err
}

// readJob reads and checks the job itself.
func (w *work) readJob(ctx context.Context, t *terminal) error {
	data, err := w.read(ctx, t)
	if err != nil {
		return err
	}
	if w.job, err = pourplan.ReadJob(w.path, data); err != nil {
		return jobFault(err)
	}
	return nil
}

func (w *work) read(ctx context.Context, t *terminal) ([]byte, error) {
	if w.path == "-" {
		return fileset.ReadAll(ctx, t.in, pourplan.MaxJobBytes)
	}
	w.inputs.add(w.path)
	data, err := fileset.ReadFile(ctx, w.path, pourplan.MaxJobBytes)
	if err == nil || ctx.Err() != nil {
		return data, err
	}
	p := problem{Message: w.path + ": " + fileset.Cause(err), File: w.path, Rule: "unreadable"}
	switch {
	case errors.Is(err, fileset.ErrFolder):
		p.Message = w.path + ": is a folder, not a job file"
		p.Hints = []string{"did you mean " + filepath.Join(w.path, "job.toml") + "?"}
	case errors.Is(err, fileset.ErrNotRegular):
		p.Hints = []string{"to read a job from a pipe, name it - and pipe it in"}
	case errors.Is(err, os.ErrNotExist):
		p.Hints = []string{"for a starter job: halfpour new first-mold"}
		if near := nearFile(w.path); near != "" {
			p.Hints = []string{"did you mean " + near + "?"}
		}
	}
	return nil, &fault{code: exitJob, err: err, problems: []problem{p}}
}

// nearFile returns the job file that was likely meant by the name of one that
// is not there, "" for none.
func nearFile(path string) string {
	jobs, err := filepath.Glob(filepath.Join(filepath.Dir(path), "*.toml"))
	if err != nil {
		return ""
	}
	for i, job := range jobs {
		jobs[i] = filepath.Base(job)
	}
	near := pourplan.Nearest(filepath.Base(path), jobs)
	if near == "" {
		return ""
	}
	return filepath.Join(filepath.Dir(path), near)
}

// folder is where the job stands.
func (w *work) folder() string {
	if w.path == "-" {
		return "."
	}
	return filepath.Dir(w.path)
}

// name is the job's file name without its ending.
func (w *work) name() string {
	if w.path == "-" {
		return "job"
	}
	base := filepath.Base(w.path)
	return strings.TrimSuffix(base, filepath.Ext(base))
}

// loadHead reads a head that the job names, once.
func (w *work) loadHead(ctx context.Context, file string) (geom.Solid, error) {
	if h := w.heads[file]; h != nil {
		return h.Solid, w.checkUnit(file, h)
	}
	path := filepath.FromSlash(file)
	if !filepath.IsAbs(path) {
		path = filepath.Join(w.folder(), path)
	}
	w.inputs.add(path)
	h, err := loadHead(ctx, path, w.path)
	if err != nil {
		return nil, err
	}
	if err := w.checkUnit(file, h); err != nil {
		return nil, err
	}
	w.heads[file] = h
	return h.Solid, nil
}

// checkUnit refuses a unit for a file that states its own.
func (w *work) checkUnit(file string, h *head.Head) error {
	for _, c := range w.job.Placed() {
		if c.Head.File == file && c.Head.Unit != "mm" && h.Format == head.ThreeMF {
			return meshError(h.Name, "unit", fmt.Sprintf("a 3MF file states its own unit, but head.unit is %q", c.Head.Unit),
				"leave head.unit out; lengths under [head] are then in mm")
		}
	}
	return nil
}

// noteHeads takes over what reading the heads had to say, each file once.
func (w *work) noteHeads() {
	told := map[string]bool{}
	for _, c := range w.job.Placed() {
		h := w.heads[c.Head.File]
		if h == nil || told[c.Head.File] {
			continue
		}
		told[c.Head.File] = true
		w.findings = append(w.findings, h.Findings...)
		w.findings = append(w.findings, c.Head.CheckSize(h)...)
	}
}

// cavityHeads returns each cavity's mesh in mm, in order along +X.
func (w *work) cavityHeads() []*geom.TriMesh {
	var list []*geom.TriMesh
	scaled := map[[2]string]*geom.TriMesh{}
	for _, c := range w.job.Placed() {
		key := [2]string{c.Head.File, c.Head.Unit}
		if scaled[key] == nil {
			k := c.Head.MMPerUnit()
			m := w.heads[c.Head.File].Mesh
			if k != 1 {
				m = m.Transform(func(v geom.Vec) geom.Vec { return v.Mul(k) }, false)
			}
			scaled[key] = m
		}
		list = append(list, scaled[key])
	}
	return list
}

// jobFault shows what is wrong with a job file, each thing at its place; any
// other error comes back as it is.
func jobFault(err error) error {
	out := &fault{code: exitJob, err: err}
	var list pourplan.JobErrors
	if !errors.As(err, &list) {
		return err
	}
	for _, e := range list {
		p := problem{Message: e.Error(), File: e.File, Line: e.Line, Column: e.Col, Rule: e.Rule, excerpt: e.Excerpt()}
		if e.Hint != "" {
			p.Hints = []string{e.Hint}
		}
		out.problems = append(out.problems, p)
	}
	return out
}

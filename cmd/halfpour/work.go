package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// work is a job on its way to a mold.
type work struct {
	path  string // as the user named it; "-" for standard input
	job   *pourplan.Job
	heads map[string]*headMesh // by the file's name in the job
	mold  *moldbox.Mold

	// findings are the heads' and the mold's.
	findings []moldbox.Finding
}

// openWork reads a job and its heads and builds the mold's solids.
func openWork(ctx context.Context, t *terminal, path string) (*work, error) {
	w := &work{path: path, heads: map[string]*headMesh{}}
	data, err := w.read(t)
	if err != nil {
		return nil, err
	}
	if w.job, err = pourplan.ReadJob(w.path, data); err != nil {
		return nil, jobFault(err)
	}
	spec, err := w.job.Spec(w.loadHead)
	if err != nil {
		return nil, err
	}
	w.noteHeads()
	if w.mold, err = moldbox.Build(ctx, spec); err != nil {
		return nil, w.moldFault(err)
	}
	w.findings = append(w.findings, w.mold.Findings...)
	return w, ctx.Err()
}

func (w *work) read(t *terminal) ([]byte, error) {
	if w.path == "-" {
		return io.ReadAll(t.in)
	}
	data, err := os.ReadFile(w.path)
	if err == nil {
		return data, nil
	}
	p := problem{Message: w.path + ": " + plainCause(err), File: w.path, Rule: "unreadable"}
	if info, statErr := os.Stat(w.path); statErr == nil && info.IsDir() {
		p.Message = w.path + ": is a folder, not a job file"
		p.Hints = []string{"did you mean " + filepath.Join(w.path, "job.toml") + "?"}
	} else if errors.Is(err, os.ErrNotExist) {
		p.Hints = []string{"for a starter job: halfpour new first-mold"}
	}
	return nil, &fault{code: exitJob, err: err, problems: []problem{p}}
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

// loadHead reads a head that the job names.
func (w *work) loadHead(file string) (geom.Solid, error) {
	path := filepath.FromSlash(file)
	if !filepath.IsAbs(path) {
		path = filepath.Join(w.folder(), path)
	}
	h, err := loadHead(path, w.path)
	if err != nil {
		return nil, err
	}
	w.heads[file] = h
	return h.solid, nil
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
		w.findings = append(w.findings, h.findings...)
		w.findings = append(w.findings, h.checkSize(c.Head.Unit)...)
	}
}

// cavityHeads returns each cavity's mesh in mm, in order along +X.
func (w *work) cavityHeads() []*geom.TriMesh {
	var list []*geom.TriMesh
	scaled := map[[2]string]*geom.TriMesh{}
	for _, c := range w.job.Placed() {
		key := [2]string{c.Head.File, c.Head.Unit}
		if scaled[key] == nil {
			k := mmPerUnit[c.Head.Unit]
			m := w.heads[c.Head.File].mesh
			if k != 1 {
				m = m.Transform(func(v geom.Vec) geom.Vec { return v.Mul(k) }, false)
			}
			scaled[key] = m
		}
		list = append(list, scaled[key])
	}
	return list
}

// mmPerUnit has the units that a job may give for a head's file.
var mmPerUnit = map[string]float64{"mm": 1, "cm": 10, "m": 1000, "in": 25.4, "ft": 304.8}

// jobFault shows what is wrong with a job file, each thing at its place.
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

// moldFault shows why the numbers of a job make no mold.
func (w *work) moldFault(err error) error {
	var e *moldbox.SpecError
	if !errors.As(err, &e) {
		return err
	}
	short := *e
	short.Field, short.Remedy = w.jobKey(e.Field), ""
	p := problem{Message: fmt.Sprintf("%s: %v", w.path, &short), File: w.path, Rule: "mold"}
	if e.Remedy != "" {
		p.Hints = []string{e.Remedy}
	}
	return &fault{code: exitJob, err: err, problems: []problem{p}}
}

var cavityField = regexp.MustCompile(`^cavities\[(\d+)\]\.(.*)$`)

// jobKey names a field of moldbox.Spec as the job does: "head.parting of ball".
func (w *work) jobKey(field string) string {
	m := cavityField.FindStringSubmatch(field)
	if m == nil {
		return field
	}
	key := m[2]
	switch table, rest, _ := strings.Cut(key, "."); table {
	case "pose":
		key = "head." + rest
	case "head", "eye", "gate":
		key = "head." + table
	case "metal_volume":
		key = "weight.target"
	case "scale":
		key = "weight.scale"
	}
	i, err := strconv.Atoi(m[1])
	if placed := w.job.Placed(); err == nil && i < len(placed) && placed[i].Name != "" {
		return key + " of " + placed[i].Name
	}
	return key
}

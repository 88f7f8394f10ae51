package main

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/pourplan"
)

// jobFile is a job and the file that it was read from.
type jobFile struct {
	path   string // as the user named it; "-" for standard input
	job    *pourplan.Job
	inputs *inputs // that were read

	text    []byte            // of the job
	library []string          // files of the shelf that it was read with
	shelved map[string][]byte // their texts; nil for one that is not there
	drawn   string            // file of the picture that was drawn of how the head lies; "" for none
}

// readJobFile reads and checks a job with a head.
func readJobFile(ctx context.Context, t *terminal, path string) (*jobFile, error) {
	f, err := readAnyJob(ctx, t, path)
	if err == nil {
		err = f.withoutBox()
	}
	return f, err
}

// readAnyJob reads and checks a job, of one mold or of several sizes. Sets of
// files that were interrupted, in its folder or in those of its builds, are
// finished if they can be; whoever needs them asks again.
func readAnyJob(ctx context.Context, t *terminal, path string) (*jobFile, error) {
	f := &jobFile{path: path, inputs: &inputs{}}
	t.repair(ctx, f.folder())
	data, err := f.read(ctx, t)
	if err != nil {
		return f, err
	}
	f.text = data
	if f.job, err = pourplan.ReadJobWith(path, data, f.shelf(ctx)); err != nil {
		return f, jobFault(err)
	}
	t.repair(ctx, f.outputFolders("")...)
	return f, nil
}

// shelf reads the files that the job takes things from by their names: the shelf in
// its folder or the nearest one above it, the hooks in its own.
func (f *jobFile) shelf(ctx context.Context) pourplan.Library {
	return func(name string) (string, []byte, error) {
		path := filepath.Join(f.folder(), name)
		if name == pourplan.ShelfFile {
			path = shelfAbove(f.folder())
		}
		if !slices.Contains(f.library, path) {
			f.library = append(f.library, path)
		}
		if f.shelved == nil {
			f.shelved = map[string][]byte{}
		}
		f.inputs.add(path)
		data, err := fileset.ReadFile(ctx, path, pourplan.MaxJobBytes)
		if errors.Is(err, os.ErrNotExist) {
			return path, nil, nil
		}
		f.shelved[path] = data
		return path, data, err
	}
}

func (f *jobFile) read(ctx context.Context, t *terminal) ([]byte, error) {
	if f.path == "-" {
		return fileset.ReadAll(ctx, t.in, pourplan.MaxJobBytes)
	}
	f.inputs.add(f.path)
	data, err := fileset.ReadFile(ctx, f.path, pourplan.MaxJobBytes)
	if err == nil || ctx.Err() != nil {
		return data, err
	}
	p := problem{Message: f.path + ": " + fileset.Cause(err), File: f.path, Rule: "unreadable"}
	switch {
	case errors.Is(err, fileset.ErrFolder):
		p.Message = f.path + ": is a folder, not a job file"
		p.Hints = []string{"did you mean " + filepath.Join(f.path, "job.toml") + "?"}
	case errors.Is(err, fileset.ErrNotRegular):
		p.Hints = []string{"to read a job from a pipe, name it - and pipe it in"}
	case errors.Is(err, os.ErrNotExist):
		p.Hints = []string{"for a starter job: halfpour new first-mold"}
		if near := nearFile(f.path); near != "" {
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
func (f *jobFile) folder() string {
	if f.path == "-" {
		return "."
	}
	return filepath.Dir(f.path)
}

// name is the job's file name without its ending.
func (f *jobFile) name() string {
	if f.path == "-" {
		return "job"
	}
	base := filepath.Base(f.path)
	return strings.TrimSuffix(base, filepath.Ext(base))
}

// outputFolder is where the files go: as asked, as the job says, or a folder
// named after the job beside it.
func (f *jobFile) outputFolder(asked string) string {
	switch folder := filepath.FromSlash(f.job.Output.Folder); {
	case asked != "":
		return asked
	case folder != "":
		return filepath.Join(f.folder(), folder)
	}
	return filepath.Join(f.folder(), f.name()+"-out")
}

// outputFolders are the output folder and those of the sizes in it.
func (f *jobFile) outputFolders(asked string) []string {
	list := []string{f.outputFolder(asked)}
	for _, m := range f.job.Molds() {
		if m.Folder != "" {
			list = append(list, filepath.Join(list[0], m.Folder))
		}
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

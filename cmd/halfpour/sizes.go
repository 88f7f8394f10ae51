package main

import (
	"context"
	"io"
	"path/filepath"
	"runtime"
	"slices"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/moldbox/head"
	"halfpour/pourplan"
	"halfpour/pourplan/page"
)

// sizeWork is one mold of a size run.
type sizeWork struct {
	pourplan.Mold
	*work
	plan    *pourplan.Plan
	product *product // nil for a check
}

// sizesOf are the molds of a job: its sizes, or the one without a name.
func (w *work) sizesOf() []*sizeWork {
	var list []*sizeWork
	for _, m := range w.job.Molds() {
		list = append(list, &sizeWork{Mold: m, work: &work{path: w.path, size: m.Name, sizeFolder: m.Folder, weighed: w.weighed, job: m.Job, heads: map[string]*head.Head{}, inputs: inputs{w.path: w.inputs[w.path]}}})
	}
	return list
}

// eachSize does the same for every size, as many at a time as there are
// processors: where one mold keeps only one of them busy, others go on. All
// sizes are tried; what went wrong comes back in their order.
func eachSize(ctx context.Context, sizes []*sizeWork, do func(context.Context, *sizeWork) error) error {
	errs := make([]error, len(sizes))
	var jobs []func(context.Context) error
	for i, s := range sizes {
		jobs = append(jobs, func(ctx context.Context) error {
			errs[i] = do(ctx, s)
			return ctx.Err()
		})
	}
	if err := together(ctx, atMost(runtime.GOMAXPROCS(0), jobs)); err != nil {
		return err
	}
	var all *fault
	for i, err := range errs {
		if err == nil {
			continue
		}
		f := inSize(sizes[i].Name, err)
		if all == nil {
			all = &fault{code: f.code, err: err}
		}
		for _, p := range f.problems {
			told := func(q problem) bool { return q.Message == p.Message && q.Line == p.Line }
			if !slices.ContainsFunc(all.problems, told) {
				all.problems = append(all.problems, p)
			}
		}
	}
	if all == nil {
		return nil
	}
	return all
}

// inSize says in which size an error was met, unless it says so itself or has
// its place in a file.
func inSize(name string, err error) *fault {
	f := faultOf(err)
	if f.code != exitFailed || name == "" {
		return f
	}
	named := &fault{code: f.code, err: err}
	for _, p := range f.problems {
		p.Message = name + ": " + p.Message
		named.problems = append(named.problems, p)
	}
	return named
}

// runList adds up what the sizes take.
func runList(w *work, sizes []*sizeWork) (*pourplan.RunList, error) {
	var molds []pourplan.PlannedMold
	for _, s := range sizes {
		molds = append(molds, pourplan.PlannedMold{Mold: s.Mold, Plan: s.plan})
	}
	list, err := pourplan.NewRunList(w.job, molds)
	if err != nil {
		return nil, jobFault(w.job.Explain(err))
	}
	return list, nil
}

// checkSizes carries out "halfpour check" on a job with sizes.
func checkSizes(ctx context.Context, t *terminal, w *work) error {
	sizes := w.sizesOf()
	bar := newProgress(t)
	err := eachSize(ctx, sizes, func(ctx context.Context, s *sizeWork) (err error) {
		s.plan, err = s.check(ctx, bar.part(1/float64(len(sizes))))
		return err
	})
	bar.clear()
	if err != nil {
		return err
	}
	list, err := runList(w, sizes)
	if err != nil {
		return err
	}
	if t.json {
		err = writeJSON(t, sizesReport{Schema: reportSchema, Job: w.path, Sizes: reportsOf(sizes), List: list})
	}
	sayTable(t, w, sizes)
	sayList(t, list)
	sayAllNotes(t, sizes)
	if err == nil {
		err = stopOfAll(w, sizes, t.json || !t.quiet)
	}
	return err
}

// buildSizes carries out "halfpour build" on a job with sizes: a folder for
// each, whole or not at all, and none before all molds are made and proved.
func buildSizes(ctx context.Context, t *terminal, w *work, opt buildOptions) error {
	sizes, folder := w.sizesOf(), w.outputFolder(opt.out)
	bar := newProgress(t)
	defer bar.clear()
	err := eachSize(ctx, sizes, func(ctx context.Context, s *sizeWork) error {
		return s.openFor(ctx, s.partOf(bar.part, len(sizes))(readShare), opt)
	})
	if err != nil {
		return err
	}
	if err := makeSizes(ctx, bar.part, sizes, folder, opt); err != nil {
		return err
	}
	r, err := writeRun(ctx, bar.part, w, sizes, folder)
	if err != nil {
		return err
	}
	bar.clear()
	for _, s := range sizes {
		t.sayChanged(s.work)
	}
	return reportSizes(t, w, sizes, folder, r)
}

// makeSizes does all of the opened sizes but writing.
func makeSizes(ctx context.Context, part partOf, sizes []*sizeWork, folder string, opt buildOptions) error {
	return eachSize(ctx, sizes, func(ctx context.Context, s *sizeWork) (err error) {
		if s.product, err = makeProduct(ctx, s.partOf(part, len(sizes)), s.work, filepath.Join(folder, s.Folder), opt); err == nil {
			s.plan, s.product.sizes = s.product.plan, s.pagesOf(sizes)
		}
		return err
	})
}

// pagesOf leads from a size's page in its folder to those of all sizes.
func (s *sizeWork) pagesOf(sizes []*sizeWork) []page.Size {
	if s.Name == "" {
		return nil
	}
	var list []page.Size
	for _, other := range sizes {
		list = append(list, page.Size{Name: other.Name, Address: "../" + other.Folder + "/" + pageName, Shown: other == s})
	}
	return list
}

// writtenRun is what writeRun has written.
type writtenRun struct {
	sizes [][]writtenFile // of each size
	files []writtenFile   // beside their folders
	list  *pourplan.RunList
}

// writeRun writes the folders of all sizes and then, of a job that has sizes,
// the buying list.
func writeRun(ctx context.Context, part partOf, w *work, sizes []*sizeWork, folder string) (writtenRun, error) {
	var r writtenRun
	var err error
	if len(w.job.Size) > 0 {
		if r.list, err = runList(w, sizes); err != nil {
			return r, err
		}
	}
	for _, s := range sizes {
		files, err := s.product.write(ctx, s.partOf(part, len(sizes)))
		if err != nil {
			return r, inSize(s.Name, err)
		}
		r.sizes = append(r.sizes, files)
	}
	if r.list != nil {
		r.files, err = writeList(ctx, folder, r.list)
	}
	return r, err
}

// partOf is for a size's share of the work on so many; what is reported has the
// size's name before it.
func (s *sizeWork) partOf(part partOf, sizes int) partOf {
	return func(share float64) func(string, float64) {
		report := part(share / float64(sizes))
		if s.Name == "" {
			return report
		}
		return func(stage string, done float64) { report(s.Name+": "+stage, done) }
	}
}

// listFiles are the files that a size run has beside its folders.
var listFiles = []struct {
	name  string
	write func(*pourplan.RunList, io.Writer) error
}{
	{"buying-list.txt", func(l *pourplan.RunList, w io.Writer) error {
		_, err := io.WriteString(w, l.Text())
		return err
	}},
	{"buying-list.json", func(l *pourplan.RunList, w io.Writer) error {
		data, err := l.JSON()
		if err == nil {
			_, err = w.Write(data)
		}
		return err
	}},
}

// writeList writes the buying list in both forms.
func writeList(ctx context.Context, folder string, list *pourplan.RunList) ([]writtenFile, error) {
	set, err := fileset.New(ctx, folder)
	if err != nil {
		return nil, err
	}
	defer set.Discard()
	for _, f := range listFiles {
		if err := set.Create(ctx, f.name, func(w io.Writer) error { return f.write(list, w) }); err != nil {
			return nil, err
		}
	}
	sizes := set.Sizes()
	if err := set.Commit(); err != nil {
		return nil, err
	}
	var files []writtenFile
	for _, f := range listFiles {
		files = append(files, writtenFile{f.name, filepath.Join(folder, f.name), sizes[f.name]})
	}
	return files, nil
}

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"halfpour/cmd/halfpour/live"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// watchedBuild is "build --watch": a build after every save, and a page that
// follows it.
type watchedBuild struct {
	t      *terminal
	path   string
	opt    buildOptions
	files  watchedFiles
	server *live.Server

	kept  map[string]*kept // by the size's name; runs follow each other, never at once
	pages watchedPages     // of the last good run
}

// watchBuild carries out "halfpour build --watch" until ctx ends, which is how
// it is left.
func watchBuild(ctx context.Context, t *terminal, path string, opt buildOptions) error {
	if path == "-" {
		return usageError("--watch needs a job file, not standard input")
	}
	if t.json {
		return usageError("--watch goes on and on and prints no document", "leave out --json; the page and plan.json have every figure")
	}
	b := &watchedBuild{t: t, path: path, opt: opt, pages: watchedPages{title: filepath.Base(path)}}
	b.files.add(path)
	var err error
	b.server, err = live.Listen(map[string]live.Document{"": b.pages.whole, "figures": b.pages.figures, "model": b.pages.whole})
	if err != nil {
		return err
	}
	served := make(chan error, 1)
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	go func() { served <- b.server.Serve(ctx); cancel() }()
	printLine(t.out, "watching %s; the page, on this computer alone: %s", path, b.server.URL())
	ticks := time.NewTicker(watchEvery)
	defer ticks.Stop()
	follow(ctx, &b.files, ticks.C, b.run)
	cancel()
	return <-served
}

// run builds once and tells how it went. What was overtaken by a newer save
// says nothing.
func (b *watchedBuild) run(ctx context.Context) {
	b.server.Tell(live.Busy, "Reading the job.")
	err := b.build(ctx, time.Now())
	if err == nil || ctx.Err() != nil {
		return
	}
	b.dropFirst()
	f := faultOf(err)
	f.report(b.t)
	var text bytes.Buffer
	f.report(&terminal{err: &text})
	quoted, err := json.Marshal(text.String())
	if err == nil {
		b.server.Tell(live.Trouble, string(quoted))
	}
	b.server.Tell(live.Status, "Not built at "+time.Now().Format(time.TimeOnly)+"; the last good figures and model stay.")
}

// build is one run: figures first, then all files.
func (b *watchedBuild) build(ctx context.Context, since time.Time) error {
	w, err := readWork(ctx, b.t, b.path)
	if err != nil {
		return err
	}
	w.weighed = b.opt.weighed
	sizes, folder := w.sizesOf(), w.outputFolder(b.opt.out)
	b.lend(sizes)
	if err := b.firstFigures(ctx, sizes, since); err != nil {
		return err
	}
	err = eachSize(ctx, sizes, func(ctx context.Context, s *sizeWork) error {
		return s.openFor(ctx, func(string, float64) {}, buildOptions{anyway: true})
	})
	if err != nil {
		return err
	}
	for _, s := range sizes {
		b.kept[s.Name].keep(s.work)
	}
	if err := b.showFigures(ctx, sizes, since); err != nil {
		return err
	}
	if err := stopOfAll(w, sizes, false); err != nil && !b.opt.anyway {
		return err
	}
	bar := newProgress(b.t)
	err = makeSizes(ctx, bar.part, sizes, folder, b.opt)
	var wrote writtenRun
	if err == nil {
		wrote, err = writeRun(ctx, bar.part, w, sizes, folder)
	}
	bar.clear()
	if err != nil {
		return err
	}
	return b.showModels(ctx, sizes, folder, wrote, since)
}

// lend gives the sizes what the last run of each has left, and watches what they
// are made of, before it is read.
func (b *watchedBuild) lend(sizes []*sizeWork) {
	was := b.kept
	b.kept = map[string]*kept{}
	for _, s := range sizes {
		b.watchInputs(s.work)
		k := was[s.Name]
		if k == nil {
			k = &kept{}
		}
		b.kept[s.Name] = k
		k.lend(s.work)
	}
}

// watchInputs watches the files of a mold.
func (b *watchedBuild) watchInputs(w *work) {
	for _, c := range w.job.Placed() {
		path := filepath.FromSlash(c.Head.File)
		if !filepath.IsAbs(path) {
			path = filepath.Join(w.folder(), path)
		}
		b.files.add(path)
	}
	if w.weighed {
		b.files.add(w.accountPath())
	}
}

// showFigures tells what can be told before anything is meshed, as check does.
func (b *watchedBuild) showFigures(ctx context.Context, sizes []*sizeWork, since time.Time) error {
	err := eachSize(ctx, sizes, func(ctx context.Context, s *sizeWork) error {
		v, err := b.kept[s.Name].roughly(ctx, s.work)
		if err == nil {
			s.plan, err = s.newPlan(v)
		}
		return err
	})
	if err != nil {
		return err
	}
	b.pages.takeFigures(sizes)
	b.server.Tell(live.Figures, "")
	b.server.Tell(live.Trouble, `""`)
	b.server.Tell(live.Busy, "Figures of "+time.Now().Format(time.TimeOnly)+"; making the trays.")
	var list []string
	for _, s := range sizes {
		list = append(list, figuresInBrief(s.Name, s.plan)+"; "+tally(s.plan))
	}
	b.sayFigures("figures", list, since)
	return nil
}

// sayFigures tells the figures of each size in a line.
func (b *watchedBuild) sayFigures(what string, sizes []string, since time.Time) {
	now := time.Now().Format(time.TimeOnly)
	b.t.say("%s  %s after %.2f s: %s", now, what, time.Since(since).Seconds(), sizes[0])
	for _, s := range sizes[1:] {
		b.t.say("%s  %s", strings.Repeat(" ", len(now)), s)
	}
}

// figuresInBrief are those of a mold that a change of the job is watched by.
func figuresInBrief(size string, p *pourplan.Plan) string {
	if size != "" {
		size += ": "
	}
	step := p.Rubber.ScaleStepG
	return fmt.Sprintf("%sA %s g, B %s g, %s a shot", size, pourplan.OnScale(p.Rubber.TotalAG, step),
		pourplan.OnScale(p.Rubber.TotalBG, step), pourplan.FormatMass(p.Metal.ShotG))
}

// tally counts what the checks say.
func tally(plan *pourplan.Plan) string {
	n := map[string]int{}
	for _, g := range pourplan.GroupFindings(plan.Findings) {
		n[g.Severity]++
	}
	return fmt.Sprintf("%s, %s", counted(n[string(moldbox.Stop)], "stop", "stops"), counted(n[string(moldbox.Warn)], "warning", "warnings"))
}

// showModels tells that all is written, and shows it.
func (b *watchedBuild) showModels(ctx context.Context, sizes []*sizeWork, folder string, wrote writtenRun, since time.Time) error {
	files := len(wrote.files)
	for i, s := range sizes {
		if _, err := s.product.pageModel(ctx); err != nil {
			return err
		}
		files += len(wrote.sizes[i])
	}
	b.pages.takeModels(sizes)
	b.server.Tell(live.Figures, "")
	b.server.Tell(live.Model, "")
	now, took := time.Now().Format(time.TimeOnly), time.Since(since).Seconds()
	b.server.Tell(live.Status, fmt.Sprintf("Built at %s in %.1f s.", now, took))
	b.t.say("%s  wrote %s, %s, after %.1f s", now, folder, counted(files, "file", "files"), took)
	return nil
}

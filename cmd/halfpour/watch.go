package main

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"halfpour/cmd/halfpour/live"
	"halfpour/moldbox"
	"halfpour/pourplan"
	"halfpour/pourplan/making"
)

// watchedBuild is "build --watch": a build after every save, and a page that
// follows it.
type watchedBuild struct {
	t      *terminal
	path   string
	opt    buildOptions
	files  watchedFiles
	server *live.Server

	finish func(context.Context, *jobFile, *making.Run, time.Time) error // what is made of the checked molds
	begun  func()                                                        // told when a run begins; nil for nobody
	lies   func(context.Context, *making.Run)                            // told when it is known how the heads lie; nil for nobody
	idle   func(context.Context)                                         // told when a run has ended, whatever it came to; nil for nobody
	looks  bool                                                          // for a look: molds that checks say stop to are made too, and nothing is shown beside a job that is refused

	heads    keptHeads
	foreseen int          // facets of which it was told how long they take
	last     *making.Run  // that came as far as molds; nil before one did
	pages    watchedPages // of the last good run
}

// watchBuild carries out "halfpour build --watch" until ctx ends, which is how
// it is left.
func watchBuild(ctx context.Context, t *terminal, path string, opt buildOptions) error {
	if path == "-" {
		return usageError("--watch needs a job file, not standard input")
	}
	if t.json {
		return usageError("--watch runs until you stop it and prints no document", "remove --json; the page and plan.json have every figure")
	}
	b := newWatch(t, path, opt)
	b.finish = b.writeAndShow
	s, err := live.Listen(map[string]live.Document{"": b.pages.whole, "model": b.pages.changed, "figures": b.pages.changedFigures})
	if err != nil {
		return err
	}
	b.server = s
	printLine(b.t.out, "watching %s; the page, for this computer only: %s", path, s.URL())
	return serveWhile(ctx, s, b.follow)
}

func newWatch(t *terminal, path string, opt buildOptions) *watchedBuild {
	b := &watchedBuild{t: t, path: path, opt: opt, pages: watchedPages{title: filepath.Base(path)}}
	b.files.add(path)
	return b
}

// serveWhile serves pages until ctx ends, and does something meanwhile.
func serveWhile(ctx context.Context, s *live.Server, do func(context.Context)) error {
	served := make(chan error, 1)
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	go func() { served <- s.Serve(ctx); cancel() }()
	do(ctx)
	cancel()
	return <-served
}

// follow builds after every change until ctx ends.
func (b *watchedBuild) follow(ctx context.Context) {
	ticks := time.NewTicker(watchEvery)
	defer ticks.Stop()
	follow(ctx, &b.files, ticking(ticks.C, b.files.written()), b.run)
}

// run builds once and tells how it went. What was overtaken by a newer save
// says nothing.
func (b *watchedBuild) run(ctx context.Context) {
	b.server.Tell(live.Busy, "Reading the job.")
	b.pages.begin()
	if b.begun != nil {
		b.begun()
	}
	err := b.build(ctx, time.Now())
	if err != nil && ctx.Err() == nil {
		b.tellFault(err)
	}
	if b.idle != nil && ctx.Err() == nil {
		b.idle(ctx)
	}
}

// tellFault says why a run has come to nothing.
func (b *watchedBuild) tellFault(err error) {
	shown := b.pages.fail(b.looks)
	b.server.Tell(live.Figures, "")
	if b.looks {
		b.server.Tell(live.Model, "")
	}
	f := faultOf(err)
	f.report(b.t)
	b.server.Tell(live.Trouble, reportText(f))
	b.server.Tell(live.Status, "Not built at "+time.Now().Format(time.TimeOnly)+"; "+shown+".")
}

// build is one run: figures first, then all files.
func (b *watchedBuild) build(ctx context.Context, since time.Time) error {
	f, err := readJobFile(ctx, b.t, b.path)
	b.watchInputs(f)
	if err != nil {
		return err
	}
	heads := b.heads.of(f)
	b.foresee(ctx, f, heads)
	run := making.New(f.job, heads)
	if b.last != nil {
		run.Reuse(b.last)
	}
	if b.opt.weighed {
		if err := f.useWeights(ctx, run); err != nil {
			return err
		}
	}
	if err := b.firstFigures(ctx, run, since); err != nil {
		return err
	}
	b.tellLying(ctx, run)
	if err := run.Open(ctx, nil); err != nil {
		return f.fault(err)
	}
	b.last = run
	if err := run.Check(ctx, making.CheckShare, nil); err != nil {
		return f.fault(err)
	}
	b.tellLying(ctx, run)
	b.showFigures(run, since)
	if err := f.stopFault(run.Molds, false); err != nil && b.looks {
		b.server.Tell(live.Trouble, reportText(faultOf(err)))
	} else if err != nil && !b.opt.anyway {
		return err
	}
	return b.finish(ctx, f, run, since)
}

func (b *watchedBuild) tellLying(ctx context.Context, run *making.Run) {
	if b.lies != nil {
		b.lies(ctx, run)
	}
}

// writeAndShow makes the checked molds, writes all files, and shows the models.
func (b *watchedBuild) writeAndShow(ctx context.Context, f *jobFile, run *making.Run, since time.Time) error {
	products, wrote, err := b.writeAll(ctx, f, run)
	if err != nil {
		return err
	}
	now, took := time.Now().Format(time.TimeOnly), time.Since(since).Seconds()
	if err := b.showModels(ctx, products, now, fmt.Sprintf("Built at %s in %.1f s.", now, took)); err != nil {
		return err
	}
	b.t.say("%s  wrote %s, %s, after %.1f s", now, wrote.folder, counted(wrote.count(), "file", "files"), took)
	return nil
}

// writeAll makes the checked molds and writes all files.
func (b *watchedBuild) writeAll(ctx context.Context, f *jobFile, run *making.Run) ([]*product, written, error) {
	if err := f.protect(b.opt.out); err != nil {
		return nil, written{}, err
	}
	bar := newProgress(b.t)
	defer bar.clear()
	if err := run.Make(ctx, making.Options{Tolerance: b.opt.coarse, Anyway: true, Progress: bar.ofBuild(run, b.opt.coarse)}); err != nil {
		return nil, written{}, f.fault(err)
	}
	products := f.products(run, b.opt)
	wrote, err := writeAll(ctx, bar, products, run.List, f.outputFolder(b.opt.out))
	return products, wrote, err
}

// watchInputs watches the files that the job is made of, before they are read.
func (b *watchedBuild) watchInputs(f *jobFile) {
	b.files.add(f.files()...)
	if b.opt.weighed && f.job != nil {
		for _, m := range f.job.Molds() {
			b.files.add(f.accountOf(m))
		}
	}
}

// showFigures tells what can be told before anything is meshed, as check does.
func (b *watchedBuild) showFigures(run *making.Run, since time.Time) {
	b.pages.takeFigures(run, time.Now().Format(time.TimeOnly))
	b.server.Tell(live.Figures, "")
	b.server.Tell(live.Trouble, `""`)
	b.server.Tell(live.Busy, "Figures of "+time.Now().Format(time.TimeOnly)+"; making the trays.")
	var list []string
	for _, m := range run.Molds {
		list = append(list, figuresInBrief(m.Name, m.Plan)+"; "+tally(m.Plan))
	}
	b.sayFigures("figures", list, since)
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

// showModels shows all of what was made, and says so.
func (b *watchedBuild) showModels(ctx context.Context, products []*product, now, status string) error {
	for _, p := range products {
		if _, err := p.pageModel(ctx); err != nil {
			return err
		}
	}
	b.pages.takeModels(products, now)
	b.server.Tell(live.Figures, "")
	b.server.Tell(live.Model, "")
	b.server.Tell(live.Status, status)
	return nil
}

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"sync"
	"time"

	"halfpour/cmd/halfpour/live"
	"halfpour/moldbox"
	"halfpour/pourplan"
	"halfpour/pourplan/page"
)

// watchedBuild is "build --watch": a build after every save, and a page that
// follows it.
type watchedBuild struct {
	t      *terminal
	path   string
	opt    buildOptions
	files  watchedFiles
	server *live.Server

	kept kept // runs follow each other, never at once

	mu    sync.Mutex
	shown page.Content // by the page: the last good run
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
	b := &watchedBuild{t: t, path: path, opt: opt}
	b.files.add(path)
	var err error
	b.server, err = live.Listen(map[string]live.Document{"": b.page, "figures": b.figures, "model": b.page})
	if err != nil {
		return err
	}
	served := make(chan error, 1)
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	go func() { served <- b.server.Serve(ctx); cancel() }()
	fmt.Fprintf(t.out, "watching %s; the page, on this computer alone: %s\n", path, b.server.URL())
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
	w, err := readWork(b.t, b.path)
	if err != nil {
		return err
	}
	if n := len(w.job.Size); n > 0 {
		return usageError(fmt.Sprintf("%s has %s; --watch takes a job of one mold", b.path, counted(n, "size", "sizes")))
	}
	w.weighed = b.opt.weighed
	b.watchInputs(w)
	b.kept.lend(w)
	if err := w.openFor(ctx, func(string, float64) {}, buildOptions{anyway: true}); err != nil {
		return err
	}
	b.kept.keep(w)
	if err := b.showFigures(ctx, w, since); err != nil {
		return err
	}
	if err := w.stopError(false); err != nil && !b.opt.anyway {
		return err
	}
	bar := newProgress(b.t)
	p, err := makeProduct(ctx, bar.part, w, w.outputFolder(b.opt.out), b.opt)
	var files []writtenFile
	if err == nil {
		files, err = p.write(ctx, bar.part(writeShare))
	}
	bar.clear()
	if err != nil {
		return err
	}
	return b.showModel(ctx, p, files, since)
}

// watchInputs watches what the job is made of, before it is read.
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
func (b *watchedBuild) showFigures(ctx context.Context, w *work, since time.Time) error {
	v, err := b.kept.roughly(ctx, w)
	if err != nil {
		return err
	}
	plan, err := w.newPlan(v, nil, nil)
	if err != nil {
		return err
	}
	b.show(func(c *page.Content) { c.Plan, c.Drawings = plan, nil })
	b.server.Tell(live.Figures, "")
	b.server.Tell(live.Trouble, `""`)
	b.server.Tell(live.Busy, "Figures of "+time.Now().Format(time.TimeOnly)+"; making the trays.")
	step := plan.Rubber.ScaleStepG
	b.t.say("%s  figures after %.2f s: A %s g, B %s g, %s a shot; %s", time.Now().Format(time.TimeOnly), time.Since(since).Seconds(),
		pourplan.OnScale(plan.Rubber.TotalAG, step), pourplan.OnScale(plan.Rubber.TotalBG, step), pourplan.FormatMass(plan.Metal.ShotG), tally(plan))
	return nil
}

// tally counts what the checks say.
func tally(plan *pourplan.Plan) string {
	n := map[string]int{}
	for _, f := range plan.Findings {
		n[f.Severity]++
	}
	return fmt.Sprintf("%s, %s", counted(n[string(moldbox.Stop)], "stop", "stops"), counted(n[string(moldbox.Warn)], "warning", "warnings"))
}

// showModel tells that all is written, and shows it.
func (b *watchedBuild) showModel(ctx context.Context, p *product, files []writtenFile, since time.Time) error {
	model, err := p.pageModel(ctx)
	if err != nil {
		return err
	}
	b.show(func(c *page.Content) { c.Plan, c.Drawings, c.Model = p.plan, p.drawings, model })
	b.server.Tell(live.Figures, "")
	b.server.Tell(live.Model, "")
	now, took := time.Now().Format(time.TimeOnly), time.Since(since).Seconds()
	b.server.Tell(live.Status, fmt.Sprintf("Built at %s in %.1f s.", now, took))
	b.t.say("%s  wrote %s, %s, after %.1f s", now, p.folder, counted(len(files), "file", "files"), took)
	return nil
}

func (b *watchedBuild) show(change func(*page.Content)) {
	b.mu.Lock()
	defer b.mu.Unlock()
	change(&b.shown)
}

// page is all of it, for a browser that comes new or wants the model.
func (b *watchedBuild) page(seen int) ([]byte, error) { return b.write(seen, true) }

// figures is the page without the model.
func (b *watchedBuild) figures(seen int) ([]byte, error) { return b.write(seen, false) }

func (b *watchedBuild) write(seen int, model bool) ([]byte, error) {
	b.mu.Lock()
	c := b.shown
	b.mu.Unlock()
	c.Live, c.Seen, c.Title = true, seen, filepath.Base(b.path)
	if !model {
		c.Model = nil
	}
	var out bytes.Buffer
	err := page.Write(&out, c)
	return out.Bytes(), err
}

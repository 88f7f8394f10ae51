package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/urfave/cli/v2"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/cmd/halfpour/live"
	"halfpour/cmd/halfpour/system"
	"halfpour/pourplan/page"
)

func deskCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name:      "desk",
		Usage:     "make and change a job by hand, in the browser",
		ArgsUsage: "[JOB or FOLDER]",
		Description: `Serves a page to this computer only, at the address it prints, and opens it if
you start it in a terminal (not with --quiet). The page has every key of the job
with its field, and the mold that comes of it. Figures follow each change, then
the model. The job file stays the truth: a change on the page touches the
value's own characters in the file and nothing else, and a change in your editor
shows on the page. "Build" writes the files, as the build command does.

In a folder it opens job.toml, or the only job there. On the page you can open the
folder's other jobs and those one folder below, start a job, with your own head
or with a ball to try, and copy one. Ctrl-C ends it.`,
		UsageText: `  halfpour desk                        the job in this folder
  halfpour desk job.toml
  halfpour desk molds                  a folder of jobs, old or new`,
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "mine", Usage: "the folder halfpour in your documents, as a double click on the program opens it", DisableDefaultText: true},
			quietFlag(),
		},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 0, 1); err != nil {
				return err
			}
			if c.Bool("mine") {
				if c.Args().Present() {
					return usageError("--mine opens a folder of its own", "leave out --mine, or "+c.Args().First())
				}
				folder, notes, err := mine()
				if err != nil {
					return err
				}
				return runMine(c.Context, t, folder, notes, system.OpenBrowser)
			}
			folder, path, err := deskOf(c.Args().First())
			if err != nil {
				return err
			}
			start := deskStart{}
			if t.outWidth > 0 && !t.quiet {
				start.browse = system.OpenBrowser
			}
			return runDesk(c.Context, t, folder, path, start)
		},
	}
}

// deskOf is what the desk opens: a job, and the folder that it is in; or a folder
// and the job in it, "" for none or several.
func deskOf(named string) (deskFolder, string, error) {
	if named == "" {
		named = "."
	}
	if named == "-" {
		return deskFolder{}, "", usageError("the desk changes a job file, not standard input")
	}
	info, err := os.Stat(named)
	folder := err == nil && info.IsDir() || err != nil && filepath.Ext(named) == ""
	if !folder {
		return deskFolder{filepath.Dir(named)}, named, nil
	}
	d := deskFolder{filepath.Clean(named)}
	list, _, err := d.jobs()
	if err != nil {
		return d, "", fileset.WriteFault(d.dir, "", err)
	}
	switch {
	case slices.Contains(list, starterJob):
		return d, filepath.Join(d.dir, starterJob), nil
	case len(list) == 1:
		return d, filepath.Join(d.dir, filepath.FromSlash(list[0])), nil
	}
	return d, "", nil
}

// deskStart is how a desk is started. The zero value only serves it.
type deskStart struct {
	browse      func(address string)       // shows the page; nil for nobody
	listening   func(address string) error // told before it serves
	ended       func(address string)       // told when it no longer serves
	endWhenLeft bool                       // it ends when no page has been open for a while
}

// runDesk serves the desk of a folder until ctx ends; path is of the job to open
// first, "" for none.
func runDesk(ctx context.Context, t *terminal, folder deskFolder, path string, start deskStart) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	lying := &deskLying{}
	watch := &deskWatch{t: t, lying: lying, next: make(chan struct{})}
	job := &deskJob{folder: folder, opened: watch.open, wrote: watch.wrote}
	lying.job = job
	build := &deskBuild{t: t, job: job, ctx: ctx, heads: watch.heads}
	job.building = build.isOn
	defer build.done.Wait()
	defer cancel()
	whole := func(_ int, which string) ([]byte, error) {
		var out bytes.Buffer
		err := page.WriteDesk(&out, page.DeskStart{File: job.current(), Built: build.built(ctx), Content: watch.pages().contentOf(which)})
		return out.Bytes(), err
	}
	s, err := live.Listen(map[string]live.Document{"": whole, "model": watch.changed, "figures": watch.changedFigures})
	if err != nil {
		return err
	}
	watch.server, build.server, lying.server = s, s, s
	job.handle(s)
	build.handle(s)
	lying.handle(s)
	if path != "" {
		job.open(path)
	}
	what := path
	if what == "" {
		what = folder.dir
	}
	printLine(t.out, "watching %s; the page, for this computer only: %s", what, s.URL())
	if start.listening != nil {
		if err := start.listening(s.URL()); err != nil {
			return err
		}
	}
	if start.ended != nil {
		defer start.ended(s.URL())
	}
	if start.browse != nil {
		start.browse(s.URL())
	}
	if start.endWhenLeft {
		minutes := time.NewTicker(time.Minute)
		defer minutes.Stop()
		go func() {
			endWhenLeft(ctx, minutes.C, func() bool { return s.Pages() > 0 || build.isOn() })
			cancel()
		}()
	}
	return serveWhile(ctx, s, watch.follow)
}

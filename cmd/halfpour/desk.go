package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"

	"github.com/urfave/cli/v2"

	"halfpour/cmd/halfpour/live"
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

Without a job it takes job.toml in the folder, or makes a starter job there.
Ctrl-C ends it.`,
		UsageText: `  halfpour desk                        the job in this folder
  halfpour desk job.toml
  halfpour desk minnow                 a folder, old or new`,
		Flags: []cli.Flag{quietFlag()},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 0, 1); err != nil {
				return err
			}
			path, err := jobOfDesk(c.Context, t, c.Args().First())
			if err != nil {
				return err
			}
			return runDesk(c.Context, t, path)
		},
	}
}

// jobOfDesk is the job that the desk opens: the one that is named, the folder's,
// or a starter job where there is none.
func jobOfDesk(ctx context.Context, t *terminal, named string) (string, error) {
	if named == "" {
		named = "."
	}
	if named == "-" {
		return "", usageError("the desk changes a job file, not standard input")
	}
	info, err := os.Stat(named)
	folder := err == nil && info.IsDir() || err != nil && filepath.Ext(named) == ""
	if !folder {
		return named, nil
	}
	path := filepath.Join(named, starterJob)
	if _, err := os.Stat(path); err == nil {
		return path, nil
	}
	if jobs, err := filepath.Glob(filepath.Join(named, "*.toml")); err == nil && len(jobs) == 1 {
		return jobs[0], nil
	}
	if err := writeStarter(ctx, named, false); err != nil {
		return "", err
	}
	t.say("wrote %s and %s (a demo ball head)", path, filepath.Join(named, starterHead))
	return path, nil
}

// runDesk serves the desk of a job until ctx ends.
func runDesk(ctx context.Context, t *terminal, path string) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	watch := newWatch(t, path, buildOptions{coarse: lookTolerance})
	watch.finish = watch.showLook
	watch.begun = func() { watch.server.Tell(live.Form, "") }
	job := &deskJob{path: path}
	build := &deskBuild{t: t, path: path, ctx: ctx}
	defer build.done.Wait()
	defer cancel()
	whole := func(int, string) ([]byte, error) {
		var out bytes.Buffer
		err := page.WriteDesk(&out)
		return out.Bytes(), err
	}
	return watch.serve(ctx, map[string]live.Document{"": whole}, func(s *live.Server) {
		build.server = s
		if t.outWidth > 0 && !t.quiet {
			openBrowser(s.URL())
		}
		job.handle(s)
		build.handle(s)
	})
}

package main

import (
	"context"
	"fmt"
	"io"
	"path"
	"path/filepath"
	"sync"

	"github.com/urfave/cli/v2"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/geom"
	"halfpour/pourplan/making"
	"halfpour/pourplan/page"
	"halfpour/pourplan/sheet"
)

type buildOptions struct {
	out     string  // folder; "" for the job's
	paper   string  // "" for the job's
	anyway  bool    // although the checks say stop
	weighed bool    // with the fill factor of the account
	watch   bool    // again after every save
	coarse  float64 // tolerance in mm instead of the job's; 0 for the job's
	picture string  // file for a picture of how the head lies, also at a stop; "" for none
}

func buildCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name:      "build",
		Usage:     "make frames, pour sheet, plan and pictures",
		ArgsUsage: jobArgument,
		Description: `Reads a job, builds the mold, checks and proves it, and fills the output
folder: left.stl and right.stl (the frames to print), frames.3mf (both on one
plate), pour-sheet.pdf for the bench, desk-sheet.pdf (what to buy, costs, other
metals), plan.json, pictures, and mold.html: figures and a model to turn, in a
browser. The pictures are left.png and right.png (the frames), left-rubber.png
and right-rubber.png (the rubber halves) and closed-mold.png (in section). It
writes all files or none. When the checks say stop, it writes nothing and
the exit code is 6. A job with sizes gets a folder for each size and one buying
list: again, all of these or none.

If the computer crashes while the files get their names, some are new and some
old, each of them complete, and halfpour-unfinished.json in the folder says so.
The next command on the job finishes the set; use none of the files until then.

With --watch it builds again whenever the job or a head is saved, until Ctrl-C,
and serves a page to this computer only, at the address it prints. The page
keeps its view; figures come first, then the model. A job with sizes has a
page for each, with links to the others.

For a job with [box], frames that you have drawn already, it writes the pour
sheet and plan.json.`,
		UsageText: `  halfpour build job.toml
  halfpour build job.toml --out ~/prints --paper letter
  halfpour build job.toml --watch      again after every save, with a page that follows
  halfpour build job.toml --weighed    the next mold, by the heads of the last
  halfpour build job.toml --json | jq .files`,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "out", Aliases: []string{"o"}, Usage: "write into `FOLDER`", DefaultText: "JOB-out next to the job"},
			&cli.StringFlag{Name: "paper", Usage: "`SIZE` of the pour sheet: a4 or letter", DefaultText: "the job's"},
			&cli.Float64Flag{Name: "tolerance", Usage: "`MM` between the frames' meshes and the true solid; over 0.15 for a look: fewer facets, small pictures, no computed shot", DefaultText: "the job's"},
			&cli.BoolFlag{Name: "anyway", Usage: "build even if the checks say stop", DisableDefaultText: true},
			&cli.BoolFlag{Name: "watch", Usage: "build again after every save, and show it in a browser", DisableDefaultText: true},
			pictureFlag(), weighedFlag(), jsonFlag(), quietFlag(),
		},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 1, 1); err != nil {
				return err
			}
			opt := buildOptions{out: c.String("out"), paper: c.String("paper"), anyway: c.Bool("anyway"), coarse: c.Float64("tolerance"), weighed: c.Bool("weighed"), watch: c.Bool("watch"), picture: c.String("picture")}
			if err := opt.check(c); err != nil {
				return err
			}
			if opt.watch {
				return watchBuild(c.Context, t, c.Args().First(), opt)
			}
			return build(c.Context, t, c.Args().First(), opt)
		},
	}
}

func (o buildOptions) check(c *cli.Context) error {
	if c.IsSet("tolerance") && !(o.coarse >= geom.MinTolerance && o.coarse <= 0.5) {
		return usageError(fmt.Sprintf("--tolerance must be %g to 0.5 mm, got %g mm", geom.MinTolerance, o.coarse))
	}
	return nil
}

var papers = map[string]sheet.Paper{"a4": sheet.A4, "letter": sheet.Letter}

// product is a mold that is made and proved, ready to be written.
type product struct {
	*making.Mold
	paper  sheet.Paper
	folder string
	effort effort
	sizes  []page.Size // of the job, for the page; nil when it is of one mold

	modelOnce sync.Once // pageModel
	model     *page.Model
	modelErr  error
}

// build carries out "halfpour build": a folder for each size, whole or not at
// all, and none before all molds are made and proved.
func build(ctx context.Context, t *terminal, job string, opt buildOptions) error {
	f, err := readAnyJob(ctx, t, job)
	if err != nil {
		return err
	}
	if f.job.Box != nil {
		return f.buildBox(ctx, t, opt)
	}
	run, err := f.newRun(ctx, opt.weighed)
	if err != nil {
		return err
	}
	if err := f.protect(opt.out); err != nil {
		return err
	}
	if err := f.takesPicture(opt.picture); err != nil {
		return err
	}
	bar := newProgress(t)
	defer bar.clear()
	err = run.Make(ctx, making.Options{Tolerance: opt.coarse, Anyway: opt.anyway, Progress: bar.ofBuild(run, opt.coarse)})
	if drawErr := f.drawLying(ctx, t, run, opt.picture); drawErr != nil {
		return drawErr
	}
	if err != nil {
		return f.fault(err)
	}
	products := f.products(run, opt)
	wrote, err := writeAll(ctx, bar, products, run.List, f.outputFolder(opt.out))
	if err != nil {
		return err
	}
	bar.clear()
	t.sayChanged(f)
	return f.report(t, run, products, wrote)
}

// newRun is a run of the job; with weighed, of the fill factors that its
// accounts tell.
func (f *jobFile) newRun(ctx context.Context, weighed bool) (*making.Run, error) {
	run := making.New(f.job, f.readHead)
	if weighed {
		return run, f.useWeights(ctx, run)
	}
	return run, nil
}

// names are those of the files that a build writes, in the output folder, with
// slashes.
func (f *jobFile) names() (list []string) {
	for _, m := range f.job.Molds() {
		for _, o := range outputs {
			list = append(list, path.Join(m.Folder, o.name))
		}
	}
	if len(f.job.Size) > 0 {
		for _, l := range listFiles {
			list = append(list, l.name)
		}
	}
	return list
}

// protect refuses to write over what the job is made of, and into folders that
// take no files.
func (f *jobFile) protect(asked string) error {
	inputs, folder := f.files(), f.outputFolder(asked)
	for _, m := range f.job.Molds() {
		inputs = append(inputs, f.accountOf(m))
	}
	var places []string
	for _, name := range f.names() {
		places = append(places, filepath.Join(folder, name))
	}
	if place := fileset.Overwrites(inputs, places); place != "" {
		return usageError(place+" is a file of the job and would be overwritten", "name another folder with --out")
	}
	for _, folder := range f.outputFolders(asked) {
		if err := fileset.Probe(folder); err != nil {
			return err
		}
	}
	return nil
}

// output is a file that build writes.
type output struct {
	name  string
	write func(p *product, ctx context.Context, w io.Writer) error
}

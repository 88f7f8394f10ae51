package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"

	"github.com/urfave/cli/v2"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/pourplan"
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
}

func buildCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name:      "build",
		Usage:     "make frames, pour sheet, plan and pictures",
		ArgsUsage: jobArgument,
		Description: `Reads a job, builds the mold, checks and proves it, and writes into the output
folder: left.stl and right.stl (the frames to print), frames.3mf (both on one
plate), pour-sheet.pdf for the bench, desk-sheet.pdf (what to buy, costs, other
metals), plan.json, pictures, and mold.html: figures and a model to turn, in a
browser. The pictures are left.png and right.png (the frames), left-rubber.png
and right-rubber.png (the rubber halves) and closed-mold.png (in section). Either
all files are written or none. When the checks say stop, nothing is written and
the exit code is 6. A job with sizes gets a folder for each, and one buying list
for all.

Should the computer fail just while the files get their names, some are new and
others old, each whole, and halfpour-unfinished.json in the folder says so. The
next command on the job puts the rest in place; till then, use none of them.

With --watch it builds again whenever the job or a head is saved, until Ctrl-C,
and serves the page to this computer alone, at an address that it prints. The
page keeps its view; figures come first, then the model. A job with sizes has a
page for each, with the others a tap away.`,
		UsageText: `  halfpour build job.toml
  halfpour build job.toml --out ~/prints --paper letter
  halfpour build job.toml --watch      again after every save, with a page that follows
  halfpour build job.toml --weighed    the next mold, by the heads of the last
  halfpour build job.toml --json | jq .files`,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "out", Aliases: []string{"o"}, Usage: "write into `FOLDER`", DefaultText: "JOB-out beside the job"},
			&cli.StringFlag{Name: "paper", Usage: "`SIZE` of the pour sheet: a4 or letter", DefaultText: "the job's"},
			&cli.Float64Flag{Name: "tolerance", Usage: "`MM` between the frames' meshes and the true solid; over 0.15 for a look, with small pictures", DefaultText: "the job's"},
			&cli.BoolFlag{Name: "anyway", Usage: "build although the checks say stop", DisableDefaultText: true},
			&cli.BoolFlag{Name: "watch", Usage: "build again after every save, and show it in a browser", DisableDefaultText: true},
			weighedFlag(), jsonFlag(), quietFlag(),
		},
		Action: func(c *cli.Context) error {
			if err := begin(t, c, 1, 1); err != nil {
				return err
			}
			opt := buildOptions{out: c.String("out"), paper: c.String("paper"), anyway: c.Bool("anyway"), coarse: c.Float64("tolerance"), weighed: c.Bool("weighed"), watch: c.Bool("watch")}
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

// product is a job that is built and proved, ready to be written.
type product struct {
	*work
	measured moldbox.Measured
	plan     *pourplan.Plan
	frames   [2]*geom.TriMesh // left, right, as their files hold them
	rubber   [2]*geom.TriMesh // the rubber halves in their frames, for the pictures
	proof    moldbox.Proof
	drawings []pourplan.Drawing
	paper    sheet.Paper
	folder   string
	effort   effort
	sizes    []page.Size // of the job, for the page; nil when it is of one mold

	modelOnce sync.Once // pageModel
	model     *page.Model
	modelErr  error
}

// halves are the mold's, in the order of product.frames.
func (w *work) halves() [2]moldbox.Half { return [2]moldbox.Half{w.mold.Left, w.mold.Right} }

// build carries out "halfpour build".
func build(ctx context.Context, t *terminal, path string, opt buildOptions) error {
	w, err := readWork(ctx, t, path)
	if err != nil {
		return err
	}
	w.weighed = opt.weighed
	if len(w.job.Size) > 0 {
		return buildSizes(ctx, t, w, opt)
	}
	bar := newProgress(t)
	var p *product
	if err = w.openFor(ctx, bar.part(readShare), opt); err == nil {
		p, err = makeProduct(ctx, bar.part, w, w.outputFolder(opt.out), opt)
	}
	var files []writtenFile
	if err == nil {
		files, err = p.write(ctx, bar.part)
	}
	bar.clear()
	if err != nil {
		return err
	}
	t.sayChanged(w)
	return p.report(t, files)
}

// partOf adds a job that is a share of all there is to do, and returns how it
// reports: progress.part, or a share of that.
type partOf func(share float64) func(stage string, done float64)

// openFor opens the work for a build; findings that say stop are an error
// unless it goes on anyway.
func (w *work) openFor(ctx context.Context, report func(string, float64), opt buildOptions) error {
	report("reading", 0)
	if err := w.open(ctx); err != nil {
		return err
	}
	report("reading", 1)
	if opt.anyway {
		return nil
	}
	return w.stopError(false)
}

// makeProduct does all of an opened work but writing.
func makeProduct(ctx context.Context, part partOf, w *work, folder string, opt buildOptions) (*product, error) {
	tolerance := float64(w.job.Output.Tolerance)
	if opt.coarse > 0 {
		tolerance = opt.coarse
	}
	var err error
	p := &product{work: w, paper: papers[w.job.Output.Paper], folder: folder, effort: effort{len(w.mold.Cavities), w.facets(), tolerance}}
	report := part(p.effort.shares().measure)
	start := func(step string) { report(step, measureSteps[step]) }
	start("measuring")
	if opt.paper != "" {
		p.paper = papers[opt.paper]
	}
	if err := w.fitsMemory(); err != nil {
		return nil, err
	}
	if err := p.protectInputs(); err != nil {
		return nil, err
	}
	if err := fileset.Probe(p.folder); err != nil {
		return nil, err
	}
	if p.measured, err = w.mold.Measure(ctx, rubberShare, w.cavityHeads()); err != nil {
		return nil, err
	}
	start("adding up")
	if p.proof.Whole, err = w.mold.ProveWhole(ctx, p.measured.Left.Rubber, p.measured.Right.Rubber); err != nil {
		return nil, err
	}
	start("cutting the drawings")
	if p.drawings, err = pourplan.Draw(ctx, w.mold); err != nil {
		return nil, err
	}
	start("drawn")
	if err := p.makeFrames(ctx, part, tolerance); err != nil {
		return nil, w.blameCrossed(err)
	}
	if err := p.makeRubber(ctx); err != nil {
		return nil, err
	}
	p.measured.Left.Mesh, p.measured.Right.Mesh = &p.proof.Left, &p.proof.Right
	p.plan, err = w.newPlan(p.measured)
	return p, err
}

// makeFrames meshes and proves both frames.
func (p *product) makeFrames(ctx context.Context, part partOf, tolerance float64) error {
	report := map[string]func(string, float64){}
	for _, half := range p.halves() {
		report[half.Name] = part(p.effort.shares().frame)
	}
	frames, err := p.mold.MakeFrames(ctx, moldbox.FrameOptions{
		Tolerance: tolerance, Heads: p.cavityHeads(), OneByOne: p.facets() > largeMold,
		Progress: func(half, step string) { report[half](half+" frame: "+step, frameSteps[step]) },
	})
	p.proof.Left, p.proof.Right = frames[0].Proof, frames[1].Proof
	p.frames = [2]*geom.TriMesh{frames[0].Mesh, frames[1].Mesh}
	return err
}

// outputFolder is where the files go: as asked, as the job says, or a folder
// named after the job beside it.
func (w *work) outputFolder(asked string) string {
	switch folder := filepath.FromSlash(w.job.Output.Folder); {
	case asked != "":
		return asked
	case folder != "":
		return filepath.Join(w.folder(), folder)
	}
	return filepath.Join(w.folder(), w.name()+"-out")
}

// protectInputs refuses to write over what the job is made of.
func (p *product) protectInputs() error {
	inputs := []string{p.path}
	for _, c := range p.job.Placed() {
		inputs = append(inputs, p.heads[c.Head.File].Name)
	}
	for _, f := range outputs {
		place := filepath.Join(p.folder, f.name)
		there, err := os.Stat(place)
		if err != nil {
			continue
		}
		for _, in := range inputs {
			if info, err := os.Stat(in); err == nil && os.SameFile(info, there) {
				return usageError(place+" is a file of the job and would be written over", "name another folder with --out")
			}
		}
	}
	return nil
}

// output is a file that build writes.
type output struct {
	name  string
	write func(p *product, ctx context.Context, w io.Writer) error
}

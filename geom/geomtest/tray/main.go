// Command tray is the reference workload for speed: a printed tray with five
// half heads on its floor, measured and meshed, as one job that engines for
// exact mesh booleans can do too. Run it in the repository's root:
//
//	go run ./geom/geomtest/tray --make-head 100000 head.stl
//	go run ./geom/geomtest/tray head.stl tray.stl
//
// It prints the time of each stage, the triangles, the volume of the rubber
// with its bracket and the peak of memory. Lengths are mm, volumes mm³.
//
// main.go has the options, job.go the run; solids.go the tray, head*.go the
// head; report.go, usage*.go and pictures.go what comes out.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	err := run(ctx, os.Args[1:], os.Stdout)
	stop()
	switch {
	case errors.Is(err, flag.ErrHelp):
	case err != nil:
		fmt.Fprintln(os.Stderr, "tray:", err)
		os.Exit(1)
	}
}

const synopsis = `tray [options] HEAD.stl TRAY.stl      measure the rubber, then mesh and write the tray
tray --rubber [options] HEAD.stl      measure the rubber only
tray --mesh [options] HEAD.stl TRAY.stl    mesh and write only
tray --make-head FACETS HEAD.stl      write the invented head, out of that many facets
tray --pictures FOLDER HEAD.stl       draw a head beside the same head on the tray

options:
`

// run does what the arguments say and writes the report.
func run(ctx context.Context, args []string, out io.Writer) error {
	flags := flag.NewFlagSet("tray", flag.ContinueOnError)
	flags.SetOutput(out)
	flags.Usage = func() {
		fmt.Fprint(out, synopsis)
		flags.PrintDefaults()
	}
	var j job
	flags.Float64Var(&j.tolerance, "tolerance", 0.02, "greatest `mm` between mesh and tray")
	flags.Float64Var(&j.relTol, "error", 1e-4, "greatest `share` that the rubber's volume is off by")
	flags.IntVar(&j.workers, "workers", 0, "`number` of threads to work with; 0 for all processors")
	flags.BoolVar(&j.check, "check", false, "afterwards look for faults and crossings in the mesh, and for its deviation")
	rubberOnly := flags.Bool("rubber", false, "measure only")
	meshOnly := flags.Bool("mesh", false, "mesh only")
	asJSON := flags.Bool("json", false, "report in JSON")
	facets := flags.Int("make-head", 0, "write a head of that `number` of facets, even, instead")
	pictures := flags.String("pictures", "", "write pictures into this `folder` instead")
	if err := flags.Parse(args); err != nil {
		return err
	}
	j.measures, j.meshes = !*meshOnly, !*rubberOnly
	files, want := flags.Args(), []string{"HEAD.stl"}
	if j.meshes && *facets == 0 && *pictures == "" {
		want = append(want, "TRAY.stl")
	}
	switch {
	case *rubberOnly && *meshOnly:
		return errors.New("--rubber and --mesh leave nothing to do; give one of them, or none for both")
	case len(files) != len(want):
		return fmt.Errorf("want %s after the options, got %d names; see --help", strings.Join(want, " "), len(files))
	case *facets != 0:
		return writeHead(*facets, files[0])
	case *pictures != "":
		return drawPictures(ctx, j, files[0], *pictures)
	}
	j.head = files[0]
	if j.meshes {
		j.tray = files[1]
	}
	r, err := j.run(ctx)
	if err != nil {
		return err
	}
	if *asJSON {
		return r.writeJSON(out)
	}
	return r.writeText(out)
}

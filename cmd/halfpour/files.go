package main

import (
	"bytes"
	"context"
	"io"
	"path"
	"path/filepath"
	"slices"

	"golang.org/x/sync/errgroup"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/geom"
	"halfpour/geom/parallel"
	"halfpour/geom/stl"
	"halfpour/geom/threemf"
	"halfpour/pourplan"
	"halfpour/pourplan/sheet"
)

// outputs are the files of a build, in the order in which they are told.
var outputs = []output{
	{"left.stl", func(p *product, _ context.Context, w io.Writer) error { return p.writeSTL(w, 0) }},
	{"right.stl", func(p *product, _ context.Context, w io.Writer) error { return p.writeSTL(w, 1) }},
	{"frames.3mf", func(p *product, _ context.Context, w io.Writer) error { return threemf.Write(w, p.plate()) }},
	{"pour-sheet.pdf", func(p *product, _ context.Context, w io.Writer) error {
		return sheet.WritePour(w, p.Plan, p.Drawings, p.Cuts(), p.paper)
	}},
	{"desk-sheet.pdf", func(p *product, _ context.Context, w io.Writer) error {
		return sheet.WriteDesk(w, p.Plan, pourplan.StepDrawings(p.Measured, p.Plan.Print), p.paper)
	}},
	{"plan.json", func(p *product, _ context.Context, w io.Writer) error { return writePlan(w, p.Plan) }},
	{"left.png", func(p *product, ctx context.Context, w io.Writer) error { return p.WriteFramePicture(ctx, w, 0) }},
	{"right.png", func(p *product, ctx context.Context, w io.Writer) error { return p.WriteFramePicture(ctx, w, 1) }},
	{"left-rubber.png", func(p *product, ctx context.Context, w io.Writer) error { return p.WriteRubberPicture(ctx, w, 0) }},
	{"right-rubber.png", func(p *product, ctx context.Context, w io.Writer) error { return p.WriteRubberPicture(ctx, w, 1) }},
	{"closed-mold.png", func(p *product, ctx context.Context, w io.Writer) error { return p.WriteMoldPicture(ctx, w) }},
	{pageName, func(p *product, ctx context.Context, w io.Writer) error { return p.writePage(ctx, w) }},
}

const pageName = "mold.html"

// writtenFile is a file in its place.
type writtenFile struct {
	name string
	Path string `json:"path"`  // where it was written
	Size int64  `json:"bytes"` // its size
}

// write writes the mold's files into a set, in its folder there.
func (p *product) write(ctx context.Context, set *fileset.Set, report func(stage string, done float64)) error {
	report("writing", 0)
	tell := p.effort.writeProgress(report)
	group, within := errgroup.WithContext(ctx)
	for _, f := range outputs {
		group.Go(func() error {
			err := set.Create(within, path.Join(p.Folder, f.name), func(w io.Writer) error {
				if !f.isPicture() {
					return f.write(p, within, w)
				}
				data, err := p.picture(within, f)
				if err == nil {
					_, err = w.Write(data)
				}
				return err
			})
			tell(f.name)
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return err
	}
	report("written", 1)
	return nil
}

func (o output) isPicture() bool { return filepath.Ext(o.name) == ".png" }

// picture draws one of the pictures. It may be shared.
func (p *product) picture(ctx context.Context, o output) ([]byte, error) {
	return parallel.Share(parallel.Of(ctx, p.Name), o.name, func() ([]byte, error) {
		var data bytes.Buffer
		err := o.write(p, ctx, &data)
		return data.Bytes(), err
	})
}

func writePlan(w io.Writer, p *pourplan.Plan) error {
	data, err := p.JSON()
	if err != nil {
		return err
	}
	_, err = w.Write(data)
	return err
}

func (p *product) writeSTL(w io.Writer, half int) error {
	return stl.Write(w, p.Frames[half], p.Job.Title+", "+p.Solids.Halves()[half].Name+" frame")
}

// plate puts both frames on the printer's bed as the plan has them, floors down on z = 0;
// what is printed on its own stands on a bed beside the first.
func (p *product) plate() threemf.Package {
	pkg := threemf.Package{Title: p.Job.Title}
	bed := p.Plan.Print.Bed
	for k, print := range bed.Prints {
		for _, f := range print.Frames {
			i := slices.IndexFunc(p.Plan.Print.Frames, func(of pourplan.PrintFrame) bool { return of.Half == f.Half })
			mesh := p.Frames[i]
			if f.Turned {
				mesh = mesh.Transform(quarterTurn, false)
			}
			low := mesh.BoundingBox().Min
			pkg.Objects = append(pkg.Objects, threemf.Object{Name: f.Half + " frame", Mesh: mesh,
				Offset: geom.Vec{X: f.AtMM[0] + float64(k)*(bed.SizeMM[0]+bedsApart), Y: f.AtMM[1]}.Sub(low)})
		}
	}
	return pkg
}

// bedsApart is between beds that stand side by side in a file, mm.
const bedsApart = 50

// quarterTurn turns a frame on the bed, its left edge to the near side.
func quarterTurn(v geom.Vec) geom.Vec { return geom.Vec{X: -v.Y, Y: v.X, Z: v.Z} }

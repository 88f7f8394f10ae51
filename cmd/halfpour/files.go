package main

import (
	"context"
	"io"
	"path"
	"path/filepath"
	"sync"

	"golang.org/x/sync/errgroup"

	"halfpour/cmd/halfpour/fileset"
	"halfpour/geom"
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
		return sheet.WriteDesk(w, p.Plan, p.paper)
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
	var picture sync.Mutex // one takes all processors and much memory by itself
	for _, f := range outputs {
		group.Go(func() error {
			if filepath.Ext(f.name) == ".png" {
				picture.Lock()
				defer picture.Unlock()
			}
			err := set.Create(within, path.Join(p.Folder, f.name), func(w io.Writer) error { return f.write(p, within, w) })
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

// plateGap is left between the frames on the printer's plate, mm.
const plateGap = 5

// plate puts both frames on the printer's plate, floors down on z = 0: the
// right one on the right, or behind the left one where only that fits the bed.
// Frames that do not fit together either way stand side by side, to be printed
// one by one.
func (p *product) plate() threemf.Package {
	pkg := threemf.Package{Title: p.Job.Title}
	left, right := p.Frames[0].BoundingBox().Size(), p.Frames[1].BoundingBox().Size()
	bed := p.Job.Print
	beside := left.X+plateGap+right.X <= float64(bed.BedX)
	behind := !beside && left.Y+plateGap+right.Y <= float64(bed.BedY)
	var corner geom.Vec
	for i, half := range p.Solids.Halves() {
		b := p.Frames[i].BoundingBox()
		pkg.Objects = append(pkg.Objects, threemf.Object{
			Name: half.Name + " frame", Mesh: p.Frames[i],
			Offset: geom.Vec{X: corner.X - b.Min.X, Y: corner.Y - b.Min.Y, Z: -b.Min.Z},
		})
		if behind {
			corner.Y += b.Size().Y + plateGap
		} else {
			corner.X += b.Size().X + plateGap
		}
	}
	return pkg
}

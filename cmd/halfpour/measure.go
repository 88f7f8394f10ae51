package main

import (
	"context"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// volumes is what a plan needs to know of a mold.
type volumes struct {
	left, right geom.Integral // rubber
	cavities    []pourplan.MeasuredCavity
	runner      float64 // that they share, mm³

	plasticLeft, plasticRight float64 // of the frames, mm³; 0 when of no matter
}

// rubberShare is how well a build measures the rubber, which is bought by it.
const rubberShare = 1e-4

// measure integrates the rubber of both halves to a share of its volume, and
// the runners of each kind of cavity.
func (w *work) measure(ctx context.Context, share float64) (volumes, error) {
	var v volumes
	rubber := func(h moldbox.Half, to *geom.Integral) func(context.Context) error {
		return func(ctx context.Context) (err error) {
			*to, err = geom.Integrate(ctx, h.Rubber(), geom.IntegrateOptions{RelTol: share})
			return err
		}
	}
	err := together(ctx, []func(context.Context) error{
		rubber(w.mold.Left, &v.left), rubber(w.mold.Right, &v.right),
		func(ctx context.Context) (err error) {
			v.cavities, err = w.measureCavities(ctx)
			return err
		},
		func(ctx context.Context) (err error) {
			v.runner, err = sharedRunnerVolume(ctx, w.mold)
			return err
		},
	})
	return v, err
}

// sketchOff is how far the rubber of a sketch may be off, as a share of it.
const sketchOff = 0.02

// sketched is what measure returns, of a sketch, whose mold is the work's.
func (w *work) sketched(ctx context.Context, s *moldbox.Sketch) (volumes, error) {
	about := func(rubber float64) geom.Integral {
		return geom.Integral{Lo: rubber * (1 - sketchOff), Best: rubber, Hi: rubber * (1 + sketchOff)}
	}
	v := volumes{left: about(s.Left), right: about(s.Right)}
	var err error
	if v.cavities, err = w.measureCavities(ctx); err == nil {
		v.runner, err = sharedRunnerVolume(ctx, w.mold)
	}
	return v, err
}

// measureCavities takes from the cavities what a plan needs; those that are
// alike are measured once.
func (w *work) measureCavities(ctx context.Context) ([]pourplan.MeasuredCavity, error) {
	var list []pourplan.MeasuredCavity
	heads, top := w.cavityHeads(), w.mold.Left.Inside.Max.Y
	runners, areas := make([]float64, len(heads)), make([]float64, len(heads))
	for i, c := range w.mold.Cavities {
		if c.AlikeTo < i {
			runners[i], areas[i] = runners[c.AlikeTo], areas[c.AlikeTo]
		} else {
			var err error
			if runners[i], err = runnerVolume(ctx, c, top); err != nil {
				return nil, err
			}
			size := c.Scale * c.Shrink
			areas[i] = heads[i].Area() * size * size
		}
		list = append(list, pourplan.MeasureCavity(c, areas[i], runners[i], top))
	}
	return list, nil
}

// measurePlastic adds the volume of the frames, if the job has a price for it,
// where nothing is meshed.
func (w *work) measurePlastic(ctx context.Context, v *volumes) error {
	if w.job.Cost.Plastic == nil {
		return nil
	}
	frame := func(h moldbox.Half, rubber float64, to *float64) func(context.Context) error {
		return func(ctx context.Context) (err error) {
			*to, err = w.mold.Plastic(ctx, h, rubber)
			return err
		}
	}
	return together(ctx, []func(context.Context) error{
		frame(w.mold.Left, v.left.Best, &v.plasticLeft), frame(w.mold.Right, v.right.Best, &v.plasticRight),
	})
}

// runnerShare is how well runners are measured: they go back into the pot.
const runnerShare = 5e-3

// runnerVolume is the metal in sprue, gate and vents up to the mold's upper
// edge, mm³.
func runnerVolume(ctx context.Context, c moldbox.Placed, top float64) (float64, error) {
	runner := c.Sprue
	if c.Vent != nil {
		runner = geom.Union(c.Sprue, c.Vent)
	}
	within := runner.BoundingBox()
	within.Max.Y = min(within.Max.Y, top)
	v, err := geom.Integrate(ctx, geom.Subtract(runner, c.Head), geom.IntegrateOptions{Within: within, RelTol: runnerShare})
	return v.Best, err
}

// sharedRunnerVolume is the metal in the runner of a mold with one funnel, the
// branches left out, mm³; 0 without one.
func sharedRunnerVolume(ctx context.Context, m *moldbox.Mold) (float64, error) {
	if m.Runner == nil {
		return 0, nil
	}
	v, err := geom.Integrate(ctx, m.SharedRunner(), geom.IntegrateOptions{RelTol: runnerShare})
	return v.Best, err
}

// newPlan computes the figures; meshes are nil as long as nothing is meshed.
func (w *work) newPlan(v volumes, left, right *pourplan.MeasuredMesh) (*pourplan.Plan, error) {
	in := pourplan.Measured{
		Left:     pourplan.MeasureHalf(w.mold.Left, span(v.left), left),
		Right:    pourplan.MeasureHalf(w.mold.Right, span(v.right), right),
		Cavities: v.cavities,
		Runner:   v.runner,
		Layout:   pourplan.MeasureLayout(w.mold),
		Thinnest: w.mold.Thinnest,
		Findings: w.findings,
	}
	in.Left.Plastic, in.Right.Plastic = v.plasticLeft, v.plasticRight
	return pourplan.NewPlan(w.job, in)
}

// measuredMesh is what a plan tells of a proof.
func measuredMesh(p moldbox.HalfProof) *pourplan.MeasuredMesh {
	return &pourplan.MeasuredMesh{Volume: p.MeshVolume, Triangles: p.Triangles,
		Solid: pourplan.Span{Lo: p.SolidLeast, Best: p.SolidVolume, Hi: p.SolidMost}}
}

func span(v geom.Integral) pourplan.Span { return pourplan.Span{Lo: v.Lo, Best: v.Best, Hi: v.Hi} }

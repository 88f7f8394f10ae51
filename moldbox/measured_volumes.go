package moldbox

import (
	"context"

	"golang.org/x/sync/errgroup"

	"halfpour/geom"
	"halfpour/geom/parallel"
)

// Measure integrates the rubber of both halves to a share of its volume, and
// the runners of each kind of cavity. heads are the cavities' own meshes in mm,
// in order, for the areas of their surfaces; nil leaves those out. Its error is
// the context's.
func (m *Mold) Measure(ctx context.Context, share float64, heads []*geom.TriMesh) (Measured, error) {
	in := m.measured()
	group, ctx := errgroup.WithContext(ctx)
	rubber := func(h Half, to *geom.Integral) {
		group.Go(func() (err error) {
			*to, err = parallel.Share(ctx, h.Name+" rubber", func() (geom.Integral, error) {
				return m.rubberVolume(ctx, h, share)
			})
			return err
		})
	}
	rubber(m.Left, &in.Left.Rubber)
	rubber(m.Right, &in.Right.Rubber)
	group.Go(func() error { return m.measureCavities(ctx, heads, in.Cavities) })
	group.Go(func() (err error) {
		in.Runner, err = m.sharedRunnerVolume(ctx)
		return err
	})
	group.Go(func() (err error) {
		in.Lumps, err = m.lumps(ctx)
		return err
	})
	err := group.Wait()
	return in, err
}

// SketchOff is how far the rubber of a sketch may be off, as a share of it.
const SketchOff = 0.02

// Measure is Mold.Measure of a sketch: its rubber is known already.
func (s *Sketch) Measure(ctx context.Context, heads []*geom.TriMesh) (Measured, error) {
	about := func(rubber float64) geom.Integral {
		return geom.Integral{Lo: rubber * (1 - SketchOff), Best: rubber, Hi: rubber * (1 + SketchOff)}
	}
	in := s.Mold.measured()
	in.Left.Rubber, in.Right.Rubber = about(s.Left), about(s.Right)
	err := s.Mold.measureCavities(ctx, heads, in.Cavities)
	if err == nil {
		in.Runner, err = s.Mold.sharedRunnerVolume(ctx)
	}
	if err == nil {
		in.Lumps, err = s.Mold.lumps(ctx)
	}
	return in, err
}

// measureCavities measures runners and surfaces; of cavities that are alike
// once.
func (m *Mold) measureCavities(ctx context.Context, heads []*geom.TriMesh, to []MeasuredCavity) error {
	for i, c := range m.Cavities {
		if c.AlikeTo < i {
			to[i].Runner, to[i].Area, to[i].Slopes = to[c.AlikeTo].Runner, to[c.AlikeTo].Area, to[c.AlikeTo].Slopes
			continue
		}
		var err error
		if to[i].Runner, err = c.runnerVolume(ctx, m.Left.Inside.Max.Y); err != nil {
			return err
		}
		if heads != nil {
			size := c.Scale * c.Shrink
			to[i].Area = heads[i].Area() * size * size
			to[i].Slopes = slopesOf(heads[i], c.ToMold, m.Spec.Print.layers())
		}
	}
	return nil
}

// MeasurePlastic adds the volumes of the frames to what was measured, where
// nothing is meshed. Its error is the context's.
func (m *Mold) MeasurePlastic(ctx context.Context, in *Measured) error {
	group, ctx := errgroup.WithContext(ctx)
	frame := func(h Half, of *MeasuredHalf) {
		group.Go(func() (err error) {
			of.Plastic, err = m.Plastic(ctx, h, of.Rubber)
			return err
		})
	}
	frame(m.Left, &in.Left)
	frame(m.Right, &in.Right)
	return group.Wait()
}

// runnerShare is how well runners are measured: they go back into the pot.
const runnerShare = 5e-3

// runnerVolume is the metal in sprue, gate and vents up to the mold's upper
// edge, mm³.
func (c *Placed) runnerVolume(ctx context.Context, top float64) (float64, error) {
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
func (m *Mold) sharedRunnerVolume(ctx context.Context) (float64, error) {
	if m.Runner == nil {
		return 0, nil
	}
	v, err := geom.Integrate(ctx, m.SharedRunner(), geom.IntegrateOptions{RelTol: runnerShare})
	return v.Best, err
}

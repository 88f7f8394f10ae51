package heat

import (
	"context"
	"errors"
	"fmt"
	"math"
)

// errScene says that a scene cannot be computed.
var errScene = errors.New("not a scene to compute")

// ErrSteps says that the equations could not be solved.
var ErrSteps = errors.New("the computation of heat does not settle")

// usualCell is the size of cells near the metal, mm, when none is asked for, or so that
// acrossHead lie across the narrowest head, but no finer than finestUsual: that keeps freezing times within
// about 3 % of those of much finer cells.
const usualCell, finestUsual, acrossHead = 1.0, 0.4, 8.0

// settle fills in what is left open.
func (o Options) settle(s *Scene) Options {
	if o.Cell <= 0 {
		o.Cell = usualCell
		for _, b := range s.Bodies {
			if size := b.Solid.BoundingBox().Size(); b.Role == Head {
				o.Cell = math.Min(o.Cell, math.Min(size.X, math.Min(size.Y, size.Z))/acrossHead)
			}
		}
		o.Cell = math.Max(o.Cell, finestUsual)
	}
	if o.Shots <= 0 {
		o.Shots = 1
	}
	if o.Longest <= 0 {
		o.Longest = 3600
	}
	if o.Coherent <= 0 {
		o.Coherent = 0.65
	}
	o.Snapshots = sorted(o.Snapshots)
	return o
}

// check returns an error for a scene that makes no sense.
func (s *Scene) check() error {
	if s.Box.IsEmpty() || s.Box.Volume() == 0 || !s.Box.Min.IsFinite() || !s.Box.Max.IsFinite() {
		return fmt.Errorf("%w: its box is %v", errScene, s.Box)
	}
	errs := []error{s.Fill.Check()}
	cast := false
	for _, b := range s.Bodies {
		errs = append(errs, b.Substance.Check())
		cast = cast || b.Role.Cast()
	}
	if !cast {
		errs = append(errs, fmt.Errorf("%w: nothing in it is cast", errScene))
	}
	return errors.Join(errs...)
}

// Solve computes a scene from its pour on. The same scene and options give the
// same result to the last bit, whatever the number of workers. It returns ctx's
// error when ctx ends, and an error for a scene that makes no sense.
func Solve(ctx context.Context, scene Scene, opt Options) (Result, error) {
	return solve(ctx, scene, opt.settle(&scene), usualPace())
}

func solve(ctx context.Context, scene Scene, opt Options, p pace) (Result, error) {
	if err := scene.check(); err != nil {
		return Result{}, err
	}
	g, err := opt.Cells.grid(ctx, &scene, opt.Cell, opt.Workers)
	if err != nil {
		return Result{}, err
	}
	s := newState(g)
	r := Result{Unknowns: len(g.parts), Cell: opt.Cell, Symmetric: g.halved}
	books := s.openBooks()
	for n := range opt.Shots {
		if n > 0 {
			s.pour()
		}
		shot, snapshots, err := s.shoot(ctx, &opt, p, n == opt.Shots-1)
		if err != nil {
			return Result{}, err
		}
		r.Shots, r.Snapshots = append(r.Shots, shot), snapshots
	}
	r.Steps = s.steps
	r.HeatError = books.off(s)
	return r, nil
}

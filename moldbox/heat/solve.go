package heat

import (
	"context"
	"errors"
	"fmt"
	"math"

	"halfpour/geom"
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
	g, err := newGrid(ctx, &scene, opt.Cell, opt.Workers)
	if err != nil {
		return Result{}, err
	}
	s := newState(g, opt.Workers)
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

// books are what heat there was before the first pour, J.
type books struct {
	begin float64
	metal float64 // what the metal of one shot brings
}

func (s *state) openBooks() books {
	b := books{begin: s.total()}
	scene := s.g.scene
	for i, part := range s.g.parts {
		if part.body < s.g.fill() && scene.Bodies[part.body].Role.Cast() {
			b.metal += s.volume[i] * (s.heat[i] - scene.Bodies[part.body].Substance.At(scene.FillC).H)
		}
	}
	return b
}

// off is by how much heat is more or less than it should be, over what a shot's
// metal brings.
func (b books) off(s *state) float64 {
	return math.Abs(s.total()+s.outside[0]-b.begin-s.brought) / math.Max(b.metal, 1e-12)
}

// shoot takes the mold through one shot, from the pour to the next.
func (s *state) shoot(ctx context.Context, opt *Options, p pace, last bool) (Shot, []Snapshot, error) {
	w := newWatch(s, opt)
	before := append([]float64(nil), s.temperature...)
	var kept []Snapshot
	waiting := opt.Snapshots
	stop := func() bool { return w.solidAll() && s.time >= opt.Open-1e-9 || ctx.Err() != nil }
	see := func(from float64) bool {
		w.see(from)
		return !stop()
	}
	// until goes on to a time, with a stop at each moment to keep.
	freezing := func() bool { return !w.solidAll() }
	until := func(to, since float64, seen func(float64) bool) {
		for last && len(waiting) > 0 && waiting[0] <= to {
			if !s.march(waiting[0], since, p, freezing, seen) {
				return
			}
			kept = append(kept, s.snapshot(w))
			waiting = waiting[1:]
		}
		s.march(to, since, p, freezing, seen)
	}
	until(math.Min(opt.Open, opt.Longest), 0, see)
	if !stop() {
		until(opt.Longest, 0, see)
	}
	if err := ctx.Err(); err != nil {
		return Shot{}, nil, err
	}
	if s.time < opt.Longest-1e-9 && !stop() {
		return Shot{}, nil, ErrSteps
	}
	w.shot.Reach, w.shot.Sides = s.reach(before, opt.Reach), s.sides(before)
	rest := opt.Least
	if !last {
		rest = opt.Every
	}
	wait := func(to, since float64) error {
		until(to, since, func(from float64) bool { w.seeOpen(from); return ctx.Err() == nil })
		if err := ctx.Err(); err != nil {
			return err
		}
		if s.time < to-1e-9 {
			return ErrSteps
		}
		return nil
	}
	since := 0.0
	if opt.Every > 0 && s.time < opt.Every {
		since = s.time
		w.shot.Opened = s.time
		s.opened()
		if shut := s.time + opt.Lies; opt.Lies > 0 && shut < rest {
			if err := wait(shut, since); err != nil {
				return Shot{}, nil, err
			}
			since = s.time
			s.shut()
		}
	}
	if rest > s.time {
		if err := wait(rest, since); err != nil {
			return Shot{}, nil, err
		}
	}
	return w.finish(), kept, nil
}

// seeOpen is see once the metal is solid or gone.
func (w *watch) seeOpen(from float64) {
	if w.s.empty {
		w.skin(from)
		return
	}
	w.see(from)
}

// Snapshot is all temperatures at one moment.
type Snapshot struct {
	Time float64 // s since the pour
	g    *grid
	heat []float64
	s    *state

	skins []int32   // links
	hot   []float64 // of each of skins
}

func (s *state) snapshot(w *watch) Snapshot {
	return Snapshot{Time: s.time, g: s.g, s: s, heat: append([]float64(nil), s.heat...), skins: w.skins, hot: append([]float64(nil), w.hot...)}
}

// Skin returns how hot the fill's surface is where it touches what is cast, °C: the
// mean over what is within so many mm of p, or what is nearest.
func (n Snapshot) Skin(p geom.Vec, within float64) float64 {
	if n.g.halved && p.Z < n.g.scene.Parting {
		p.Z = 2*n.g.scene.Parting - p.Z
	}
	least, nearest, sum, area := math.Inf(1), math.NaN(), 0.0, 0.0
	for i, link := range n.skins {
		l := &n.s.links[link]
		d := n.g.between(l).Sub(p).Norm()
		if d < least {
			least, nearest = d, n.hot[i]
		}
		if d <= within {
			sum += l.area * n.hot[i]
			area += l.area
		}
	}
	if area == 0 {
		return nearest
	}
	return sum / area
}

// Sample is what is at one place at one moment.
type Sample struct {
	C     float64 // °C
	Solid float64 // share
	Body  int     // index in the scene; as many as there are bodies for the fill
}

// At returns what is at a place, false outside the scene's box. Within a part of
// a cell it is the same everywhere.
func (n Snapshot) At(p geom.Vec) (Sample, bool) {
	g := n.g
	if !g.scene.Box.Contains(p) {
		return Sample{}, false
	}
	body := g.fill()
	for i, b := range g.scene.Bodies {
		if geom.Inside(b.Solid, p) {
			body = i
			break
		}
	}
	if g.halved && p.Z < g.scene.Parting {
		p.Z = 2*g.scene.Parting - p.Z
	}
	part := g.leaves[g.leafAt[g.index(cellOf(g.lines[0], p.X), cellOf(g.lines[1], p.Y), cellOf(g.lines[2], p.Z))]].of(body)
	c, h := n.s.of[part], n.heat[part]
	i := c.stretch(h, 0)
	return Sample{C: c.temperature(h, i), Solid: c.share(h, i), Body: g.parts[part].body}, true
}

package moldbox

import (
	"context"
	"math"
	"strconv"

	"halfpour/geom"
	"halfpour/moldbox/heat"
)

// Frozen is how one shot freezes.
type Frozen struct {
	Solid   float64  // when the last metal of heads, funnels and runner is solid, s; +Inf: not in time
	SolidAt geom.Vec // where that is, mold coordinates
	Heads   []FrozenHead
	Skin    heat.Skin // of the rubber
	Reach   float64   // how far from the metal the rubber got 10 K warmer, mm

	// Neighbours is by how much the rubber half way to the next cavity is warmer when
	// all is solid, at most, K; 0 when cavities were not computed one by one.
	Neighbours float64

	Cuts []HeatCut // of FreezeSeen: one, or one of each kind of cavity
}

// FrozenHead is one head of a shot, and its gate. Times are s from the pour.
type FrozenHead struct {
	Solid, Gate float64  // when the last of it, and the neck of its sprue, are solid
	Last        geom.Vec // what of the head freezes last, mold coordinates
	Shut        float64  // when no more melt can flow on into it
	SolidAtShut float64  // share of the head that is solid then
	Fed         float64  // share that was solid where and when feeding ended, mean over the head
	// Through a gate of two cells Shut comes up to half too soon, and SolidAtShut and
	// Fed too low, for a metal that freezes at one temperature; for alloys with a
	// freezing range they are within a tenth of those with cells half as large.

	// Flow is until when melt could come into all of it.
	Flow heat.Flow

	CutOff   float64  // the most melt that freezes without feed in one place, mm³
	CutOffAt geom.Vec // where that ends
}

// freezeCell is the size of cells near the metal, mm. Until all metal and the heads
// are solid takes within 1 % of what cells half as large say, until gates are within
// a fifth. A large mold gets larger ones, so that there are no more than
// mostHeatCells in its box.
const freezeCell, mostHeatCells = 1.5, 60000

// cellOf is the size of cells for a scene, none smaller than least.
func cellOf(s heat.Scene, least float64) float64 {
	return math.Max(least, math.Cbrt(s.Box.Volume()/mostHeatCells))
}

// Freeze computes one shot. limits are temperatures of the rubber to keep the
// time above, °C. Cavities in one row that are alike are computed once: the one with
// others on both sides if there is one, up to the middle between, as if its mirror
// image stood beyond. Where heat gets to a middle between cavities that are not alike
// the whole mold is computed. Its error is the context's, or heat's.
func (m *Mold) Freeze(ctx context.Context, h Hot, limits []float64) (Frozen, error) {
	return m.freeze(ctx, h, limits, heat.Options{Cell: freezeCell})
}

// roughCell is the size of cells of FreezeRoughly, mm.
const roughCell = 3

// FreezeRoughly is Freeze in half the time or less: when all metal is solid comes
// out within 2 % of Freeze, when a head is within 5 %.
func (m *Mold) FreezeRoughly(ctx context.Context, h Hot, limits []float64) (Frozen, error) {
	return m.freeze(ctx, h, limits, heat.Options{Cell: roughCell})
}

func (m *Mold) freeze(ctx context.Context, h Hot, limits []float64, opt heat.Options) (Frozen, error) {
	var cuts []HeatCut
	solve := func(w window) (heat.Shot, []heat.Body, error) {
		scene, opt := w.of(m.HeatScene(h)), opt
		opt.Limits, opt.Reach, opt.Cell = limits, []float64{10}, cellOf(scene, opt.Cell)
		r, err := heat.Solve(ctx, scene, opt)
		if err != nil {
			return heat.Shot{}, nil, err
		}
		if len(r.Snapshots) > 0 {
			cuts = append(cuts, newHeatCut(scene.Box, r.Snapshots))
		}
		return r.Shots[0], scene.Bodies, nil
	}
	f := Frozen{Heads: make([]FrozenHead, len(m.Cavities))}
	windows := m.windows()
	for _, w := range windows {
		shot, bodies, err := solve(w)
		if err != nil {
			return Frozen{}, err
		}
		if m.mixes(w, shot) {
			windows, cuts = []window{{cavity: -1}}, nil
			if shot, bodies, err = solve(windows[0]); err != nil {
				return Frozen{}, err
			}
			f = Frozen{Heads: make([]FrozenHead, len(m.Cavities))}
			f.add(shot, bodies)
			break
		}
		f.add(shot, bodies)
		f.Neighbours = math.Max(f.Neighbours, math.Max(shot.Sides[0], shot.Sides[1]))
	}
	f.Cuts = cuts
	f.round()
	for _, w := range windows {
		for i, v := range m.Cavities {
			if w.cavity < 0 || i == w.cavity || v.AlikeTo != m.Cavities[w.cavity].AlikeTo {
				continue
			}
			there := v.Eye.Sub(m.Cavities[w.cavity].Eye)
			h := f.Heads[w.cavity]
			h.Last, h.CutOffAt, h.Flow.At = h.Last.Add(there), h.CutOffAt.Add(there), h.Flow.At.Add(there)
			f.Heads[i] = h
		}
	}
	return f, nil
}

// round leaves six digits of each figure, far more than are known. Those behind
// differ from one kind of processor to another, whose exponential functions do.
func (f *Frozen) round() {
	figures := []*float64{&f.Solid, &f.Reach, &f.Neighbours, &f.Skin.Hottest, &f.Skin.When}
	places := []*geom.Vec{&f.SolidAt, &f.Skin.At}
	for i := range f.Skin.Above {
		figures = append(figures, &f.Skin.Above[i])
	}
	for i := range f.Skin.AboveAt {
		places = append(places, &f.Skin.AboveAt[i])
	}
	for i := range f.Heads {
		h := &f.Heads[i]
		figures = append(figures, &h.Solid, &h.Gate, &h.Shut, &h.SolidAtShut, &h.Fed, &h.CutOff, &h.Flow.Soonest, &h.Flow.Latest)
		places = append(places, &h.Last, &h.CutOffAt, &h.Flow.At)
	}
	for _, p := range places {
		figures = append(figures, &p.X, &p.Y, &p.Z)
	}
	for _, x := range figures {
		*x = sixDigits(*x)
	}
}

func sixDigits(x float64) float64 {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 6, 64), 64)
	if err != nil { // of no number that was written
		return x
	}
	return rounded
}

// add takes in a shot of a window and its bodies: what is latest and hottest of all
// counts.
func (f *Frozen) add(s heat.Shot, bodies []heat.Body) {
	for i, b := range bodies {
		switch as := s.Bodies[i]; b.Role {
		case heat.Head:
			h := &f.Heads[b.Cavity]
			h.Solid, h.Last, h.Shut, h.SolidAtShut, h.Fed, h.Flow = as.Solid, as.Last, as.Shut, as.SolidAtShut, as.FedShare, as.Flow
			h.CutOff, h.CutOffAt = as.CutOffMost, as.CutOffAt
		case heat.Gate:
			f.Heads[b.Cavity].Gate = as.Solid
		}
	}
	if s.Solid > f.Solid {
		f.Solid, f.SolidAt = s.Solid, s.SolidAt
	}
	f.Reach = math.Max(f.Reach, s.Reach[0])
	above := f.Skin.Above
	if s.Skin.Hottest > f.Skin.Hottest {
		f.Skin = s.Skin
	}
	for i, t := range above {
		f.Skin.Above[i] = math.Max(f.Skin.Above[i], t)
	}
}

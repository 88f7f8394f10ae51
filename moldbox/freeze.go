package moldbox

import (
	"context"
	"math"
	"slices"
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
}

// FrozenHead is one head of a shot, and its gate. Times are s from the pour.
type FrozenHead struct {
	Solid, Gate float64  // when the last of it, and the neck of its sprue, are solid
	Last        geom.Vec // what of the head freezes last, mold coordinates
	Shut        float64  // when no more melt can flow on into it
	SolidAtShut float64  // share of the head that is solid then
	Fed         float64  // share that was solid where and when feeding ended, mean over the head

	CutOff   float64  // the most melt that freezes without feed in one place, mm³
	CutOffAt geom.Vec // where that ends
}

// freezeCell is the size of cells near the metal, mm: times come out within 3 % of
// those of cells half as large. A large mold gets larger ones, so that there are
// no more than mostHeatCells in its box: of 2 mm they were within 4 %.
const freezeCell, mostHeatCells = 1.5, 60000

// cellOf is the size of cells for a scene, none smaller than least.
func cellOf(s heat.Scene, least float64) float64 {
	return math.Max(least, math.Cbrt(s.Box.Volume()/mostHeatCells))
}

// Freeze computes one shot. limits are temperatures of the rubber to keep the
// time above, °C. Cavities in one row that are alike are computed once, each up
// to the middle between it and its neighbours, where no heat passes. Its error is
// the context's, or heat's.
func (m *Mold) Freeze(ctx context.Context, h Hot, limits []float64) (Frozen, error) {
	return m.freeze(ctx, h, limits, freezeCell)
}

// roughCell is the size of cells of FreezeRoughly, mm.
const roughCell = 3

// FreezeRoughly is Freeze in half the time or less: when all metal is solid comes
// out within 2 % of Freeze, when a head is within 5 %.
func (m *Mold) FreezeRoughly(ctx context.Context, h Hot, limits []float64) (Frozen, error) {
	return m.freeze(ctx, h, limits, roughCell)
}

func (m *Mold) freeze(ctx context.Context, h Hot, limits []float64, cell float64) (Frozen, error) {
	f := Frozen{Heads: make([]FrozenHead, len(m.Cavities))}
	for _, w := range m.windows() {
		scene := w.of(m.HeatScene(h))
		r, err := heat.Solve(ctx, scene, heat.Options{Limits: limits, Reach: []float64{10}, Cell: cellOf(scene, cell)})
		if err != nil {
			return Frozen{}, err
		}
		f.add(r.Shots[0])
		for i, b := range scene.Bodies {
			switch as := r.Shots[0].Bodies[i]; b.Role {
			case heat.Head:
				h := &f.Heads[b.Cavity]
				h.Solid, h.Last, h.Shut, h.SolidAtShut, h.Fed, h.CutOff, h.CutOffAt = as.Solid, as.Last, as.Shut, as.SolidAtShut, as.FedShare, as.CutOffMost, as.CutOffAt
			case heat.Gate:
				f.Heads[b.Cavity].Gate = as.Solid
			}
		}
	}
	f.round()
	for i, v := range m.Cavities {
		if f.Heads[i] == (FrozenHead{}) { // like one that was computed
			there := v.Eye.Sub(m.Cavities[v.AlikeTo].Eye)
			f.Heads[i] = f.Heads[v.AlikeTo]
			f.Heads[i].Last, f.Heads[i].CutOffAt = f.Heads[i].Last.Add(there), f.Heads[i].CutOffAt.Add(there)
		}
	}
	return f, nil
}

// round leaves six digits of each figure, far more than are known. Those behind
// differ from one kind of processor to another, whose exponential functions do.
func (f *Frozen) round() {
	figures := []*float64{&f.Solid, &f.Reach, &f.Skin.Hottest, &f.Skin.When}
	places := []*geom.Vec{&f.SolidAt, &f.Skin.At}
	for i := range f.Skin.Above {
		figures = append(figures, &f.Skin.Above[i])
	}
	for i := range f.Skin.AboveAt {
		places = append(places, &f.Skin.AboveAt[i])
	}
	for i := range f.Heads {
		h := &f.Heads[i]
		figures = append(figures, &h.Solid, &h.Gate, &h.Shut, &h.SolidAtShut, &h.Fed, &h.CutOff)
		places = append(places, &h.Last, &h.CutOffAt)
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

// add takes in a shot of a window: what is latest and hottest of all counts.
func (f *Frozen) add(s heat.Shot) {
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

// window is a part of the mold that is computed by itself.
type window struct {
	from, to float64 // x
	cavity   int     // -1: all
	even     [2]bool // others stand beside it
}

// of is the window's part of a scene.
func (w window) of(s heat.Scene) heat.Scene {
	if w.cavity < 0 {
		return s
	}
	s.Box.Min.X, s.Box.Max.X = w.from, w.to
	s.Even = w.even
	s.Bodies = slices.DeleteFunc(s.Bodies, func(b heat.Body) bool { return b.Cavity >= 0 && b.Cavity != w.cavity })
	return s
}

// windows are the whole mold, or one for each kind of cavity that has a funnel of
// its own in a single row.
func (m *Mold) windows() []window {
	if m.Runner != nil || m.Rows > 1 || len(m.Cavities) == 1 {
		return []window{{cavity: -1}}
	}
	var list []window
	for i, c := range m.Cavities {
		if c.AlikeTo == i {
			list = append(list, m.window(i))
		}
	}
	return list
}

// window is what is nearer to a cavity in a single row than to the next ones.
func (m *Mold) window(i int) window {
	w := window{m.Left.Inside.Min.X, m.Left.Inside.Max.X, i, [2]bool{i > 0, i+1 < len(m.Cavities)}}
	if i > 0 {
		w.from = between(m.Cavities[i-1], m.Cavities[i])
	}
	if i+1 < len(m.Cavities) {
		w.to = between(m.Cavities[i], m.Cavities[i+1])
	}
	return w
}

// between is the x half way between the metal of two cavities.
func between(left, right Placed) float64 {
	a, b := left.Head.BoundingBox().Union(left.toEdge.BoundingBox()), right.Head.BoundingBox().Union(right.toEdge.BoundingBox())
	return (a.Max.X + b.Min.X) / 2
}

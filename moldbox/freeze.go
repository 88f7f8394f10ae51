package moldbox

import (
	"context"
	"math"

	"halfpour/geom"
	"halfpour/moldbox/heat"
)

// Cast is what a mold is cast with: metal in rubber between two boards.
type Cast struct {
	Metal, Rubber, Steel, Board heat.Substance
	PourC, MoldC, RoomC         float64 // of the melt, of rubber and wires before the pour, of the air, °C
	Contact                     float64 // between metal and rubber, W/(m²·K); 0: perfect
}

// Air and boards: still air takes 5 to 25 W/(m²·K) (textbooks' tables, from
// memory); boards are as thick as stiff ones are (common practice, no source).
const (
	stillAir = 10.0 // W/(m²·K)
	board    = 12.0 // mm
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
	Fed         float64  // share that was solid where and when feeding ended, mean over the head

	CutOff   float64  // the most melt that freezes without feed in one place, mm³
	CutOffAt geom.Vec // where that ends
}

// freezeCell is the size of cells near the metal, mm: times come out within 3 % of
// those of cells half as large.
const freezeCell = 1.5

// Freeze computes one shot. limits are temperatures of the rubber to keep the
// time above, °C. Cavities in one row that are alike are computed once, each up
// to the middle between it and its neighbours, where no heat passes. Its error is
// the context's, or heat's.
func (m *Mold) Freeze(ctx context.Context, c Cast, limits []float64) (Frozen, error) {
	f := Frozen{Heads: make([]FrozenHead, len(m.Cavities))}
	for _, w := range m.windows() {
		scene, index := m.scene(c, w)
		r, err := heat.Solve(ctx, scene, heat.Options{Limits: limits, Reach: []float64{10}, Cell: freezeCell})
		if err != nil {
			return Frozen{}, err
		}
		f.add(r.Shots[0])
		for i, at := range index {
			h := r.Shots[0].Bodies[at.head]
			f.Heads[w.cavities[i]] = FrozenHead{Solid: h.Solid, Gate: r.Shots[0].Bodies[at.gate].Solid, Last: h.Last, Shut: h.Shut,
				Fed: h.FedShare, CutOff: h.CutOffMost, CutOffAt: h.CutOffAt}
		}
	}
	for i, v := range m.Cavities {
		if h := f.Heads[v.AlikeTo]; v.AlikeTo != i {
			there := v.Eye.Sub(m.Cavities[v.AlikeTo].Eye)
			if f.Heads[i] == (FrozenHead{}) {
				h.Last, h.CutOffAt = h.Last.Add(there), h.CutOffAt.Add(there)
				f.Heads[i] = h
			}
		}
	}
	return f, nil
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
	box      geom.Box // of the rubber, in x and y
	cavities []int
	cut      bool // where neighbours are, across x
}

// windows are the whole mold, or one for each kind of cavity that has a funnel of
// its own in a single row.
func (m *Mold) windows() []window {
	inside := m.Left.Inside
	whole := window{box: inside}
	for i := range m.Cavities {
		whole.cavities = append(whole.cavities, i)
	}
	if m.Runner != nil || m.Rows > 1 || len(m.Cavities) == 1 {
		return []window{whole}
	}
	var list []window
	for i, c := range m.Cavities {
		if c.AlikeTo != i {
			continue
		}
		w := window{box: inside, cavities: []int{i}, cut: true}
		if i > 0 {
			w.box.Min.X = between(m.Cavities[i-1], c)
		}
		if i+1 < len(m.Cavities) {
			w.box.Max.X = between(c, m.Cavities[i+1])
		}
		list = append(list, w)
	}
	return list
}

// between is the x half way between the metal of two cavities.
func between(left, right Placed) float64 {
	a, b := left.Head.BoundingBox().Union(left.toEdge.BoundingBox()), right.Head.BoundingBox().Union(right.toEdge.BoundingBox())
	return (a.Max.X + b.Min.X) / 2
}

// bodyIndex is where a cavity's bodies are in a scene.
type bodyIndex struct{ head, gate int }

// scene is a part of the closed mold, just filled to its upper edge.
func (m *Mold) scene(c Cast, part window) (heat.Scene, []bodyIndex) {
	box := geom.BoxOf(
		geom.Vec{X: part.box.Min.X, Y: part.box.Min.Y, Z: -m.Right.FillHeight - board},
		geom.Vec{X: part.box.Max.X, Y: part.box.Max.Y, Z: m.Left.FillHeight + board})
	s := heat.Scene{Box: box, Fill: c.Rubber, FillC: c.MoldC, AirC: c.RoomC,
		Air: [3]float64{stillAir, stillAir, stillAir}, OpenAir: stillAir}
	if part.cut {
		s.Air[0] = 0
	}
	add := func(b heat.Body) int {
		s.Bodies = append(s.Bodies, b)
		return len(s.Bodies) - 1
	}
	cast := func(name string, role heat.Role, cavity int, solid geom.Solid) int {
		return add(heat.Body{Name: name, Role: role, Cavity: cavity, Solid: solid, Substance: c.Metal, Start: c.PourC, Contact: c.Contact})
	}
	for _, i := range part.cavities {
		for _, w := range m.Cavities[i].Wires {
			// A wire that goes on outside is a long fin in still air.
			const conducts = 50 // steel, W/(m·K)
			add(heat.Body{Name: w.Name, Role: heat.Wire, Cavity: i, Solid: w.Wire, Substance: c.Steel, Start: c.MoldC,
				Outward: math.Sqrt(4 * stillAir * conducts / (w.Diameter * 1e-3))})
		}
	}
	var index []bodyIndex
	for _, i := range part.cavities {
		v, neck := m.Cavities[i], box
		neck.Min.Y, neck.Max.Y = v.GateAt.Y-m.Spec.Sprue.GateLength, v.GateAt.Y+m.Spec.Sprue.GateLength
		index = append(index, bodyIndex{cast(v.Name, heat.Head, i, v.Head), cast("gate", heat.Gate, i, geom.Intersect(v.Sprue, geom.Block(neck)))})
		cast("funnel", heat.Funnel, i, v.Sprue)
		if v.Vent != nil {
			cast("vent", heat.Vent, i, v.Vent)
		}
	}
	if m.Runner != nil {
		cast("runner", heat.Runner, -1, m.Runner.Solid)
		if m.Runner.Vent != nil {
			cast("vent", heat.Vent, -1, m.Runner.Vent)
		}
	}
	for _, z := range [][2]float64{{box.Min.Z, -m.Right.FillHeight}, {m.Left.FillHeight, box.Max.Z}} {
		one := box
		one.Min.Z, one.Max.Z = z[0], z[1]
		add(heat.Body{Name: "board", Role: heat.Fixed, Cavity: -1, Solid: geom.Block(one), Substance: c.Board, Start: c.MoldC})
	}
	return s, index
}

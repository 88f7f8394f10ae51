package moldbox

import (
	"fmt"
	"math"

	"halfpour/geom"
	"halfpour/moldbox/heat"
)

// Hot says what a mold is cast with, for a computation of its heat.
type Hot struct {
	Metal, Rubber, Wire, Board heat.Substance

	PourC, MoldC, WireC, AirC float64 // °C; boards begin as warm as the air
	Contact                   float64 // between metal and rubber, W/(m²·K); 0: perfect
	WireContact               float64 // between wires and what they lie in, W/(m²·K); 0: perfect
	Air                       float64 // from mold and boards to the air, W/(m²·K)
	Boards                    float64 // their thickness on the backs, mm; 0 for none
}

// HeatScene returns the closed mold, just poured, with each cavity's wires,
// head, gate, funnel and vents as bodies. Left out are keys, marking and the
// play of wires in their beds.
func (m *Mold) HeatScene(h Hot) heat.Scene {
	box := m.Left.Inside
	box.Min.Z, box.Max.Z = -m.Right.FillHeight, m.Left.FillHeight
	s := heat.Scene{Fill: h.Rubber, FillC: h.MoldC, AirC: h.AirC, Air: [3]float64{h.Air, h.Air, h.Air}, OpenAir: h.Air, Box: box}
	cast := func(role heat.Role, cavity int, name string, solid geom.Solid) {
		if solid != nil {
			s.Bodies = append(s.Bodies, heat.Body{Name: name, Role: role, Cavity: cavity, Solid: solid, Substance: h.Metal, Start: h.PourC, Contact: h.Contact})
		}
	}
	for i := range m.Cavities {
		for _, w := range m.Cavities[i].Wires {
			k := h.Wire.At(h.WireC).K
			s.Bodies = append(s.Bodies, heat.Body{Name: w.Name, Role: heat.Wire, Cavity: i, Solid: w.Wire, Substance: h.Wire, Start: h.WireC,
				Contact: h.WireContact, Outward: math.Sqrt(4 * h.Air * k / (w.Diameter * 1e-3))})
		}
	}
	for i := range m.Cavities {
		cast(heat.Head, i, m.Cavities[i].Name, m.Cavities[i].Head)
	}
	neck := m.Spec.branch().GateLength
	for i := range m.Cavities {
		c := &m.Cavities[i]
		below := geom.HalfSpace(geom.Vec{Y: 1}, c.GateAt.Y+neck)
		cast(heat.Gate, i, fmt.Sprintf("gate of %s", c.Name), geom.Intersect(c.Sprue, below))
	}
	for i := range m.Cavities {
		cast(heat.Funnel, i, fmt.Sprintf("funnel of %s", m.Cavities[i].Name), m.Cavities[i].Sprue)
	}
	if m.Runner != nil {
		cast(heat.Runner, -1, "runner", m.Runner.Solid)
		cast(heat.Vent, -1, "vent of the runner", m.Runner.Vent)
	}
	for i := range m.Cavities {
		cast(heat.Vent, i, fmt.Sprintf("vent of %s", m.Cavities[i].Name), m.Cavities[i].Vent)
	}
	if h.Boards > 0 {
		left, right := box, box
		left.Min.Z, left.Max.Z = box.Max.Z, box.Max.Z+h.Boards
		right.Max.Z, right.Min.Z = box.Min.Z, box.Min.Z-h.Boards
		s.Bodies = append(s.Bodies, heat.Body{Name: "boards", Role: heat.Fixed, Cavity: -1, Solid: geom.Union(geom.Block(left), geom.Block(right)),
			Substance: h.Board, Start: h.AirC})
		s.Box = box.Union(left).Union(right)
	}
	return s
}

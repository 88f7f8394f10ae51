package heat

import (
	"math"

	"halfpour/geom"
)

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
	if !n.g.scene.Box.Contains(p) {
		return Sample{}, false
	}
	return n.sample(n.part(p)), true
}

// part is the part of a cell that a place in the box lies in.
func (n Snapshot) part(p geom.Vec) int32 {
	g, at := n.g, p
	if g.halved && p.Z < g.scene.Parting {
		at.Z = 2*g.scene.Parting - p.Z
	}
	leaf := &g.leaves[g.leafAt[g.index(cellOf(g.lines[0], at.X), cellOf(g.lines[1], at.Y), cellOf(g.lines[2], at.Z))]]
	if len(leaf.cut.bodies) == 1 {
		return leaf.first
	}
	for i, b := range g.scene.Bodies {
		if geom.Inside(b.Solid, p) {
			return leaf.of(i)
		}
	}
	return leaf.of(g.fill())
}

func (n Snapshot) sample(part int32) Sample {
	c, h := n.s.of[part], n.heat[part]
	i := c.stretch(h, 0)
	return Sample{C: c.temperature(h, i), Solid: c.share(h, i), Body: n.g.parts[part].body}
}

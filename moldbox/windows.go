package moldbox

import (
	"slices"

	"halfpour/moldbox/heat"
)

// warmNeighbours is by how much rubber half way to another kind of cavity may get
// warmer for it not to matter, K: half of what the mold's temperature is not known by.
const warmNeighbours = 10

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
// its own in a single row: round the first of the kind with the most others beside it.
func (m *Mold) windows() []window {
	if m.Runner != nil || m.Rows > 1 || len(m.Cavities) == 1 {
		return []window{{cavity: -1}}
	}
	var list []window
	for kind, c := range m.Cavities {
		if c.AlikeTo != kind {
			continue
		}
		best := m.window(kind)
		for i := range m.Cavities {
			if w := m.window(i); m.Cavities[i].AlikeTo == kind && w.beside() > best.beside() {
				best = w
			}
		}
		list = append(list, best)
	}
	return list
}

// beside is how many others stand next to a window's cavity.
func (w window) beside() (n int) {
	for _, even := range w.even {
		if even {
			n++
		}
	}
	return n
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

// mixes reports whether heat gets to a middle between a window's cavity and one of
// another kind.
func (m *Mold) mixes(w window, shot heat.Shot) bool {
	for side, even := range w.even {
		if next := w.cavity + 2*side - 1; even && m.Cavities[next].AlikeTo != m.Cavities[w.cavity].AlikeTo && shot.Sides[side] > warmNeighbours {
			return true
		}
	}
	return false
}

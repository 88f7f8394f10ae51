package geomtest

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"halfpour/geom"
)

// recorder keeps what a test would have reported.
type recorder struct {
	testing.TB
	faults []string
}

func (r *recorder) Helper() {}
func (r *recorder) Errorf(format string, args ...any) {
	r.faults = append(r.faults, fmt.Sprintf(format, args...))
}

// spoiled is a ball in which each ability can be made to lie.
type spoiled struct {
	geom.Solid
	steep  float64
	box    geom.Box
	narrow float64
	thin   float64
	twist  geom.Vec
	other  geom.Solid
	signs  geom.Solid // what it is pruned to
	stray  geom.Vec   // by which its landmarks are off
}

func (s spoiled) Evaluate(p geom.Vec) float64 { return s.Solid.Evaluate(p) * s.steep }
func (s spoiled) BoundingBox() geom.Box       { return s.box }
func (s spoiled) Range(b geom.Box) geom.Interval {
	r := geom.Range(s.Solid, b)
	return geom.Interval{Lo: r.Lo + s.narrow*(r.Hi-r.Lo), Hi: r.Hi}
}
func (s spoiled) PruneByValue(b geom.Box) geom.Solid {
	if s.other != nil {
		return s.other
	}
	return s
}
func (s spoiled) Gradient(p geom.Vec) (float64, geom.Vec) {
	_, n := geom.Gradient(s.Solid, p)
	return s.Evaluate(p), n.Add(s.twist).Unit()
}
func (s spoiled) Slab(b geom.Box) (geom.Slab, bool) {
	l, ok := geom.SlabOf(s.Solid, b)
	l.W *= s.thin
	return l, ok
}

func (s spoiled) PruneBySign(b geom.Box) (geom.Solid, geom.Interval) {
	if s.signs != nil {
		return s.signs, geom.Interval{Lo: math.Inf(-1), Hi: math.Inf(1)}
	}
	return s, geom.Range(s, b)
}
func (s spoiled) Landmarks(b geom.Box, visit func(geom.Vec)) { visit(b.Centre().Add(s.stray)) }

func sound() spoiled {
	ball := geom.Ball(geom.Vec{X: 1, Y: -2, Z: 3}, 5)
	return spoiled{Solid: ball, steep: 1, box: ball.BoundingBox(), thin: 1}
}

func TestCheckSolidPassesASoundSolid(t *testing.T) {
	s := sound()
	CheckSolid(t, s, s.box, 7)
}

func TestCheckSolidFindsSeededFaults(t *testing.T) {
	for _, c := range []struct {
		name, want string
		spoil      func(*spoiled)
	}{
		{"steep", "law 1", func(s *spoiled) { s.steep = 1.001 }},
		{"box too small", "law 2", func(s *spoiled) { s.box = s.box.Grow(-0.1) }},
		{"range too narrow", "range", func(s *spoiled) { s.narrow = 0.05 }},
		{"pruned to another solid", "prune by value", func(s *spoiled) { s.other = geom.Ball(geom.Vec{X: 1, Y: -2, Z: 3}, 5.0000001) }},
		{"signs of another solid", "prune by sign", func(s *spoiled) { s.signs = geom.Ball(geom.Vec{X: 1, Y: -2, Z: 3}, 4.9) }},
		{"landmark outside the box", "landmark", func(s *spoiled) { s.stray = geom.Vec{X: 100} }},
		{"slab too thin", "slab", func(s *spoiled) { s.thin = 0.5 }},
		{"direction off", "gradient", func(s *spoiled) { s.twist = geom.Vec{X: 0.01} }},
	} {
		s := sound()
		c.spoil(&s)
		r := &recorder{TB: t}
		CheckSolid(r, s, s.box, 7)
		if !strings.Contains(strings.Join(r.faults, "\n"), c.want+":") {
			t.Errorf("%s: no fault of %q among %q", c.name, c.want, r.faults)
		}
	}
}

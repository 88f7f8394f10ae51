package geom

import (
	"context"
	"math"
	"slices"
)

// fanState is what is known of triangles at a vertex: the sides that all of them look to,
// and whether seen along an axis they go round the vertex once, and a second time.
type fanState uint16

const (
	fanSides = 0  // from this bit on: +X, -X, +Y, -Y, +Z, -Z
	fanOnce  = 6  // X, Y, Z
	fanTwice = 9  // X, Y, Z
	fanAxes  = 7  // three bits
	allSides = 63 // six bits
)

// soundFans are the vertices whose triangles have nothing in common but the corners and
// edges that they share.
type soundFans struct {
	at        []bool // by vertex
	triangles int32  // that it is about: those before
}

// soundFans finds vertices whose triangles stay apart even after each corner has moved by up
// to wobble mm: seen along some axis all show the same face, and together they go round the
// vertex once, so that none is behind another. Triangles of a vertex make whole rounds
// where each edge is run along as often in one direction as in the other: open are the
// edges where that is not so, as openEdges lists them.
func (m *TriMesh) soundFans(ctx context.Context, open []int32, wobble float64) (soundFans, error) {
	states := make([][3]fanState, len(m.Triangles))
	err := inBatches(ctx, len(states), 0, func(i int) {
		p := m.cornersOf(int32(i))
		sides := sidesShown(p[1].Sub(p[0]), p[2].Sub(p[0]), 2*wobble)
		for k := range p {
			states[i][k] = sides | roundsBegun(p[k], p[(k+1)%3], p[(k+2)%3])
		}
	})
	if err != nil {
		return soundFans{}, err
	}
	fans := make([]fanState, len(m.Vertices))
	for v := range fans {
		fans[v] = allSides
	}
	for i, t := range m.Triangles {
		if isCollapsed(t) {
			continue
		}
		for k, v := range t {
			fans[v] = fans[v].with(states[i][k])
		}
	}
	for _, e := range open {
		t := m.Triangles[e/3]
		fans[t[e%3]], fans[t[(e+1)%3]] = 0, 0
	}
	sound := soundFans{make([]bool, len(fans)), int32(len(m.Triangles))}
	for v, f := range fans {
		sound.at[v] = f.sound()
	}
	return sound, nil
}

// holdBoth reports whether two triangles are at one of the vertices.
func (f *soundFans) holdBoth(m *TriMesh, a, b int32) bool {
	if max(a, b) >= f.triangles {
		return false
	}
	for _, v := range m.Triangles[a] {
		if f.at[v] && slices.Contains(m.Triangles[b][:], v) {
			return true
		}
	}
	return false
}

// with adds a triangle to a fan.
func (f fanState) with(g fanState) fanState {
	again := (f >> fanOnce) & (g >> fanOnce) & fanAxes
	return f&g&allSides | (f|g)&(fanAxes<<fanOnce|fanAxes<<fanTwice) | again<<fanTwice
}

func (f fanState) sound() bool {
	for k := range 3 {
		if f>>(2*k)&3 != 0 && f>>(fanOnce+k)&1 != 0 && f>>(fanTwice+k)&1 == 0 {
			return true
		}
	}
	return false
}

// sidesShown returns the sides that a triangle looks to, of which u and v are two edges
// from one corner, whatever way their ends move by up to moved against that.
func sidesShown(u, v Vec, moved float64) (s fanState) {
	const sure = 1e-13 // more than rounding does
	long, wide := math.Abs(u.X)+math.Abs(u.Y)+math.Abs(u.Z), math.Abs(v.X)+math.Abs(v.Y)+math.Abs(v.Z)
	off := moved*(long+wide+moved) + sure*long*wide
	n := u.Cross(v)
	for k, x := range [3]float64{n.X, n.Y, n.Z} {
		if x > off {
			s |= 1 << (2 * k)
		} else if x < -off {
			s |= 2 << (2 * k)
		}
	}
	return s
}

// roundsBegun tells for each axis whether, seen along it, the angle from a to b at v goes
// through one half of a line through v. What goes round v once does so once.
func roundsBegun(v, a, b Vec) (s fanState) {
	if a.Z < v.Z && b.Z >= v.Z {
		s |= 1 << fanOnce
	}
	if a.X < v.X && b.X >= v.X {
		s |= 2 << fanOnce
	}
	if a.Y < v.Y && b.Y >= v.Y {
		s |= 4 << fanOnce
	}
	return s
}

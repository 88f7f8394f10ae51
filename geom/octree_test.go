package geom

import (
	"context"
	"testing"
)

// coded is a solid whose value tells the place.
type coded struct{ asked *int }

func (s coded) BoundingBox() Box       { return BoxOf(Vec{}, Vec{1, 1, 1}) }
func (s coded) Evaluate(p Vec) float64 { *s.asked++; return p.X + 10*p.Y + 100*p.Z }

// A probe holds the value at each point of the lattice, and asks for those alone
// that are no corners.
func TestProbeAsksTheLattice(t *testing.T) {
	asked := 0
	s := coded{&asked}
	b := Box{Vec{1, 2, 3}, Vec{3, 6, 11}}
	var corners [8]float64
	for i := range corners {
		corners[i] = s.Evaluate(b.Corner(i))
	}
	asked = 0
	p := probeOf(s, b, &corners)
	for i, got := range p.values {
		at := b.Min.Add(Vec{float64(i % 3), 2 * float64(i/3%3), 4 * float64(i/9)})
		if want := s.Evaluate(at); got != want {
			t.Errorf("point %d: %g, want %g at %v", i, got, want, at)
		}
	}
	if asked != 19+27 {
		t.Errorf("asked %d times, want 19", asked-27)
	}
	if p.mixed || p.least != 321 || p.gap != b.HalfDiagonal()/2 {
		t.Errorf("mixed %v, least %g, gap %g", p.mixed, p.least, p.gap)
	}
}

// One point unlike all others is hidden from the corners if it is amid an edge or
// a face; a corner shows itself, and the middle of the cell is no edge's or face's.
func TestProbeFindsHiddenSkin(t *testing.T) {
	for i := range 27 {
		middles := 0
		for _, c := range [3]int{i % 3, i / 3 % 3, i / 9} {
			if c == 1 {
				middles++
			}
		}
		for _, sign := range [2]float64{1, -1} {
			var p probe
			for k := range p.values {
				p.values[k] = sign
			}
			p.values[i] = -sign
			if got, want := p.hides(nil), middles == 1 || middles == 2; got != want {
				t.Errorf("point %d, sign %g: %v, want %v", i, sign, got, want)
			}
		}
	}
}

// A cell is simple only if nothing of the solid hides in it: no part that probes
// see, none in the room between them, and no landmark.
func TestCellThatHidesSomethingIsNotSimple(t *testing.T) {
	b := Box{Vec{-1, -1, -1}, Vec{1, 1, 1}} // probes are 1 mm apart, no point of it is farther than √3/2 from one
	tree := newOctree(b, 0.01, 4, 4, nil)
	tree.lattice = lattice{b.Min, Vec{1, 1, 1}.Mul(2. / 1024)}
	pin := mustSolid(t, &TriMesh{ // its point 0.1 mm in, where probes are 0.9 mm and more away
		Vertices:  []Vec{{0.5, 0.5, 0.9}, {0.4, 0.4, 9}, {0.6, 0.4, 9}, {0.5, 0.6, 9}},
		Triangles: [][3]int32{{0, 2, 1}, {0, 3, 2}, {0, 1, 3}, {1, 2, 3}},
	})
	for _, c := range []struct {
		name string
		s    Solid
		want bool
	}{
		{"a ball in the middle", Ball(Vec{}, 0.3), false},
		{"a ball between probes", Ball(Vec{0.5, 0.5, 0.5}, 0.3), false},
		{"a pin", pin, false},
		{"a ball far outside", Ball(Vec{X: 9}, 3), true},
		{"a ball that does not come in", Ball(Vec{X: 4}, 2), true},
		{"a ball all about", Ball(Vec{}, 5), true},
	} {
		l := &leaf{solid: c.s, size: 1024}
		for i := range l.values {
			l.values[i] = c.s.Evaluate(b.Corner(i))
		}
		if got := tree.simple(l, b, false); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// Where a tray's sides meet its floor, cells are no smaller than they are round its
// corners.
func TestTrayEdgesTakeFewCells(t *testing.T) {
	count := func(long float64) int {
		tray := DraftedBlock{Base: BoxOf(Vec{}, Vec{long, 60, 15}), Corner: 3, Draft: 0.05}.Solid()
		tree := newOctree(tray.BoundingBox(), 0.013, coarsest, 0.22, nil)
		if err := tree.grow(context.Background(), tray, false, 1); err != nil {
			t.Fatal(err)
		}
		return len(tree.root.leaves(nil))
	}
	if short, long := count(40), count(120); long > short+short/4 {
		t.Errorf("%d cells for a tray of 40 mm, %d for one of 120 mm", short, long)
	}
}

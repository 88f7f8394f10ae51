package column

import (
	"context"
	"math"
	"testing"

	"halfpour/geom"
)

func columnsOf(t testing.TB, s geom.Solid, opt Options) *Grid {
	t.Helper()
	c, err := Cut(context.Background(), s, opt)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Along every axis and a slant, a ball's lines are chords of it.
func TestColumnsOfBall(t *testing.T) {
	centre, r := geom.Vec{X: 2, Y: -1, Z: 0.5}, 6.0
	for _, up := range []geom.Vec{{}, {X: 1}, {Y: 1}, {Z: 1}, {Y: -1}, {Z: -1}, {X: 1, Y: 2, Z: 3}} {
		c := columnsOf(t, geom.Ball(centre, r), Options{Up: up, Step: 0.4})
		dir := up.Unit()
		if up == (geom.Vec{}) {
			dir = geom.Vec{Z: 1}
		}
		chords := 0
		for j := range c.NY {
			for i := range c.NX {
				foot := c.At(i, j, dir.Dot(centre)).Sub(centre)
				half := math.Sqrt(math.Max(0, r*r-foot.Dot(foot)))
				line := c.Line(i, j)
				if half < 0.1 {
					continue
				}
				if len(line) != 1 {
					t.Fatalf("up %v: %d stretches, want 1", up, len(line))
				}
				chords++
				if got := line[0].Hi - line[0].Lo; math.Abs(got-2*half) > 1e-3 {
					t.Fatalf("up %v: chord %.4f, want %.4f", up, got, 2*half)
				}
				if h := c.Height(c.At(i, j, line[0].Hi)); math.Abs(h-line[0].Hi) > 1e-9 {
					t.Fatalf("up %v: height %.6f of a point at %.6f", up, h, line[0].Hi)
				}
				if ni, nj := c.nearest(c.At(i, j, 7)); ni != i || nj != j {
					t.Fatalf("up %v: line (%d, %d) taken for (%d, %d)", up, i, j, ni, nj)
				}
			}
		}
		if want := math.Pi * r * r / 0.16; math.Abs(float64(chords)-want) > 0.05*want {
			t.Errorf("up %v: %d chords, want about %.0f", up, chords, want)
		}
	}
}

// A line meets what the solid's own values say, stretch by stretch, whatever
// the number of workers.
func TestColumnsAgreeWithValues(t *testing.T) {
	s := geom.Subtract(geom.Union(geom.Block(geom.Box{Min: geom.Vec{X: -5, Y: -5, Z: -5}, Max: geom.Vec{X: 5, Y: 5, Z: 5}}), geom.Ball(geom.Vec{Z: 9}, 3)),
		geom.Ball(geom.Vec{X: 2}, 2.5), geom.Capsule(geom.Vec{X: -6, Y: -2, Z: 1}, geom.Vec{X: 6, Y: -2, Z: 3}, 0.6))
	one := columnsOf(t, s, Options{Step: 0.3, Workers: 1})
	two := columnsOf(t, s, Options{Step: 0.3, Workers: 3})
	for j := range one.NY {
		for i := range one.NX {
			a, b := one.Line(i, j), two.Line(i, j)
			if len(a) != len(b) {
				t.Fatalf("line (%d, %d): %d stretches by one worker, %d by three", i, j, len(a), len(b))
			}
			for k := range a {
				if a[k] != b[k] {
					t.Fatalf("line (%d, %d): %v by one worker, %v by three", i, j, a[k], b[k])
				}
			}
			for z := -6.0; z < 13; z += 0.07 {
				in := false
				for _, st := range a {
					in = in || z > st.Lo && z < st.Hi
				}
				if v := s.Evaluate(one.At(i, j, z)); math.Abs(v) > 0.04 && (v < 0) != in {
					t.Fatalf("line (%d, %d) at %.2f: inside %v, the solid says %.3f", i, j, z, in, v)
				}
			}
		}
	}
}

func TestColumnsRefuseTooMany(t *testing.T) {
	if _, err := Cut(context.Background(), geom.Ball(geom.Vec{}, 1e4), Options{Step: 0.1}); err == nil {
		t.Error("cut four hundred million lines")
	}
	if _, err := Cut(context.Background(), geom.HalfSpace(geom.Vec{Z: 1}, 0), Options{}); err == nil {
		t.Error("cut a half space without end")
	}
	if c := columnsOf(t, geom.Union(), Options{}); c.NX != 0 || c.Line(0, 0) != nil {
		t.Error("the empty solid has lines")
	}
}

// nearest returns the line nearest to a point of space, which may be beyond the
// grid.
func (c *Grid) nearest(p geom.Vec) (i, j int) {
	q := c.frame.Point(p)
	return int(math.Round((q.X - c.x0) / c.Step)), int(math.Round((q.Y - c.y0) / c.Step))
}

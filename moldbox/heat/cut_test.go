package heat

import (
	"context"
	"math"
	"reflect"
	"sync/atomic"
	"testing"

	"halfpour/geom"
)

// asked counts how often a solid is asked for its value.
type asked struct {
	geom.Solid
	times *atomic.Int64
}

func (a asked) Evaluate(p geom.Vec) float64 {
	a.times.Add(1)
	return a.Solid.Evaluate(p)
}

// Cut cells hold what bodies have in them, as near as measured in all eighths of the
// cells, and less than half of the values are enough for it that those take.
func TestCutCells(t *testing.T) {
	thin := geom.Box{Min: geom.Vec{X: -5.03, Y: -4.1, Z: -0.13}, Max: geom.Vec{X: 5.2, Y: 4.2, Z: 0.12}}
	var times atomic.Int64
	for name, c := range map[string]struct {
		solid  geom.Solid
		volume float64    // mm³
		near   [2]float64 // share of it, in cells of 1.5 and 3 mm
	}{
		"ball": {geom.Ball(geom.Vec{X: 0.2}, 5), 4 * math.Pi / 3 * 125, [2]float64{1e-3, 1e-3}},
		"wire": {geom.Capsule(geom.Vec{X: -4}, geom.Vec{X: 4, Y: 1}, 0.4), math.Pi * 0.16 * (math.Sqrt(65) + 4*0.4/3), [2]float64{0.04, 0.17}},
		"fin":  {geom.Block(thin), thin.Volume(), [2]float64{0.06, 0.08}},
		"edge": {geom.Block(geom.BoxOf(geom.Vec{X: -3.1, Y: -3.3, Z: -3.7}, geom.Vec{X: 3, Y: 3.2, Z: 3.4})), 6.1 * 6.5 * 7.1, [2]float64{2e-3, 0.015}},
	} {
		for i, cell := range []float64{1.5, 3} {
			scene := Scene{Box: around(12), Fill: plainRubber(), Bodies: []Body{{Role: Head, Solid: asked{c.solid, &times}, Substance: lead()}}}
			g, err := newGrid(context.Background(), &scene, cell, 0)
			if err != nil {
				t.Fatal(err)
			}
			volume := 0.0
			for _, p := range g.parts {
				if p.body == 0 {
					volume += p.volume * g.copies()
				}
			}
			if math.Abs(volume/c.volume-1) > c.near[i] {
				t.Errorf("%s, cells of %g mm: volume %.3f mm³, want %.3f", name, cell, volume, c.volume)
			}
		}
	}
	if n := times.Load(); n > 90000 {
		t.Errorf("%d values", n)
	}
}

// A scene of the same bodies is computed in the cells of the one before, and comes out
// as by itself.
func TestCellsAreKept(t *testing.T) {
	var times atomic.Int64
	solve := func(start float64, cells *Cells) Shot {
		scene := smallBall()
		scene.Bodies[0].Solid, scene.Bodies[0].Start = asked{scene.Bodies[0].Solid, &times}, start
		r, err := Solve(context.Background(), scene, Options{Cell: 1, Cells: cells, Limits: []float64{250}, Reach: []float64{10}})
		if err != nil {
			t.Fatal(err)
		}
		return r.Shots[0]
	}
	var cells Cells
	solve(360, &cells)
	before := times.Load()
	again := solve(340, &cells)
	if n := times.Load() - before; n > 0 || before == 0 {
		t.Errorf("%d values, then %d", before, n)
	}
	if anew := solve(340, nil); !reflect.DeepEqual(again, anew) {
		t.Errorf("%+v\nanew %+v", again, anew)
	}
}

// Boards at the back split nothing but what their faces pass through: there were 720
// cells in them when they did. Those beside a face are one cell thick, so that what heat
// does at it shows.
func TestBoardsSplitFewCells(t *testing.T) {
	box := geom.Box{Min: geom.Vec{X: -30, Y: -30, Z: -25}, Max: geom.Vec{X: 30, Y: 30, Z: 25}}
	left, right := box, box
	left.Max.Z, right.Min.Z = -15, 15
	scene := Scene{Box: box, Fill: plainRubber(), Bodies: []Body{{Role: Head, Solid: geom.Ball(geom.Vec{}, 4), Substance: lead()},
		{Role: Fixed, Solid: geom.Union(geom.Block(left), geom.Block(right)), Substance: plainRubber()}}}
	g, err := newGrid(context.Background(), &scene, 1.5, 0)
	if err != nil {
		t.Fatal(err)
	}
	boards, beside := 0, 0
	for _, l := range g.leaves {
		if len(l.cut.bodies) == 1 && l.cut.bodies[0] == 1 {
			boards++
		}
		for _, z := range []int32{l.lo[2], l.hi[2]} {
			if at := g.lines[2][z]; math.Abs(at-15) < 1e-6 {
				if beside++; l.hi[2]-l.lo[2] > 1 {
					t.Errorf("%d cells thick at a board: %+v", l.hi[2]-l.lo[2], l)
				}
			}
		}
	}
	if boards > 100 || boards == 0 || beside == 0 {
		t.Errorf("%d cells in the boards, %d at them", boards, beside)
	}
}

// A mold is halved when its bodies are their own mirror images: a small one that is not,
// far from all others, is found. In a box that a body is not in, it is asked once, not in each
// cell: that takes a sixth of all values.
func TestHalvedWhenAlike(t *testing.T) {
	var times atomic.Int64
	halved := func(more ...geom.Solid) bool {
		scene := Scene{Box: around(25), Fill: plainRubber()}
		for x := -16.0; x <= 16; x += 8 {
			scene.Bodies = append(scene.Bodies, Body{Role: Head, Solid: asked{geom.Ball(geom.Vec{X: x}, 2), &times}, Substance: lead()})
		}
		for _, s := range more {
			scene.Bodies = append(scene.Bodies, Body{Role: Wire, Solid: s, Substance: lead()})
		}
		g, err := newGrid(context.Background(), &scene, 1, 0)
		if err != nil {
			t.Fatal(err)
		}
		return g.halved
	}
	if !halved() {
		t.Error("balls at the parting are not halved")
	}
	if n := times.Load(); n > 32000 {
		t.Errorf("%d values", n)
	}
	at := geom.Vec{X: 3, Y: 11, Z: 9}
	above, below := geom.Ball(at, 0.6), geom.Ball(geom.Vec{X: at.X, Y: at.Y, Z: -at.Z}, 0.6)
	if halved(above) || halved(below) {
		t.Error("halved with a wire on one side alone")
	}
	if !halved(geom.Union(above, below)) {
		t.Error("not halved with a wire on both sides")
	}
}

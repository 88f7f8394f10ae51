package moldbox

import (
	"context"
	"math"

	"halfpour/geom"
	"halfpour/moldbox/heat"
)

// HeatCut is how warm a mold is along the parting plane at several moments of a shot,
// at the middles of square cells, row by row from the lowest y, each from the lowest x.
type HeatCut struct {
	Least  geom.Vec // corner of the first cell
	Step   float64  // mm
	NX, NY int
	Times  []float64   // s from the pour
	C      [][]float32 // of each moment, °C
	Solid  [][]float32 // share of the metal that is solid, -1 where there is none
}

// cutStep is the size of a cut's cells, mm; a large mold gets larger ones, so that
// there are no more than mostCutCells.
const cutStep, mostCutCells = 0.8, 6000

// CutTimes are the moments that FreezeSeen shows, s: each half as late again as the
// last, until all metal is solid.
func CutTimes() []float64 {
	var times []float64
	for t := 0.5; t < 1200; t *= 1.45 {
		times = append(times, math.Round(10*t)/10)
	}
	return times
}

// Casting computes shots of one mold, each in the cells of the one before. It may be
// used by several goroutines.
type Casting struct {
	mold  *Mold
	cells heat.Cells
}

// Casting begins with a mold's first shot.
func (m *Mold) Casting() *Casting { return &Casting{mold: m} }

// Freeze is the mold's.
func (c *Casting) Freeze(ctx context.Context, h Hot, limits []float64) (Frozen, error) {
	return c.mold.freeze(ctx, h, limits, heat.Options{Cell: freezeCell, Cells: &c.cells})
}

// FreezeSeen is Freeze with how warm the mold is along the parting plane at CutTimes.
func (c *Casting) FreezeSeen(ctx context.Context, h Hot, limits []float64) (Frozen, error) {
	return c.mold.freeze(ctx, h, limits, heat.Options{Cell: freezeCell, Cells: &c.cells, Snapshots: CutTimes()})
}

func newHeatCut(box geom.Box, moments []heat.Snapshot) HeatCut {
	size := box.Size()
	c := HeatCut{Least: geom.Vec{X: box.Min.X, Y: box.Min.Y}, Step: math.Max(cutStep, math.Sqrt(size.X*size.Y/mostCutCells))}
	c.NX, c.NY = int(math.Ceil(size.X/c.Step)), int(math.Ceil(size.Y/c.Step))
	places := make([]geom.Vec, 0, c.NX*c.NY)
	const justOff = 1e-3 // the parting plane, where cells meet
	for j := range c.NY {
		for i := range c.NX {
			places = append(places, geom.Vec{X: math.Min(c.Least.X+(float64(i)+0.5)*c.Step, box.Max.X), Y: math.Min(c.Least.Y+(float64(j)+0.5)*c.Step, box.Max.Y), Z: justOff})
		}
	}
	for i, moment := range heat.SamplesAt(moments, places) {
		warm, solid := make([]float32, len(places)), make([]float32, len(places))
		for k, s := range moment {
			warm[k], solid[k] = float32(math.Round(s.C)), -1
			if s.Cast {
				solid[k] = float32(math.Round(100*s.Solid) / 100)
			}
		}
		c.Times, c.C, c.Solid = append(c.Times, moments[i].Time), append(c.C, warm), append(c.Solid, solid)
	}
	return c
}

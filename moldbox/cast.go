package moldbox

import (
	"context"
	"math"

	"halfpour/geom"
	"halfpour/moldbox/heat"
)

// MeasuredCast is a shot as computed: as expected, and roughly with all that is not
// known at the end that keeps metal liquid longer. Rhythm and trials are as
// expected.
type MeasuredCast struct {
	Best, Slow Frozen
	LastInHead []geom.Vec // where the most melt was cut off in each head of Best, in the head's file

	Every  float64        // the quickest rhythm that was looked at, s from pour to pour
	Rhythm *heat.Rhythmic // nil when it was not computed
	Trials []CastTrial
}

// CastTrial is a shot of the same mold after a change.
type CastTrial struct {
	Against string  // the finding's code
	Change  string  // in words
	Shrinks float64 // share of its volume that the melt loses as it freezes
	Frozen  Frozen
}

// InHead takes a place in the mold to the file of a cavity's head; false for a mold
// that Build has not made.
func (m *Mold) InHead(cavity int, at geom.Vec) (geom.Vec, bool) {
	if cavity >= len(m.made.parts) {
		return geom.Vec{}, false
	}
	return *m.made.parts[cavity].inFile(at), true
}

// roughRhythmCell is the size of cells of RhythmRoughly, mm, and mostRoughCells how
// many there may be in its box.
const roughRhythmCell, mostRoughCells = 5, 2500

// RhythmRoughly is Rhythm in a tenth of the time: the rhythm that keeps the mold warm
// comes out up to 5 % slower, the warmth where it settles up to 3 K higher.
func (m *Mold) RhythmRoughly(ctx context.Context, h Hot, ask heat.Rhythm) (heat.Rhythmic, error) {
	scene := m.warmest().of(m.HeatScene(h))
	cell := math.Max(roughRhythmCell, math.Cbrt(scene.Box.Volume()/mostRoughCells))
	r, err := heat.SolveRhythm(ctx, scene, heat.Options{Cell: cell}, ask)
	return sixDigitsOf(r), err
}

// sixDigitsOf is Frozen.round of a rhythm.
func sixDigitsOf(r heat.Rhythmic) heat.Rhythmic {
	round := func(w *heat.Warmth) {
		w.Skin, w.Fill, w.Solid, w.Opened = sixDigits(w.Skin), sixDigits(w.Fill), sixDigits(w.Solid), sixDigits(w.Opened)
	}
	for i := range r.Shots {
		round(&r.Shots[i])
	}
	round(&r.Settled)
	r.Keeps = sixDigits(r.Keeps)
	return r
}

package moldbox

import (
	"context"
	"math"

	"halfpour/moldbox/heat"
)

// rhythmCell is the size of cells near the metal for the warmth of a mold, mm, and
// mostRhythmCells how many there may be in its box.
const rhythmCell, mostRhythmCells = 2, 20000

// Rhythm computes how warm the mold gets when it is cast again and again, and the
// rhythm that keeps it as warm as is wanted: ask.Wanted, or h.MoldC. Of cavities
// in one row it takes the one with the most metal for its room and none of the ends,
// as if those beside it were as warm: the warmest. For a range call it with the ends of what is not
// known, and with a short and an endless ask.Lies. Its error is the
// context's, or heat's.
func (m *Mold) Rhythm(ctx context.Context, h Hot, ask heat.Rhythm) (heat.Rhythmic, error) {
	scene := m.warmest().of(m.HeatScene(h))
	if ask.Wanted == 0 {
		ask.Wanted = h.MoldC
	}
	cell := math.Max(rhythmCell, math.Cbrt(scene.Box.Volume()/mostRhythmCells))
	return heat.SolveRhythm(ctx, scene, heat.Options{Cell: cell}, ask)
}

// warmest is the whole mold or, of cavities in one row, each with a funnel of its
// own, the one with the most metal for its room. The two at the ends count only when
// there are no others.
func (m *Mold) warmest() window {
	list := m.windows()
	if list[0].cavity < 0 {
		return list[0]
	}
	best, most := list[0], 0.0
	for i := range m.Cavities {
		w := m.window(i)
		if per := m.Cavities[i].MetalVolume / (w.to - w.from); per > most && (len(m.Cavities) < 3 || w.even == [2]bool{true, true}) {
			best, most = w, per
		}
	}
	return best
}

package pourplan

import (
	"fmt"
	"math"

	"halfpour/moldbox"
)

// Trial is a change that may help against a finding of a computed shot.
type Trial struct {
	Against, Change string
	Shrinks         float64 // share of its volume that the melt loses as it freezes
	Hot             moldbox.Hot
	Mold            func(*moldbox.Spec) // nil: the mold stays as it is
}

// What is tried: a gate as thick as side cutters take and one half as large again,
// a mold this much warmer, and half the superheat.
const (
	largerGate = 1.6
	warmerMold = 20 // K
)

// CastTrials are the changes to try, by what a shot has come to. metal is that in
// the head of each cavity, mm³, fill how long that takes to fill, s.
func (j *Job) CastTrials(cast moldbox.MeasuredCast, metal, fill []float64) []Trial {
	cases, known := j.CastCases()
	m, err := j.Metal.resolve()
	if !known || err != nil {
		return nil
	}
	var list []Trial
	add := func(against, change string, of Metal, hot moldbox.Hot, mold func(*moldbox.Spec)) {
		list = append(list, Trial{against, change, of.shrinks(), hot, mold})
	}
	for i, h := range cast.Best.Heads {
		if h.CutOff*m.shrinks() <= voidLimit(metal[i]) {
			continue
		}
		width, thickness := float64(j.Sprue.GateWidth), float64(j.Sprue.GateThickness)
		for _, times := range []float64{thickestToSnip / thickness, largerGate * math.Max(1, thickestToSnip/thickness)} {
			if w, d := tenths(width*times), tenths(thickness*times); times > 1.05 {
				add(voidCode, fmt.Sprintf("a gate of %s x %s mm", FormatNumber(w, 1), FormatNumber(d, 1)), m, cases.Best,
					func(s *moldbox.Spec) { s.Sprue.GateWidth, s.Sprue.GateThickness = w, d })
			}
		}
		if hot := cases.Best; hot.MoldC+warmerMold+warmerByShots < m.Solidus {
			hot.MoldC, hot.WireC = hot.MoldC+warmerMold, hot.WireC+warmerMold
			add(voidCode, fmt.Sprintf("a mold at %.0f °C", hot.MoldC), m, hot, nil)
		}
		if other, hot, ok := j.otherMetal(Metal.shrinks); ok && other.shrinks() < m.shrinks()/2 {
			add(voidCode, other.Name, other, hot, nil)
		}
		break // the same changes for all heads
	}
	for i, h := range cast.Best.Heads {
		if h.Flow.Latest == 0 || h.Flow.Latest >= fill[i] {
			continue
		}
		warm, hotter := cases.Best, cases.Best
		warm.MoldC, warm.WireC, hotter.PourC = warm.MoldC+warmerMold, warm.WireC+warmerMold, hotter.PourC+warmerMold
		if warm.MoldC+warmerByShots < m.Solidus {
			add(freezesCode, fmt.Sprintf("a mold at %.0f °C", warm.MoldC), m, warm, nil)
		}
		add(freezesCode, fmt.Sprintf("pouring at %s", FormatTemperature(hotter.PourC)), m, hotter, nil)
		break
	}
	if hot := cases.Best; len(cast.Best.Skin.Above) > 0 && cast.Best.Skin.Above[0] > 0 && hot.PourC-m.Liquidus >= 10 {
		hot.PourC = math.Round((hot.PourC + m.Liquidus) / 2)
		add(hotRubberCode, fmt.Sprintf("pouring at %s", FormatTemperature(hot.PourC)), m, hot, nil)
		if other, hot, ok := j.otherMetal(func(of Metal) float64 { return -of.Density.Best }); ok {
			add(hotRubberCode, other.Name, other, hot, nil)
		}
	}
	return list
}

func tenths(x float64) float64 { return math.Round(10*x) / 10 }

// shrinks is the share of its volume that the melt loses as it freezes; below 0 for
// one that grows.
func (m Metal) shrinks() float64 {
	if m.Heat == nil {
		return 0
	}
	return 1 - m.Heat.LiquidDensity/m.Heat.HotDensity
}

// otherMetal is the preset with the least of a figure, of those that are fine for the
// rubber; false when there is none.
func (j *Job) otherMetal(figure func(Metal) float64) (best Metal, hot moldbox.Hot, found bool) {
	r, err := j.Rubber.resolve()
	for _, p := range metalPresets() {
		other := *j
		other.Metal, other.Casting.Pour = MetalTable{Preset: p.name, FillFactor: 1}, nil
		of, failed := other.Metal.resolve()
		if err != nil || failed != nil || planCasting(other.Casting, of, r).Verdict != Fine || found && figure(of) >= figure(best) {
			continue
		}
		if cases, ok := other.CastCases(); ok {
			best, hot, found = of, cases.Best, true
		}
	}
	return best, hot, found
}

// FillTimes is about how long each head takes to fill, s; 0 where that is not known.
func (j *Job) FillTimes(in []moldbox.Placed, top float64) []float64 {
	times := make([]float64, len(in))
	for i, c := range in {
		if above := top - c.GateAt.Y; above > 0 {
			gate := math.Pi / 4 * float64(j.Sprue.GateWidth) * float64(j.Sprue.GateThickness)
			times[i] = FillTime(c.MetalVolume*cube(c.Shrink), gate, above, gateDischarge)
		}
	}
	return times
}

package pourplan

import (
	"math"

	"halfpour/moldbox"
)

// ShotPlan is the shot as computed, of the whole mold.
type ShotPlan struct {
	RangeFrom []SlowPart `json:"range_from"` // why it may take longer than expected until all metal is solid

	RhythmS       float64   `json:"rhythm_s,omitempty"`        // from pour to pour that keeps the skin at the mold's temperature before each shot; left out when no rhythm does, or none was computed
	PauseS        float64   `json:"pause_s,omitempty"`         // of that, from opening to the next pour
	BriskS        float64   `json:"brisk_s,omitempty"`         // the quickest rhythm, from pour to pour: open at once, lay a hook in, close and pour
	BriskSkinC    []float64 `json:"brisk_skin_c,omitempty"`    // of the skin before the first shots at the quickest rhythm, the first at the mold's temperature
	SettlesC      float64   `json:"settles_c,omitempty"`       // of the skin before a shot, after very many at the quickest rhythm
	SettlesSolidS float64   `json:"settles_solid_s,omitempty"` // until all metal of such a shot is solid; left out when that takes too long
	SettlesMean   float64   `json:"settles_mean_c,omitempty"`  // of all the rubber then
}

// SlowPart is what one figure that is not known adds until all metal is solid.
type SlowPart struct {
	What   string  `json:"what"`    // in words
	LaterS float64 `json:"later_s"` // at its slow end
}

// OpenAfter is when a mold may be opened by a computed shot, s: half as long again as
// the slow end; 0 when some metal was not solid in time.
func OpenAfter(cast moldbox.MeasuredCast) float64 {
	if math.IsInf(cast.Best.Solid, 0) || math.IsInf(cast.Slow.Solid, 0) {
		return 0
	}
	return openingMargin * cast.Slow.Solid
}

// turnround is from opening a mold to the next pour at the quickest, s: castings
// out, hooks in, halves closed (common practice, no source).
const turnround = 20

// Brisk is the quickest rhythm for a mold that may be opened after so many s.
func Brisk(openAfter float64) float64 { return openAfter + turnround }

// takeShot takes the figures of a computed shot. The time to open stays 0 when
// some metal was not solid in time.
func (c *CastingPlan) takeShot(cast moldbox.MeasuredCast) {
	if c.OpenAfterS = OpenAfter(cast); c.OpenAfterS == 0 {
		return
	}
	best, at := cast.Best, xyz(cast.Best.SolidAt)
	c.SolidS, c.SolidMostS, c.SolidAtMM = best.Solid, math.Max(best.Solid, cast.Slow.Solid), &at
	c.SkinC, c.SkinOverS, c.HeatReachesMM = best.Skin.Hottest, best.Skin.Above[0], best.Reach
	c.Shot = &ShotPlan{}
	r := cast.Rhythm
	if r == nil {
		return
	}
	s := c.Shot
	s.BriskS, s.SettlesC, s.SettlesMean = cast.Every, r.Settled.Skin, r.Settled.Fill
	if !math.IsInf(r.Settled.Solid, 0) {
		s.SettlesSolidS = r.Settled.Solid
	}
	for _, w := range r.Shots {
		s.BriskSkinC = append(s.BriskSkinC, w.Skin)
	}
	if r.Keeps > 0 && !math.IsInf(r.Keeps, 0) {
		s.RhythmS, s.PauseS = r.Keeps, math.Max(0, r.Keeps-c.OpenAfterS)
	}
}

// slowParts shares out by how much later than expected all metal may be solid, among
// what is not known: as each lengthens, by itself, the time of a lump in endless
// rubber (lastFreezing). They add up to the whole; against single computations of a
// shot, on a ball, they were right to a tenth of themselves.
func slowParts(j *Job, m Metal, r Rubber, c CastingPlan, lumps []moldbox.Lump) []SlowPart {
	parts := []SlowPart{}
	later := c.SolidMostS - c.SolidS
	cases, known := j.CastCases()
	if !known || len(lumps) == 0 || later <= 0 {
		return parts
	}
	b := lastFreezing{metal: *m.Heat, solidus: math.Min(m.Solidus, m.Liquidus), latent: m.Heat.Latent.Best, rubber: r.Heat(),
		contact: cases.Best.Contact, pour: c.PourC, mold: cases.Best.MoldC, patience: longestWait}
	var usual float64
	for _, lump := range lumps {
		of := b
		of.lump = lump
		if t := of.solid(); t >= usual {
			usual, b = t, of
		}
	}
	sum := 0.0
	add := func(what string, change func(*lastFreezing)) {
		f := b
		change(&f)
		if ln := math.Log(f.solid() / usual); ln > 1e-3 {
			parts, sum = append(parts, SlowPart{what, ln}), sum+ln
		}
	}
	add("heat figures of the rubber", func(f *lastFreezing) { f.rubber = r.slowHeat() })
	add("a mold still warm from the shots before", func(f *lastFreezing) { f.mold = cases.Slow.MoldC })
	add("heat of fusion", func(f *lastFreezing) { f.latent = m.Heat.Latent.Hi })
	add("contact between metal and rubber", func(f *lastFreezing) { f.contact = cases.Slow.Contact })
	for i := range parts {
		parts[i].LaterS *= later / sum
	}
	return parts
}

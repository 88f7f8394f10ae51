package pourplan

import "halfpour/moldbox"

// siliconeBreaks is where silicone's chains come apart, °C: they depolymerise above
// 623 K (Clarson & Semlyen, Studies of cyclic and linear poly(dimethylsiloxanes) 21,
// Polymer 27 (1986) 91). Between a rubber's limit for a short time and this it ages
// fast.
const siliconeBreaks = 350.0

// RubberFindings say that the metal, where it meets the rubber, is hotter than that
// takes even for a short time, and stop a mold that the first shot destroys. Metal
// and rubber that are not known have been refused before.
func (j *Job) RubberFindings() []moldbox.Finding {
	m, err := j.Metal.resolve()
	if err != nil {
		return nil
	}
	r, err := j.Rubber.resolve()
	if err != nil {
		return nil
	}
	c := planCasting(j.Casting, m, r)
	if c.Verdict != DoNot {
		return nil
	}
	return []moldbox.Finding{hotterThanShort(c.ContactC, c.RubberShortC)}
}

// TooHotCode is of the finding that metal heats the rubber above its short-term limit.
const TooHotCode = "metal-too-hot"

// hotterThanShort is about rubber that gets hotter than it takes even for a short time.
func hotterThanShort(at, limit float64) moldbox.Finding {
	f := moldbox.Finding{Severity: moldbox.Warn, Code: TooHotCode, Value: at, Limit: limit, Unit: "°C",
		Message: "the metal would heat the rubber above its short-term limit",
		Remedy:  "use less casting.superheat, a metal that melts lower, or a rubber that takes more heat"}
	if at > siliconeBreaks {
		f.Severity = moldbox.Stop
		f.Message = "the metal would destroy the rubber: silicone breaks down where it gets so hot"
	}
	return f
}

// SkinStops stop a mold whose rubber a computed shot destroys.
func (j *Job) SkinStops(cast moldbox.MeasuredCast) []moldbox.Finding {
	r, err := j.Rubber.resolve()
	if err != nil {
		return nil
	}
	f := hotterThanShort(cast.Best.Skin.Hottest, r.Short)
	if f.Severity != moldbox.Stop {
		return nil
	}
	at := cast.Best.Skin.At
	f.At = &at
	return []moldbox.Finding{f}
}

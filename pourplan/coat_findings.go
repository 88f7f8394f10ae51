package pourplan

import (
	"fmt"

	"halfpour/moldbox"
)

// bakeMargin is how far an oven must stay below where the metal begins to melt,
// K: small ovens swing about their setting by 10 to 20 K (common practice, no
// source).
const bakeMargin = 20.0

// CoatFindings warn of a baked coat on a metal that melts in the oven. Metal that is not known has been refused before.
func (j *Job) CoatFindings() []moldbox.Finding {
	m, err := j.Metal.resolve()
	if j.Finish.Powder == 0 || err != nil {
		return nil
	}
	bake := j.Finish.bake()
	f := moldbox.Finding{Severity: moldbox.Stop, Code: "coat-melts-metal", Value: bake, Limit: m.Solidus - bakeMargin, Unit: "°C"}
	switch {
	case m.Solidus == 0:
		f.Severity, f.Limit = moldbox.Warn, 0
		f.Message = fmt.Sprintf("nothing says where %s begins to melt: baking the coat at %s may melt the heads", m.Name, FormatTemperature(bake))
		f.Remedy = "set metal.solidus from the supplier's sheet, or paint the heads and remove finish.powder"
	case bake > m.Solidus-bakeMargin:
		f.Message = fmt.Sprintf("the coat bakes at %s, but %s begins to melt at %s: heads sag or drip in the oven", FormatTemperature(bake), m.Name, FormatTemperature(m.Solidus))
		f.Remedy = fmt.Sprintf("paint the heads and remove finish.powder; or use a metal that melts higher, or a coat that bakes at %s or less and set finish.bake to it", FormatTemperature(m.Solidus-bakeMargin))
	default:
		return nil
	}
	return []moldbox.Finding{f}
}

package pourplan

import (
	"fmt"
	"strings"

	"halfpour/moldbox"
)

// bakeMargin is how far an oven must stay below where the metal begins to melt,
// K: small ovens swing about their setting by 10 to 20 K. Within bakeNear of that
// point metal is soft, and a head may sag or creep (both common practice, no source).
const (
	bakeMargin = 20.0
	bakeNear   = 40.0
)

// CoatFindings are about a baked coat on a metal that melts or sags in the oven.
// Metal that is not known has been refused before.
func (j *Job) CoatFindings() []moldbox.Finding {
	m, err := j.Metal.resolve()
	bake := j.hottestBake()
	if bake == 0 || err != nil {
		return nil
	}
	f := moldbox.Finding{Severity: moldbox.Stop, Code: "coat-melts-metal", Value: bake, Limit: m.Solidus - bakeMargin, Unit: "°C"}
	melts := m.Solidus
	if melts == 0 && bake >= m.Liquidus-bakeMargin {
		melts, f.Limit = m.Liquidus, m.Liquidus-bakeMargin // it begins no later than that
	}
	switch {
	case melts == 0:
		f.Severity, f.Limit = moldbox.Warn, 0
		f.Message = fmt.Sprintf("nothing says where %s begins to melt: baking the coat at %s may melt the heads", m.Name, FormatTemperature(bake))
		f.Remedy = "set metal.solidus from the supplier's sheet, or use a coat that dries without the oven"
	case bake >= melts-bakeMargin:
		f.Message = fmt.Sprintf("the coat bakes at %s, but %s begins to melt at %s: heads sag or drip in the oven", FormatTemperature(bake), m.Name, FormatTemperature(melts))
		f.Remedy = fmt.Sprintf("use a coat that dries without the oven, such as paint, or one that bakes below %s; or cast %s", FormatTemperature(melts-bakeMargin), standBake(m, bake))
	case bake >= melts-bakeNear:
		f.Severity, f.Code, f.Limit = moldbox.Warn, "coat-softens-metal", melts-bakeNear
		f.Message = fmt.Sprintf("the coat bakes at %s, and %s begins to melt at %s: it is soft in the oven, and thin parts may sag", FormatTemperature(bake), m.Name, FormatTemperature(melts))
		f.Remedy = fmt.Sprintf("hang each head by its hook so that nothing bends it, and bake one head first; or cast %s", standBake(m, bake))
	default:
		return nil
	}
	return []moldbox.Finding{f}
}

// standBake names metals that an oven leaves solid and stiff, or at least solid:
// without lead, if the heads have none.
func standBake(m Metal, bake float64) string {
	names := standing(m, bake+bakeNear)
	if len(names) == 0 {
		names = standing(m, bake+bakeMargin)
	}
	if len(names) == 0 {
		return "a metal that melts higher"
	}
	return "a metal that melts higher, such as " + strings.Join(names[:min(3, len(names))], ", ")
}

// standing are metals that are solid above so many °C.
func standing(m Metal, above float64) (names []string) {
	for _, p := range metalPresets() {
		other, err := MetalTable{Preset: p.name}.resolve()
		if err != nil || other.Solidus <= above || contains(other, "lead") && m.Parts != nil && !contains(m, "lead") {
			continue
		}
		names = append(names, p.name)
	}
	return names
}

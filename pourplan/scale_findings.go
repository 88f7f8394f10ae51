package pourplan

import (
	"fmt"
	"math"
	"strings"

	"halfpour/moldbox"
)

// A target that takes a head further from its size as modelled than this has mostly
// another reason (common practice, no source).
const leastUsualScale, mostUsualScale = 0.5, 2.0

// ScaleFindings says of each head that its weight makes it far smaller or
// larger than modelled, with the likely reason.
func ScaleFindings(p *Plan) []moldbox.Finding {
	var fs []moldbox.Finding
	for _, h := range p.Heads {
		f := moldbox.Finding{Severity: moldbox.Warn, Code: "scale-odd", Cavity: h.Name, Value: h.Scale, Remedy: h.oddBecause()}
		switch {
		case h.TargetG == 0:
			continue
		case h.Scale < leastUsualScale:
			f.Limit, f.Message = leastUsualScale, fmt.Sprintf("to weigh %s the head is made far smaller than drawn", FormatMass(h.TargetG))
		case h.Scale > mostUsualScale:
			f.Limit, f.Message = mostUsualScale, fmt.Sprintf("to weigh %s the head is made far larger than drawn", FormatMass(h.TargetG))
		default:
			continue
		}
		fs = append(fs, f)
	}
	return fs
}

// oddBecause is the slip that explains the scale of a head.
func (h HeadPlan) oddBecause() string {
	usual := func(scale float64) bool { return scale >= leastUsualScale && scale <= mostUsualScale }
	steel := h.SteelG
	if h.TargetOf == "metal" {
		steel = 0
	}
	inOunces := strings.HasSuffix(markedMass(h.TargetG), "oz")
	switch {
	case !inOunces && usual(h.Scale*math.Cbrt((h.TargetG*GramPerOz-steel)/h.MetalG.Best)):
		return fmt.Sprintf("a bare number is in grams; for ounces write weight.target = \"%.4g oz\"", h.TargetG)
	case inOunces && usual(h.Scale/math.Cbrt(GramPerOz)):
		return fmt.Sprintf("for grams write weight.target = %.4g", h.TargetG/GramPerOz)
	case usual(h.Scale / MMPerInch), usual(h.Scale / 10), usual(h.Scale * MMPerInch), usual(h.Scale * 10):
		return "set head.unit to the unit the head's file was drawn in"
	}
	return "check weight.target and head.unit"
}

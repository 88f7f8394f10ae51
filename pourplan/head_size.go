package pourplan

import (
	"fmt"
	"math"
	"strings"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/moldbox/head"
)

// Heads are about 8 to 100 mm long (common practice, no source): a file that is
// far off is likely in another unit than the job says.
const shortHead, longHead = 4.0, 200.0

// CheckSize says a suspicious size back.
func (t HeadTable) CheckSize(h *head.Head) []moldbox.Finding {
	modelled := h.Solid.BoundingBox().Size()
	s := modelled.Mul(t.MMPerUnit())
	long := math.Max(s.X, math.Max(s.Y, s.Z))
	if long >= shortHead && long <= longHead {
		return nil
	}
	return []moldbox.Finding{{
		Severity: moldbox.Warn, Code: "head-size", Value: long, Limit: longHead, Unit: "mm",
		Message: fmt.Sprintf("%s: the head is %s mm with unit = %q", h.Name, sizeText(s), t.Unit),
		Remedy:  unitRemedy(h.Format, math.Max(modelled.X, math.Max(modelled.Y, modelled.Z))),
	}}
}

// unitRemedy names the units in which a head that is long in its file's unit
// would have a likely size.
func unitRemedy(format head.Format, long float64) string {
	if format == head.ThreeMF {
		return "a 3MF file states its unit: export it again with the unit it was drawn in"
	}
	remedy := "an " + string(format) + " file has no unit: set head.unit to the one it was drawn in"
	var likely []string
	for _, unit := range []string{"mm", "cm", "in", "ft", "m"} {
		k := HeadTable{Unit: unit}.MMPerUnit()
		if long*k >= shortHead && long*k <= longHead {
			likely = append(likely, fmt.Sprintf("%q (%.4g mm long)", unit, long*k))
		}
	}
	if len(likely) > 0 {
		remedy += ", likely " + strings.Join(likely, " or ")
	}
	return remedy
}

// sizeText is a size as it is said back to the user.
func sizeText(s geom.Vec) string {
	if math.Max(s.X, math.Max(s.Y, s.Z)) < 1 {
		return fmt.Sprintf("%.2g x %.2g x %.2g", s.X, s.Y, s.Z)
	}
	return fmt.Sprintf("%.1f x %.1f x %.1f", s.X, s.Y, s.Z)
}

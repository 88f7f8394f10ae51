package pourplan

import (
	"fmt"
	"strings"
)

// RhythmText says in a line how warm the mold gets shot by shot; "" when that was not
// computed.
func (c CastingPlan) RhythmText() string {
	s := c.Shot
	if s == nil || s.BriskS == 0 {
		return ""
	}
	brisk := fmt.Sprintf("without a pause, a shot every %s, it settles at %s", FormatAtLeast(s.BriskS), FormatTemperature(s.SettlesC))
	if s.SettlesSolidS > c.SolidMostS || s.SettlesSolidS == 0 {
		brisk += ", and metal is solid later than said here"
	}
	switch {
	case s.RhythmS > 0 && s.PauseS > 0:
		return fmt.Sprintf("a shot every %s keeps the mold at %s, with a pause of %s; %s", FormatAtLeast(s.RhythmS), FormatTemperature(c.MoldC), FormatAtLeast(s.PauseS), brisk)
	case s.SettlesC < c.MoldC:
		return fmt.Sprintf("the mold cools from %s: %s; warm it again between shots", FormatTemperature(c.MoldC), brisk)
	}
	return brisk + "; let it cool to " + FormatTemperature(c.MoldC) + " before each shot"
}

// SolidText says in a line when all metal is solid, and what its range is made of; ""
// when that was not computed.
func (c CastingPlan) SolidText() string {
	s := c.Shot
	if s == nil {
		return ""
	}
	text := fmt.Sprintf("all metal solid after %.0f s, %.0f s at most", c.SolidS, c.SolidMostS)
	var parts []string
	for _, p := range s.RangeFrom {
		if p.LaterS >= 0.5 {
			parts = append(parts, fmt.Sprintf("%s +%.0f s", p.What, p.LaterS))
		}
	}
	if len(parts) > 0 {
		text += ": " + strings.Join(parts, ", ")
	}
	return text
}

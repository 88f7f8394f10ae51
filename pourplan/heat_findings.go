package pourplan

import (
	"fmt"
	"math"
	"strings"

	"halfpour/geom"
	"halfpour/moldbox"
)

// Codes of the findings of a computed shot.
const (
	voidCode      = "void"
	hotRubberCode = "rubber-hot"
	freezesCode   = "section-freezes"
)

// voidLimit is the void in mm³ that passes in a head of so much metal, mm³: a
// hundredth, but as much as a ball of 1.2 mm (common practice, no source).
func voidLimit(metal float64) float64 { return math.Max(1, metal/100) }

// HeatFindings says what a computed shot comes to that needs looking at: melt that
// is cut off from its feed, and rubber above its limits. Each names what helps, by
// shots computed with that change.
func HeatFindings(p *Plan, cast *moldbox.MeasuredCast) []moldbox.Finding {
	if cast == nil || p.Casting.SolidS == 0 {
		return nil
	}
	var fs []moldbox.Finding
	for i, h := range p.Heads {
		fs = append(fs, freezesFirst(h, cast.Trials, i)...)
		f := h.Frozen
		limit := voidLimit(h.MetalMM3)
		if f == nil || f.VoidMM3 <= limit {
			continue
		}
		at := vec(f.VoidAtMM)
		found := moldbox.Finding{Severity: moldbox.Warn, Code: voidCode, Cavity: h.Name, At: &at, Value: f.VoidMM3, Limit: limit, Unit: "mm³",
			Message: fmt.Sprintf("the gate freezes first: expect a void or sink of about %.0f mm³ where the head freezes last", f.VoidMM3)}
		if f.GateS >= f.SolidS {
			found.Message = fmt.Sprintf("a part of the head is cut off as melt: expect a void or sink of about %.0f mm³ where it freezes last", f.VoidMM3)
		}
		if i < len(cast.LastInHead) {
			found.HeadAt = &cast.LastInHead[i]
		}
		found.Remedy = remedyByTrials(cast.Trials, voidCode, f.VoidMM3, func(t moldbox.CastTrial) (float64, string) {
			left := math.Max(0, t.Frozen.Heads[i].CutOff*t.Shrinks)
			if left < 0.5 {
				return left, "none left"
			}
			return left, fmt.Sprintf("%.0f mm³ left", left)
		})
		fs = append(fs, found)
	}
	return append(fs, rubberTooWarm(p, cast)...)
}

// freezesFirst is about a head of which a part freezes before it is full: melt can flow
// into all of it no longer than it takes to fill.
func freezesFirst(h HeadPlan, trials []moldbox.CastTrial, i int) []moldbox.Finding {
	f := h.Frozen
	if f == nil || h.Fill == nil || f.FlowS == 0 || f.FlowS >= h.Fill.FillS {
		return nil
	}
	at := vec(f.FlowAtMM)
	return []moldbox.Finding{{Severity: moldbox.Warn, Code: freezesCode, Cavity: h.Name, At: &at, Value: f.FlowS, Limit: h.Fill.FillS, Unit: "s",
		Message: fmt.Sprintf("a part of the head freezes before the head is full: melt reaches it for %.2f s, filling takes about %.2f s", f.FlowS, h.Fill.FillS),
		Remedy: remedyByTrials(trials, freezesCode, -f.FlowS, func(t moldbox.CastTrial) (float64, string) {
			flow := t.Frozen.Heads[i].Flow.Latest
			return -flow, fmt.Sprintf("%.2f s", flow)
		})}}
}

// rubberTooWarm is about the rubber's skin as computed. That it is destroyed SkinStops say.
func rubberTooWarm(p *Plan, cast *moldbox.MeasuredCast) []moldbox.Finding {
	c, skin := p.Casting, cast.Best.Skin
	if c.SkinC > c.RubberShortC {
		f := hotterThanShort(c.SkinC, c.RubberShortC)
		if f.Severity == moldbox.Stop {
			return nil
		}
		at := skin.At
		f.At = &at
		return []moldbox.Finding{f}
	}
	if c.SkinOverS == 0 {
		return nil
	}
	f := moldbox.Finding{Severity: moldbox.Note, Code: hotRubberCode, Value: c.SkinOverS, Unit: "s",
		Message: fmt.Sprintf("each shot keeps the rubber above its continuous limit of %.0f °C for %.0f s: it ages", c.RubberContinuousC, c.SkinOverS)}
	if len(skin.AboveAt) > 0 {
		at := skin.AboveAt[0]
		f.At = &at
	}
	f.Remedy = remedyByTrials(cast.Trials, hotRubberCode, c.SkinOverS, func(t moldbox.CastTrial) (float64, string) {
		return t.Frozen.Skin.Above[0], fmt.Sprintf("%.0f s", t.Frozen.Skin.Above[0])
	})
	return []moldbox.Finding{f}
}

// remedyByTrials says what the changes come to that were tried against a finding:
// those that leave a twentieth less first, then those that do not help.
func remedyByTrials(trials []moldbox.CastTrial, code string, was float64, left func(moldbox.CastTrial) (float64, string)) string {
	var helps, not []string
	for _, t := range trials {
		if t.Against != code {
			continue
		}
		if x, text := left(t); x < was-0.05*math.Abs(was) {
			helps = append(helps, t.Change+": "+text)
		} else {
			not = append(not, t.Change)
		}
	}
	if len(helps) == 0 && len(not) == 0 {
		return ""
	}
	text := "computed: " + strings.Join(helps, "; ")
	if len(helps) == 0 {
		return text + "no help by " + strings.Join(not, ", ")
	}
	if len(not) > 0 {
		text += "; no help by " + strings.Join(not, ", ")
	}
	return text
}

func vec(p [3]float64) geom.Vec { return geom.Vec{X: p[0], Y: p[1], Z: p[2]} }

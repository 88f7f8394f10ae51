package pourplan

import (
	"fmt"

	"halfpour/geom"
	"halfpour/moldbox"
)

// FillFindings says of each head whose thinnest section metal hardly enters, or
// that freezes before the head is full. Both are estimates: a slit w wide takes
// metal under a head of h when ρgh > 2γ/w (Young-Laplace, no wetting), so that
// the least width is the finest radius of a round hole.
func FillFindings(p *Plan) []moldbox.Finding {
	var fs []moldbox.Finding
	for _, h := range p.Heads {
		f := h.Fill
		if f == nil || f.ThinMM == 0 {
			continue
		}
		add := func(g moldbox.Finding) {
			g.Severity, g.Cavity = moldbox.Warn, h.Name
			if f.ThinAtMM != nil && f.ThinHeadAtMM != nil {
				at, head := *f.ThinAtMM, *f.ThinHeadAtMM
				g.At, g.HeadAt = &geom.Vec{X: at[0], Y: at[1], Z: at[2]}, &geom.Vec{X: head[0], Y: head[1], Z: head[2]}
			}
			fs = append(fs, g)
		}
		switch {
		case f.ThinMM < f.FinestRadiusMM:
			add(moldbox.Finding{Code: "section-too-fine", Value: f.ThinMM, Limit: f.FinestRadiusMM, Unit: "mm",
				Message: "metal hardly enters the thinnest section of the head (rough)",
				Remedy:  "thicken it, or put more metal above it with a longer sprue.length"})
		case h.Frozen == nil && f.ThinFreezesS < f.FillS:
			add(moldbox.Finding{Code: "section-freezes", Value: f.ThinFreezesS, Limit: f.FillS, Unit: "s",
				Message: fmt.Sprintf("the thinnest section of the head, %.2g mm, freezes before the head is full (rough)", f.ThinMM),
				Remedy:  "thicken it, warm the mold, pour hotter, or use a larger gate"})
		}
	}
	return fs
}

package pourplan

import (
	"fmt"
	"math"
	"slices"

	"halfpour/moldbox"
)

// WirePlan is one kind of wire of a head.
type WirePlan struct {
	Name         string     `json:"name"`            // the hook's or keeper's
	Hook         bool       `json:"hook"`            // it is the hook; else a keeper
	Count        int        `json:"count"`           // alike, in one head
	DiameterMM   float64    `json:"diameter_mm"`     // of the wire
	LengthMM     float64    `json:"length_mm"`       // of the axis, eye ring included: the length to cut
	ToCut        bool       `json:"to_cut"`          // bent at the bench; false for a bought hook, one by its usual dimensions
	SteelG       float64    `json:"steel_g"`         // mass of one
	SteelInHeadG float64    `json:"steel_in_head_g"` // of that, what lies in the head; of several the mean
	Bends        []BendPlan `json:"stretches"`       // from the eye or the first point on
}

// BendPlan is a straight stretch of wire and the bend that ends it.
type BendPlan struct {
	StraightMM float64 `json:"straight_mm"`      // without the bends; 0 for a bend that follows another, or the eye's ring
	BendDeg    float64 `json:"bend_deg"`         // positive to the left as seen from the left flank; 0 at the wire's end, 360 for the eye's ring
	InsideMM   float64 `json:"inside_radius_mm"` // of the bend; 0: a sharp corner
}

// has asks for the wires that were measured to be the cavity's own.
func (c CavityTable) has(m moldbox.MeasuredCavity) error {
	for _, w := range m.Wires {
		if w.Keeper < 0 && c.Hook == nil || w.Keeper >= len(c.Keeper) {
			return fmt.Errorf("%s: measured a wire %q that the job does not have", m.Name, w.Name)
		}
	}
	return nil
}

// planWires lists the wires of a head, neighbours that are alike once.
func planWires(c CavityTable, m moldbox.MeasuredCavity) []WirePlan {
	var list []WirePlan
	for _, w := range m.Wires {
		p := WirePlan{Name: w.Name, Hook: w.Keeper < 0, Count: 1, DiameterMM: w.Diameter, LengthMM: w.Length, ToCut: true}
		if p.Hook {
			p.ToCut, p.SteelG = len(c.Hook.Points) > 0, c.Hook.steelMass(w.Volume)
		} else {
			p.ToCut, p.SteelG = c.Keeper[w.Keeper].File == "", c.Keeper[w.Keeper].steelMass(w.Volume)
		}
		p.SteelInHeadG = p.SteelG * w.InHead / w.Volume
		for _, s := range w.Cut {
			p.Bends = append(p.Bends, planBend(s))
		}
		if n := len(list); n > 0 && list[n-1].Alike(p) {
			list[n-1].add(p)
			continue
		}
		list = append(list, p)
	}
	return list
}

func planBend(s moldbox.Stretch) BendPlan {
	return BendPlan{StraightMM: s.Straight, BendDeg: s.Bend * 180 / math.Pi, InsideMM: s.Inside}
}

// add counts one more wire that is alike.
func (w *WirePlan) add(v WirePlan) {
	w.SteelInHeadG = (float64(w.Count)*w.SteelInHeadG + v.SteelInHeadG) / float64(w.Count+1)
	w.Count++
}

// Alike reports whether two wires are cut and bent alike, to what can be told
// apart.
func (w WirePlan) Alike(v WirePlan) bool {
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }
	return w.Name == v.Name && w.Hook == v.Hook && w.ToCut == v.ToCut && near(w.DiameterMM, v.DiameterMM) && near(w.LengthMM, v.LengthMM) &&
		near(w.SteelG, v.SteelG) &&
		slices.EqualFunc(w.Bends, v.Bends, func(a, b BendPlan) bool {
			return near(a.StraightMM, b.StraightMM) && near(a.BendDeg, b.BendDeg) && near(a.InsideMM, b.InsideMM)
		})
}

// WiresToCut are the kinds of wire that are bent at the bench, with how many
// of each a shot takes.
func (p *Plan) WiresToCut() []WirePlan {
	var list []WirePlan
	for _, h := range p.Heads {
		for _, w := range h.Wires {
			if !w.ToCut {
				continue
			}
			if i := slices.IndexFunc(list, w.Alike); i >= 0 {
				list[i].Count += w.Count
			} else {
				list = append(list, w)
			}
		}
	}
	return list
}

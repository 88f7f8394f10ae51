package pourplan

import "halfpour/moldbox"

// SwapPlan is the same mold cast in another metal.
type SwapPlan struct {
	Metal       string    `json:"metal"`         // a preset's name
	DensityGCM3 float64   `json:"density_g_cm3"` // cold
	FinishedG   []float64 `json:"finished_g"`    // each head with its hook, in order along +X
	ShotG       float64   `json:"shot_g"`        // heads and runners
	PourC       float64   `json:"pour_c"`        // its liquidus with the job's superheat
	ContactC    float64   `json:"contact_c"`     // where it meets the rubber, estimated
	Verdict     Verdict   `json:"verdict"`       // on the contact temperature
}

// planSwaps lists what the heads would weigh in every other preset. The mold
// stays as it is, so a metal that shrinks less gives a larger head: by the cube
// of (1 - s_new)/(1 - s), the wire in it apart.
func planSwaps(job *Job, in moldbox.Measured, heads []HeadPlan, m Metal, r Rubber) []SwapPlan {
	list := []SwapPlan{}
	for _, preset := range metalPresets() {
		if m.Parts != nil && m.Parts.same(preset.parts) {
			continue
		}
		other, err := MetalTable{Preset: preset.name, FillFactor: m.FillFactor}.resolve()
		if err != nil {
			continue // presets resolve; their test says so
		}
		casting := job.Casting
		casting.Pour = nil
		c := planCasting(casting, other, r)
		s := SwapPlan{Metal: preset.name, DensityGCM3: other.Density.Best, PourC: c.PourC, ContactC: c.ContactC, Verdict: c.Verdict}
		for i, c := range in.Cavities {
			mass := swapped(c, m, other)
			s.FinishedG = append(s.FinishedG, mass+heads[i].SteelG)
			s.ShotG += mass + c.Runner*1e-3*other.Density.Best
		}
		list = append(list, s)
	}
	return list
}

// swapped is the metal in g of a cavity that was made for another metal.
func swapped(c moldbox.MeasuredCavity, made, other Metal) float64 {
	k := cube((1 - fraction(other.Shrink.Best)) / (1 - fraction(made.Shrink.Best)))
	return FinishedMass(other.Density.Best, other.filled(), c.Head*k-c.WireInHead, 0)
}

package pourplan

import (
	"encoding/json"
	"math"
	"slices"
)

// RunListSchema is the number in RunList.Schema. Within one number fields are
// only added.
const RunListSchema = 1

// RunList is what all molds of a size run take together. The unit of a
// figure is at the end of its name, as in a Plan.
type RunList struct {
	Schema  int       `json:"schema"`  // number of this format, RunListSchema
	Title   string    `json:"title"`   // the job's
	Molds   []RunMold `json:"molds"`   // in the job's order
	Rubber  RunRubber `json:"rubber"`  // to buy and weigh
	Metal   RunMetal  `json:"metal"`   // to melt
	Hooks   []RunWire `json:"hooks"`   // to have at hand, kind by kind
	Keepers []RunWire `json:"keepers"` // to cut, kind by kind
}

// RunMold is one mold's share.
type RunMold struct {
	Name     string    `json:"name"`     // of the size
	Folder   string    `json:"folder"`   // in the output folder
	Cavities int       `json:"cavities"` // heads to a shot
	Shots    int       `json:"shots"`    // to cast
	Needed   int       `json:"molds"`    // of this size, to buy rubber for
	Halves   []RunHalf `json:"halves"`   // left, right
	AG       float64   `json:"a_g"`      // of both halves, as weighed
	BG       float64   `json:"b_g"`      // of both halves, as weighed
	ShotG    float64   `json:"shot_g"`   // metal of one shot
	ShotsG   float64   `json:"shots_g"`  // metal of all shots, dross left out
}

// RunHalf is the rubber of one half, as weighed.
type RunHalf struct {
	Half string  `json:"half"` // "left" or "right"
	AG   float64 `json:"a_g"`  // to weigh
	BG   float64 `json:"b_g"`  // to weigh
}

// RunRubber is the rubber of all molds.
type RunRubber struct {
	Name   string  `json:"name"`         // of the rubber
	Ratio  string  `json:"ratio"`        // A:B by mass
	AG     float64 `json:"a_g"`          // of all molds, as weighed
	BG     float64 `json:"b_g"`          // of all molds, as weighed
	TotalG float64 `json:"total_g"`      // A and B
	StepG  float64 `json:"scale_step_g"` // to which A and B are rounded

	// Kits to buy for so many of the whole run as buying.molds says, or else for
	// all molds of each size; left out without [[kit]].
	Kits *BuyingPlan `json:"kits,omitempty"`
}

// RunMetal is the metal of all shots. The heel is counted once: it stays in
// the pot from one mold to the next.
type RunMetal struct {
	Name     string  `json:"name"`      // of the metal
	MeltG    float64 `json:"melt_g"`    // with dross and heel
	ReturnsG float64 `json:"returns_g"` // sprues, runners and bad heads that come back
}

// RunWire is one kind of hook or keeper, counted for all shots.
type RunWire struct {
	Name       string  `json:"name"`               // of the wire, the job's
	DiameterMM float64 `json:"diameter_mm"`        // of the wire
	Count      int     `json:"count"`              // how many
	CutMM      float64 `json:"cut_mm,omitempty"`   // length of each, where it is bent at the bench
	TotalMM    float64 `json:"total_mm,omitempty"` // of all of them
	SteelG     float64 `json:"steel_g"`            // mass of one
}

// PlannedMold is a mold of a job with its plan.
type PlannedMold struct {
	Mold
	Plan *Plan
}

// NewRunList adds the plans of a job's molds up. It fails as NewPlan does when
// the job asks for more rubber than kits are counted for.
func NewRunList(job *Job, molds []PlannedMold) (*RunList, error) {
	b := &RunList{Schema: RunListSchema, Title: job.Title, Hooks: []RunWire{}, Keepers: []RunWire{}}
	heel := 0.0
	for _, m := range molds {
		p := m.Plan
		mold := RunMold{Name: m.Name, Folder: m.Folder, Cavities: len(p.Heads), Shots: p.Metal.Shots, Needed: p.Metal.molds(job.Buying),
			AG: p.Rubber.TotalAG, BG: p.Rubber.TotalBG, ShotG: p.Metal.ShotG, ShotsG: float64(p.Metal.Shots) * p.Metal.ShotG}
		for _, h := range p.Rubber.Halves {
			mold.Halves = append(mold.Halves, RunHalf{h.Half, h.AG, h.BG})
		}
		b.Molds = append(b.Molds, mold)
		b.Rubber.Name, b.Rubber.Ratio, b.Rubber.StepG = p.Rubber.Name, p.Rubber.Ratio, p.Rubber.ScaleStepG
		b.Rubber.AG += p.Rubber.TotalAG
		b.Rubber.BG += p.Rubber.TotalBG
		b.Metal.Name = p.Metal.Name
		b.Metal.MeltG += p.Metal.MeltG - p.Metal.HeelG
		b.Metal.ReturnsG += p.Metal.ReturnsG
		heel = math.Max(heel, p.Metal.HeelG)
		for _, h := range p.Heads {
			b.addWires(h.Wires, p.Metal.Shots)
		}
	}
	b.Rubber.TotalG = b.Rubber.AG + b.Rubber.BG
	b.Metal.MeltG += heel
	rubber, err := job.Rubber.resolve()
	if err != nil {
		return nil, err
	}
	runs, each := job.Buying.Molds, b.Rubber.TotalG
	if runs == 0 {
		runs, each = 1, b.allMoldsG()
	}
	b.Rubber.Kits, err = planBuying(job, rubber, runs, each)
	return b, err
}

// allMoldsG is A and B of as many molds of each size as its shots take.
func (b *RunList) allMoldsG() float64 {
	sum := 0.0
	for _, m := range b.Molds {
		sum += float64(m.Needed) * (m.AG + m.BG)
	}
	return sum
}

// addWires counts the wires of one head for a number of shots.
func (b *RunList) addWires(wires []WirePlan, shots int) {
	for _, w := range wires {
		list := &b.Keepers
		if w.Hook {
			list = &b.Hooks
		}
		one := RunWire{Name: w.Name, DiameterMM: w.DiameterMM, SteelG: w.SteelG}
		if w.ToCut {
			one.CutMM = w.LengthMM
		}
		i := slices.IndexFunc(*list, func(o RunWire) bool { return o.Alike(one) })
		if i < 0 {
			i = len(*list)
			*list = append(*list, one)
		}
		had := &(*list)[i]
		had.Count += w.Count * shots
		had.TotalMM = float64(had.Count) * had.CutMM
	}
}

// alike reports whether two wires are bought as one kind.
func (w RunWire) Alike(v RunWire) bool {
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }
	return w.Name == v.Name && near(w.DiameterMM, v.DiameterMM) && near(w.CutMM, v.CutMM) && near(w.SteelG, v.SteelG)
}

// JSON returns the list as an indented document.
func (b *RunList) JSON() ([]byte, error) {
	data, err := json.MarshalIndent(b, "", "  ")
	return append(data, '\n'), err
}

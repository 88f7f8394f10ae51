package pourplan

import (
	"fmt"
	"math"

	"halfpour/geom"
)

// NewPlan computes a plan. It is pure arithmetic: the same job and the same
// measurements give the same plan. An error says which key of the job or which
// measurement does not allow one.
func NewPlan(job *Job, in Measured) (*Plan, error) {
	metal, err := job.Metal.resolve()
	if err != nil {
		return nil, err
	}
	rubber, err := job.Rubber.resolve()
	if err != nil {
		return nil, err
	}
	placed := job.Placed()
	if len(placed) != len(in.Cavities) {
		return nil, fmt.Errorf("measured %d cavities of a job with %d", len(in.Cavities), len(placed))
	}
	if err := in.check(); err != nil {
		return nil, err
	}
	p := &Plan{
		Schema:  PlanSchema,
		Title:   job.Title,
		Rubber:  planRubber(rubber, in),
		Casting: planCasting(job.Casting, metal, rubber),
		Times:   TimesPlan{PotLifeS: rubber.PotLife, DemoldS: rubber.Demold, RestS: rubber.Rest},
		Frames:  []FramePlan{planFrame("left", in.Left), planFrame("right", in.Right)},
		Typical: append(append([]string{}, rubber.Typical...), metal.Typical...),
	}
	for i, c := range placed {
		head := planHead(c, in.Cavities[i], metal, rubber)
		head.Fill = planFilling(job, in.Cavities[i], metal, rubber, p.Casting)
		p.Heads = append(p.Heads, head)
	}
	p.Metal = planMetal(job.Casting, metal, p.Heads)
	for _, h := range p.Heads {
		if h.Fill != nil {
			p.Casting.OpenAfterS = math.Max(p.Casting.OpenAfterS, 2*h.Fill.FreezesHighS)
		}
	}
	p.Findings = planFindings(in)
	p.Cautions = cautions(p, metal, rubber)
	return p, nil
}

// check asks for volumes that arithmetic can stand.
func (in Measured) check() error {
	for _, h := range []struct {
		name string
		half MeasuredHalf
	}{{"left", in.Left}, {"right", in.Right}} {
		v := h.half.Rubber
		if !(v.Lo > 0 && v.Lo <= v.Best && v.Best <= v.Hi) || math.IsInf(v.Hi, 0) {
			return fmt.Errorf("%s half: rubber volume must be above 0 and within its bracket, got %g in [%g, %g] mm³", h.name, v.Best, v.Lo, v.Hi)
		}
		if m := h.half.Mesh; m != nil && !(m.Solid.Best > 0) {
			return fmt.Errorf("%s half: frame volume must be above 0, got %g mm³", h.name, m.Solid.Best)
		}
	}
	for _, c := range in.Cavities {
		if !(c.Head > c.WireInHead) || math.IsInf(c.Head, 0) || !(c.WireInHead >= 0) || !(c.Runner >= 0) {
			return fmt.Errorf("%s: head must hold metal, got %g mm³ with %g mm³ of wire", c.Name, c.Head, c.WireInHead)
		}
	}
	return nil
}

func rangeOf(s Span, factor float64) Range {
	return Range{s.Lo * factor, s.Best * factor, s.Hi * factor}
}

func planRubber(r Rubber, in Measured) RubberPlan {
	p := RubberPlan{Name: r.Name, Cure: r.Cure, Ratio: r.Ratio.String(), RatioA: r.Ratio.A, RatioB: r.Ratio.B,
		DensityGCM3: r.Density, WastePercent: 100 * r.Waste, ScaleStepG: r.Resolution, Vacuum: r.Vacuum}
	p.Halves = []HalfPlan{planHalf("left", r, in.Left), planHalf("right", r, in.Right)}
	for _, h := range p.Halves {
		p.TotalML += h.VolumeML.Best
		p.TotalG += h.MixG
		p.TotalAG += h.AG
		p.TotalBG += h.BG
	}
	return p
}

func planHalf(name string, r Rubber, m MeasuredHalf) HalfPlan {
	ml := m.Rubber.Best * 1e-3
	h := HalfPlan{Half: name, VolumeML: rangeOf(m.Rubber, 1e-3), VolumeFlOz: ml / MLPerUSFlOz, ResidueG: r.Residue,
		FillFromFloorMM: m.FillHeight, FillFromRimMM: m.RimHeight - m.FillHeight}
	h.FrameMassG = r.Density * ml
	h.WasteG = h.FrameMassG * r.Waste
	h.ExactMassG = RubberMass(ml, r.Density, r.Waste, r.Residue)
	h.AG, h.BG = r.Ratio.Weigh(h.ExactMassG, r.Resolution)
	h.MixG = h.AG + h.BG
	h.BErrorPercent = 100 * (h.BG/BFor(h.AG, r.Ratio) - 1)
	densityA := r.DensityA
	if densityA == 0 {
		densityA, h.LineAFromMix = r.Density, true
	}
	h.LineAML, h.LineMixML = h.AG/densityA, h.MixG/r.Density
	h.CupML = h.LineMixML * r.Headroom()
	h.LineAFlOz, h.LineMixFlOz, h.CupFlOz = h.LineAML/MLPerUSFlOz, h.LineMixML/MLPerUSFlOz, h.CupML/MLPerUSFlOz
	return h
}

func planHead(c CavityTable, m MeasuredCavity, metal Metal, rubber Rubber) HeadPlan {
	mass := predict(headVolumes{m.Head, m.WireInHead}, metal, rubber)
	wires, steel, inHead := planWires(c, m), 0.0, 0.0
	for _, w := range wires {
		steel += float64(w.Count) * w.SteelG
		inHead += float64(w.Count) * w.SteelInHeadG
	}
	h := HeadPlan{Name: m.Name, Scale: m.Scale, Shrink: m.Shrink, VolumeMM3: m.Head, MetalMM3: m.Head - m.WireInHead,
		Wires: wires, MetalG: rangeOf(mass, 1), SteelG: steel, SteelInHeadG: inHead,
		FinishedG: Range{mass.Lo + steel, mass.Best + steel, mass.Hi + steel},
		RunnerG:   m.Runner * 1e-3 * metal.Density.Best}
	if c.Hook != nil {
		h.Hook = c.Hook.Name
	}
	if len(wires) > 0 && wires[0].Hook {
		h.WireLengthMM = wires[0].LengthMM
		if wires[0].ToCut {
			h.WireToCutMM = wires[0].LengthMM
		}
	}
	if c.Weight.Target > 0 {
		h.TargetG, h.TargetOf = float64(c.Weight.Target), c.Weight.Of
	}
	return h
}

// planMetal counts the metal of all shots. Dross is taken off the melt, so the
// melt is what is poured over 1 - dross, and the heel on top.
func planMetal(t CastingTable, m Metal, heads []HeadPlan) MetalPlan {
	p := MetalPlan{Name: m.Name, DensityGCM3: rangeOf(m.Density, 1), ShrinkPercent: rangeOf(m.Shrink, 1), FillFactor: m.FillFactor,
		DrossPercent: float64(t.Dross), HeelG: float64(t.Heel), HeadsWanted: t.Heads, YieldPercent: float64(t.Yield), Shots: 1}
	if m.Parts != nil {
		p.Composition = m.Parts.String()
	}
	for _, h := range heads {
		p.HeadsPerShotG += h.MetalG.Best
		p.RunnerPerShotG += h.RunnerG
	}
	p.ShotG = p.HeadsPerShotG + p.RunnerPerShotG
	bad := 0.0
	if t.Heads > 0 {
		cast := math.Ceil(float64(t.Heads)/t.Yield.Fraction() - 1e-9)
		p.Shots = int(math.Ceil(cast / float64(len(heads))))
		bad = float64(p.Shots)*p.HeadsPerShotG - float64(t.Heads)*p.HeadsPerShotG/float64(len(heads))
	}
	p.MeltG = float64(p.Shots)*p.ShotG/(1-t.Dross.Fraction()) + p.HeelG
	p.ReturnsG = float64(p.Shots)*p.RunnerPerShotG + bad
	return p
}

func planFrame(name string, m MeasuredHalf) FramePlan {
	f := FramePlan{Half: name, InsideMM: xyz(m.Inside), OutsideMM: xyz(m.Outside), FloorMM: m.Floor, RimMM: m.RimHeight,
		BracketPct: 100 * (m.Rubber.Hi - m.Rubber.Lo) / m.Rubber.Best}
	if m.Mesh != nil {
		v, s := m.Mesh.Volume, m.Mesh.Solid
		f.Mesh = &MeshProof{Triangles: m.Mesh.Triangles, MeshMM3: v, SolidMM3: rangeOf(s, 1),
			OffPercent: 100 * (v/s.Best - 1), WithinTheRange: s.Lo <= v && v <= s.Hi}
	}
	return f
}

func xyz(v geom.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

func planFindings(in Measured) []PlanFinding {
	list := []PlanFinding{}
	for _, f := range in.Findings {
		g := PlanFinding{Severity: string(f.Severity), Code: f.Code, Cavity: f.Cavity, Message: f.Message,
			Value: f.Value, Limit: f.Limit, Unit: f.Unit, Remedy: f.Remedy}
		if f.At != nil {
			at := xyz(*f.At)
			g.AtMM = &at
		}
		if f.HeadAt != nil {
			at := xyz(*f.HeadAt)
			g.HeadAtMM = &at
		}
		list = append(list, g)
	}
	return list
}

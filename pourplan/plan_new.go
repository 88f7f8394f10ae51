package pourplan

import (
	"fmt"
	"math"
	"slices"

	"halfpour/geom"
	"halfpour/moldbox"
)

// NewPlan computes a plan. It is pure arithmetic: the same job and the same
// measurements give the same plan. An error says which key of the job or which
// measurement does not allow one.
func NewPlan(job *Job, in moldbox.Measured) (*Plan, error) {
	metal, err := job.Metal.resolve()
	if err != nil {
		return nil, err
	}
	rubber, err := job.Rubber.resolve()
	if err != nil {
		return nil, err
	}
	plastic, err := job.Plastic.resolve()
	if err != nil {
		return nil, err
	}
	placed := job.Placed()
	if len(placed) != len(in.Cavities) {
		return nil, fmt.Errorf("measured %d cavities of a job with %d", len(in.Cavities), len(placed))
	}
	if err := checkMeasured(in); err != nil {
		return nil, err
	}
	p := &Plan{
		Schema:  PlanSchema,
		Title:   job.Title,
		Rubber:  planRubber(rubber, job.Evening, in),
		Casting: planCasting(job.Casting, metal, rubber),
		Frames:  []FramePlan{planFrame("left", in.Left), planFrame("right", in.Right)},
		SealMM:  float64(job.Finish.SealCoat),
		Typical: slices.Concat([]string{}, rubber.Typical, metal.Typical, plastic.Typical, job.typicalCoats()),
	}
	if t := in.Thinnest; t.A != "" {
		at := xyz(t.At)
		p.Rubber.ThinnestMM, p.Rubber.ThinnestFrom, p.Rubber.ThinnestTo, p.Rubber.ThinnestAtMM = t.Width, t.A, t.B, &at
	}
	p.Casting.RubberOverMM = float64(job.Frame.Over)
	if in.Cast != nil {
		p.Casting.takeShot(*in.Cast)
	}
	if s := p.Casting.Shot; s != nil {
		p.Casting.Verdict, s.RangeFrom = judge(p.Casting.SkinC, rubber), slowParts(job, metal, rubber, p.Casting, in.Lumps)
	}
	p.Times = planTimes(job.Evening, rubber, p.Rubber.OneMix.Advised)
	for i, c := range placed {
		if err := c.has(in.Cavities[i]); err != nil {
			return nil, err
		}
		head := planHead(c, in.Cavities[i], job.inCavity(i, metal), rubber, p.Casting.MoldC)
		head.Coat = planCoat(job, c, in.Cavities[i], head)
		head.Fill = planFilling(job, in.Cavities[i], metal, rubber, p.Casting)
		if head.Frozen = planFrozen(in.Cast, i, metal); head.Fill != nil && head.Frozen != nil {
			head.Fill.takeShot(*head.Frozen, p.Casting.HeatReachesMM)
		}
		head.Draw, head.Air = planDraw(in.Cavities[i], in.Cavities[i].AlikeTo == i), planAir(in.Cavities[i].Air)
		p.Heads = append(p.Heads, head)
	}
	p.Layout, p.Gate = planLayout(in.Layout, rubber), planGate(job.Sprue, p.Heads)
	p.Metal = planMetal(job.Casting, job.inAll(metal, p.Heads), p.Heads, in.Runner)
	p.Supplies = planSupplies(job, p.Metal, p.Heads)
	p.Metal.AccountFactor = job.accountFactor(metal, rubber)
	if s := p.Casting.Shot; s != nil && s.BriskS > 0 {
		p.Casting.RestS = s.PauseS
	} else {
		planRest(p, in, job.Evening, metal, rubber)
	}
	if in.Cast == nil {
		planOpening(&p.Casting, in, metal, rubber)
	}
	p.Swaps = planSwaps(job, in, p.Heads, metal, rubber)
	if p.Buying, err = planBuying(job, rubber, p.Metal.molds(job.Buying), p.Rubber.TotalG); err != nil {
		return nil, err
	}
	p.Cost = planCost(job, p, in, plastic)
	p.Print = planPrint(in, plastic, job)
	p.Cautions = cautions(p, metal, rubber, plastic)
	p.Findings = PlanFindings(slices.Concat(in.Findings, FigureFindings(p, in.Cast)))
	return p, nil
}

// checkMeasured asks for volumes that arithmetic can stand.
func checkMeasured(in moldbox.Measured) error {
	for _, h := range []struct {
		name string
		half moldbox.MeasuredHalf
	}{{"left", in.Left}, {"right", in.Right}} {
		v := h.half.Rubber
		if !(v.Lo > 0 && v.Lo <= v.Best && v.Best <= v.Hi) || math.IsInf(v.Hi, 0) {
			return fmt.Errorf("%s half: rubber volume must be above 0 and within its bracket, got %g in [%g, %g] mm³", h.name, v.Best, v.Lo, v.Hi)
		}
		if m := h.half.Mesh; m != nil && !(m.SolidVolume > 0) {
			return fmt.Errorf("%s half: frame volume must be above 0, got %g mm³", h.name, m.SolidVolume)
		}
	}
	if !(in.Runner >= 0) || math.IsInf(in.Runner, 0) {
		return fmt.Errorf("runner: volume must be at least 0, got %g mm³", in.Runner)
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

func planHead(c CavityTable, m moldbox.MeasuredCavity, metal Metal, rubber Rubber, mold float64) HeadPlan {
	volumes := headVolumes{m.Head, m.WireInHead}
	mass := predict(volumes, metal, rubber, mold)
	wires, steel, inHead := planWires(c, m), 0.0, 0.0
	for _, w := range wires {
		steel += float64(w.Count) * w.SteelG
		inHead += float64(w.Count) * w.SteelInHeadG
	}
	h := HeadPlan{Name: m.Name, Scale: m.Scale, Shrink: m.Shrink, VolumeMM3: m.Head, MetalMM3: m.Head - m.WireInHead,
		Wires: wires, MetalG: rangeOf(mass, 1), SteelG: steel, SteelInHeadG: inHead,
		FinishedG: Range{mass.Lo + steel, mass.Best + steel, mass.Hi + steel},
		RangeFrom: rangeParts(volumes, metal, rubber, mold),
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

func planFrame(name string, m moldbox.MeasuredHalf) FramePlan {
	f := FramePlan{Half: name, InsideMM: xyz(m.Inside), OutsideMM: xyz(m.Outside), FloorMM: m.Floor, RimMM: m.RimHeight,
		BracketPct: 100 * (m.Rubber.Hi - m.Rubber.Lo) / m.Rubber.Best}
	if p := m.Mesh; p != nil {
		f.Mesh = &MeshProof{Triangles: p.Triangles, MeshMM3: p.MeshVolume, SolidMM3: Range{p.SolidLeast, p.SolidVolume, p.SolidMost},
			OffPercent: p.OffPercent(), WithinTheRange: p.SolidLeast <= p.MeshVolume && p.MeshVolume <= p.SolidMost}
	}
	return f
}

func xyz(v geom.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

package moldbox

import "halfpour/geom"

// Measured is what is measured of a mold: with the job, all that a plan rests
// on. It holds no solids.
type Measured struct {
	Left, Right MeasuredHalf
	Cavities    []MeasuredCavity // in order along +X
	Runner      float64          // that all cavities share, their branches left out, mm³
	Lumps       []Lump           // where metal freezes late
	Cast        *MeasuredCast    // nil when no shot was computed
	Layout      MeasuredLayout
	Thinnest    Thinnest // rubber; the zero value when not looked for
	Findings    []Finding
}

// MeasuredHalf is one half's frame and the room for rubber in it.
type MeasuredHalf struct {
	Rubber     geom.Integral // empty volume up to the fill line, mm³
	FillHeight float64       // of the rubber over the parting plane, mm
	RimHeight  float64       // of the wall over the parting plane, mm
	Floor      float64       // thickness, mm
	Inside     geom.Vec      // size of the rubber, mm
	Outside    geom.Vec      // size of the frame, mm
	Plastic    float64       // volume of the printed frame, mm³; 0 when not measured
	Mesh       *HalfProof    // of the printed frame's mesh; nil as long as nothing is meshed
	Hanging    []Hanging     // what of that mesh hangs over, the largest first; nothing when that was not looked for
}

// MeasuredCavity is one cavity.
type MeasuredCavity struct {
	Name       string
	Scale      float64      // of the head as modelled, before shrinkage
	Shrink     float64      // linear factor on top
	Head       float64      // the finished cold head, mm³
	WireInHead float64      // mm³
	Wires      []PlacedWire // the hook first
	Area       float64      // surface of the cavity, mm²; 0 when not measured
	Slopes     Slopes       // of the head's surface; zero when not measured
	Runner     float64      // sprue, gate and vents, mm³
	Funnel     float64      // metal standing over the gate, mm
	Thin       *ThinSection
	AlikeTo    int // index of the first cavity that this one is a copy of

	Left, Right *Drawn // nil when not looked at
	BestParting *BestParting
	Air         []AirPocket
}

// MeasuredLayout is how the mold stands.
type MeasuredLayout struct {
	Rows         int     // of cavities
	Runner, Down float64 // diameters, mm; 0 without a runner
	Search       *Search // nil without one
}

// measured takes over what needs no measuring.
func (m *Mold) measured() Measured {
	in := Measured{Left: m.Left.measured(), Right: m.Right.measured(), Layout: MeasuredLayout{Rows: m.Rows, Search: m.Search},
		Thinnest: m.Thinnest, Findings: m.Findings}
	if r := m.Runner; r != nil {
		in.Layout.Runner, in.Layout.Down = r.Diameter, r.Down
	}
	for _, c := range m.Cavities {
		in.Cavities = append(in.Cavities, MeasuredCavity{Name: c.Name, Scale: c.Scale, Shrink: c.Shrink, Head: c.HeadVolume, WireInHead: c.WireInHead,
			Wires: c.Wires, Funnel: m.Left.Inside.Max.Y - c.GateAt.Y, Thin: c.Thin,
			AlikeTo: c.AlikeTo, Left: c.Left, Right: c.Right, BestParting: c.BestParting, Air: c.Air})
	}
	return in
}

func (h Half) measured() MeasuredHalf {
	return MeasuredHalf{FillHeight: h.FillHeight, RimHeight: h.RimHeight, Floor: h.Floor, Inside: h.Inside.Size(), Outside: h.Outside.Size()}
}

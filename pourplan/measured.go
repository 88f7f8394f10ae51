package pourplan

import (
	"halfpour/geom"
	"halfpour/moldbox"
)

// Measured is what was measured of a mold that moldbox built: the only thing
// besides the Job that a Plan rests on.
type Measured struct {
	Left, Right MeasuredHalf
	Cavities    []MeasuredCavity // in order along +X
	Runner      float64          // that all cavities share, their branches left out, mm³
	Layout      MeasuredLayout
	Thinnest    moldbox.Thinnest // rubber; the zero value when not looked for
	Findings    []moldbox.Finding
}

// MeasuredHalf is one half's frame and the room for rubber in it.
type MeasuredHalf struct {
	Rubber     Span     // empty volume up to the fill line: certified ends and best value, mm³
	FillHeight float64  // of the rubber over the parting plane, mm
	RimHeight  float64  // of the wall over the parting plane, mm
	Floor      float64  // thickness, mm
	Inside     geom.Vec // size of the rubber, mm
	Outside    geom.Vec // size of the frame, mm
	Plastic    float64  // volume of the printed frame, mm³; 0 when not measured and not meshed
	Mesh       *MeasuredMesh
}

// MeasuredMesh is the printed frame's mesh beside its solid; nil as long as
// nothing is meshed.
type MeasuredMesh struct {
	Volume    float64 // by the divergence theorem, mm³
	Solid     Span    // of the frame's solid, mm³
	Triangles int
}

// MeasuredCavity is one cavity.
type MeasuredCavity struct {
	Name       string
	Scale      float64        // of the drawn head, before shrinkage
	Shrink     float64        // linear factor on top
	Head       float64        // the finished cold head, mm³
	WireInHead float64        // mm³
	Wires      []MeasuredWire // the hook first
	Area       float64        // skin of the cavity, mm²; 0 when not measured
	Runner     float64        // sprue, gate and vents, mm³
	Funnel     float64        // metal standing over the gate, mm
	Thin       *moldbox.ThinSection
	AlikeTo    int // index of the first cavity that this one is a copy of

	Left, Right *moldbox.Drawn // nil when not looked at
	BestParting *moldbox.BestParting
	Air         []moldbox.AirPocket
}

// MeasureHalf takes from a half what a Plan needs of it.
func MeasureHalf(h moldbox.Half, rubber Span, mesh *MeasuredMesh) MeasuredHalf {
	return MeasuredHalf{Rubber: rubber, FillHeight: h.FillHeight, RimHeight: h.RimHeight, Floor: h.Floor,
		Inside: h.Inside.Size(), Outside: h.Outside.Size(), Mesh: mesh}
}

// MeasureCavity takes from a cavity what a Plan needs of it. area is the skin
// of its head in the mold in mm², 0 when not measured; runner the volume of
// sprue, gate and vents in mm³. The funnel's height is counted from the gate
// up to top, the mold's upper edge in mold coordinates.
func MeasureCavity(c moldbox.Placed, area, runner, top float64) MeasuredCavity {
	return MeasuredCavity{Name: c.Name, Scale: c.Scale, Shrink: c.Shrink, Head: c.HeadVolume, WireInHead: c.WireInHead,
		Wires: measureWires(c.Wires), Area: area, Runner: runner, Funnel: top - c.GateAt.Y, Thin: c.Thin,
		AlikeTo: c.AlikeTo, Left: c.Left, Right: c.Right, BestParting: c.BestParting, Air: c.Air}
}

// MeasuredWire is one wire of a cavity.
type MeasuredWire struct {
	Name     string
	Keeper   int     // index of the cavity's [[keeper]]; below 0 for its hook
	Diameter float64 // mm
	Volume   float64 // mm³
	InHead   float64 // mm³
	Length   float64 // of its axis, mm
	Bent     []moldbox.Stretch
}

func measureWires(ws []moldbox.PlacedWire) []MeasuredWire {
	var list []MeasuredWire
	for _, w := range ws {
		list = append(list, MeasuredWire{w.Name, w.Keeper, w.Diameter, w.Volume, w.InHead, w.Length, w.Cut})
	}
	return list
}

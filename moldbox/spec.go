package moldbox

import "halfpour/geom"

// Spec is one mold: everything that decides its shape.
type Spec struct {
	Title    string
	Cavities []Cavity // in order along +X
	Layout   LayoutSpec
	Frame    FrameSpec
	Keys     KeySpec
	Sprue    SprueSpec
	Runner   RunnerSpec
	Vents    VentSpec
	Marking  MarkingSpec
	Finish   FinishSpec
	Print    PrintSpec
	Checks   CheckSpec
}

// Cavity is one head in the mold.
type Cavity struct {
	Name string     // for findings and the sheet
	Head geom.Solid // in its file's coordinates, mm, at its size as modelled
	Pose Pose
	Eye  geom.Vec // centre of the hook's eye, in the head file's coordinates
	Turn float64  // about +Z of the mold; 0 has the nose at -X and the back at +Y

	// AutoTurn has the turn chosen, so that the least air is trapped and then
	// the least rubber is taken; Turn does not matter then.
	AutoTurn bool

	// Gate is where metal enters the head, in the head file's coordinates;
	// nil takes the highest point of the head in the mold.
	Gate *geom.Vec

	Hook    *Hook    // nil: no hook
	Keepers []Keeper // further wires

	// KeepBores says that a hole along a wire, which the head was drawn with, is meant.
	KeepBores bool

	// Wall is the least metal that is to be round a wire in the head, mm; 0
	// asks for none.
	Wall float64

	// MetalVolume, when above 0, asks for a scale at which the finished cold
	// head holds this much metal (mm³), hook displacement taken out. When 0
	// the head is taken at Scale.
	MetalVolume float64
	Scale       float64 // of the head as modelled; 0 means 1; ignored with MetalVolume

	Anchor Anchor // what of the head stays put at any scale

	// Shrink is the linear factor from the cold casting to the cavity in the
	// print: 1/((1-s_rubber)(1-s_metal)). 0 means 1. Wires do not shrink.
	Shrink float64
}

// LayoutSpec is how the cavities are arranged in the mold.
type LayoutSpec struct {
	// Rows are stacked, the cavities dealt to them in turn; 0 is one row, or as
	// many as it takes to fit the printer's bed.
	Rows int
	// Alternate turns every second cavity by 180° where that takes less rubber.
	Alternate bool
	// Least looks for the turn of all cavities, with and without Alternate, and
	// for the rows, if they are left open, that take the least rubber.
	Least bool
}

// FrameSpec is the printed tray and the rubber's thickness in it.
type FrameSpec struct {
	Floor     float64 // least thickness of the floor; grows under deep keys
	Wall      float64 // wall thickness
	Draft     float64 // lean of the walls, radians
	Corner    float64 // inner corner radius
	Over      float64 // rubber over the highest point of a cavity
	ToWall    float64 // rubber from a cavity (or hook) to a wall
	Between   float64 // rubber between neighbouring cavities (hooks included)
	Pitch     float64 // from sprue to sprue of neighbours in the one row; 0: as near as Between allows
	Freeboard float64 // wall above the fill line
	PryTab    float64 // how far the pry tabs stick out of the floor; 0 for none
}

// KeySpec is the registration.
type KeySpec struct {
	Count     int
	Diameter  float64
	Depth     float64
	Clearance float64 // between bump and socket
	Clear     float64 // smallest distance to everything else
}

// SprueSpec is the funnel and the gate.
type SprueSpec struct {
	Mouth, Throat float64 // diameters at the top edge and at the gate
	Length        float64 // of the funnel, from the top edge down
	GateWidth     float64 // in the parting plane
	GateThickness float64 // across it
	GateLength    float64 // of the neck that is snipped
}

// RunnerSpec is one funnel for all cavities, with a channel to their gates. A
// cavity's own sprue is a branch of the throat's width then.
type RunnerSpec struct {
	On       bool
	Diameter float64 // of the channel; 0: as the gates on it ask
	Rise     float64 // of the channel from the funnel to its ends, radians, so that air runs ahead of the metal
}

// VentSpec is the air channels.
type VentSpec struct {
	Width float64 // in the parting plane
	Depth float64 // across it, both halves together
	Count int     // per cavity, at least 1
}

// MarkingSpec is the raised text. Empty lines are left out.
type MarkingSpec struct {
	Lines  []string
	Height float64 // of a capital letter
	Relief float64 // how far it rises above the floor
}

// FinishSpec is what goes on the print before rubber does.
type FinishSpec struct {
	// SealCoat is the thickness of paint or primer that fills the layer lines
	// on the inside of the printed trays, mm; 0: none. All that the rubber is
	// to see is printed thinner by it: bodies on the floor, the floor and the
	// walls. Lettering keeps its outline and comes out bolder.
	SealCoat float64
}

// PrintSpec is what the printer can do.
type PrintSpec struct {
	Nozzle              float64
	BedX, BedY, BedHigh float64
	Layers              []float64 // heights that the steps on heads are told for; nil: UsualLayers
}

// CheckSpec is what the checks of the mold let pass.
type CheckSpec struct {
	Air      float64 // a pocket of air in metal or rubber, mm³
	Undercut float64 // how far rubber gives way when it is drawn, mm; 0: not looked at
	Rubber   float64 // the thinnest rubber, mm
	Overhang float64 // in print, radians from upright; 0: not looked at
	Gap      float64 // between wire and bed, mm: metal runs along a wider one
	Flash    float64 // how far metal may run along a wire out of the head, mm
}

// Default returns a Spec with every dimension set and no cavities. The
// figures are common practice, no source, unless DEVELOPERS.md says more.
func Default() Spec {
	const degree = 0.017453292519943295
	return Spec{
		Frame: FrameSpec{Floor: 2.4, Wall: 2.0, Draft: 1 * degree, Corner: 3, Over: 8, ToWall: 11,
			Between: 8, Freeboard: 3, PryTab: 5},
		Keys:    KeySpec{Count: 4, Diameter: 6, Depth: 2.2, Clearance: 0.15, Clear: 3},
		Sprue:   SprueSpec{Mouth: 12, Throat: 4, Length: 16, GateWidth: 3, GateThickness: 2.4, GateLength: 2},
		Runner:  RunnerSpec{Rise: 3 * degree},
		Vents:   VentSpec{Width: 1.0, Depth: 0.6, Count: 1},
		Marking: MarkingSpec{Height: 4, Relief: 0.5},
		Print:   PrintSpec{Nozzle: 0.4, BedX: 220, BedY: 220, BedHigh: 250},
		Checks:  CheckSpec{Air: 0.5, Undercut: 1, Rubber: leastRubber, Overhang: 55 * degree, Gap: 0.15, Flash: 1},
	}
}

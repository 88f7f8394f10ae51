package moldbox

import "halfpour/geom"

// Mold is what Build makes of a Spec: solids, places and findings. Solids are
// in mold coordinates unless their comment says otherwise.
type Mold struct {
	Spec     Spec
	Cavities []Placed
	Rows     int     // of cavities
	Runner   *Runner // nil when each cavity has a funnel of its own
	Search   *Search // nil when no layout was looked for
	Keys     []Key
	Left     Half
	Right    Half

	// Block is the rubber of both halves before anything is taken out of it,
	// and Void is all that is not rubber in it: heads, beds, sprues, vents.
	Block, Void geom.Solid

	Thinnest Thinnest // rubber
	Findings []Finding

	made made // for a sketch and a look
}

// Placed is one cavity in its place in the mold.
type Placed struct {
	Name    string
	Scale   float64         // of the head as modelled, before Shrink
	Shrink  float64         // linear factor on top of Scale
	Head    geom.Solid      // the cavity's head, scaled and shrunk
	Wire    geom.Solid      // all wires at their true size; nil without any
	Bed     geom.Solid      // their beds, up to the mold's edge; nil without any
	Wires   []PlacedWire    // one by one, the hook first
	relief  [2][]geom.Solid // of the beds in the left and the right half, and on into its floor
	Sprue   geom.Solid      // funnel, throat and gate; it runs on past the top edge into the frame's wall. With a runner, branch and gate
	Vent    geom.Solid      // likewise; nil when no vent has room
	Metal   geom.Solid      // what metal fills up to the top edge: head, sprue and vents, less the wire
	Eye     geom.Vec        // centre of the hook's eye
	GateAt  geom.Vec        // where metal enters the head
	Throat  float64         // length of the sprue between funnel and gate, mm
	VentsAt []geom.Vec      // where vents leave the head

	// AlikeTo is the index of the first cavity of the mold that this one is a
	// copy of, vents included: only name and place differ, the place by the
	// difference of Eye. It is the cavity's own index when there is none.
	AlikeTo int

	// Thin is the thinnest section of the head in the mold; nil when none is
	// thinner than is looked for.
	Thin *ThinSection

	// Left and Right say how the head's halves are drawn out of the rubber, and
	// BestParting where it would be easiest; nil when it is easy anyway. Air is
	// what would stay in the cavity without vents, the most first.
	Left, Right *Drawn
	BestParting *BestParting
	Air         []AirPocket

	// ToMold takes a point of the head's file to mold coordinates.
	ToMold func(geom.Vec) geom.Vec

	toEdge geom.Solid // the sprue, cut off square at the top edge

	// The finished cold head, mm³: the head at Scale, what of it the wires
	// take, and the metal (the difference).
	HeadVolume, WireInHead, MetalVolume float64
}

// ThinSection is where the metal of a head is thin.
type ThinSection struct {
	Thickness float64  // mm
	At        geom.Vec // mold coordinates
	HeadAt    geom.Vec // the same place in the head file's coordinates
}

// Drawn says how one half of a head comes out of its rubber, and its print did
// before: what lies under an overhang pushes the rubber aside.
type Drawn struct {
	Half   string   // "left" or "right"
	Depth  float64  // the greatest that the rubber has to give way, mm, near the limit measured on the head, else to about a step of the map; 0 when nothing hangs over
	At     geom.Vec // where the head reaches in that far, mold coordinates
	HeadAt geom.Vec // the same place in the head file's coordinates
	Map    DepthMap
}

// DepthMap is a depth over each point of a square grid in the parting plane.
type DepthMap struct {
	Least  geom.Vec  // the point with the least x and y, mold coordinates
	Step   float64   // mm
	NX, NY int       // points along x and y
	Depths []float32 // mm, good to about a step; index j*NX + i
}

// BestParting is the parting at which the greater undercut of both halves is
// least.
type BestParting struct {
	Parting float64 // as head.parting in the head's file
	Depth   float64 // the greatest there, mm, to about shapeStep
}

// Key is one registration key.
type Key struct {
	At       geom.Vec // in the parting plane
	Diameter float64
	Depth    float64
	BumpLeft bool // the bump is on the left rubber half, the socket on the right
}

// Half is one half of the mold.
type Half struct {
	Name string // "left" or "right"

	// Frame is the printed tray, floor down, in print coordinates: for the
	// left half those are the mold's, for the right half the mold turned by
	// 180° about Y. The parting plane is z = 0, the floor below it, by the seal
	// coat if there is one.
	Frame geom.Solid
	// Fill is a solid whose part outside the frame with its seal coat is exactly
	// the rubber of this half up to the fill line; print coordinates.
	Fill   geom.Solid
	coated geom.Solid // the frame with its seal coat
	bare   geom.Solid // that without cavities, runner and marks

	// Marking is the raised text with its foot in the floor; print coordinates.
	// It is empty where no text had room.
	Marking geom.Solid

	FillHeight float64  // of the rubber over the parting plane
	RimHeight  float64  // of the wall over the parting plane
	Floor      float64  // thickness
	Inside     geom.Box // the rubber's box at the parting plane and fill line, print coordinates
	Outside    geom.Box // the frame's box, print coordinates
}

// Rubber returns the empty volume that rubber fills, as a solid in print
// coordinates.
func (h Half) Rubber() geom.Solid { return geom.Subtract(h.Fill, h.coated) }

// index is 0 for the left half, 1 for the right one.
func (h Half) index() int {
	if h.Name == "right" {
		return 1
	}
	return 0
}

// ToPrint takes a point of mold coordinates to the half's print coordinates.
func (h Half) ToPrint(p geom.Vec) geom.Vec {
	if h.Name == "right" {
		return geom.Vec{X: -p.X, Y: p.Y, Z: -p.Z}
	}
	return p
}

// Severity orders findings.
type Severity string

// The severities of a Finding.
const (
	Stop Severity = "stop"
	Warn Severity = "warn"
	Note Severity = "note"
)

// Finding is something that a check of the mold has to say.
type Finding struct {
	Severity Severity
	Code     string    // short and stable: "keys-do-not-fit"
	Cavity   string    // "" when it is about the whole mold
	At       *geom.Vec // mold coordinates
	HeadAt   *geom.Vec // the same place in the head file's coordinates
	Message  string    // what is wrong
	Value    float64   // what was seen; with Limit 0 when it is not about a number
	Limit    float64   // what it must keep
	Unit     string    // of both; "" for a bare number
	Cause    Cause     // which of several; "" where a code has one
	Figures  []any     // that Cause takes, or Code where it has one cause
	Remedy   string    // what to change, where it names no key; else it is for whoever knows the keys
}

package pourplan

import (
	"halfpour/geom"
	"halfpour/moldbox"
)

// The tables of the mold's shape are moldbox's own, so that a key goes straight
// into the spec. moldbox.Validate keeps the same limits for those who call it
// without a job; TestKeysOfTheMold holds the two against each other.
type (
	// LayoutTable is [layout].
	LayoutTable moldbox.LayoutSpec
	// FrameTable is [frame].
	FrameTable moldbox.FrameSpec
	// KeysTable is [keys].
	KeysTable moldbox.KeySpec
	// SprueTable is [sprue].
	SprueTable moldbox.SprueSpec
	// RunnerTable is [runner]: one funnel for all cavities.
	RunnerTable moldbox.RunnerSpec
	// VentsTable is [vents].
	VentsTable moldbox.VentSpec
	// PrintTable is [print].
	PrintTable moldbox.PrintSpec
)

func (t *LayoutTable) keys() []key {
	return []key{
		{"rows", &t.Rows, 0, in(0, 4), "of cavities; 0: one, or as many as it takes to fit the bed", "with more rows the sprues get too long: metal freezes in them"},
		{"alternate", &t.Alternate, false, nil, "turns every second cavity by 180° where that saves rubber", ""},
		{"least", &t.Least, false, nil, "finds the turns and rows that take the least rubber", ""},
	}
}

func (t *FrameTable) keys() []key {
	d := moldbox.Default().Frame
	return []key{
		{"floor", mm(&t.Floor), d.Floor, in(0.8, 50), "thickness of the floor; grows under deep keys", ""},
		{"wall", mm(&t.Wall), d.Wall, in(1, 30), "thickness of the walls", "the wall loses a step at the fill line and must stay thick enough to print"},
		{"draft", deg(&t.Draft), d.Draft, in(0, 15), "outward lean of the walls", "1° to 3° is usual"},
		{"corner", mm(&t.Corner), d.Corner, in(0, 50), "radius of the inner corners", ""},
		{"over", mm(&t.Over), d.Over, in(1, 200), "rubber over the highest point of a cavity", ""},
		{"to_wall", mm(&t.ToWall), d.ToWall, in(1, 200), "rubber from a cavity or wire to a wall", ""},
		{"between", mm(&t.Between), d.Between, in(1, 200), "rubber between neighbouring cavities, their wires included", ""},
		{"pitch", mm(&t.Pitch), nil, in(1, 500), "from sprue to sprue in a single row; left out: as close as between allows", "leave it out and halfpour finds it from the heads"},
		{"freeboard", mm(&t.Freeboard), d.Freeboard, in(1, 100), "wall above the fill line", ""},
		{"pry_tab", mm(&t.PryTab), d.PryTab, in(0, 50), "how far the pry tabs stick out of the floor; 0: none", ""},
	}
}

func (t *KeysTable) keys() []key {
	d := moldbox.Default().Keys
	return []key{
		{"count", &t.Count, d.Count, in(3, 12), "number of bumps and sockets that line up the halves", "two halves need at least three keys"},
		{"diameter", mm(&t.Diameter), d.Diameter, in(1, 40), "of each", ""},
		{"depth", mm(&t.Depth), d.Depth, in(0.4, 20), "of each; at most half the diameter", ""},
		{"clearance", mm(&t.Clearance), d.Clearance, in(0.01, 2), "between bump and socket", ""},
		{"clear", mm(&t.Clear), d.Clear, in(0.5, 50), "smallest distance to everything else", ""},
	}
}

func (t *SprueTable) keys() []key {
	d := moldbox.Default().Sprue
	return []key{
		{"mouth", mm(&t.Mouth), d.Mouth, in(0.5, 80), "diameter of the funnel at the top edge; at least throat", ""},
		{"throat", mm(&t.Throat), d.Throat, in(0.5, 60), "diameter above the gate", ""},
		{"length", mm(&t.Length), d.Length, in(1, 200), "of the funnel, from the top edge down", ""},
		{"gate_width", mm(&t.GateWidth), d.GateWidth, in(0.4, 60), "of the neck you snip, in the parting plane", ""},
		{"gate_thickness", mm(&t.GateThickness), d.GateThickness, in(0.4, 60), "of that neck, across the parting plane", ""},
		{"gate_length", mm(&t.GateLength), d.GateLength, in(0.5, 50), "of that neck", ""},
	}
}

func (t *RunnerTable) keys() []key {
	return []key{
		{"diameter", mm(&t.Diameter), nil, in(1, 40), "of the channel; left out: as wide as its gates need", "leave it out and halfpour finds it from the gates"},
		{"rise", deg(&t.Rise), moldbox.Default().Runner.Rise, in(0, 30), "of the channel from the funnel to its ends, so the metal pushes the air ahead of it", "a few degrees let the air out"},
	}
}

func (t *VentsTable) keys() []key {
	d := moldbox.Default().Vents
	return []key{
		{"width", mm(&t.Width), d.Width, in(0.2, 10), "of a vent, in the parting plane", ""},
		{"depth", mm(&t.Depth), d.Depth, in(0.05, 10), "of a vent across it, both halves together", ""},
		{"count", &t.Count, d.Count, in(1, 8), "for each cavity, at least; more are added where air would stay", "air must leave every cavity"},
	}
}

// MarkingTable is [marking].
type MarkingTable struct {
	Lines          *[]string // nil: title and weight; empty: none
	Height, Relief MM
}

func (t *MarkingTable) keys() []key {
	d := moldbox.Default().Marking
	return []key{
		{"lines", &t.Lines, nil, nil, "raised text on the floor, readable in the rubber; left out: title and weight; []: none", ""},
		{"height", &t.Height, d.Height, in(1, 100), "of a capital letter", ""},
		{"relief", &t.Relief, d.Relief, in(0.1, 5), "height of the letters above the floor", ""},
	}
}

// FinishTable is [finish]: what goes on the printed trays and on the castings.
type FinishTable struct {
	SealCoat         MM       // on the inside of the print; the print is thinner by it
	Powder           MM       // thickness of the baked coat on the heads; 0: none
	PowderDensity    *Density // nil: typicalPowder
	Bake             *Celsius // of the oven; nil: typicalBake
	Socket, StickEye MM       // width of a head's eye socket as modelled, and of the eye glued into it; 0: none
}

func (t *FinishTable) keys() []key {
	return []key{
		{"seal_coat", &t.SealCoat, 0, in(0, 0.25), "thickness of paint or primer inside the tray; the print is made thinner to allow for it", "one or two coats of filler primer make 0.05 to 0.15 mm"},
		{"powder", &t.Powder, 0, in(0, 1), "thickness of the baked coat on the heads, for its weight and the room left in the eye; 0: none", "a baked coat has about 0.05 to 0.15 mm"},
		{"powder_density", &t.PowderDensity, nil, in(0.8, 4), "of the coat, baked; left out: 1.5", "1.2 to 1.8 is usual"},
		{"bake", &t.Bake, nil, in(40, 400), "oven temperature, from the powder's data sheet; left out: 200", "most powders bake at 160 to 200"},
		{"socket", &t.Socket, 0, in(0, 50), "width of the head's eye socket as drawn; 0: no socket", ""},
		{"stick_eye", &t.StickEye, 0, in(0, 50), "diameter of the eye you glue in", ""},
	}
}

func (t *PrintTable) keys() []key {
	d := moldbox.Default().Print
	return []key{
		{"nozzle", mm(&t.Nozzle), d.Nozzle, in(0.05, 3), "of your printer", ""},
		{"bed_x", mm(&t.BedX), d.BedX, in(20, 5000), "of your printer's bed", ""},
		{"bed_y", mm(&t.BedY), d.BedY, in(20, 5000), "of your printer's bed", ""},
		{"bed_high", mm(&t.BedHigh), d.BedHigh, in(10, 5000), "how high it prints", ""},
	}
}

// ChecksTable is [checks]: what the checks of the mold let pass.
type ChecksTable struct {
	moldbox.CheckSpec
	Undercut *MM // that the rubber gives way to; nil: by rubber.hardness
}

func (t *ChecksTable) keys() []key {
	d := moldbox.Default().Checks
	return []key{
		{"air", &t.Air, d.Air, in(0.05, 1e4).of("mm³"), "largest air pocket allowed, in metal or rubber", "anything smaller is just the roughness of the mesh"},
		{"undercut", &t.Undercut, nil, in(0, 50), "deepest undercut the rubber can be pulled over; left out: from rubber.hardness; 0: no check", ""},
		{"rubber", mm(&t.Rubber), d.Rubber, in(0.1, 50), "thinnest rubber allowed", ""},
		{"overhang", deg(&t.Overhang), d.Overhang, in(0, 90), "steepest overhang allowed in print, from upright; 0: no check", "printers manage 45° to 60°"},
		{"gap", mm(&t.Gap), d.Gap, in(0.01, 5), "widest gap allowed between wire and bed: metal runs along a wider one", ""},
		{"flash", mm(&t.Flash), d.Flash, in(0.1, 100), "how far metal may run along a wire", ""},
	}
}

// OutputTable is [output].
type OutputTable struct {
	Folder    string // within the job's folder; "": named after the job
	Tolerance MM
	Paper     string
}

func (t *OutputTable) keys() []key {
	return []key{
		{"folder", &t.Folder, nil, nil, "folder for a build's files, inside the job's folder; build --out writes elsewhere; left out: named after the job", ""},
		{"tolerance", &t.Tolerance, 0.02, in(geom.MinTolerance, 0.5), "largest distance between the printed mesh and the true solid", "0.02 mm is below what a printer shows"},
		{"paper", &t.Paper, "a4", oneOf("a4", "letter"), "of the pour sheet", ""},
	}
}

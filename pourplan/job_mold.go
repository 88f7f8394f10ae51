package pourplan

import (
	"halfpour/geom"
	"halfpour/moldbox"
)

// The tables of the mold's shape are moldbox's own, so that a key goes straight
// into the spec. Their limits are moldbox's too.
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
)

// PrintTable is [print].
type PrintTable struct {
	moldbox.PrintSpec
	Layer MM // to print with; 0: as the steps ask for
	Step  MM // highest steps wanted on the castings, on average
	Gap   MM // between frames on the bed
}

func (t *LayoutTable) keys() []key {
	return []key{
		{"rows", &t.Rows, 0, limitOf("Layout.Rows"), "of cavities; 0: one, or as many as it takes to fit the bed", ""},
		{"alternate", &t.Alternate, false, nil, "turns every second cavity by 180° where that saves rubber", ""},
		{"least", &t.Least, false, nil, "finds the turns and rows that take the least rubber", ""},
	}
}

func (t *FrameTable) keys() []key {
	d := moldbox.Default().Frame
	return []key{
		{"floor", mm(&t.Floor), d.Floor, limitOf("Frame.Floor"), "thickness of the floor; grows under deep keys", ""},
		{"wall", mm(&t.Wall), d.Wall, limitOf("Frame.Wall"), "thickness of the walls", ""},
		{"draft", deg(&t.Draft), d.Draft, limitOf("Frame.Draft"), "outward lean of the walls", ""},
		{"corner", mm(&t.Corner), d.Corner, limitOf("Frame.Corner"), "radius of the inner corners", ""},
		{"over", mm(&t.Over), d.Over, limitOf("Frame.Over"), "rubber over the highest point of a cavity", ""},
		{"to_wall", mm(&t.ToWall), d.ToWall, limitOf("Frame.ToWall"), "rubber from a cavity or wire to a wall", ""},
		{"between", mm(&t.Between), d.Between, limitOf("Frame.Between"), "rubber between neighbouring cavities, their wires included", ""},
		{"pitch", mm(&t.Pitch), nil, limitOf("Frame.Pitch"), "from sprue to sprue in a single row; left out: as close as between allows", ""},
		{"freeboard", mm(&t.Freeboard), d.Freeboard, limitOf("Frame.Freeboard"), "wall above the fill line", ""},
		{"pry_tab", mm(&t.PryTab), d.PryTab, limitOf("Frame.PryTab"), "how far the pry tabs stick out of the floor; 0: none", ""},
	}
}

func (t *KeysTable) keys() []key {
	d := moldbox.Default().Keys
	return []key{
		{"count", &t.Count, d.Count, limitOf("Keys.Count"), "number of bumps and sockets that line up the halves", ""},
		{"diameter", mm(&t.Diameter), d.Diameter, limitOf("Keys.Diameter"), "of each", ""},
		{"depth", mm(&t.Depth), d.Depth, limitOf("Keys.Depth"), "of each; at most half the diameter", ""},
		{"clearance", mm(&t.Clearance), d.Clearance, limitOf("Keys.Clearance"), "between bump and socket", ""},
		{"clear", mm(&t.Clear), d.Clear, limitOf("Keys.Clear"), "smallest distance to everything else", ""},
	}
}

func (t *SprueTable) keys() []key {
	d := moldbox.Default().Sprue
	return []key{
		{"mouth", mm(&t.Mouth), d.Mouth, limitOf("Sprue.Mouth"), "diameter of the funnel at the top edge; at least throat", ""},
		{"throat", mm(&t.Throat), d.Throat, limitOf("Sprue.Throat"), "diameter above the gate", ""},
		{"length", mm(&t.Length), d.Length, limitOf("Sprue.Length"), "of the funnel, from the top edge down", ""},
		{"gate_width", mm(&t.GateWidth), d.GateWidth, limitOf("Sprue.GateWidth"), "of the neck you snip, in the parting plane", ""},
		{"gate_thickness", mm(&t.GateThickness), d.GateThickness, limitOf("Sprue.GateThickness"), "of that neck, across the parting plane", ""},
		{"gate_length", mm(&t.GateLength), d.GateLength, limitOf("Sprue.GateLength"), "of that neck", ""},
	}
}

func (t *RunnerTable) keys() []key {
	return []key{
		{"diameter", mm(&t.Diameter), nil, limitOf("Runner.Diameter"), "of the channel; left out: as wide as its gates need", ""},
		{"rise", deg(&t.Rise), moldbox.Default().Runner.Rise, limitOf("Runner.Rise"), "of the channel from the funnel to its ends, so the metal pushes the air ahead of it", ""},
	}
}

func (t *VentsTable) keys() []key {
	d := moldbox.Default().Vents
	return []key{
		{"width", mm(&t.Width), d.Width, limitOf("Vents.Width"), "of a vent, in the parting plane", ""},
		{"depth", mm(&t.Depth), d.Depth, limitOf("Vents.Depth"), "of a vent across it, both halves together", ""},
		{"count", &t.Count, d.Count, limitOf("Vents.Count"), "for each cavity, at least; more are added where air would stay", ""},
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
		{"height", &t.Height, d.Height, limitOf("Marking.Height"), "of a capital letter", ""},
		{"relief", &t.Relief, d.Relief, limitOf("Marking.Relief"), "height of the letters above the floor", ""},
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
		{"seal_coat", &t.SealCoat, 0, limitOf("Finish.SealCoat"), "thickness of paint or primer inside the tray; the print is made thinner to allow for it", ""},
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
		{"nozzle", mm(&t.Nozzle), d.Nozzle, limitOf("Print.Nozzle"), "of your printer", ""},
		{"bed_x", mm(&t.BedX), d.BedX, limitOf("Print.BedX"), "of your printer's bed", ""},
		{"bed_y", mm(&t.BedY), d.BedY, limitOf("Print.BedY"), "of your printer's bed", ""},
		{"bed_high", mm(&t.BedHigh), d.BedHigh, limitOf("Print.BedHigh"), "how high it prints", ""},
		{"gap", &t.Gap, 5, in(0, 100), "left between frames that are printed at once", "a brim round each takes twice its width"},
		{"layer", &t.Layer, 0, in(0, 2), "height of the layers you print; 0: the thickest usual one that leaves no higher steps than step", ""},
		{"step", &t.Step, easySteps, in(0.005, 1), "highest steps of layers that you want on the castings, on average", "0.08 mm sand off with a few strokes"},
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
		{"air", &t.Air, d.Air, limitOf("Checks.Air").of("mm³"), "largest air pocket allowed, in metal or rubber", ""},
		{"undercut", &t.Undercut, nil, limitOf("Checks.Undercut"), "deepest undercut the rubber can be pulled over; left out: from rubber.hardness; 0: no check", ""},
		{"rubber", mm(&t.Rubber), d.Rubber, limitOf("Checks.Rubber"), "thinnest rubber allowed", ""},
		{"overhang", deg(&t.Overhang), d.Overhang, limitOf("Checks.Overhang"), "steepest overhang allowed in print, from upright; 0: no check", ""},
		{"gap", mm(&t.Gap), d.Gap, limitOf("Checks.Gap"), "widest gap allowed between wire and bed: metal runs along a wider one", ""},
		{"flash", mm(&t.Flash), d.Flash, limitOf("Checks.Flash"), "how far metal may run along a wire", ""},
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

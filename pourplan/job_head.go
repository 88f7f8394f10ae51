package pourplan

import (
	"math"

	"halfpour/moldbox"
)

// HeadTable is [head]: the file of the head and how it faces. Bare numbers of
// Eye, Gate and Parting are in the file's unit.
type HeadTable struct {
	File, Unit string
	Nose, Back Direction
	Left       *Direction // nil: follows from the two
	Parting    Coord
	Eye, Gate  *Point
	Bores      string // "fill" or "keep"
}

func (t *HeadTable) keys() []key {
	return []key{
		{"file", &t.File, given, nil, "the head's mesh, a closed surface, as STL, OBJ or 3MF (then in mm and in the coordinates of its first object); a relative path starts at the job's folder and may leave it (\"../head.stl\"): the file is only read", `write file = "head.stl" under [head]`},
		{"unit", &t.Unit, "mm", oneOf("mm", "cm", "m", "in", "ft"), "unit the file was drawn in", ""},
		{"nose", &t.Nose, Direction{X: -1}, nil, "which way the nose points: an axis of the file, or in a file that lies tilted [x, y, z], such as the nose's point less the tail's", ""},
		{"back", &t.Back, Direction{Y: 1}, nil, "which way the back points, the fish's upper side; it need not be exactly square to nose. The parting plane holds both", ""},
		{"left", &t.Left, nil, nil, "which way the left flank points, seen from behind with the back up; left out: it follows from nose and back", ""},
		{"parting", &t.Parting, Coord{}, nil, "where the parting plane is on the file's axis across it, with that axis's own sign; in a file that lies tilted, how far the plane is from the origin, along the direction across it that points most along a file's axis", ""},
		{"eye", &t.Eye, nil, nil, "centre of the hook's eye, as read off in CAD; scaling does not move it. Required with a hook", ""},
		{"gate", &t.Gate, nil, nil, "where metal enters the head; left out: its highest point in the mold", ""},
		{"bores", &t.Bores, "fill", oneOf("fill", "keep"), "a hole that the head is drawn with for its hook or a keeper: \"fill\", metal is cast around the wire, as if there were no hole; \"keep\", the hole stays, and rubber fills it around the wire", ""},
	}
}

// HookTable is [hook]: a wire by its usual dimensions, by points, or as a file has
// its body.
type HookTable struct {
	moldbox.Hook
	Use     string // its name in the library; "": all of it stands in the job
	File    string // of its body; "": by dimensions
	Unit    string // of that file; "": the head's
	Place   string // of that body: "drawn" or "eye"
	Over    OverTable
	Mass    Gram    // weighed; 0: from the wire's volume
	Density Density // of the wire
}

func (t *HookTable) keys() []key {
	return append([]key{
		{"name", &t.Name, nil, nil, "name for the sheet", ""},
		{"use", &t.Use, nil, nil, "name of a hook on your shelf, " + ShelfFile + " beside the job or in a folder above it, where each hook that you have measured once stands as a table, [hook.\"my 2/0\"], with the keys of this table. Keys here replace those there. hook = \"my 2/0\" is short for it. A file " + HooksFile + " beside the job, with a table [\"my 2/0\"], is read too", ""},
		{"file", &t.File, nil, nil, "the hook's body as a mesh, a closed surface, in place of its dimensions: STL, OBJ or 3MF. With head.file here too, the thin wire-like body with an eye in that file is the hook", ""},
		{"unit", &t.Unit, nil, oneOf("mm", "cm", "m", "in", "ft"), "unit of hook.file; left out: head.unit", ""},
		{"place", &t.Place, "drawn", oneOf("drawn", "eye"), "where the body of hook.file lies: \"drawn\", in the head's coordinates as drawn; \"eye\", its eye at head.eye, its shank towards the tail and its point on the side of the back", ""},
		{"wire", mm(&t.Wire), nil, in(0.2, 6), "diameter of the wire. Required unless file is given", "the wire's diameter"},
		{"eye_inside", mm(&t.EyeInside), nil, in(0.2, 30), "diameter of the eye's opening. Required unless file or over_eye is given", "the diameter of the eye's opening"},
		{"leg", mm(&t.Leg), 0, in(0, 200), "from the eye's centre to the axis of the shank; 0 is a straight hook", ""},
		{"leg_angle", deg(&t.LegAngle), math.Pi / 2, in(20, 160), "between leg and shank. A hook sold by how far its wire is bent, such as 60°, has 180° less that: 120°", "90° is the usual jig hook"},
		{"shank", mm(&t.Shank), nil, above(0, 300), "straight length behind the leg. Required unless points, file or over_length is given", ""},
		{"gape", mm(&t.Gape), nil, above(0, 200), "distance between the axes of shank and point; at least two wire diameters. Required unless points, file or over_gape is given", ""},
		{"point", mm(&t.Point), 0, in(0, 200), "straight length from the bend towards the point", ""},
		{"fit", mm(&t.Fit), 0.05, in(0, 1), "clearance around the wire in its bed", ""},
		{"points", (*Path)(&t.Points), nil, nil, "replaces leg to point: the wire's axis from the eye, [x, y] in the hook's plane, x towards the tail, y towards the back", ""},
		{"bend", mm(&t.Bend), 0, in(0, 50), "inside radius of the bends at points; 0: one wire diameter", ""},
		{"eye_across", &t.EyeAcross, false, nil, "the eye's ring is turned across the parting plane instead of lying in it", ""},
		{"eye_rubber", mm(&t.EyeRubber), 1.5, in(0, 20), "thinnest rubber allowed between the eye's opening and the metal", ""},
		{"leaves", &t.Leaves, false, nil, "the wire leaves through the edge of the mold, so the bend takes no rubber", ""},
		{"mass", &t.Mass, 0, in(0, noMore), "of one hook: weigh ten and divide; 0: from the wire's volume", ""},
		{"density", &t.Density, springSteel, in(1, 20), "of the wire; steel by default", "spring steel has 7.85"},
	}, t.Over.rows()...)
}

// springSteel is the density of carbon steel spring wire, g/cm³ (trade tables,
// 7.80 to 7.87).
const springSteel = 7.85

// KeeperTable is one [[keeper]], or one [[cavity.keeper]] that replaces the
// job's: a wire besides the hook, bent at the bench, that lies in the parting
// plane.
type KeeperTable struct {
	moldbox.Keeper
	File    string  // of its body; "": by its points
	Points  Places  // in the head file's coordinates
	Step    *Point  // as Points or, with InHook, [x, y, 0] in mm
	Mass    Gram    // of one, weighed; 0: from the wire's volume
	Density Density // of the wire
}

func (t *KeeperTable) keys() []key {
	return []key{
		{"name", &t.Name, nil, nil, "name for the sheet", ""},
		{"file", &t.File, nil, nil, "its body as a mesh in the head's coordinates and unit, in place of wire and points", ""},
		{"wire", mm(&t.Wire), nil, in(0.2, 6), "diameter of the wire. Required unless file is given", "the wire's diameter"},
		{"points", &t.Points, nil, nil, "its axis in the head file's coordinates, in the parting plane; scaling moves its first point only, the wire keeps its size. Give points, in_hook or file", ""},
		{"in_hook", (*Path)(&t.InHook), nil, nil, "its axis measured from the hook's eye: [x, y], x towards the tail, y towards the back", ""},
		{"bend", mm(&t.Bend), 0, in(0, 50), "inside radius of its bends; 0: one wire diameter", ""},
		{"count", &t.Count, 1, in(1, 32), "number of equal wires, side by side", "leave the table out for none"},
		{"step", &t.Step, nil, nil, "step from one wire to the next, in the coordinates of points; with in_hook [x, y, 0]", ""},
		{"mirror", &t.Mirror, false, nil, "adds to each wire one mirrored about the axis of the hook's shank", ""},
		{"leaves", &t.Leaves, false, nil, "the last stretch leaves through the edge of the mold", ""},
		{"fit", mm(&t.Fit), 0.05, in(0, 1), "clearance around the wire in its bed", ""},
		{"mass", &t.Mass, 0, in(0, noMore), "of one, as weighed; 0: from the wire's volume", ""},
		{"density", &t.Density, springSteel, in(1, 20), "of the wire; steel by default", "spring steel has 7.85"},
	}
}

// WeightTable is [weight]: the weight of a head, or its scale.
type WeightTable struct {
	Target Gram    // 0: the head at Scale
	Of     string  // "finished" (metal and wires) or "metal"
	Scale  float64 // of the head as modelled; 0: 1
	Anchor string  // what of the head stays put: "eye", "shank" or "collar"
	Wall   MM
}

func (t *WeightTable) keys() []key {
	return []key{
		{"target", &t.Target, nil, targets(), "scales the head to this weight; left out: scale sets the size", ""},
		{"of", &t.Of, "finished", oneOf("finished", "metal"), "\"finished\": metal with hook and keepers; \"metal\": metal alone", ""},
		{"scale", &t.Scale, nil, in(0.05, 20), "of the drawn head; left out: 1, as drawn; not together with target", "is the head's file in mm?"},
		{"anchor", &t.Anchor, "eye", oneOf("eye", "shank", "collar"), "what of the head keeps its place on the hook when the head is scaled: the eye, the shank's axis under the eye, or the point where the shank leaves the head. With shank or collar the shank stays in the middle of a collar drawn around it", ""},
		{"wall", &t.Wall, 0.5, in(0, 20), "thinnest metal allowed around a wire in the head; 0: no check", ""},
	}
}

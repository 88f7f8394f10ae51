// Package obj reads triangle meshes in the open text format with the ending
// .obj: vertices (v) and faces (f) of any number of corners, in objects and
// groups. One file is one mesh; its objects come back as shells of it.
//
// An OBJ file has no unit; halfpour takes its numbers as mm. The format is that
// of appendix B1, "Object Files", of the Advanced Visualizer manual (version
// 3.0, 1989-1995), as it is passed around; statements told from memory of it.
// Texture coordinates, normals and materials are passed over: the order of a
// face's corners says which side is out. No other file is opened, whatever the
// text names.
package obj

import "fmt"

// Info says what else was in a file.
type Info struct {
	Name       string   // of the first object or group; printable characters only
	Objects    int      // statements "o"
	Groups     int      // statements "g"
	Faces      int      // of any number of corners
	Polygons   int      // faces of more than three corners, which were cut into triangles
	Degenerate int      // triangles left out because two of their corners are equal
	Notes      []string // oddities that were accepted

	// Warp is the volume, in cubes of the file's unit, by which faces that are
	// not flat leave open what the mesh encloses: each may be cut into triangles
	// in more ways than one.
	Warp     float64
	WarpLine int // of the face that adds most to it
}

// Rule names what a file breaks.
type Rule string

// The rules of a FormatError.
const (
	RuleEmpty       Rule = "empty"        // there is no data
	RuleNoTriangles Rule = "no-triangles" // nothing encloses anything
	RuleNonFinite   Rule = "non-finite"   // a coordinate is NaN, infinite or beyond float32
	RuleKeyword     Rule = "keyword"      // a line begins with no word of the format
	RuleNumber      Rule = "number"       // no number where one belongs, or too few
	RuleIndex       Rule = "index"        // a corner that is no vertex before its line
	RuleCorners     Rule = "corners"      // a face of fewer than three corners
	RulePolygon     Rule = "polygon"      // a face that cannot be cut into triangles
)

// FormatError says where a file breaks which rule.
type FormatError struct {
	Line   int // from 1; 0 for the file as a whole
	Rule   Rule
	Detail string // what is wrong, with the value seen
}

func (e *FormatError) Error() string {
	if e.Line > 0 {
		return fmt.Sprintf("line %d: %s", e.Line, e.Detail)
	}
	return e.Detail
}

// UnsupportedError says that the file is sound but holds what this package
// does not read.
type UnsupportedError struct {
	Line int // from 1; 0 for the file as a whole
	What string
}

func (e *UnsupportedError) Error() string {
	if e.Line > 0 {
		return fmt.Sprintf("line %d: %s", e.Line, e.What)
	}
	return e.What
}

// Package stl reads and writes triangle meshes in the stereolithography
// format, binary and ASCII. One file is one mesh: the solids of a text file
// with several come back as shells of the same mesh.
//
// An STL file has no unit; halfpour takes its numbers as mm. It stores loose
// triangles, so Read joins corners that are equal to the last bit. The format
// is that of the Stereolithography Interface Specification (1989), as
// reprinted in Burns, Automated Fabrication (1993), section 6.5.
//
// stl.go has the format's sizes and faults, reader.go what is of which form; binary.go
// and ascii.go read the two forms, facets.go, corners.go and weld.go the facets of a binary one;
// writer.go and blocks.go write.
package stl

import (
	"fmt"
)

// Sizes of the binary format, in bytes: an 80-byte header, the number of
// facets as a little-endian uint32, then for each facet twelve float32 (normal
// and three corners) and a uint16 attribute.
const (
	headerSize = 80
	prefixSize = headerSize + 4
	facetSize  = 50
)

// Encoding tells the two forms of the format apart.
type Encoding string

// The encodings.
const (
	Binary Encoding = "binary"
	ASCII  Encoding = "ASCII"
)

// Info says what else was in a file.
type Info struct {
	Encoding   Encoding
	Name       string   // the header, or the first solid's name; printable characters only
	Solids     int      // 1 for binary
	Facets     int      // in the file
	Degenerate int      // facets left out because two of their corners are equal
	Notes      []string // oddities that were accepted
}

// Rule names what a file breaks.
type Rule string

// The rules of a FormatError.
const (
	RuleEmpty       Rule = "empty"        // there is no data
	RuleShort       Rule = "short"        // the file ends before its content does
	RuleNoTriangles Rule = "no-triangles" // nothing encloses anything
	RuleNonFinite   Rule = "non-finite"   // a coordinate is NaN, infinite or beyond float32
	RuleKeyword     Rule = "keyword"      // a text file has another word where the grammar wants one
	RuleNumber      Rule = "number"       // a text file has no number where one belongs
	RuleCorners     Rule = "corners"      // a text facet has more or fewer than three corners
)

// FormatError says where a file breaks which rule. Binary files are placed by
// Offset, text files by Line.
type FormatError struct {
	Offset int64 // in bytes from the start; for binary
	Line   int   // from 1; 0 for binary
	Rule   Rule
	Detail string // what is wrong, with the value seen
}

func (e *FormatError) Error() string {
	if e.Line > 0 {
		return fmt.Sprintf("line %d: %s", e.Line, e.Detail)
	}
	return fmt.Sprintf("byte %d: %s", e.Offset, e.Detail)
}

// UnsupportedError says that the data is sound but not for this package:
// another format, or more facets than indices can count.
type UnsupportedError struct{ What string }

func (e *UnsupportedError) Error() string { return e.What }

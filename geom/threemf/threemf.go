// Package threemf writes and reads 3MF files: named triangle meshes placed on
// one build plate, as in the 3MF Core Specification 1.x. It knows meshes,
// names and places, and none of the specification's extensions.
//
// Lengths are mm on both sides; a file in another unit is converted.
package threemf

import (
	"fmt"

	"halfpour/geom"
)

// Package is what a 3MF file holds: the objects on its build plate.
type Package struct {
	Title   string
	Objects []Object
}

// Object is one thing to print.
type Object struct {
	Name   string
	Mesh   *geom.TriMesh
	Offset geom.Vec // added to the mesh's vertices to place it
}

// Names that the core specification and the Open Packaging Conventions fix.
const (
	namespace    = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
	modelType    = "application/vnd.ms-package.3dmanufacturing-3dmodel+xml"
	relType      = "application/vnd.openxmlformats-package.relationships+xml"
	modelRel     = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"
	typesPart    = "[Content_Types].xml"
	relsPart     = "_rels/.rels"
	modelPart    = "3D/3dmodel.model"
	xmlHeader    = `<?xml version="1.0" encoding="UTF-8"?>` + "\n"
	typesContent = xmlHeader + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
		`<Default Extension="rels" ContentType="` + relType + `"/>` +
		`<Default Extension="model" ContentType="` + modelType + `"/></Types>` + "\n"
	relsContent = xmlHeader + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` +
		`<Relationship Target="/` + modelPart + `" Id="rel0" Type="` + modelRel + `"/></Relationships>` + "\n"
)

// Rule names what a file breaks.
type Rule string

// The rules of a FormatError.
const (
	RuleArchive     Rule = "archive"      // not a sound zip archive
	RuleMissing     Rule = "missing"      // a part or an element that must be there is not
	RuleXML         Rule = "xml"          // a part is not well-formed
	RuleNumber      Rule = "number"       // no number where one belongs, or not a finite one
	RuleIndex       Rule = "index"        // a triangle's corner that is no vertex
	RuleReference   Rule = "reference"    // an object that is not there, or not yet
	RuleDuplicate   Rule = "duplicate"    // two objects of one id, or two parts of one name
	RuleUnit        Rule = "unit"         // a unit that the specification does not know
	RuleNoTriangles Rule = "no-triangles" // nothing to print
	RuleSize        Rule = "size"         // unpacks to more than a sound file of its size would
)

// FormatError says where a file breaks which rule.
type FormatError struct {
	Part   string // of the archive; "" for the archive as a whole
	Line   int    // from 1; 0 when unknown
	Rule   Rule
	Detail string // what is wrong, with the value seen
	Err    error  // the cause, if another package found it
}

func (e *FormatError) Error() string {
	s := e.Detail
	if e.Err != nil {
		s = fmt.Sprintf("%s: %v", s, e.Err)
	}
	switch {
	case e.Line > 0:
		return fmt.Sprintf("%s:%d: %s", e.Part, e.Line, s)
	case e.Part != "":
		return fmt.Sprintf("%s: %s", e.Part, s)
	}
	return s
}

// Unwrap returns the cause.
func (e *FormatError) Unwrap() error { return e.Err }

// UnsupportedError says that a file is sound but needs what this package does
// not do.
type UnsupportedError struct{ What string }

func (e *UnsupportedError) Error() string { return e.What }

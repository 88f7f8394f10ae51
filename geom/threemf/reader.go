package threemf

import (
	"archive/zip"
	"encoding/xml"
	"fmt"
	"io"
	"path"
	"strings"
)

// Bounds on what a file may unpack to, so that a small hostile file cannot
// fill the memory. Models of real meshes compress to between a fifth and a
// twentieth.
const (
	mostUnpacked  = 50       // bytes of model for a byte of archive
	spareUnpacked = 1 << 20  // bytes of model that any archive may have
	allUnpacked   = 4 << 30  // bytes of model at most, some 50 million triangles
	mostRels      = 64 << 10 // bytes of the relationships part
	mostPiece     = 64 << 10 // bytes of a tag or of the text between two
)

// Read returns the package in the size bytes of r: one object for each item on
// the build plate whose object is a model, its components put together. A
// placement that only moves becomes the Offset; any other is worked into the
// mesh, a mirror image turned so that it keeps facing outwards. Objects of the
// other types (supports, surfaces) are left out. Names of parts are looked up
// in the archive alone: no file but r is read.
//
// Errors are *FormatError and *UnsupportedError. Corners are in range and
// finite; whether a mesh is closed is for geom.Audit to say. Memory
// stays within a multiple of size.
func Read(r io.ReaderAt, size int64) (Package, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return Package{}, &FormatError{Rule: RuleArchive, Detail: "not a 3MF file", Err: err}
	}
	name, err := modelName(z)
	if err != nil {
		return Package{}, err
	}
	part, err := open(z, name, min(mostUnpacked*size+spareUnpacked, allUnpacked))
	if err != nil {
		return Package{}, err
	}
	defer part.Close()
	m := newModel(part)
	if err := m.parse(); err != nil {
		return Package{}, err
	}
	return m.pack()
}

// modelName follows the package's relationship to its model.
func modelName(z *zip.Reader) (string, error) {
	part, err := open(z, relsPart, mostRels)
	if err != nil {
		return "", err
	}
	defer part.Close()
	var rels struct {
		Relationship []struct {
			Type   string `xml:",attr"`
			Target string `xml:",attr"`
		}
	}
	if err := xml.NewDecoder(part).Decode(&rels); err != nil {
		return "", part.fault(RuleXML, "not well-formed", err)
	}
	for _, rel := range rels.Relationship {
		if rel.Type == modelRel {
			return strings.TrimPrefix(path.Clean("/"+rel.Target), "/"), nil
		}
	}
	return "", &FormatError{Part: relsPart, Rule: RuleMissing, Detail: "no relationship of type " + modelRel}
}

// part is one entry of the archive, read up to a limit.
type part struct {
	io.ReadCloser
	name  string
	left  int64
	piece int64 // what may be read until piece is set anew
	err   error // why reading stopped, other than its end
}

// open finds a part by its name, in any case as the packaging conventions ask.
func open(z *zip.Reader, name string, limit int64) (*part, error) {
	for _, f := range z.File {
		if !strings.EqualFold(f.Name, name) {
			continue
		}
		body, err := f.Open()
		if err != nil {
			return nil, &FormatError{Part: name, Rule: RuleArchive, Detail: "cannot be unpacked", Err: err}
		}
		return &part{ReadCloser: body, name: name, left: limit, piece: limit}, nil
	}
	return nil, &FormatError{Part: name, Rule: RuleMissing, Detail: "the archive has no such part"}
}

func (p *part) Read(b []byte) (int, error) {
	if p.left <= 0 {
		p.err = &FormatError{Part: p.name, Rule: RuleSize, Detail: "unpacks to far more than a mesh in a file of this size would"}
		return 0, p.err
	}
	if p.piece <= 0 {
		p.err = &FormatError{Part: p.name, Rule: RuleSize, Detail: fmt.Sprintf("has a tag or text of more than %d bytes", mostPiece)}
		return 0, p.err
	}
	n, err := p.ReadCloser.Read(b[:min(int64(len(b)), p.left, p.piece)])
	p.left -= int64(n)
	p.piece -= int64(n)
	if err != nil && err != io.EOF {
		p.err = &FormatError{Part: p.name, Rule: RuleArchive, Detail: "cannot be unpacked", Err: err}
		return n, p.err
	}
	return n, err
}

// fault reports what stopped the parser: the reading, if that failed.
func (p *part) fault(rule Rule, detail string, err error) error {
	if p.err != nil {
		return p.err
	}
	return &FormatError{Part: p.name, Rule: rule, Detail: detail, Err: err}
}

// millimetres by the unit attribute's values.
func millimetres(unit string) (float64, error) {
	switch unit {
	case "micron":
		return 0.001, nil
	case "", "millimeter":
		return 1, nil
	case "centimeter":
		return 10, nil
	case "inch":
		return 25.4, nil
	case "foot":
		return 304.8, nil
	case "meter":
		return 1000, nil
	}
	return 0, fmt.Errorf("unknown unit %q", unit)
}

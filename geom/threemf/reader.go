package threemf

import (
	"archive/zip"
	"context"
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
	mostUnpacked  = 50       // bytes of model for a byte that it is packed in
	spareUnpacked = 1 << 20  // bytes of model that any file may have
	allUnpacked   = 4 << 30  // bytes of model at most, about 50 million triangles
	mostRels      = 64 << 10 // bytes of the relationships part
	mostPiece     = 64 << 10 // bytes of a tag or of the text between two
)

// Read returns the package in the size bytes of r: one object for each item on
// the build plate whose object is a model, its components put together. A
// transform that only moves becomes the Offset; any other is worked into the
// mesh, a mirror image turned so that it keeps facing outwards. Objects of the
// other types (supports, surfaces) are left out. Names of parts are looked up
// in the archive alone: no file but r is read.
//
// Errors are *FormatError, *UnsupportedError and the context's own. Corners are
// in range and finite; whether a mesh is closed is for geom.Audit to say. Memory
// stays within a multiple of size. Objects may share a mesh, but no more than
// the same multiple would hold if each had its own.
func Read(ctx context.Context, r io.ReaderAt, size int64) (Package, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return Package{}, &FormatError{Rule: RuleArchive, Detail: "not a 3MF file", Err: err}
	}
	name, err := modelName(z)
	if err != nil {
		return Package{}, err
	}
	part, err := open(z, name, func(packed uint64) uint64 {
		return min(mostUnpacked*min(packed, uint64(size))+spareUnpacked, allUnpacked)
	})
	if err != nil {
		return Package{}, err
	}
	defer part.Close()
	m := newModel(ctx, part)
	if err := m.parse(); err != nil {
		return Package{}, err
	}
	return m.pack()
}

// modelName follows the package's relationship to its model.
func modelName(z *zip.Reader) (string, error) {
	part, err := open(z, relsPart, func(uint64) uint64 { return mostRels })
	if err != nil {
		return "", err
	}
	defer part.Close()
	var rels struct {
		Relationship []struct {
			Type       string `xml:",attr"`
			Target     string `xml:",attr"`
			TargetMode string `xml:",attr"`
		}
	}
	if err := xml.NewDecoder(part).Decode(&rels); err != nil {
		return "", part.fault(RuleXML, "not well-formed", err)
	}
	found := ""
	for _, rel := range rels.Relationship {
		if rel.Type != modelRel {
			continue
		}
		if rel.TargetMode == "External" {
			return "", &UnsupportedError{fmt.Sprintf("its model is not in the file but at %.60q; export it as one file", rel.Target)}
		}
		name := strings.TrimPrefix(path.Clean("/"+rel.Target), "/")
		if found != "" && !strings.EqualFold(found, name) {
			return "", &FormatError{Part: relsPart, Rule: RuleDuplicate, Detail: fmt.Sprintf("names two models, %.60q and %.60q", found, name)}
		}
		found = name
	}
	if found == "" {
		return "", &FormatError{Part: relsPart, Rule: RuleMissing, Detail: "no relationship of type " + modelRel}
	}
	return found, nil
}

// part is one entry of the archive.
type part struct {
	io.ReadCloser
	name  string
	piece int64 // what may be read until piece is set anew
	err   error // why reading stopped, other than its end
}

// open finds a part by its name, in any case as the packaging conventions ask.
// It refuses one that unpacks to more than most says of its packed size: what
// the archive states is a bound, since package zip unpacks no more than that.
func open(z *zip.Reader, name string, most func(packed uint64) uint64) (*part, error) {
	var found *zip.File
	for _, f := range z.File {
		if !strings.EqualFold(f.Name, name) {
			continue
		}
		if found != nil {
			return nil, &FormatError{Part: name, Rule: RuleDuplicate, Detail: "the archive has two parts of this name"}
		}
		found = f
	}
	if found == nil {
		return nil, &FormatError{Part: name, Rule: RuleMissing, Detail: "the archive has no such part"}
	}
	if n, limit := found.UncompressedSize64, most(found.CompressedSize64); n > limit {
		return nil, &FormatError{Part: name, Rule: RuleSize,
			Detail: fmt.Sprintf("unpacks from %.3g to %.3g MB, far more than a mesh would; at most %.3g MB are read",
				float64(found.CompressedSize64)/1e6, float64(n)/1e6, float64(limit)/1e6)}
	}
	body, err := found.Open()
	if err != nil {
		return nil, &FormatError{Part: name, Rule: RuleArchive, Detail: "cannot be unpacked", Err: err}
	}
	return &part{ReadCloser: body, name: name, piece: mostRels}, nil
}

func (p *part) Read(b []byte) (int, error) {
	if p.piece <= 0 {
		p.err = &FormatError{Part: p.name, Rule: RuleSize, Detail: fmt.Sprintf("has a tag or text of more than %d bytes", mostPiece)}
		return 0, p.err
	}
	n, err := p.ReadCloser.Read(b[:min(int64(len(b)), p.piece)])
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

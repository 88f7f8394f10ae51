package stl

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"math"

	"halfpour/geom"
)

// Read reads all of r and decodes it.
func Read(r io.Reader) (*geom.TriMesh, Info, error) {
	var data bytes.Buffer
	if f, ok := r.(interface{ Stat() (fs.FileInfo, error) }); ok {
		if info, err := f.Stat(); err == nil && info.Mode().IsRegular() && info.Size() < math.MaxInt32 {
			data.Grow(int(info.Size()) + bytes.MinRead) // or it is copied as it grows
		}
	}
	if _, err := data.ReadFrom(r); err != nil {
		return nil, Info{}, fmt.Errorf("reading: %w", err)
	}
	return Decode(data.Bytes())
}

// Decode returns the mesh in the data of an STL file, with equal corners
// welded. Whether the data is binary or text is told from its content: many
// binary files begin with "solid" too. Normals and attributes are ignored,
// since the corners' order says which side is out.
//
// Errors are *FormatError and *UnsupportedError. A mesh that comes back has
// finite coordinates and at least one triangle; whether it is closed is for
// geom.Audit to say. Memory stays within a small multiple of len(data).
func Decode(data []byte) (*geom.TriMesh, Info, error) {
	if len(data) == 0 {
		return nil, Info{}, &FormatError{Rule: RuleEmpty, Detail: "the file is empty"}
	}
	if isBinary(data) {
		return decodeBinary(data)
	}
	if what := otherFormat(data); what != "" {
		return nil, Info{}, &UnsupportedError{what}
	}
	if looksLikeText(data) {
		return decodeASCII(data)
	}
	return decodeBinary(data)
}

// isBinary is the one sure sign: the size that the count asks for.
func isBinary(data []byte) bool {
	return len(data) >= prefixSize && int64(len(data)) == binarySize(data)
}

// looksLikeText reports whether data that is not of a binary file's size is a
// text file: it has no zero byte where a binary file has its header and count
// (a count below 2^24 ends in one).
func looksLikeText(data []byte) bool {
	return bytes.IndexByte(data[:min(len(data), prefixSize)], 0) < 0
}

// otherFormat names the formats that are most often given an STL's name.
func otherFormat(data []byte) string {
	start := func(s string) bool { return bytes.HasPrefix(data, []byte(s)) }
	switch {
	case start("PK\x03\x04"):
		return "a zip archive, such as a 3MF file is, not an STL file; export the model as STL"
	case start("\x1f\x8b"):
		return "compressed with gzip; unpack it first"
	case start("\xff\xfe"), start("\xfe\xff"):
		return "text in UTF-16; save it as plain text or as binary STL"
	case start("ISO-10303-21"):
		return "a STEP file, not an STL file; export the model as STL"
	case start("ply\n"), start("ply\r\n"):
		return "a PLY file, not an STL file; export the model as STL"
	case start("OFF\n"), start("OFF\r\n"):
		return "an OFF file, not an STL file; export the model as STL"
	}
	return ""
}

// builder gathers facets into a welded mesh.
type builder struct {
	weld      *geom.Welder
	triangles [][3]int32
	info      Info
}

func newBuilder(enc Encoding, facets int) *builder {
	return &builder{
		weld:      geom.NewWelder(facets/2 + 2), // a closed mesh has about half as many vertices as triangles
		triangles: make([][3]int32, 0, facets),
		info:      Info{Encoding: enc},
	}
}

func (b *builder) add(p *[3]geom.Vec) {
	b.info.Facets++
	i, j, k := b.weld.Index(p[0]), b.weld.Index(p[1]), b.weld.Index(p[2])
	if i == j || j == k || k == i {
		b.info.Degenerate++
		return
	}
	b.triangles = append(b.triangles, [3]int32{i, j, k})
}

func (b *builder) note(format string, args ...any) {
	b.info.Notes = append(b.info.Notes, fmt.Sprintf(format, args...))
}

// mesh returns what was gathered, or false when that is nothing.
func (b *builder) mesh() (*geom.TriMesh, bool) {
	return &geom.TriMesh{Vertices: b.weld.Points(), Triangles: b.triangles}, len(b.triangles) > 0
}

package stl

import (
	"context"
	"encoding/binary"
	"fmt"
	"math"

	"halfpour/geom"
	"halfpour/geom/internal/meshtext"
)

// maxFacets keeps three new vertices a facet within int32 indices.
const maxFacets = math.MaxInt32 / 3

// binarySize returns the size that the header's count asks for.
func binarySize(data []byte) int64 {
	n := binary.LittleEndian.Uint32(data[headerSize:])
	return prefixSize + facetSize*int64(n)
}

func decodeBinary(ctx context.Context, data []byte) (*geom.TriMesh, Info, error) {
	return readBinary(ctx, data[:min(len(data), prefixSize)], int64(len(data)), func(at int64, n int, _ []byte) ([]byte, error) {
		return data[at : at+int64(n)], nil
	})
}

// source returns n bytes from an offset on; it may put them into spare, which holds as many.
type source func(at int64, n int, spare []byte) ([]byte, error)

// readBinary reads a file of that size, which begins with prefix.
func readBinary(ctx context.Context, prefix []byte, size int64, from source) (*geom.TriMesh, Info, error) {
	if size < prefixSize {
		return nil, Info{}, &FormatError{Offset: size, Rule: RuleShort,
			Detail: fmt.Sprintf("the file ends within the header: %d bytes of %d", size, prefixSize)}
	}
	count, want := binary.LittleEndian.Uint32(prefix[headerSize:]), binarySize(prefix)
	switch {
	case size < want:
		return nil, Info{}, &FormatError{Offset: size, Rule: RuleShort,
			Detail: fmt.Sprintf("the file is cut short: its header promises %d facets, which is %d bytes; export it again", count, want)}
	case count == 0:
		return nil, Info{}, &FormatError{Offset: headerSize, Rule: RuleNoTriangles, Detail: "the header counts 0 facets"}
	case count > maxFacets:
		return nil, Info{}, &UnsupportedError{fmt.Sprintf("%d facets, at most %d can be read; export a coarser mesh", count, maxFacets)}
	}
	m, err := readFacets(ctx, int(count), from)
	if err != nil {
		return nil, Info{}, err
	}
	if len(m.Triangles) == 0 {
		return nil, Info{}, &FormatError{Offset: want, Rule: RuleNoTriangles,
			Detail: fmt.Sprintf("all %d facets have two equal corners", count)}
	}
	info := Info{Encoding: Binary, Name: meshtext.Name(prefix[:headerSize]), Solids: 1,
		Facets: int(count), Degenerate: int(count) - len(m.Triangles)}
	if size > want {
		info.Notes = append(info.Notes, fmt.Sprintf("%d bytes after the last facet ignored", size-want))
	}
	return m, info, nil
}

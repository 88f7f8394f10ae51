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
	size := int64(len(data))
	if size < prefixSize {
		return nil, Info{}, &FormatError{Offset: size, Rule: RuleShort,
			Detail: fmt.Sprintf("the file ends within the header: %d bytes of %d", size, prefixSize)}
	}
	count, want := binary.LittleEndian.Uint32(data[headerSize:]), binarySize(data)
	switch {
	case size < want:
		return nil, Info{}, &FormatError{Offset: size, Rule: RuleShort,
			Detail: fmt.Sprintf("the file is cut short: its header promises %d facets, which is %d bytes; export it again", count, want)}
	case count == 0:
		return nil, Info{}, &FormatError{Offset: headerSize, Rule: RuleNoTriangles, Detail: "the header counts 0 facets"}
	case count > maxFacets:
		return nil, Info{}, &UnsupportedError{fmt.Sprintf("%d facets, at most %d can be read; export a coarser mesh", count, maxFacets)}
	}

	b := newBuilder(ctx, Binary, int(count))
	b.info.Name, b.info.Solids = meshtext.Name(data[:headerSize]), 1
	if size > want {
		b.note("%d bytes after the last facet ignored", size-want)
	}
	for at := int64(prefixSize); at < want; at += facetSize {
		if err := b.stopped(); err != nil {
			return nil, Info{}, err
		}
		corners, bad := decodeFacet(data[at : at+facetSize])
		if bad >= 0 {
			return nil, Info{}, &FormatError{Offset: at + int64(bad), Rule: RuleNonFinite,
				Detail: fmt.Sprintf("facet %d has a corner that is not a finite number", b.info.Facets+1)}
		}
		b.add(&corners)
	}
	m, ok := b.mesh()
	if !ok {
		return nil, Info{}, &FormatError{Offset: want, Rule: RuleNoTriangles,
			Detail: fmt.Sprintf("all %d facets have two equal corners", count)}
	}
	return m, b.info, nil
}

// decodeFacet returns the corners, and the offset in raw of a number that is
// not finite or else -1.
func decodeFacet(raw []byte) (p [3]geom.Vec, bad int) {
	const normal, number = 12, 4
	_ = raw[facetSize-1]
	var v [9]float64
	for i := range v {
		bits := binary.LittleEndian.Uint32(raw[normal+number*i:])
		if bits&0x7f800000 == 0x7f800000 { // all exponent bits: NaN or infinite
			return p, normal + number*i
		}
		v[i] = float64(math.Float32frombits(bits))
	}
	return [3]geom.Vec{{X: v[0], Y: v[1], Z: v[2]}, {X: v[3], Y: v[4], Z: v[5]}, {X: v[6], Y: v[7], Z: v[8]}}, -1
}

package stl

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"

	"halfpour/geom"
)

// Read reads all of r and decodes it.
func Read(ctx context.Context, r io.Reader) (*geom.TriMesh, Info, error) {
	if f, ok := r.(file); ok {
		if m, info, err := readFile(ctx, f); err != errNotBinary {
			return m, info, err
		}
	}
	var data bytes.Buffer
	if f, ok := r.(file); ok {
		if info, err := f.Stat(); err == nil && info.Mode().IsRegular() && info.Size() < math.MaxInt32 {
			data.Grow(int(info.Size()) + bytes.MinRead) // or it is copied as it grows
		}
	}
	if _, err := data.ReadFrom(r); err != nil {
		return nil, Info{}, fmt.Errorf("reading: %w", err)
	}
	return Decode(ctx, data.Bytes())
}

// file is what an [os.File] can do: many may read it at the same time.
type file interface {
	io.ReaderAt
	io.Seeker
	Stat() (fs.FileInfo, error)
}

var errNotBinary = errors.New("not surely a binary file")

// readFile reads a binary file here and there at once.
func readFile(ctx context.Context, f file) (*geom.TriMesh, Info, error) {
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() {
		return nil, Info{}, errNotBinary
	}
	start, err := f.Seek(0, io.SeekCurrent)
	if err != nil {
		return nil, Info{}, errNotBinary
	}
	prefix, size := make([]byte, prefixSize), info.Size()-start
	if _, err := f.ReadAt(prefix, start); err != nil || size != binarySize(prefix) {
		return nil, Info{}, errNotBinary
	}
	return readBinary(ctx, prefix, size, func(at int64, n int, spare []byte) ([]byte, error) {
		if _, err := f.ReadAt(spare[:n], start+at); err != nil {
			return nil, fmt.Errorf("reading: %w", err)
		}
		return spare[:n], nil
	})
}

// Decode returns the mesh in the data of an STL file, with equal corners
// welded. Whether the data is binary or text is told from its content: many
// binary files begin with "solid" too. Normals and attributes are ignored,
// since the corners' order says which side is out.
//
// Errors are *FormatError, *UnsupportedError and the context's own. A mesh that comes back has
// finite coordinates and at least one triangle; whether it is closed is for
// geom.Audit to say. Memory stays within a small multiple of len(data).
func Decode(ctx context.Context, data []byte) (*geom.TriMesh, Info, error) {
	if len(data) == 0 {
		return nil, Info{}, &FormatError{Rule: RuleEmpty, Detail: "the file is empty"}
	}
	if IsBinary(data) || !looksLikeText(data) {
		return decodeBinary(ctx, data)
	}
	return decodeASCII(ctx, data)
}

// IsBinary reports whether data has just the size that its count of facets asks
// for, which is the one sure sign of a binary STL file.
func IsBinary(data []byte) bool {
	return len(data) >= prefixSize && int64(len(data)) == binarySize(data)
}

// looksLikeText reports whether data that is not of a binary file's size is a
// text file: it has no zero byte where a binary file has its header and count
// (a count below 2^24 ends in one).
func looksLikeText(data []byte) bool {
	return bytes.IndexByte(data[:min(len(data), prefixSize)], 0) < 0
}

// Likely reports whether data begins as an STL file does: as text with the word
// "solid", or as a binary file, cut short or not, with facets whose numbers are
// such as coordinates are.
func Likely(data []byte) bool {
	if looksLikeText(data) {
		s := &scanner{data: bytes.TrimPrefix(data[:min(len(data), 1<<10)], []byte("\ufeff"))}
		return is(s.next(), "solid")
	}
	const enough = 4 // facets that no other content passes by chance
	seen := false
	for at := prefixSize; at+facetSize <= len(data) && at < prefixSize+enough*facetSize; at += facetSize {
		p, bad := cornersOf(data[at : at+facetSize])
		if bad >= 0 || !plausible(p) {
			return false
		}
		seen = seen || p != [3]corner{}
	}
	return seen
}

// plausible reports whether the corners could be of a model: a random float is
// so in one case of four, a facet of nine in one of 100,000.
func plausible(p [3]corner) bool {
	const least, most = 1e-12, 1e9
	for _, c := range p {
		for _, x := range c {
			if size := math.Abs(float(x)); size != 0 && (size < least || size > most) {
				return false
			}
		}
	}
	return true
}

// builder gathers facets into a welded mesh.
type builder struct {
	ctx       context.Context
	weld      *geom.Welder
	triangles [][3]int32
	info      Info
}

func newBuilder(ctx context.Context, enc Encoding) *builder {
	return &builder{
		ctx:  ctx,
		weld: geom.NewWelder(0),
		info: Info{Encoding: enc},
	}
}

// stopped is the context's error, asked for after many facets.
func (b *builder) stopped() error {
	const seldom = 1 << 14
	if b.info.Facets%seldom != 0 {
		return nil
	}
	return b.ctx.Err()
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

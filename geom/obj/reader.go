package obj

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"

	"halfpour/geom"
	"halfpour/geom/internal/meshtext"
)

// Decode returns the mesh in the data of an OBJ file, with equal vertices
// welded and faces cut into triangles. Points, lines and curves are left out.
//
// Errors are *FormatError, *UnsupportedError and the context's own. A mesh that comes back has
// finite coordinates and at least one triangle; whether it is closed is for
// geom.Audit to say. Memory stays within a small multiple of len(data).
func Decode(ctx context.Context, data []byte) (*geom.TriMesh, Info, error) {
	r := &reader{data: bytes.TrimPrefix(data, []byte("\ufeff")), weld: geom.NewWelder(0)}
	if len(r.data) == 0 {
		return nil, Info{}, &FormatError{Rule: RuleEmpty, Detail: "the file is empty"}
	}
	for r.nextLine() {
		if (r.lines%seldom == 0 || r.count > manyWords) && ctx.Err() != nil {
			return nil, Info{}, ctx.Err()
		}
		if err := r.statement(); err != nil {
			return nil, Info{}, err
		}
	}
	r.noteSkipped()
	if len(r.triangles) == 0 {
		return nil, Info{}, &FormatError{Rule: RuleNoTriangles, Detail: "there are no faces with three different corners"}
	}
	return &geom.TriMesh{Vertices: r.weld.Points(), Triangles: r.triangles}, r.info, nil
}

// A line asks whether to go on if many have passed since the last that did, or if
// it has so many words that a face of it takes long.
const (
	seldom    = 1 << 14
	manyWords = 100
)

// Likely reports whether data begins as an OBJ file does: its first line that
// is no comment starts with a word of the format and holds no zero byte.
func Likely(data []byte) bool {
	r := &reader{data: bytes.TrimPrefix(data[:min(len(data), 1<<14)], []byte("\ufeff"))}
	for r.nextLine() {
		if len(r.words) > 0 {
			_, known := statements[string(r.words[0])]
			return known && bytes.IndexByte(r.data[:r.at], 0) < 0
		}
	}
	return false
}

// reader walks over the statements of a file.
type reader struct {
	data  []byte
	at    int
	line  int      // of the statement last read
	lines int      // read so far
	words [][]byte // of that statement
	count int      // of its words

	points    []geom.Vec // of the statements v
	index     []int32    // of each in the mesh, plus one; 0 while no triangle uses it
	weld      *geom.Welder
	triangles [][3]int32
	corners   []int32 // of the face being read, in points
	cut       geom.PolygonCutter
	info      Info
	worst     float64
	skipped   map[string]int // statements of shapes that are no faces
}

func (r *reader) fail(rule Rule, format string, args ...any) error {
	return &FormatError{Line: r.line, Rule: rule, Detail: fmt.Sprintf(format, args...)}
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\v' || c == '\f' }

// nextLine splits the next statement into words, on to the lines that a
// backslash at a line's end joins to it. Lines end by LF, CR LF or CR.
func (r *reader) nextLine() bool {
	r.words, r.count = r.words[:0], 0
	if r.at >= len(r.data) {
		return false
	}
	r.line = r.lines + 1
	for r.at < len(r.data) {
		c := r.data[r.at]
		switch {
		case c == '\n' || c == '\r':
			r.endLine()
			return true
		case isBlank(c):
			r.at++
		case c == '\\' && r.continued():
			r.at++
			r.endLine()
		case c == '#':
			for r.at < len(r.data) && r.data[r.at] != '\n' && r.data[r.at] != '\r' {
				r.at++
			}
		default:
			word := r.word()
			if r.count++; r.count <= 2+maxCorners { // what is more is counted only
				r.words = append(r.words, word)
			}
		}
	}
	return true
}

func (r *reader) continued() bool {
	return r.at+1 < len(r.data) && (r.data[r.at+1] == '\n' || r.data[r.at+1] == '\r')
}

func (r *reader) endLine() {
	if r.data[r.at] == '\r' && r.at+1 < len(r.data) && r.data[r.at+1] == '\n' {
		r.at++
	}
	r.at++
	r.lines++
}

func (r *reader) word() []byte {
	from := r.at
	for r.at < len(r.data) {
		c := r.data[r.at]
		if isBlank(c) || c == '\n' || c == '\r' || c == '\\' && r.continued() {
			break
		}
		r.at++
	}
	return r.data[from:r.at]
}

// kind says what is done with a statement.
type kind int

const (
	passed  kind = iota // looks and names, or part of a shape that is left out
	vertex              // v
	face                // f
	object              // o
	group               // g
	skipped             // a shape that encloses nothing
	refused             // more than triangles
)

// statements of the format, by their keywords.
var statements = map[string]kind{
	"v": vertex, "f": face, "fo": face, "o": object, "g": group,
	"p": skipped, "l": skipped, "curv": skipped, "curv2": skipped, "sp": skipped, "con": skipped,
	"surf": refused, "call": refused, "csh": refused, "bsp": refused, "bzp": refused, "cdc": refused, "cdp": refused,
	"vt": passed, "vn": passed, "vp": passed, "s": passed, "mg": passed,
	"cstype": passed, "deg": passed, "bmat": passed, "step": passed, "parm": passed, "trim": passed, "hole": passed, "scrv": passed, "end": passed,
	"usemtl": passed, "mtllib": passed, "usemap": passed, "maplib": passed, "bevel": passed, "c_interp": passed, "d_interp": passed,
	"lod": passed, "shadow_obj": passed, "trace_obj": passed, "ctech": passed, "stech": passed, "res": passed,
}

func (r *reader) statement() error {
	if len(r.words) == 0 {
		return nil
	}
	word := r.words[0]
	what, known := statements[string(word)]
	if !known {
		return r.fail(RuleKeyword, "expected v, f or another word of the format, got %s", meshtext.Quote(word))
	}
	switch what {
	case vertex:
		return r.vertex()
	case face:
		return r.face()
	case object:
		r.info.Objects++
		r.name()
	case group:
		r.info.Groups++
		r.name()
	case skipped:
		if r.skipped == nil {
			r.skipped = map[string]int{}
		}
		r.skipped[string(word)]++
	case refused:
		return &UnsupportedError{r.line, fmt.Sprintf("%q is no face: only faces are read; export the model as triangles", word)}
	}
	return nil
}

func (r *reader) name() {
	if r.info.Name == "" {
		r.info.Name = meshtext.Name(bytes.Join(r.words[1:], []byte(" ")))
	}
}

// noteSkipped tells of the shapes that were left out, in a fixed order.
func (r *reader) noteSkipped() {
	for _, k := range []string{"p", "l", "curv", "curv2", "sp", "con"} {
		if n := r.skipped[k]; n > 0 {
			r.info.Notes = append(r.info.Notes, fmt.Sprintf("%d statements %q left out: points, lines and curves enclose nothing", n, k))
		}
	}
}

// vertex takes three numbers. What may follow is a weight for curves, or
// colours.
func (r *reader) vertex() error {
	if len(r.words) < 4 {
		return r.fail(RuleNumber, "a vertex has %d numbers, expected 3", len(r.words)-1)
	}
	if len(r.points) >= math.MaxInt32 {
		return &UnsupportedError{r.line, "more vertices than can be counted; export a coarser mesh"}
	}
	var v [3]float64
	for i := range v {
		var err error
		if v[i], err = r.number(r.words[i+1]); err != nil {
			return err
		}
	}
	r.points, r.index = append(r.points, geom.Vec{X: v[0], Y: v[1], Z: v[2]}), append(r.index, 0)
	return nil
}

func (r *reader) number(word []byte) (float64, error) {
	v, err := meshtext.Number(word)
	switch {
	case errors.Is(err, meshtext.ErrNotFinite):
		return 0, r.fail(RuleNonFinite, "a vertex is not a finite number: %s", meshtext.Quote(word))
	case err != nil:
		return 0, r.fail(RuleNumber, "%v", err)
	}
	return v, nil
}

package stl

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"

	"halfpour/geom"
)

// tetra is the tetrahedron of Mirtich's companion data (J. Graphics Tools
// 1(2), 1996): volume 10.
var tetra = &geom.TriMesh{
	Vertices:  []geom.Vec{{}, {X: 5}, {Y: 4}, {Z: 3}},
	Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}},
}

func binaryOf(t testing.TB, m *geom.TriMesh, name string) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := Write(&out, m, name); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func asciiOf(t testing.TB, m *geom.TriMesh, name string) string {
	t.Helper()
	var out strings.Builder
	if err := writeASCII(&out, m, name); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// patched returns a copy of data with b at the offset.
func patched(data []byte, at int, b ...byte) []byte {
	data = bytes.Clone(data)
	copy(data[at:], b)
	return data
}

func TestDecodeAccepts(t *testing.T) {
	bin := binaryOf(t, tetra, "tetra")
	text := asciiOf(t, tetra, "tetra")
	flat := "facet normal nan nan nan outer loop vertex 0 0 0 vertex 5 0 0 vertex -0 0 0e9 endloop endfacet\n"
	for _, tt := range []struct {
		name string
		data []byte
		want Info
	}{
		{"binary", bin, Info{Encoding: Binary, Name: "binary STL, mm: tetra", Solids: 1, Facets: 4}},
		{"binary whose header says solid", patched(bin, 0, []byte("solid tetra\n facet    ")...),
			Info{Encoding: Binary, Name: "solid tetra facet", Solids: 1, Facets: 4}},
		{"binary with bytes to spare", append(bytes.Clone(bin), 1, 2, 3),
			Info{Encoding: Binary, Name: "binary STL, mm: tetra", Solids: 1, Facets: 4,
				Notes: []string{"3 bytes after the last facet ignored"}}},
		{"binary with solid in the header and bytes to spare", append(patched(bin, 0, []byte("solid ")...), 0),
			Info{Encoding: Binary, Name: "solid STL, mm: tetra", Solids: 1, Facets: 4,
				Notes: []string{"1 bytes after the last facet ignored"}}},
		{"text", []byte(text), Info{Encoding: ASCII, Name: "tetra", Solids: 1, Facets: 4}},
		{"DOS line ends", []byte(strings.ReplaceAll(text, "\n", "\r\n")),
			Info{Encoding: ASCII, Name: "tetra", Solids: 1, Facets: 4}},
		{"old line ends", []byte(strings.ReplaceAll(text, "\n", "\r")),
			Info{Encoding: ASCII, Name: "tetra", Solids: 1, Facets: 4}},
		{"upper case", []byte(strings.ToUpper(text)), Info{Encoding: ASCII, Name: "TETRA", Solids: 1, Facets: 4}},
		{"leading blanks and byte order mark", []byte("\ufeff \n\t" + text),
			Info{Encoding: ASCII, Name: "tetra", Solids: 1, Facets: 4}},
		{"no name, no last line end", []byte(strings.TrimSuffix(strings.ReplaceAll(text, " tetra", ""), "\n")),
			Info{Encoding: ASCII, Solids: 1, Facets: 4}},
		{"exponents", []byte(strings.ReplaceAll(text, " 5 ", " +0.5E+01 ")),
			Info{Encoding: ASCII, Name: "tetra", Solids: 1, Facets: 4}},
		{"no normals", []byte(strings.ReplaceAll(strings.ReplaceAll(text, "normal 0", ""), "facet", "facet\n")),
			Info{Encoding: ASCII, Name: "tetra", Solids: 1, Facets: 4}},
		{"two solids", []byte("solid empty\nendsolid empty\n" + text),
			Info{Encoding: ASCII, Name: "empty", Solids: 2, Facets: 4}},
		{"facets without area", []byte("solid tetra\n" + flat + strings.TrimPrefix(text, "solid tetra\n")),
			Info{Encoding: ASCII, Name: "tetra", Solids: 1, Facets: 5, Degenerate: 1}},
		{"rubbish after the end", []byte(text + "\x1a"),
			Info{Encoding: ASCII, Name: "tetra", Solids: 1, Facets: 4,
				Notes: []string{"1 bytes after the last endsolid ignored, from line 31"}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m, info, err := Decode(context.Background(), tt.data)
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(info, tt.want) {
				t.Errorf("info\n got %+v\nwant %+v", info, tt.want)
			}
			if len(m.Vertices) != 4 || len(m.Triangles) != 4 || math.Abs(m.Volume()-10) > 1e-12 {
				t.Errorf("%d vertices, %d triangles, volume %v; want 4, 4, 10", len(m.Vertices), len(m.Triangles), m.Volume())
			}
		})
	}
}

func TestDecodeRefuses(t *testing.T) {
	bin := binaryOf(t, tetra, "tetra")
	text := asciiOf(t, tetra, "tetra")
	nan := binary.LittleEndian.AppendUint32(nil, 0x7fc00000)
	inf := binary.LittleEndian.AppendUint32(nil, 0xff800000)
	edit := func(old, new string) []byte { return []byte(strings.Replace(text, old, new, 1)) }
	for _, tt := range []struct {
		name string
		data []byte
		want FormatError // Detail is a part of the whole
	}{
		{"empty", nil, FormatError{Rule: RuleEmpty, Detail: "empty"}},
		{"half a header", make([]byte, 40), FormatError{Offset: 40, Rule: RuleShort, Detail: "40 bytes of 84"}},
		{"one byte short", bin[:len(bin)-1],
			FormatError{Offset: 283, Rule: RuleShort, Detail: "promises 4 facets, which is 284 bytes"}},
		{"count far beyond the file", patched(bin, 80, 0xff, 0xff, 0xff, 0xff),
			FormatError{Offset: 284, Rule: RuleShort, Detail: "4294967295 facets"}},
		{"header only", bin[:84], FormatError{Offset: 84, Rule: RuleShort, Detail: "4 facets"}},
		{"count of zero", patched(bin, 80, 0, 0, 0, 0), FormatError{Offset: 80, Rule: RuleNoTriangles, Detail: "0 facets"}},
		{"NaN corner", patched(bin, 84+50+12+20, nan...),
			FormatError{Offset: 84 + 50 + 12 + 20, Rule: RuleNonFinite, Detail: "facet 2"}},
		{"infinite corner", patched(bin, 284-2-4, inf...), FormatError{Offset: 278, Rule: RuleNonFinite, Detail: "facet 4"}},
		{"all facets degenerate", patched(make([]byte, 84+50), 80, 1),
			FormatError{Offset: 134, Rule: RuleNoTriangles, Detail: "all 1 facets"}},

		{"prose", []byte("dear sir,\nplease find"), FormatError{Line: 1, Rule: RuleKeyword, Detail: `"solid", got "dear"`}},
		{"long word", []byte(strings.Repeat("x", 99)), FormatError{Line: 1, Rule: RuleKeyword, Detail: `got "xxxxxxxxxxxxxxxxxxxxxxxx"...`}},
		{"cut within a facet", []byte(text[:strings.Index(text, "  endloop")]),
			FormatError{Line: 7, Rule: RuleShort, Detail: `where "endloop" should be`}},
		{"cut between facets", []byte(text[:strings.Index(text, "endfacet")+9]),
			FormatError{Line: 9, Rule: RuleShort, Detail: `where "endsolid" should be`}},
		{"four corners", edit("  endloop", "vertex 1 1 1\n  endloop"), FormatError{Line: 7, Rule: RuleCorners, Detail: "more than three"}},
		{"two corners", edit("    vertex 5 0 0\n", ""), FormatError{Line: 6, Rule: RuleCorners, Detail: "2 corners"}},
		{"decimal comma", edit("vertex 5 0", "vertex 5,25 0"), FormatError{Line: 6, Rule: RuleNumber, Detail: "decimal point"}},
		{"hexadecimal", edit("vertex 5 0", "vertex 0x1p2 0"), FormatError{Line: 6, Rule: RuleNumber, Detail: "0x1p2"}},
		{"word for a number", edit("vertex 5 0", "vertex five 0"), FormatError{Line: 6, Rule: RuleNumber, Detail: `"five"`}},
		{"missing number", edit("vertex 5 0 0", "vertex 5 0"), FormatError{Line: 7, Rule: RuleNumber, Detail: `"endloop"`}},
		{"NaN", edit("vertex 5 0", "vertex nan 0"), FormatError{Line: 6, Rule: RuleNonFinite, Detail: "nan"}},
		{"infinity", edit("vertex 5 0", "vertex -Inf 0"), FormatError{Line: 6, Rule: RuleNonFinite, Detail: "-Inf"}},
		{"beyond float32", edit("vertex 5 0", "vertex 4e38 0"), FormatError{Line: 6, Rule: RuleNonFinite, Detail: "4e38"}},
		{"beyond float64", edit("vertex 5 0", "vertex 1e999 0"), FormatError{Line: 6, Rule: RuleNonFinite, Detail: "1e999"}},
		{"solid without facets", []byte("solid\nendsolid\n"), FormatError{Line: 3, Rule: RuleNoTriangles, Detail: "no facets"}},
		{"misspelt keyword", edit("endfacet", "end facet"), FormatError{Line: 8, Rule: RuleKeyword, Detail: `"endfacet", got "end"`}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m, _, err := Decode(context.Background(), tt.data)
			var got *FormatError
			if !errors.As(err, &got) {
				t.Fatalf("got %v, %v; want a FormatError", m, err)
			}
			if got.Rule != tt.want.Rule || got.Offset != tt.want.Offset || got.Line != tt.want.Line ||
				!strings.Contains(got.Detail, tt.want.Detail) {
				t.Errorf("\n got %#v\nwant %#v", *got, tt.want)
			}
		})
	}
}

// What a file is shows in its first bytes, whole or cut short.
func TestLikely(t *testing.T) {
	bin := binaryOf(t, tetra, "solid, it says")
	text := asciiOf(t, tetra, "")
	random := make([]byte, 4000)
	rnd := rand.New(rand.NewPCG(1, 2))
	for i := range random {
		random[i] = byte(rnd.Uint32())
	}
	for _, c := range []struct {
		name           string
		data           []byte
		likely, binary bool
	}{
		{"binary", bin, true, true},
		{"binary cut short", bin[:200], true, false},
		{"binary with bytes behind", append(bytes.Clone(bin), 1, 2), true, false},
		{"no whole facet", bin[:prefixSize+facetSize-1], false, false},
		{"text", []byte(text), true, false},
		{"text cut short", []byte(text[:40]), true, false},
		{"text with a mark", []byte("\ufeff \n" + text), true, false},
		{"other text", []byte("v 0 0 0\n" + text), false, false},
		{"random bytes", random, false, false},
		{"zeros", make([]byte, 4000), false, false},
		{"nothing", nil, false, false},
	} {
		if got := Likely(c.data); got != c.likely {
			t.Errorf("%s: likely %v", c.name, got)
		}
		if got := IsBinary(c.data); got != c.binary {
			t.Errorf("%s: binary %v", c.name, got)
		}
	}
}

func TestReadPassesOnReadErrors(t *testing.T) {
	cause := errors.New("disk gone")
	_, _, err := Read(context.Background(), io.MultiReader(bytes.NewReader(binaryOf(t, tetra, "")), iotest.ErrReader(cause)))
	if !errors.Is(err, cause) {
		t.Errorf("got %v, want %v", err, cause)
	}
}

func TestWriteBinary(t *testing.T) {
	for _, name := range []string{"", "solid", "Kopf 3/8 oz \"ü\"\n", strings.Repeat("long ", 40)} {
		data := binaryOf(t, tetra, name)
		if len(data) != 84+50*4 { // size = 84 + 50 n
			t.Errorf("name %q: %d bytes, want 284", name, len(data))
		}
		if strings.HasPrefix(strings.ToLower(string(data)), "solid") {
			t.Errorf("name %q: header starts with solid", name)
		}
		for _, c := range data[:80] {
			if c > '~' || c > 0 && c < ' ' {
				t.Errorf("name %q: header %q is not ASCII", name, data[:80])
				break
			}
		}
	}
	cells := &geom.TriMesh{Vertices: []geom.Vec{{}, {X: 1}, {Y: 1}}, Triangles: [][3]int32{{0, 1, 2}, {0, 1, 1}}}
	data := binaryOf(t, cells, "")
	floats := func(facet int) (out [12]float32) {
		if _, err := binary.Decode(data[84+50*facet:], binary.LittleEndian, &out); err != nil {
			t.Fatal(err)
		}
		return out
	}
	if got, want := floats(0), [12]float32{0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1, 0}; got != want {
		t.Errorf("facet 0: got %v, want %v", got, want)
	}
	if got := floats(1); got[0] != 0 || got[1] != 0 || got[2] != 0 {
		t.Errorf("facet without area has normal %v, want zero", got[:3])
	}
}

func TestWriteRefuses(t *testing.T) {
	for name, m := range map[string]*geom.TriMesh{
		"index":  {Vertices: tetra.Vertices, Triangles: [][3]int32{{0, 1, 4}}},
		"minus":  {Vertices: tetra.Vertices, Triangles: [][3]int32{{0, 1, -1}}},
		"NaN":    {Vertices: []geom.Vec{{}, {X: math.NaN()}, {Y: 1}}, Triangles: [][3]int32{{0, 1, 2}}},
		"beyond": {Vertices: []geom.Vec{{}, {X: 1e39}, {Y: 1}}, Triangles: [][3]int32{{0, 1, 2}}},
	} {
		var out bytes.Buffer
		if Write(&out, m, "") == nil || writeASCII(&out, m, "") == nil || out.Len() > 0 {
			t.Errorf("%s: written without an error, or an error after %d bytes", name, out.Len())
		}
	}
}

func TestWritePassesOnWriteErrors(t *testing.T) {
	m := ball(9, 40, 40)
	size := len(binaryOf(t, m, ""))
	for _, room := range []int{0, 84, size / 2, size - 1} {
		r, w := io.Pipe()
		go func() {
			io.CopyN(io.Discard, r, int64(room))
			r.CloseWithError(io.ErrShortWrite)
		}()
		if err := Write(w, m, ""); !errors.Is(err, io.ErrShortWrite) {
			t.Errorf("room for %d bytes of %d: got %v, want a short write", room, size, err)
		}
	}
}

// What Rounded32 promises is what comes back from a file.
func TestRoundTrip(t *testing.T) {
	m := ball(7.3, 61, 33)
	want := geom.Rounded32(m)
	for _, data := range [][]byte{binaryOf(t, m, "ball"), []byte(asciiOf(t, m, "ball"))} {
		got, info, err := Decode(context.Background(), data)
		if err != nil {
			t.Fatal(err)
		}
		if info.Encoding == ASCII { // decimals of a float32 are read as float64
			got = geom.Rounded32(got)
		}
		if !reflect.DeepEqual(got.Triangles, want.Triangles) || !reflect.DeepEqual(got.Vertices, want.Vertices) {
			t.Errorf("%s: mesh differs after a round trip", info.Encoding)
		}
	}
}

func BenchmarkDecode(b *testing.B) {
	m := ball(20, 1000, 501) // 1 M triangles
	for _, bb := range []struct {
		name string
		data []byte
	}{{"binary", binaryOf(b, m, "")}, {"text", []byte(asciiOf(b, m, ""))}} {
		b.Run(bb.name, func(b *testing.B) {
			b.SetBytes(int64(len(bb.data)))
			b.ReportAllocs()
			for b.Loop() {
				if _, _, err := Decode(context.Background(), bb.data); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkWrite(b *testing.B) {
	m := ball(20, 1000, 501)
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(io.Discard, m, ""); err != nil {
			b.Fatal(err)
		}
	}
}

func TestDecodeEndsWithItsContext(t *testing.T) {
	over, cancel := context.WithCancel(context.Background())
	cancel()
	for _, data := range [][]byte{binaryOf(t, tetra, ""), []byte(asciiOf(t, tetra, ""))} {
		if _, _, err := Decode(over, data); !errors.Is(err, context.Canceled) {
			t.Errorf("got %v", err)
		}
	}
}

// writeASCII writes m as ASCII STL, each number with the fewest digits that give
// back its float32.
func writeASCII(w io.Writer, m *geom.TriMesh, name string) error {
	if err := writable(m); err != nil {
		return err
	}
	var b strings.Builder
	line := func(lead string, v geom.Vec) {
		fmt.Fprintf(&b, "%s %v %v %v\n", lead, float32(v.X), float32(v.Y), float32(v.Z))
	}
	fmt.Fprintf(&b, "solid %s\n", plain(name))
	for t := range m.Triangles {
		p, n := rounded(m, t)
		line("facet normal", n)
		b.WriteString("  outer loop\n")
		for _, v := range p {
			line("    vertex", v)
		}
		b.WriteString("  endloop\nendfacet\n")
	}
	fmt.Fprintf(&b, "endsolid %s\n", plain(name))
	_, err := io.WriteString(w, b.String())
	return err
}

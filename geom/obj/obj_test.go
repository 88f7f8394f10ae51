package obj

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"halfpour/geom"
)

// box is a box of 2 x 3 x 4 of which every face has four corners.
const box = `# invented demo data
mtllib ../../etc/passwd
o box
v 0 0 0
v 2 0 0
v 2 3 0
v 0 3 0
v 0 0 4
v 2 0 4
v 2 3 4
v 0 3 4
vt 0 0
vn 0 0 1
g sides
usemtl none
s off
f 4 3 2 1
f 5 6 7 8
f 1 2 6 5
f 2 3 7 6
f 3 4 8 7
f 4 1 5 8
`

// prism is the solid over a flat outline, from z = 0 to 1, its two ends faces
// of as many corners as the outline has.
func prism(outline ...[2]float64) string {
	var s strings.Builder
	n := len(outline)
	for z := range 2 {
		for _, p := range outline {
			fmt.Fprintf(&s, "v %v %v %d\n", p[0], p[1], z)
		}
	}
	s.WriteString("f")
	for i := n; i > 0; i-- {
		fmt.Fprintf(&s, " %d", i)
	}
	s.WriteString("\nf")
	for i := range n {
		fmt.Fprintf(&s, " %d", n+i+1)
	}
	s.WriteString("\n")
	for i := range n {
		j := (i + 1) % n
		fmt.Fprintf(&s, "f %d %d %d %d\n", i+1, j+1, n+j+1, n+i+1)
	}
	return s.String()
}

func TestDecodeVolumes(t *testing.T) {
	comb := [][2]float64{{0, 0}}
	for i := range 20 { // teeth 1 wide and 9 long, 1 apart, on a back 1 high
		x := float64(2 * i)
		comb = append(comb, [2]float64{x + 1, 0}, [2]float64{x + 1, -9}, [2]float64{x + 2, -9}, [2]float64{x + 2, 0})
	}
	comb = append(comb, [2]float64{40, 1}, [2]float64{0, 1})
	for _, tt := range []struct {
		name   string
		text   string
		volume float64 // by hand
	}{
		{"a box", box, 24},
		{"DOS line ends", strings.ReplaceAll(box, "\n", "\r\n"), 24},
		{"old Macintosh line ends", strings.ReplaceAll(box, "\n", "\r"), 24},
		{"a byte-order mark", "\ufeff" + box, 24},
		{"no line end at the end", strings.TrimSpace(box), 24},
		{"lines that go on", strings.ReplaceAll(box, "f 4 3 ", "f 4 \\\n 3\\\r\n "), 24},
		{"comments behind", strings.ReplaceAll(box, "\n", " # note\n"), 24},
		{"texture and normal", strings.NewReplacer("f 1 2 6 5", "f 1/1/1 2/1/1 6/1/1 5/1/1", "f 4 1 5 8", "f 4//1 1//1 5//1 8//1", "f 2 3 7 6", "f 2/1 3/1 7/1 6/1").Replace(box), 24},
		{"counted back", strings.Replace(box, "f 4 3 2 1", "f -5 -6 -7 -8", 1), 24},
		{"colours and weights", strings.Replace(box, "v 2 0 0", "v 2 0 0 0.5 0.5 1", 1), 24},
		{"tabs and blanks", strings.ReplaceAll(box, " ", " \t "), 24},
		{"lines and points", box + "l 1 2\np 3\np 4\n", 24},
		{"two objects", box + strings.NewReplacer("o box", "o second", "f ", "f -9 -9 -9\nf ").Replace(shifted(box, 10, 8)), 48},
		{"an L", prism([2]float64{0, 0}, [2]float64{2, 0}, [2]float64{2, 1}, [2]float64{1, 1}, [2]float64{1, 2}, [2]float64{0, 2}), 3},
		{"an arrow", prism([2]float64{0, 0}, [2]float64{2, 1}, [2]float64{0, 2}, [2]float64{0.5, 1}), 1.5},
		{"a vertex amid an edge", prism([2]float64{0, 0}, [2]float64{1, 0}, [2]float64{2, 0}, [2]float64{2, 2}, [2]float64{0, 2}), 4},
		{"a comb", prism(comb...), 40 + 20*9},
		{"a frame, its hole joined by a bridge", prism([2]float64{0, 0}, [2]float64{3, 0}, [2]float64{3, 3}, [2]float64{0, 3}, [2]float64{0, 0},
			[2]float64{1, 1}, [2]float64{1, 2}, [2]float64{2, 2}, [2]float64{2, 1}, [2]float64{1, 1}), 8},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m, info, err := Decode(context.Background(), []byte(tt.text))
			if err != nil {
				t.Fatal(err)
			}
			if got := m.Volume(); math.Abs(got-tt.volume) > 1e-9*tt.volume {
				t.Errorf("volume %v, want %v; %+v", got, tt.volume, info)
			}
			if _, err := geom.NewMeshSolid(m); err != nil {
				t.Error(err)
			}
			if info.Warp != 0 {
				t.Errorf("flat faces leave %g open", info.Warp)
			}
		})
	}
}

// shifted moves the vertices along x and counts the faces' corners on by n.
func shifted(text string, x float64, n int) string {
	var s strings.Builder
	for _, line := range strings.Split(strings.TrimSpace(text), "\n") {
		var a, b, c float64
		var i [4]int
		switch {
		case strings.HasPrefix(line, "v "):
			fmt.Sscanf(line, "v %g %g %g", &a, &b, &c)
			line = fmt.Sprintf("v %g %g %g", a+x, b, c)
		case strings.HasPrefix(line, "f "):
			fmt.Sscanf(line, "f %d %d %d %d", &i[0], &i[1], &i[2], &i[3])
			line = fmt.Sprintf("f %d %d %d %d", i[0]+n, i[1]+n, i[2]+n, i[3]+n)
		}
		s.WriteString(line + "\n")
	}
	return s.String()
}

func TestDecodeInfo(t *testing.T) {
	_, info, err := Decode(context.Background(), []byte(box+"l 1 2\nl 2 3\nf 1 1 2\n"))
	if err != nil {
		t.Fatal(err)
	}
	want := `{Name:box Objects:1 Groups:1 Faces:7 Polygons:6 Degenerate:1 Notes:[2 statements "l" left out: points, lines and curves enclose nothing] Warp:0 WarpLine:0}`
	if got := fmt.Sprintf("%+v", info); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

// Polygons that wind round a centre once are simple, however far their corners
// reach; in any plane, from any corner on, they have the area of their outline.
func TestPolygonsInAnyPlane(t *testing.T) {
	const seed = 71
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	for round := range 500 {
		n := 4 + rnd.IntN(60)
		x, y := geom.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}.Unit(), geom.Vec{}
		y = x.Cross(geom.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}).Unit()
		var c geom.PolygonCutter
		area, flat := 0.0, make([]geom.Vec2, n)
		for i := range flat {
			sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.8*rnd.Float64()) / float64(n))
			r := 0.2 + 5*rnd.Float64()
			flat[i] = geom.Vec2{X: r * cos, Y: r * sin}
			c.Points = append(c.Points, x.Mul(r*cos).Add(y.Mul(r*sin)).Add(geom.Vec{X: 3, Y: -4, Z: 5}))
		}
		for i, p := range flat {
			area += p.Cross(flat[(i+1)%n]) / 2
		}
		if !c.Cut() || len(c.Triangles) != n-2 {
			t.Fatalf("round %d: %d corners gave %d triangles", round, n, len(c.Triangles))
		}
		sum := 0.0
		for _, k := range c.Triangles {
			a, b, d := c.Points[k[0]], c.Points[k[1]], c.Points[k[2]]
			sum += b.Sub(a).Cross(d.Sub(a)).Dot(x.Cross(y)) / 2
		}
		if math.Abs(sum-area) > 1e-9*area || warpOf(&c) != 0 && n > 4 {
			t.Errorf("round %d: area %v, want %v; warp %g", round, sum, area, warpOf(&c))
		}
	}
}

// A face of four corners, one of them lifted by h over a square of side a, may
// hold a tetrahedron of a²/2 · h/3 more or less.
func TestWarp(t *testing.T) {
	text := strings.Replace(box, "v 2 3 4", "v 2 3 4.3", 1)
	m, info, err := Decode(context.Background(), []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	want := 2 * 3 * 0.3 / 6 // top; the sides stay flat
	if math.Abs(info.Warp-want) > 1e-12 || info.WarpLine != 18 {
		t.Errorf("warp %v at line %d, want %v at 18", info.Warp, info.WarpLine, want)
	}
	// The one cut or the other: a corner's half of the top, or its quarter.
	if v := m.Volume(); math.Abs(v-24-0.6) > 0.3+1e-9 {
		t.Errorf("volume %v", v)
	}
}

func TestDecodeRefuses(t *testing.T) {
	tri := "v 0 0 0\nv 1 0 0\nv 0 1 0\n"
	for _, tt := range []struct {
		name, text string
		rule       Rule
		detail     string
	}{
		{"nothing", "", RuleEmpty, "the file is empty"},
		{"no faces", tri, RuleNoTriangles, "there are no faces"},
		{"a point only", tri + "f 1 1 1\n", RuleNoTriangles, "there are no faces"},
		{"another format", "solid x\nfacet", RuleKeyword, `line 1: expected v, f or another word of the format, got "solid"`},
		{"a picture", "\x89PNG\r\n\x1a\n", RuleKeyword, "line 1"},
		{"two numbers", "v 1 2\n", RuleNumber, "line 1: a vertex has 2 numbers, expected 3"},
		{"no number", "v 1 2 x\n", RuleNumber, `line 1: expected a number, got "x"`},
		{"a decimal comma", "v 1 2 3,5\n", RuleNumber, "decimal point"},
		{"hex", "v 1 2 0x3p1\n", RuleNumber, "0x3p1"},
		{"infinity", "v 1 2 Inf\n", RuleNonFinite, "not a finite number"},
		{"beyond float32", "v 1 2 1e39\n", RuleNonFinite, "1e39"},
		{"index too high", tri + "f 1 2 4\n", RuleIndex, "line 4: vertex 4 is not among the 3 before this line"},
		{"index zero", tri + "f 0 1 2\n", RuleIndex, "vertex 0"},
		{"index before the first", tri + "f -4 1 2\n", RuleIndex, "vertex -4"},
		{"index beyond an int", tri + "f 99999999999999999999 1 2\n", RuleNumber, "99999999999"},
		{"index in letters", tri + "f a 1 2\n", RuleNumber, `got "a"`},
		{"normal in letters", tri + "f 1//x 1 2\n", RuleNumber, `got "1//x"`},
		{"four parts", tri + "f 1/1/1/1 1 2\n", RuleNumber, "1/1/1/1"},
		{"two corners", tri + "f 1 2\n", RuleCorners, "line 4: a face has 2 corners"},
		{"a bow tie", "v 0 0 0\nv 2 2 0\nv 2 0 0\nv 0 1 0\nf 1 2 3 4\n", RulePolygon, "line 5: the face of 4 corners crosses itself"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m, _, err := Decode(context.Background(), []byte(tt.text))
			var got *FormatError
			if !errors.As(err, &got) || m != nil {
				t.Fatalf("got %v, %v; want a FormatError", m, err)
			}
			if got.Rule != tt.rule || !strings.Contains(got.Error(), tt.detail) {
				t.Errorf("got %s, %q; want %s, %q", got.Rule, got, tt.rule, tt.detail)
			}
		})
	}
	for name, text := range map[string]string{
		"a surface":         box + "surf 0 1 0 1 1 2 3 4\n",
		"another file":      box + "call other.obj\n",
		"a shell's command": box + "csh rm x\n",
		"too many corners":  tri + "f" + strings.Repeat(" 1 2", maxCorners),
	} {
		var got *UnsupportedError
		if _, _, err := Decode(context.Background(), []byte(text)); !errors.As(err, &got) || got.Line == 0 {
			t.Errorf("%s: got %v, want an UnsupportedError with its line", name, err)
		}
	}
}

func TestLikely(t *testing.T) {
	for text, want := range map[string]bool{
		box: true, "# x\n\nv 0 0 0": true, "mtllib a": true,
		"": false, "# x": false, "solid x": false, "v 1\x00": false, "PK\x03\x04": false, "vertex 1 2 3": false,
	} {
		if got := Likely([]byte(text)); got != want {
			t.Errorf("%.20q: got %v", text, got)
		}
	}
}

// Reading ends with its context, and within seconds where each line is a face of
// many corners.
func TestDecodeEndsWithItsContext(t *testing.T) {
	over, cancel := context.WithCancel(context.Background())
	cancel()
	for _, text := range []string{"v 0 0 0\nf" + strings.Repeat(" 1", manyWords) + "\n", strings.Repeat("\n", seldom)} {
		if _, _, err := Decode(over, []byte(text)); !errors.Is(err, context.Canceled) {
			t.Errorf("got %v", err)
		}
	}
}

package head

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"halfpour/examples/heads"
	"halfpour/geom"
	"halfpour/geom/stl"
	"halfpour/geom/threemf"
)

// Loose triangles are what the files of heads hold; breaking them breaks a mesh.
type loose [][3]geom.Vec

func loosen(m *geom.TriMesh) loose {
	list := make(loose, len(m.Triangles))
	for t := range list {
		list[t][0], list[t][1], list[t][2] = m.Corners(t)
	}
	return list
}

func (l loose) points() (list []geom.Vec) {
	for _, f := range l {
		list = append(list, f[:]...)
	}
	return list
}

func (l loose) moved(f func(geom.Vec) geom.Vec) loose {
	out := make(loose, len(l))
	for t := range l {
		out[t] = [3]geom.Vec{f(l[t][0]), f(l[t][1]), f(l[t][2])}
	}
	return out
}

func (l loose) by(x, y, z float64) loose {
	return l.moved(func(v geom.Vec) geom.Vec { return v.Add(geom.Vec{X: x, Y: y, Z: z}) })
}

func (l loose) times(k float64) loose {
	return l.moved(func(v geom.Vec) geom.Vec { return v.Mul(k) })
}

func (l loose) turned() loose {
	out := make(loose, len(l))
	for t, f := range l {
		out[t] = [3]geom.Vec{f[0], f[2], f[1]}
	}
	return out
}

func (l loose) and(more ...[3]geom.Vec) loose { return append(append(loose{}, l...), more...) }

// without drops the facets that have a corner within r of p.
func (l loose) without(p geom.Vec, r float64) (out loose) {
	for _, f := range l {
		if f[0].Dist(p) > r && f[1].Dist(p) > r && f[2].Dist(p) > r {
			out = append(out, f)
		}
	}
	return out
}

func (l loose) binary(t *testing.T) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := stl.Write(&out, geom.Weld(l.points()), "a head, invented demo data"); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// text is the ASCII form to all digits.
func (l loose) text() string {
	var s strings.Builder
	s.WriteString("solid head\n")
	for _, f := range l {
		s.WriteString("facet normal 0 0 0\nouter loop\n")
		for _, v := range f {
			fmt.Fprintf(&s, "vertex %v %v %v\n", v.X, v.Y, v.Z)
		}
		s.WriteString("endloop\nendfacet\n")
	}
	return s.String() + "endsolid head\n"
}

// brokenHead is a head broken in a known way and what must come of it: its
// volume, or a refusal.
type brokenHead struct {
	name    string
	file    string // its ending tells the format
	data    []byte
	volume  float64 // in parts of the good head's; 0 for a refusal
	within  float64 // of the volume, relative
	says    []string
	nothing bool // no finding at all
}

const brokenRadius = 5.1

// goodHead is a ball of some 8000 facets.
func goodHead() loose { return loosen(heads.Ball(2*brokenRadius, 24)) }

func TestBrokenHeads(t *testing.T) {
	good := goodHead()
	whole := geom.Weld(good.points()).Volume()
	var list []brokenHead
	list = append(list, brokenFacets(t, good)...)
	list = append(list, brokenShells(t, good)...)
	list = append(list, brokenFiles(t, good)...)
	list = append(list, brokenFormats(t, good)...)
	for _, b := range list {
		t.Run(b.name, func(t *testing.T) {
			h, err := loadBroken(t, b)
			if b.volume == 0 {
				var refused *Error
				if !errors.As(err, &refused) {
					t.Fatalf("got %v, want a refusal", err)
				}
				said := ""
				for _, p := range refused.Problems {
					said += p.Message + "\n" + strings.Join(p.Hints, "\n") + "\n"
					if p.Rule == "" {
						t.Errorf("%q has no rule", p.Message)
					}
				}
				holdsAll(t, said, b.says)
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			checkBroken(t, h, b, whole)
		})
	}
}

func loadBroken(t *testing.T, b brokenHead) (*Head, error) {
	t.Helper()
	h, err := Read(context.Background(), b.file, b.data)
	if err != nil {
		return nil, err
	}
	_, err = h.LookForCrossing(context.Background())
	return h, err
}

func checkBroken(t *testing.T, h *Head, b brokenHead, whole float64) {
	t.Helper()
	said := ""
	for _, f := range h.Findings {
		said += fmt.Sprintf("%s: %s; %s\n", f.Severity, f.Message, f.Remedy)
	}
	holdsAll(t, said, b.says)
	if b.nothing && said != "" {
		t.Errorf("said %q", said)
	}
	got, err := geom.Integrate(context.Background(), h.Solid, geom.IntegrateOptions{RelTol: 1e-5})
	if err != nil {
		t.Fatal(err)
	}
	off := got.Best/whole/b.volume - 1
	t.Logf("volume off by %.1e; said: %s", off, said)
	if math.Abs(off) > b.within {
		t.Errorf("volume %.4f of the good head's, want %.4f within %.1e", got.Best/whole, b.volume, b.within)
	}
}

func holdsAll(t *testing.T, said string, wanted []string) {
	t.Helper()
	for _, w := range wanted {
		if !strings.Contains(said, w) {
			t.Errorf("said %q, want in it %q", said, w)
		}
	}
}

const (
	exactly  = 2e-5 // what the volume is integrated to
	mendedBy = mostOpen
)

// brokenFacets are heads with single facets amiss.
func brokenFacets(t *testing.T, good loose) []brokenHead {
	const seed = 9
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	mid := func(f [3]geom.Vec) geom.Vec { return f[0].Lerp(f[1], 0.5) }
	some := good[100:110]
	twice := good.and(some...)
	faceToFace := good.and(loose(some[:1]).turned()...)
	flipped, jointed, apart := good.and(), loose{}, good.and()
	for range 20 {
		i := rnd.IntN(len(flipped))
		flipped[i] = [3]geom.Vec{good[i][0], good[i][2], good[i][1]}
	}
	for i, f := range good { // every 200th facet has its first edge in two
		if i%200 == 0 {
			jointed = append(jointed, [3]geom.Vec{f[0], mid(f), f[2]}, [3]geom.Vec{mid(f), f[1], f[2]})
			for k := range f {
				apart[i][k] = f[k].Add(geom.Vec{X: 2e-5 * rnd.Float64(), Y: 2e-5 * rnd.Float64()})
			}
			continue
		}
		jointed = append(jointed, f)
	}
	scattered := good.and()
	for i := range scattered {
		for k := range scattered[i] {
			scattered[i][k].X += 2e-5 * rnd.Float64()
		}
	}
	patch := good.and()
	for i := range patch[:len(patch)/3] {
		patch[i] = [3]geom.Vec{good[i][0], good[i][2], good[i][1]}
	}
	f, nose := good[300], geom.Vec{X: -brokenRadius}
	up := geom.Vec{Z: 0.1}
	return []brokenHead{
		{"sound", "head.stl", good.binary(t), 1, exactly, nil, true},
		{"some facets twice", "head.stl", twice.binary(t), 1, exactly, []string{"warn", "10 duplicate facets left out; first near ("}, false},
		{"every facet twice", "head.stl", good.and(good...).binary(t), 1, exactly, []string{"duplicate facets left out"}, false},
		{"a facet twice, face to face", "head.stl", faceToFace.binary(t), 1, exactly, []string{"1 duplicate facet left out"}, false},
		{"every facet twice, face to face", "head.stl", good.and(good.turned()...).binary(t), 0, 0, []string{"does not enclose a volume", "duplicate triangles; first at triangle"}, false},
		{"facets with two equal corners", "head.stl", []byte(good.and([3]geom.Vec{f[0], f[0], f[1]}, [3]geom.Vec{f[2], f[1], f[2]}).text()), 1, exactly, []string{"note", "2 facets without area left out"}, false},
		{"a facet without area", "head.stl", good.and([3]geom.Vec{f[0], f[1], mid(f)}).binary(t), 1, exactly, []string{"1 stray facet left out near ("}, false},
		{"a few facets turned over", "head.stl", flipped.binary(t), 1, exactly, []string{"facets that faced the other way turned over; first near ("}, false},
		{"a third of the facets turned over", "head.stl", patch.binary(t), 1, exactly, []string{"facets that faced the other way turned over; first near ("}, false},
		{"T-joints", "head.stl", []byte(jointed.text()), 1, exactly, []string{"facets split at neighbours' corners on their edges; first near ("}, false},
		{"corners a rounding apart", "head.stl", []byte(apart.text()), 1, exactly, []string{"corners joined to others a rounding apart; first near ("}, false},
		{"all corners a rounding apart", "head.stl", []byte(scattered.text()), 0, 0, []string{"open edges; first at triangle 0 near (", "close the head"}, false},
		{"a facet missing", "head.stl", append(good[:50:50], good[51:]...).binary(t), 1, mendedBy, []string{"1 hole filled near (", "% of the volume uncertain"}, false},
		{"a corner's facets missing", "head.stl", good.without(nose, 0.01).binary(t), 1, mendedBy, []string{"1 hole filled near (-5.", "% of the volume uncertain"}, false},
		{"a large hole", "head.stl", good.without(nose, 1.5).binary(t), 0, 0, []string{"open edges; first at triangle", "filling its holes flat would leave", "the limit is 0.05 %"}, false},
		{"half of it missing", "head.stl", good.without(nose, 6).binary(t), 0, 0, []string{"open edges", "close the head"}, false},
		{"a stray facet inside", "head.stl", good.and([3]geom.Vec{{}, {X: 0.1}, {Y: 0.1}}).binary(t), 1, exactly, []string{"1 stray facet left out near (0.0, 0.0, 0.0)"}, false},
		{"a stray facet far off", "head.stl", good.and([3]geom.Vec{{X: 90}, {X: 90.1}, {X: 90, Y: 0.1}}).binary(t), 1, exactly, []string{"1 stray facet left out near (90.0, 0.0, 0.0)"}, false},
		{"a fin on an edge", "head.stl", good.and([3]geom.Vec{f[0], f[1], mid(f).Add(up)}).binary(t), 1, mendedBy, []string{"1 stray facet left out near ("}, false},
		{"a large stray facet", "head.stl", good.and([3]geom.Vec{{}, {X: 4}, {Y: 4}}).binary(t), 0, 0, []string{"3 open edges; first at triangle 8", "would leave"}, false},
	}
}

// brokenShells are heads with whole shells amiss.
func brokenShells(t *testing.T, good loose) []brokenHead {
	whole := good.mesh().Volume()
	cube := loosen(block(10, 10, 10))
	wall := loose{}
	for i := range 3 { // across the ball, two facets face to face each
		a, b := 2*math.Pi*float64(i)/3, 2*math.Pi*float64(i+1)/3
		f := [3]geom.Vec{{}, {Y: 2 * math.Cos(a), Z: 2 * math.Sin(a)}, {Y: 2 * math.Cos(b), Z: 2 * math.Sin(b)}}
		wall = append(wall, f, [3]geom.Vec{f[0], f[2], f[1]})
	}
	small := good.times(0.3)
	tip := good[0][0]
	return []brokenHead{
		{"inside out", "head.stl", good.turned().binary(t), 0, 0, []string{"1 shell turned inside out at triangle 0", "flip the normals"}, false},
		{"two shells that overlap", "head.stl", cube.and(cube.by(6, 0, 0)...).binary(t), 1600 / whole, exactly, []string{"2 separate shells"}, false},
		{"two shells that overlap, one inside out", "head.stl", good.and(small.by(3, 3, 0).turned()...).binary(t), 0, 0,
			[]string{"is inside out and cuts through another", "flip the normals"}, false},
		{"a shell inside out beside it", "head.stl", good.and(small.by(20, 0, 0).turned()...).binary(t), 0, 0, []string{"inside out"}, false},
		{"a shell within, as it should face", "head.stl", good.and(small...).binary(t), 1, exactly, []string{"2 separate shells"}, false},
		{"a hollow", "head.stl", good.and(small.turned()...).binary(t), 1, exactly, []string{"warn", "1 hollow inside, 17", "mm³, counted as metal: no rubber can get in"}, false},
		{"a wall of two faces within", "head.stl", good.and(wall...).binary(t), 1, exactly, []string{"6 duplicate facets left out"}, false},
		{"two shells that touch in a corner", "head.stl", good.and(good.moved(func(v geom.Vec) geom.Vec { return tip.Mul(2).Sub(v) }).turned()...).binary(t), 2, 1e-4,
			[]string{"vertex where separate fans of triangles meet"}, false},
		{"a shell as far as a float goes", "head.stl", good.and(small.by(1e38, 0, 0)...).binary(t), 0, 0, []string{"corners more than 1e+09 mm from the origin", "move the head to the origin"}, false},
		{"a shell too small for a float", "head.stl", good.and(small.times(1e-40)...).binary(t), 1, exactly, nil, false},
	}
}

// brokenFiles are STL files that say more or else than they should.
func brokenFiles(t *testing.T, good loose) []brokenHead {
	bin, text := good.binary(t), good.text()
	normals := func(put func(i int) [12]byte) []byte {
		out := bytes.Clone(bin)
		for i := range good {
			n := put(i)
			copy(out[84+50*i:], n[:])
		}
		return out
	}
	named := append([]byte(fmt.Sprintf("%-80s", "solid head exported as text, so it says")), bin[80:]...)
	nan := bytes.Clone(bin)
	copy(nan[84+50*7+12:], "\x00\x00\xc0\x7f")
	promises := bytes.Clone(bin)
	copy(promises[80:], "\xff\xff\xff\xff")
	return []brokenHead{
		{"normals of no length", "head.stl", normals(func(int) [12]byte { return [12]byte{} }), 1, exactly, nil, true},
		{"normals without sense", "head.stl", normals(func(int) [12]byte { return [12]byte{0, 0, 0xc0, 0x7f, 1, 2, 3, 4, 0xff, 0xff, 0xff, 0xff} }), 1, exactly, nil, true},
		{"bytes behind the last facet", "head.stl", append(bytes.Clone(bin), "made on a Monday"...), 1, exactly, []string{"16 bytes after the last facet ignored"}, false},
		{"solid in a binary header", "head.stl", named, 1, exactly, nil, true},
		{"solid in a binary header, bytes behind", "head.stl", append(bytes.Clone(named), 0, 0), 1, exactly, []string{"2 bytes after the last facet ignored"}, false},
		{"DOS line ends", "head.stl", []byte(strings.ReplaceAll(text, "\n", "\r\n")), 1, exactly, nil, true},
		{"upper case and tabs", "head.stl", []byte(strings.ReplaceAll(strings.ToUpper(text), " ", "\t")), 1, exactly, nil, true},
		{"two solids in one text", "head.stl", []byte(text + good.by(20, 0, 0).text()), 2, exactly, []string{"2 solids are combined into the head"}, false},
		{"words behind the last solid", "head.stl", []byte(text + "made on a Monday"), 1, exactly, []string{"bytes after the last endsolid ignored"}, false},
		{"text cut off", "head.stl", []byte(text[:len(text)/2]), 0, 0, []string{"line 2", "export the head from your CAD program as STL again"}, false},
		{"binary cut off", "head.stl", bin[:len(bin)/2], 0, 0, []string{"the file is cut short: its header promises"}, false},
		{"a corner that is no number", "head.stl", nan, 0, 0, []string{"facet 8 has a corner that is not a finite number"}, false},
		{"a header that promises 4 billion facets", "head.stl", promises, 0, 0, []string{"promises 4294967295 facets"}, false},
	}
}

// brokenFormats are heads in the other formats.
func brokenFormats(t *testing.T, good loose) []brokenHead {
	obj := func(l loose) string {
		m := geom.Weld(l.points())
		var s strings.Builder
		for _, v := range m.Vertices {
			fmt.Fprintf(&s, "v %v %v %v\n", v.X, v.Y, v.Z)
		}
		for _, c := range m.Triangles {
			fmt.Fprintf(&s, "f %d %d %d\n", c[0]+1, c[1]+1, c[2]+1)
		}
		return s.String()
	}
	zip := func(objects ...threemf.Object) []byte {
		var out bytes.Buffer
		if err := threemf.Write(&out, threemf.Package{Objects: objects}); err != nil {
			t.Fatal(err)
		}
		return out.Bytes()
	}
	ball := geom.Weld(good.points())
	body := threemf.Object{Name: "body", Mesh: ball}
	// A cube of 10 mm, one corner of its top lifted by 1 mm: 1000 mm³ and a
	// pyramid of 1/3 or 1/6 of 100 mm³, as the top is cut.
	cube := "v 0 0 0\nv 10 0 0\nv 10 10 0\nv 0 10 0\nv 0 0 10\nv 10 0 10\nv 10 10 11\nv 0 10 10\n" +
		"f 4 3 2 1\nf 5 6 7 8\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8\n"
	return []brokenHead{
		{"OBJ", "head.obj", []byte(obj(good)), 1, exactly, nil, true},
		{"OBJ by another name", "head.stl", []byte("# a comment\n" + obj(good)), 1, exactly, nil, true},
		{"OBJ of two objects", "head.obj", []byte("o a\n" + obj(good) + "o b\nl 1 2\n"), 1, exactly, []string{"2 objects are combined into the head", `1 statements "l" left out`}, false},
		{"OBJ with faces that are not flat", "head.obj", []byte(cube), 1025 / geom.Weld(good.points()).Volume(), 0.02,
			[]string{"warn", "faces that are not flat leave 1.6 % of its volume uncertain, most of all the face on line 10"}, false},
		{"OBJ with a hole", "head.obj", []byte(cube[:len(cube)-len("f 4 1 5 8\n")]), 0, 0, []string{"4 open edges"}, false},
		{"OBJ that is a picture", "head.obj", []byte("\x89PNG\r\n"), 0, 0, []string{"has only 6 bytes, too short for a mesh"}, false},
		{"3MF", "head.3mf", zip(body), 1, exactly, []string{"note", "on its plate; halfpour measures from the object's own origin"}, false},
		{"3MF by another name", "head.stl", zip(body), 1, exactly, nil, false},
		{"3MF of two objects", "head.3mf", zip(body, threemf.Object{Name: "eye", Mesh: good.times(0.3).mesh(), Offset: geom.Vec{X: 30}}), 1.027, exactly,
			[]string{"warn", `2 objects on its plate are combined into the head: "body", "eye"`}, false},
		{"3MF cut off", "head.3mf", zip(body)[:2000], 0, 0, []string{"not a 3MF file", "as 3MF again"}, false},
		{"no bytes by the name of 3MF", "head.3mf", nil, 0, 0, []string{"the file is empty"}, false},
		{"binary STL by the name of OBJ", "head.obj", good.binary(t), 1, exactly, nil, true},
		{"binary STL with bytes behind by the name of OBJ", "head.obj", append(good.binary(t), 0, 0), 1, exactly, []string{"2 bytes after the last facet ignored"}, false},
		{"text STL by the name of OBJ", "head.obj", []byte(good.text()), 1, exactly, nil, true},
		{"binary STL by the name of 3MF", "head.3mf", good.binary(t), 1, exactly, nil, true},
	}
}

// block is a box from the origin on.
func block(x, y, z float64) *geom.TriMesh {
	m := &geom.TriMesh{}
	for i := range 8 {
		m.Vertices = append(m.Vertices, geom.Vec{X: x * float64(i&1), Y: y * float64(i>>1&1), Z: z * float64(i>>2)})
	}
	for _, q := range [][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Triangles = append(m.Triangles, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	return m
}

func (l loose) mesh() *geom.TriMesh { return geom.Weld(l.points()) }

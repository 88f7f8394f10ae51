package stl_test

import (
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/geom/stl"
)

// outsideVariable, when set, has the tests run that need another program;
// .ci/run installs it and sets this.
const outsideVariable = "HALFPOUR_OUTSIDE"

// tree is a constructive solid that both programs can make: a mesh, or its children
// put together.
type tree struct {
	op       string // union, difference or intersection; "" for a mesh
	children []tree
	mesh     *geom.TriMesh
}

func leaf(m *geom.TriMesh) tree           { return tree{mesh: m} }
func of(op string, children ...tree) tree { return tree{op: op, children: children} }
func at(x, y, z float64) geom.Vec         { return geom.Vec{X: x, Y: y, Z: z} }
func (n tree) solids() (s []geom.Solid, err error) {
	for _, k := range n.children {
		child, err := k.solid()
		if err != nil {
			return nil, err
		}
		s = append(s, child)
	}
	return s, nil
}

func (n tree) solid() (geom.Solid, error) {
	if n.op == "" {
		return geom.NewMeshSolid(n.mesh)
	}
	children, err := n.solids()
	if err != nil {
		return nil, err
	}
	switch n.op {
	case "union":
		return geom.Union(children...), nil
	case "intersection":
		return geom.Intersect(children...), nil
	}
	return geom.Subtract(children[0], geom.Union(children[1:]...)), nil
}

// write writes the other program's language, in which faces go clockwise.
func (n tree) write(w *strings.Builder) {
	if n.op != "" {
		w.WriteString(n.op + "() {\n")
		for _, k := range n.children {
			k.write(w)
		}
		w.WriteString("}\n")
		return
	}
	w.WriteString("polyhedron(points = [")
	for _, v := range n.mesh.Vertices {
		fmt.Fprintf(w, "[%.17g,%.17g,%.17g],", v.X, v.Y, v.Z)
	}
	w.WriteString("], faces = [")
	for _, t := range n.mesh.Triangles {
		fmt.Fprintf(w, "[%d,%d,%d],", t[0], t[2], t[1])
	}
	w.WriteString("]);\n")
}

// turned is a polyhedron about the way from a to b: rings of corners, each
// given by how far along it lies and its radius, closed at its ends.
func turned(a, b geom.Vec, sides int, rings ...[2]float64) tree {
	along := b.Sub(a).Unit()
	u := along.Cross(at(0.3, 0.5, 0.8)).Unit()
	v := along.Cross(u)
	m := &geom.TriMesh{Vertices: []geom.Vec{a.Add(along.Mul(rings[0][0])), a.Add(along.Mul(rings[len(rings)-1][0]))}}
	for _, ring := range rings {
		for i := range sides {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(sides))
			m.Vertices = append(m.Vertices, a.Add(along.Mul(ring[0])).Add(u.Mul(ring[1]*cos)).Add(v.Mul(ring[1]*sin)))
		}
	}
	corner := func(ring, i int) int32 { return int32(2 + ring*sides + i%sides) }
	last := len(rings) - 1
	for i := range sides {
		m.Triangles = append(m.Triangles, [3]int32{0, corner(0, i+1), corner(0, i)}, [3]int32{1, corner(last, i), corner(last, i+1)})
		for r := range last {
			p, q, s, t := corner(r, i), corner(r, i+1), corner(r+1, i+1), corner(r+1, i)
			m.Triangles = append(m.Triangles, [3]int32{p, q, s}, [3]int32{p, s, t})
		}
	}
	return leaf(m)
}

func frustum(a, b geom.Vec, from, to float64) tree {
	return turned(a, b, 32, [2]float64{0, from}, [2]float64{b.Sub(a).Norm(), to})
}

func ball(c geom.Vec, r float64) tree {
	const rings = 12
	var list [][2]float64
	for i := range rings {
		sin, cos := math.Sincos(math.Pi * (float64(i) + 0.5) / rings)
		list = append(list, [2]float64{-r * cos, r * sin})
	}
	return turned(c, c.Add(at(0, 0, 1)), 24, list...)
}

func block(low, high geom.Vec) tree {
	m := &geom.TriMesh{}
	for i := range 8 {
		p := low
		if i&1 != 0 {
			p.X = high.X
		}
		if i&2 != 0 {
			p.Y = high.Y
		}
		if i&4 != 0 {
			p.Z = high.Z
		}
		m.Vertices = append(m.Vertices, p)
	}
	for _, q := range [][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Triangles = append(m.Triangles, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	return leaf(m)
}

// Measures of the ball jig's frame (examples/ball-jig), rounded: what a tray
// with half a head, a wire's bed, a sprue, a vent and keys is made of, without
// text, draft and round corners.
func trayTrees() map[string]tree {
	const x, y, wall, floor, high = 20.8, 37.7, 2.0, 2.4, 17.75
	box := block(at(-x-wall, -y-wall, -floor), at(x+wall, y+wall, high))
	room := block(at(-x, -y, 0), at(x, y, high+1))
	head := ball(at(0.3, 8.2, 0.05), 5.15)
	wire := of("union", frustum(at(0.3, 9, 0), at(-9.1, 9.4, 0), 0.6, 0.6), ball(at(-9.1, 9.4, 0), 0.62),
		frustum(at(-9.1, 9.4, 0), at(-9.4, -17, 0), 0.6, 0.6))
	sprue := of("union", frustum(at(0.2, 21, 0.03), at(0.1, y+1, 0.02), 2, 6.2), frustum(at(0.3, 11, 0), at(0.2, 22, 0), 1.6, 2))
	vent := frustum(at(4.1, 11.1, 0.01), at(9.3, y+1, 0), 0.4, 0.4)
	keys := of("union", ball(at(-15.2, 30.1, -1.1), 4.1), ball(at(15.4, -29.8, -1.2), 4.1))
	sockets := of("union", ball(at(15.1, 29.9, 1.3), 4.2), ball(at(-15.3, -30.2, 1.2), 4.2))
	stands := of("intersection", of("union", head, wire, sprue, vent, keys), block(at(-x-1, -y-1, -1), at(x+1, y+1, high)))
	tray := of("difference", of("union", of("difference", box, room), stands), sockets)
	return map[string]tree{
		"tray":   tray,
		"rubber": of("difference", block(at(-x-1, -y-1, -floor+1), at(x+1, y+1, high-3)), tray),
		"metal":  of("difference", of("union", head, sprue, vent), wire),
	}
}

// The other program's booleans share no code with ours.
func TestVolumesOfAnotherProgram(t *testing.T) {
	if os.Getenv(outsideVariable) == "" {
		t.Skipf("needs openscad and half a minute: set %s=1, as .ci/run does", outsideVariable)
	}
	program, err := exec.LookPath("openscad")
	if err != nil {
		t.Fatal(err)
	}
	for name, n := range trayTrees() {
		t.Run(name, func(t *testing.T) {
			var text strings.Builder
			n.write(&text)
			dir := t.TempDir()
			in, out := filepath.Join(dir, "in.scad"), filepath.Join(dir, "out.stl")
			if err := os.WriteFile(in, []byte(text.String()), 0o644); err != nil {
				t.Fatal(err)
			}
			if said, err := exec.Command(program, "-o", out, in).CombinedOutput(); err != nil {
				t.Fatalf("%v: %s", err, said)
			}
			data, err := os.ReadFile(out)
			if err != nil {
				t.Fatal(err)
			}
			theirs, info, err := stl.Decode(context.Background(), data)
			if err != nil {
				t.Fatal(err)
			}
			checkAgainst(t, n, theirs, info)
		})
	}
}

func checkAgainst(t *testing.T, n tree, theirs *geom.TriMesh, info stl.Info) {
	t.Helper()
	s, err := n.solid()
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	measured, err := geom.Integrate(ctx, s, geom.IntegrateOptions{RelTol: 1e-5})
	if err != nil {
		t.Fatal(err)
	}
	meshed, err := geom.Mesh(ctx, s, geom.MeshOptions{Tolerance: 0.02})
	if err != nil {
		t.Fatal(err)
	}
	want := theirs.Volume()
	t.Logf("theirs %.4f mm³ (%s, %d facets); measured %.4f (off %.1e), meshed %.4f (off %.1e)", want, info.Encoding, info.Facets,
		measured.Best, measured.Best/want-1, meshed.Volume(), meshed.Volume()/want-1)
	const written = 2e-5 // of the volume: their file holds six digits
	if math.Abs(measured.Best-want) > written*want {
		t.Errorf("measured %v, theirs is %v", measured.Best, want)
	}
	if want < measured.Lo*(1-written) || want > measured.Hi*(1+written) {
		t.Errorf("theirs is %v, outside the certified %v to %v", want, measured.Lo, measured.Hi)
	}
	if math.Abs(meshed.Volume()-want) > 5e-4*want {
		t.Errorf("meshed %v, theirs is %v", meshed.Volume(), want)
	}
}

package column

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"halfpour/geom"
	"halfpour/geom/geomtest"
)

func meshSolidOf(t testing.TB, m *geom.TriMesh) *geom.MeshSolid {
	t.Helper()
	s, err := geom.NewMeshSolid(m)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The lines of a mesh, placed anyhow, are those of its values.
func TestColumnsOfMesh(t *testing.T) {
	body := geom.Subtract(geom.Union(geom.Ball(geom.Vec{}, 4), geom.Block(geom.Box{Min: geom.Vec{X: -1, Y: -6, Z: -1}, Max: geom.Vec{X: 2, Y: 3, Z: 5}})), geom.Capsule(geom.Vec{X: -5, Y: 0, Z: 1}, geom.Vec{X: 5, Y: 1, Z: 2}, 0.8))
	mesh, err := geom.Mesh(context.Background(), body, geom.MeshOptions{Tolerance: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	for _, to := range []geom.Transform{
		geom.Identity(), geom.MirrorY(), geom.Rotate(geom.Vec{X: 1, Y: 2, Z: 3}, 1).Then(geom.Scale(1.3)).Then(geom.Move(geom.Vec{X: 4, Y: 5, Z: 6})), geom.Rotate(geom.Vec{X: 1}, math.Pi/2),
	} {
		s := to.Solid(meshSolidOf(t, mesh))
		c := columnsOf(t, s, Options{Step: 0.3})
		cutter := lineCutter{c, 1}
		box := s.BoundingBox()
		want, err := cutter.byValues(context.Background(), s, lineRange{0, c.NX, 0, c.NY, box.Min.Z, box.Max.Z})
		if err != nil {
			t.Fatal(err)
		}
		length := 0.0
		for j := range c.NY {
			for i := range c.NX {
				a, b := coveredBy(c.Line(i, j)), coveredBy(*want.line(i, j))
				length += a
				if math.Abs(a-b) > 0.05 { // a grazing line may be missed by its values
					t.Errorf("line (%d, %d): %.4f mm by triangles, %.4f by values", i, j, a, b)
				}
			}
		}
		if v := length * 0.09; math.Abs(v-mesh.Volume()*to.Factor()*to.Factor()*to.Factor()) > 0.02*v {
			t.Errorf("the lines hold %.2f mm³, the mesh %.2f", v, mesh.Volume())
		}
	}
}

func coveredBy(line []Stretch) float64 {
	sum := 0.0
	for _, s := range line {
		sum += s.Hi - s.Lo
	}
	return sum
}

// Lines that run along faces and through edges and corners pass in as often as
// out, and none slips through.
func TestColumnsOnEdges(t *testing.T) {
	box := geom.Box{Min: geom.Vec{X: -2, Y: -2, Z: -1}, Max: geom.Vec{X: 2, Y: 2, Z: 1}}
	c := columnsOf(t, meshSolidOf(t, geomtest.BlockMesh(box)), Options{Step: 0.5, Within: box.Grow(1)})
	for j := range c.NY {
		for i := range c.NX {
			p := c.At(i, j, 0)
			in := math.Max(math.Abs(p.X), math.Abs(p.Y)) < 2-1e-9
			line := c.Line(i, j)
			if in && (len(line) != 1 || line[0] != Stretch{-1, 1}) {
				t.Errorf("line at (%.1f, %.1f): %v", p.X, p.Y, line)
			}
		}
	}
}

// A line through a corner where many triangles meet passes in once and out once, in
// whichever order the corners are numbered.
func TestColumnsThroughCorners(t *testing.T) {
	const sides = 7
	rng := rand.New(rand.NewPCG(5, 0))
	for round := range 20 {
		order := rng.Perm(sides + 2)
		m := &geom.TriMesh{Vertices: make([]geom.Vec, sides+2)}
		top, foot := int32(order[sides]), int32(order[sides+1])
		m.Vertices[top], m.Vertices[foot] = geom.Vec{Z: 2}, geom.Vec{Z: -1}
		for i := range sides {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / sides)
			m.Vertices[order[i]] = geom.Vec{X: 3 * cos, Y: 3 * sin}
			a, b := int32(order[i]), int32(order[(i+1)%sides])
			m.Triangles = append(m.Triangles, [3]int32{a, b, top}, [3]int32{b, a, foot})
		}
		row, err := Row(context.Background(), geom.FromAxes(geom.Vec{X: 1}, geom.Vec{Z: -1}, geom.Vec{Y: 1}).Solid(meshSolidOf(t, m)), -1, 1, 3)
		if err != nil {
			t.Fatal(err)
		}
		if line := row.Line(1, 0); len(line) != 1 || line[0] != (Stretch{-1, 2}) {
			t.Errorf("round %d: line through the corners: %v", round, line)
		}
		if line := row.Line(0, 0); len(line) != 1 || line[0].Hi > 1.5 {
			t.Errorf("round %d: line beside them: %v", round, line)
		}
	}
}

// A hollow inside, turned the other way, is none of the solid; shells that
// overlap are one.
func TestColumnsOfShells(t *testing.T) {
	outer, hollow := geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -3, Y: -3, Z: -3}, Max: geom.Vec{X: 3, Y: 3, Z: 3}}), geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -1, Y: -1, Z: -1}, Max: geom.Vec{X: 1, Y: 1, Z: 2}})
	other := geomtest.BlockMesh(geom.Box{Min: geom.Vec{X: -3, Y: -3, Z: 2.5}, Max: geom.Vec{X: 3, Y: 3, Z: 5}})
	all := &geom.TriMesh{}
	add := func(m *geom.TriMesh, turn bool) {
		n := int32(len(all.Vertices))
		all.Vertices = append(all.Vertices, m.Vertices...)
		for _, t := range m.Triangles {
			if turn {
				t[1], t[2] = t[2], t[1]
			}
			all.Triangles = append(all.Triangles, [3]int32{t[0] + n, t[1] + n, t[2] + n})
		}
	}
	add(outer, false)
	add(hollow, true)
	add(other, false)
	c := columnsOf(t, meshSolidOf(t, all), Options{Step: 0.7})
	i, j := c.nearest(geom.Vec{X: 0.1, Y: 0.1, Z: 0})
	if line := c.Line(i, j); len(line) != 2 || line[0] != (Stretch{-3, -1}) || line[1] != (Stretch{2, 5}) {
		t.Errorf("line through both: %v", line)
	}
}

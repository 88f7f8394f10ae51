package geom

import (
	"context"
	"math"
	"testing"
)

func meshSolidOf(t testing.TB, m *TriMesh) *MeshSolid {
	t.Helper()
	s, err := NewMeshSolid(m)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The lines of a mesh, placed anyhow, are those of its values.
func TestColumnsOfMesh(t *testing.T) {
	body := Subtract(Union(Ball(Vec{}, 4), Block(Box{Vec{-1, -6, -1}, Vec{2, 3, 5}})), Capsule(Vec{-5, 0, 1}, Vec{5, 1, 2}, 0.8))
	mesh, err := Mesh(context.Background(), body, MeshOptions{Tolerance: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	for _, to := range []Placement{
		Identity(), MirrorY(), Turn(Vec{1, 2, 3}, 1).Then(Scale(1.3)).Then(Move(Vec{4, 5, 6})), Turn(Vec{X: 1}, math.Pi/2),
	} {
		s := to.Solid(meshSolidOf(t, mesh))
		c := columnsOf(t, s, ColumnOptions{Step: 0.3})
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
	box := Box{Vec{-2, -2, -1}, Vec{2, 2, 1}}
	c := columnsOf(t, meshSolidOf(t, blockMesh(box)), ColumnOptions{Step: 0.5, Within: box.Grow(1)})
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

// A hollow inside, turned the other way, is none of the solid; shells that
// overlap are one.
func TestColumnsOfShells(t *testing.T) {
	outer, hollow := blockMesh(Box{Vec{-3, -3, -3}, Vec{3, 3, 3}}), blockMesh(Box{Vec{-1, -1, -1}, Vec{1, 1, 2}})
	other := blockMesh(Box{Vec{-3, -3, 2.5}, Vec{3, 3, 5}})
	all := &TriMesh{}
	add := func(m *TriMesh, turn bool) {
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
	c := columnsOf(t, meshSolidOf(t, all), ColumnOptions{Step: 0.7})
	i, j := c.Nearest(Vec{0.1, 0.1, 0})
	if line := c.Line(i, j); len(line) != 2 || line[0] != (Stretch{-3, -1}) || line[1] != (Stretch{2, 5}) {
		t.Errorf("line through both: %v", line)
	}
}

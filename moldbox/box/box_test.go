package box

import (
	"math"
	"slices"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

// frame is a tray with a room of 40 x 30 x 15 mm and a floor of 4 mm, with things
// on the floor and less what is cut away.
func frame(t *testing.T, things, cuts []geom.Solid) *geom.TriMesh {
	t.Helper()
	box := func(x, y, low, high float64) geom.Solid {
		return geom.Block(geom.Box{Min: geom.Vec{X: -x, Y: -y, Z: low}, Max: geom.Vec{X: x, Y: y, Z: high}})
	}
	s := geom.Union(append([]geom.Solid{geom.Subtract(box(23, 18, -4, 15), box(20, 15, 0, 20))}, things...)...)
	m, err := geom.Mesh(t.Context(), geom.Subtract(s, cuts...), geom.MeshOptions{Tolerance: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// look looks at two frames and lists the codes that are no notes.
func look(t *testing.T, left, right *geom.TriMesh, opt Options) (*Box, []string) {
	t.Helper()
	b, err := Spec{Left: Input{Mesh: left}, Right: Input{Mesh: right}, Options: opt, Checks: moldbox.Default().Checks, Over: 3}.Look(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	var codes []string
	for _, f := range b.Findings {
		if f.Severity != moldbox.Note && !slices.Contains(codes, f.Code) {
			codes = append(codes, f.Code)
		}
	}
	return b, codes
}

func ball(x, y, z, r float64) geom.Solid { return geom.Ball(geom.Vec{X: x, Y: y, Z: z}, r) }

func pin(x, y, r, low, high float64) geom.Solid {
	return geom.Frustum(geom.Vec{X: x, Y: y, Z: low}, geom.Vec{X: x, Y: y, Z: high}, r, r)
}

func TestLook(t *testing.T) {
	high, low := 20.0, 4.0
	key, socket := ball(14, 9, 0, 3), ball(-14, 9, 0, 3)
	good := frame(t, []geom.Solid{ball(0, 0, 0, 5), key}, []geom.Solid{socket})
	for _, c := range []struct {
		name        string
		left, right *geom.TriMesh
		opt         Options
		want        []string
	}{
		{"a frame, and the same turned over", good, good, Options{Freeboard: 3}, nil},
		{"its mirror image: keys meet keys", good, mirrored(good), Options{Freeboard: 3}, []string{NotMateCode}},
		{"a hole in the floor", frame(t, nil, []geom.Solid{pin(3, 3, 1, -9, 9)}), good, Options{Freeboard: 3}, []string{LeaksCode}},
		{"a hole in the wall", frame(t, nil, []geom.Solid{geom.Frustum(geom.Vec{X: 10, Z: 4}, geom.Vec{X: 30, Z: 4}, 1, 1)}), good, Options{Freeboard: 3}, []string{LeaksCode}},
		{"two bodies", joined(good, frame(t, nil, nil)), good, Options{Freeboard: 3}, []string{BodiesCode}},
		{"a fill line above the rim", good, good, Options{Fill: &high}, []string{FillCode}},
		{"a fill line under the head", good, good, Options{Fill: &low}, []string{StandsCode, ThinCode}},
		{"little rubber over the head", frame(t, []geom.Solid{ball(0, 0, 0, 10)}, nil), frame(t, nil, nil), Options{Freeboard: 3}, []string{ThinCode}},
		{"a mushroom", frame(t, []geom.Solid{pin(0, 0, 2, -1, 5), ball(0, 0, 5, 4)}, nil), frame(t, nil, nil), Options{Freeboard: 3}, []string{BehindCode}},
		{"two pins near each other", frame(t, []geom.Solid{pin(-3.4, 0, 3, -1, 8), pin(3.4, 0, 3, -1, 8)}, nil), frame(t, nil, nil), Options{Freeboard: 3}, []string{ThinCode}},
	} {
		b, got := look(t, c.left, c.right, c.opt)
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
			for _, f := range b.Findings {
				t.Log(f.Code, f.Message)
			}
		}
	}
	b, _ := look(t, good, good, Options{Freeboard: 3})
	// Half a ball and a key stand in the room, and a socket is open to it.
	if want := 40*30*12 - 2*math.Pi/3*125; math.Abs(b.Left.Volume/want-1) > 1e-3 {
		t.Errorf("it holds %.2f mm³, want %.2f", b.Left.Volume, want)
	}
	if b.Left.Relief < 4.9 || b.Left.Relief > 5.1 || b.Left.Floor != 0 || math.Abs(b.Left.Rim-15) > 0.05 {
		t.Errorf("floor %g, rim %g, highest %g", b.Left.Floor, b.Left.Rim, b.Left.Relief)
	}
}

func mirrored(m *geom.TriMesh) *geom.TriMesh {
	return m.Transform(func(v geom.Vec) geom.Vec { return geom.Vec{X: -v.X, Y: v.Y, Z: v.Z} }, true)
}

func joined(a, b *geom.TriMesh) *geom.TriMesh {
	m := &geom.TriMesh{Vertices: slices.Clone(a.Vertices), Triangles: slices.Clone(a.Triangles)}
	for _, v := range b.Vertices {
		m.Vertices = append(m.Vertices, v.Add(geom.Vec{X: 1, Y: 1, Z: 1}))
	}
	for _, t := range b.Triangles {
		n := int32(len(a.Vertices))
		m.Triangles = append(m.Triangles, [3]int32{t[0] + n, t[1] + n, t[2] + n})
	}
	return m
}

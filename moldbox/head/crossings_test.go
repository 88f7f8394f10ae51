package head

import (
	"context"
	"testing"

	"halfpour/examples/heads"
	"halfpour/geom"
	"halfpour/geom/geomtest"
	"halfpour/moldbox"
)

func joined(a, b *geom.TriMesh) *geom.TriMesh {
	m := &geom.TriMesh{Vertices: append(append([]geom.Vec{}, a.Vertices...), b.Vertices...), Triangles: append([][3]int32{}, a.Triangles...)}
	for _, t := range b.Triangles {
		n := int32(len(a.Vertices))
		m.Triangles = append(m.Triangles, [3]int32{t[0] + n, t[1] + n, t[2] + n})
	}
	return m
}

func TestHeadThatCrossesItself(t *testing.T) {
	ball := heads.Ball(10, 6)
	beside := ball.Transform(func(v geom.Vec) geom.Vec { return v.Add(geom.Vec{X: 3}) }, false)
	for _, c := range []struct {
		name    string
		mesh    *geom.TriMesh
		crossed bool
	}{
		{"a ball", ball, false},
		{"shells that cut each other", joined(ball, beside), false},
		{"a figure of eight", geomtest.FigureEight(8, 1.5, 32), true},
		{"a ball and a figure of eight", joined(ball, geomtest.FigureEight(8, 1.5, 32)), true},
	} {
		t.Run(c.name, func(t *testing.T) {
			h, err := Read(context.Background(), "head.stl", loosen(c.mesh).binary(t))
			if err != nil {
				t.Fatal(err)
			}
			crossed, err := h.LookForCrossing(context.Background())
			if err != nil || crossed != c.crossed {
				t.Errorf("crossed: got %v, %v", crossed, err)
			}
			told := false
			for _, f := range h.Findings {
				told = told || f.Code == CrossedCode && f.Severity == moldbox.Warn && f.HeadAt != nil
			}
			if told != c.crossed {
				t.Errorf("findings: %v", h.Findings)
			}
			if v := h.Solid.Evaluate(geom.Vec{X: 0.2, Y: 0.3}); v >= 0 {
				t.Errorf("where the ways cross: got %g, want below 0", v)
			}
		})
	}
}

package main

import (
	"context"
	"errors"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

// eight is one shell that cuts through itself: a tube of radius r along a
// figure of eight (Gerono's lemniscate) in the plane z = 0, 2·a mm long, whose
// ways cross at the origin at a right angle.
func eight(a, r float64, n int) *geom.TriMesh {
	const sides = 10
	m := &geom.TriMesh{}
	for i := range n {
		t := 2 * math.Pi * float64(i) / float64(n)
		at := geom.Vec{X: a * math.Cos(t), Y: a / 2 * math.Sin(2*t)}
		out := geom.Vec{X: a * math.Cos(2*t), Y: a * math.Sin(t)}.Unit() // across the way
		for j := range sides {
			sin, cos := math.Sincos(2 * math.Pi * float64(j) / sides)
			m.Vertices = append(m.Vertices, at.Add(out.Mul(r*cos)).Add(geom.Vec{Z: r * sin}))
		}
	}
	corner := func(i, j int) int32 { return int32(i%n*sides + j%sides) }
	for i := range n {
		for j := range sides {
			a, b, c, d := corner(i, j), corner(i+1, j), corner(i+1, j+1), corner(i, j+1)
			m.Triangles = append(m.Triangles, [3]int32{a, b, c}, [3]int32{a, c, d})
		}
	}
	return m
}

func joined(a, b *geom.TriMesh) *geom.TriMesh {
	m := &geom.TriMesh{Vertices: append(append([]geom.Vec{}, a.Vertices...), b.Vertices...), Triangles: append([][3]int32{}, a.Triangles...)}
	for _, t := range b.Triangles {
		n := int32(len(a.Vertices))
		m.Triangles = append(m.Triangles, [3]int32{t[0] + n, t[1] + n, t[2] + n})
	}
	return m
}

func TestHeadThatCrossesItself(t *testing.T) {
	ball := coarseBall()
	beside := ball.Transform(func(v geom.Vec) geom.Vec { return v.Add(geom.Vec{X: 3}) }, false)
	for _, c := range []struct {
		name    string
		mesh    *geom.TriMesh
		crossed bool
	}{
		{"a ball", ball, false},
		{"shells that cut each other", joined(ball, beside), false},
		{"a figure of eight", eight(8, 1.5, 32), true},
		{"a ball and a figure of eight", joined(ball, eight(8, 1.5, 32)), true},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "head.stl")
			writeHead(t, path, c.mesh)
			h, err := loadHead(context.Background(), path, "job.toml")
			if err != nil {
				t.Fatal(err)
			}
			crossed, err := h.lookForCrossing(context.Background())
			if err != nil || crossed != c.crossed {
				t.Errorf("crossed: got %v, %v", crossed, err)
			}
			told := false
			for _, f := range h.findings {
				told = told || f.Code == crossedCode && f.Severity == moldbox.Warn && f.HeadAt != nil
			}
			if told != c.crossed {
				t.Errorf("findings: %v", h.findings)
			}
			if v := h.solid.Evaluate(geom.Vec{X: 0.2, Y: 0.3}); v >= 0 {
				t.Errorf("where the ways cross: got %g, want below 0", v)
			}
		})
	}
}

// Where the ways cross, two cylinders of radius r share 16/3·r³ (Archimedes),
// which the mesh counts twice.
func TestCrossedHeadIsWeighedOnce(t *testing.T) {
	job := writeJob(t)
	const r = 1.5
	m := eight(8, r, 32)
	writeHead(t, filepath.Join(filepath.Dir(job), starterHead), m)
	editJob(t, job, `target = "1/4 oz"`, "scale = 1")
	w := openJob(t, job)
	shared := 16. / 3 * r * r * r
	if got, want := w.mold.Cavities[0].HeadVolume, m.Volume()-shared; math.Abs(got-want) > 0.2*shared {
		t.Errorf("head: got %.2f mm³, want %.2f; shared are %.2f", got, want, shared)
	}
	if text := groupFindings(w.findings)[0].text(); !strings.Contains(text, "cuts through or touches itself") {
		t.Error(text)
	}
}

func TestFailedProofBlamesTheCrossedHead(t *testing.T) {
	w := &work{findings: []moldbox.Finding{{Code: crossedCode, Message: "head.stl: a shell cuts through itself"}}}
	var f *fault
	if err := w.blameCrossed(proofError("off")); !errors.As(err, &f) || !strings.Contains(f.problems[0].Hints[0], "head.stl") {
		t.Errorf("got %v", f)
	}
	if err := (&work{}).blameCrossed(proofError("off")); !errors.As(err, &f) || !strings.Contains(f.problems[0].Hints[0], "defect") {
		t.Errorf("got %v", f)
	}
}

package making

import (
	"bytes"
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"halfpour/examples/heads"
	"halfpour/geom"
	"halfpour/geom/stl"
	"halfpour/moldbox"
	"halfpour/moldbox/head"
)

// A head that was drawn with a hole for its hook, in inches, is cast as if it had none:
// the mold, its meshes and what is said of it. The next run takes it over. A job that
// keeps the hole gets it, and a warning.
func TestBoredHead(t *testing.T) {
	ctx := context.Background()
	whole := heads.Ball(10.2, 12)
	solid, err := geom.NewMeshSolid(whole)
	if err != nil {
		t.Fatal(err)
	}
	eye := heads.BallEye(10.2)
	bore := geom.Wire([]geom.Vec{{X: eye.X, Y: 20}, {X: eye.X}, {X: 20}}, 0.65)
	m, err := geom.Mesh(ctx, geom.Subtract(solid, bore), geom.MeshOptions{Tolerance: 0.03})
	if err != nil {
		t.Fatal(err)
	}
	var file bytes.Buffer
	if err := stl.Write(&file, m.Transform(func(v geom.Vec) geom.Vec { return v.Mul(1 / 25.4) }, false), "a head, invented demo data"); err != nil {
		t.Fatal(err)
	}
	text, _ := example(t, "ball-jig")
	text = strings.Replace(text, "eye = [-1.22, 8.95, 0]", `eye = ["-1.22 mm", "8.95 mm", 0]`+"\nunit = \"in\"", 1)
	read := kept(func(ctx context.Context, name string) (*head.Head, error) { return head.Read(ctx, name, file.Bytes()) })
	opened := func(text string, last *Run) *Run {
		run := runOf(t, text, read)
		if last != nil {
			run.Reuse(last)
		}
		if err := run.Open(ctx, nil); err != nil {
			t.Fatal(err)
		}
		return run
	}
	says := func(run *Run, code string, s moldbox.Severity) bool {
		return slices.ContainsFunc(run.Molds[0].Findings, func(f moldbox.Finding) bool { return f.Code == code && f.Severity == s })
	}
	run := opened(text, nil)
	mold := run.Molds[0]
	if !says(run, "bore-filled", moldbox.Note) || says(run, "wire-in-hole", moldbox.Stop) || says(run, "undercut", moldbox.Warn) {
		t.Errorf("%+v", mold.Findings)
	}
	got := mold.cavityHeads()[0].Volume()
	if math.Abs(got/whole.Volume()-1) > 2e-3 {
		t.Errorf("the head's mesh holds %.2f mm³, without its hole %.2f, with it %.2f", got, whole.Volume(), m.Volume())
	}
	cavity := mold.Solids.Cavities[0]
	if k := cavity.Scale; math.Abs(cavity.HeadVolume/(k*k*k*got)-1) > 1e-6 {
		t.Errorf("the cold head holds %.2f mm³, its mesh %.2f", cavity.HeadVolume, k*k*k*got)
	}
	if again := opened(text, run); again.Molds[0].bored[0] != mold.bored[0] || again.Molds[0].Solids != mold.Solids {
		t.Error("the next run made the head anew")
	}
	kept := opened(strings.Replace(text, "unit = \"in\"", "unit = \"in\"\nbores = \"keep\"", 1), run)
	if says(kept, "bore-filled", moldbox.Note) || !says(kept, "wire-in-hole", moldbox.Warn) || says(kept, "wire-in-hole", moldbox.Stop) {
		t.Errorf("kept: %+v", kept.Molds[0].Findings)
	}
}

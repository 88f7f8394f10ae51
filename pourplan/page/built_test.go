package page

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"halfpour/geom"
	"halfpour/geom/stl"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// builtMold is an example's mold with coarse frames, made once for all tests.
type builtMold struct {
	mold   *moldbox.Mold
	frames [2]*geom.TriMesh
	rubber [2]geom.Integral
	plan   *pourplan.Plan
	draws  []pourplan.Drawing
	err    error
}

var ballJig = sync.OnceValue(func() builtMold { return buildExample("ball-jig") })

func built(t *testing.T) builtMold {
	t.Helper()
	b := ballJig()
	if b.err != nil {
		t.Fatal(b.err)
	}
	return b
}

// moldOf builds an example's mold with a change to its job.
func moldOf(name, old, new string) (*moldbox.Mold, *pourplan.Job, error) {
	folder := filepath.Join("..", "..", "examples", name)
	data, err := os.ReadFile(filepath.Join(folder, "job.toml"))
	if err != nil {
		return nil, nil, err
	}
	job, err := pourplan.ReadJob("job.toml", bytes.Replace(data, []byte(old), []byte(new), 1))
	if err != nil {
		return nil, nil, err
	}
	spec, err := job.Spec(func(file string) (geom.Solid, error) {
		data, err := os.ReadFile(filepath.Join(folder, file))
		if err != nil {
			return nil, err
		}
		mesh, _, err := stl.Decode(context.Background(), data)
		if err != nil {
			return nil, err
		}
		return geom.NewMeshSolid(mesh)
	})
	if err != nil {
		return nil, nil, err
	}
	m, err := moldbox.Build(context.Background(), spec)
	return m, job, err
}

func buildExample(name string) (b builtMold) {
	ctx := context.Background()
	var job *pourplan.Job
	if b.mold, job, b.err = moldOf(name, "", ""); b.err != nil {
		return b
	}
	for i, half := range []moldbox.Half{b.mold.Left, b.mold.Right} {
		if b.frames[i], b.err = geom.Mesh(ctx, half.Frame, geom.MeshOptions{Tolerance: 0.1}); b.err != nil {
			return b
		}
	}
	var in moldbox.Measured
	if in, b.err = b.mold.Measure(ctx, 1e-3, nil); b.err != nil {
		return b
	}
	b.rubber = [2]geom.Integral{in.Left.Rubber, in.Right.Rubber}
	if b.plan, b.err = pourplan.NewPlan(job, in); b.err != nil {
		return b
	}
	b.draws, b.err = pourplan.RenderDrawings(ctx, b.mold, pourplan.PlanFindings(b.mold.Findings))
	return b
}

func bodiesOf(m *moldbox.Mold) *moldbox.Bodies { return moldbox.NewBodies(m, 0.1, 0.05) }

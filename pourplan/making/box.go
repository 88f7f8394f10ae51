package making

import (
	"context"
	"slices"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/moldbox/head"
	"halfpour/pourplan"
)

// Box is what a job with [box] comes to.
type Box struct {
	Findings []moldbox.Finding
	Plan     *pourplan.Plan // nil where the frames hold nothing that can be told
}

// LookAtBox reads the frames of a job with [box], measures what they hold, and
// plans the rubber. It fails as frames or its context do.
func LookAtBox(ctx context.Context, job *pourplan.Job, frames Heads) (*Box, error) {
	b := new(Box)
	var meshes [2]*geom.TriMesh
	for i, file := range []string{job.Box.Left, job.Box.Right} {
		h, err := frames(ctx, file)
		if err != nil {
			return nil, err
		}
		meshes[i] = h.Mesh
		if k := job.Box.MMPerUnit(); k != 1 && h.Format != head.ThreeMF {
			meshes[i] = h.Mesh.Transform(func(v geom.Vec) geom.Vec { return v.Mul(k) }, false)
		}
		b.Findings = slices.Concat(b.Findings, h.Findings)
	}
	found, err := job.Box.Spec(job, meshes[0], meshes[1]).Look(ctx)
	if err != nil {
		return nil, err
	}
	b.Findings = slices.Concat(b.Findings, job.RubberFindings(), found.Findings)
	if found.Stopped() {
		return b, nil
	}
	in := found.Measured()
	in.Findings = b.Findings
	b.Plan, err = pourplan.NewBoxPlan(job, in)
	return b, job.Explain(err)
}

// Says reports whether a finding is of a severity.
func (b *Box) Says(s moldbox.Severity) bool {
	return slices.ContainsFunc(b.Findings, func(f moldbox.Finding) bool { return f.Severity == s })
}

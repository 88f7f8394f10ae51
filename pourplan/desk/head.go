package desk

import (
	"context"
	"math"

	"halfpour/geom"
	"halfpour/moldbox/head"
	"halfpour/moldbox/placing"
	"halfpour/pourplan"
)

// Hints are what a job says besides a head's mesh.
type Hints = placing.Hints

// HintsOf are those of a job.
func HintsOf(job *pourplan.Job) Hints {
	hints := Hints{Unit: job.Head.Unit}
	if job.Hook != nil {
		hints.Leg = float64(job.Hook.Leg)
	}
	return hints
}

// Proposed is how a head may lie.
type Proposed struct{ of *placing.Proposal }

// Propose looks how a head may lie. It fails as placing.Propose does.
func Propose(ctx context.Context, m *geom.TriMesh, hints Hints) (*Proposed, error) {
	found, err := placing.Propose(ctx, m, hints)
	if err != nil {
		return nil, err
	}
	return &Proposed{found}, nil
}

// Axes are the directions in which the head faces.
func (p *Proposed) Axes() []geom.Vec {
	return []geom.Vec{p.of.Pose.Nose, p.of.Pose.Back, p.of.Pose.Left()}
}

// Ghosts are what is proposed and the job has not.
func (p *Proposed) Ghosts(h pourplan.LyingHead) (list []pourplan.Ghost) {
	add := func(g pourplan.Ghost, r placing.Reason) {
		g.Trust, g.Why = string(r.Trust), r.Why
		list = append(list, g)
	}
	pose := p.of.Pose
	for _, d := range []struct {
		key, label string
		has, way   geom.Vec
		why        placing.Reason
	}{{h.Keys.Nose, "nose", h.Pose.Nose, pose.Nose, p.of.NoseWhy}, {h.Keys.Back, "back", h.Pose.Back, pose.Back, p.of.BackWhy}} {
		if d.has.Unit().Dot(d.way.Unit()) < sameWay {
			add(pourplan.Ghost{Key: d.key, Label: d.label, Text: pourplan.Direction(d.way).String(), Way: &d.way}, d.why)
		}
	}
	step := 1.5 * placing.Step(h.Unit) * h.Unit // what rounding moves
	if math.Abs(pose.Across().Dot(h.Pose.Across())) > sameWay && math.Abs(pose.Parting-h.Pose.Parting) > step {
		add(pourplan.Ghost{Key: h.Keys.Parting, Label: "parting", Text: pourplan.FileLength(pose.Parting, h.Unit)}, p.of.PlaneWhy)
	}
	for _, l := range h.Points {
		if l.Label != "eye" {
			continue
		}
		for _, e := range p.of.Eyes {
			if l.At == nil || l.At.Sub(e.At).Norm() > 2*step {
				add(pourplan.Ghost{Key: l.Key, Label: l.Label, Text: pourplan.FilePoint(e.At, h.Unit), At: &e.At}, e.Reason)
			}
		}
	}
	return list
}

// sameWay is the cosine up to which two directions are one, as they are written.
const sameWay = 0.9999

// TakeHead returns the text of a job with another head in it: its file by the
// name that the job is to have for it, and how it lies there, as proposed. What
// was said of places on the head before becomes a remark. The errors are those
// of placing.Propose and of package pourplan.
func TakeHead(ctx context.Context, src, file string, h *head.Head, hooks pourplan.Library) (string, []pourplan.ProposedKey, error) {
	hints := placing.Hints{}
	if h.Format == head.ThreeMF {
		hints.Unit = "mm"
	}
	if job, err := pourplan.ReadJobWith("", []byte(src), hooks); err == nil && job.Hook != nil {
		hints.Leg = float64(job.Hook.Leg)
		if target := shown(pourplan.KeyTexts(src)["weight.target"]); target != "" {
			if hints.Metal, err = job.MetalFor(target); err != nil {
				hints.Metal = 0
			}
		}
	}
	found, err := placing.Propose(ctx, h.Mesh, hints)
	if err != nil {
		return "", nil, err
	}
	proposed := pourplan.NewJob{Head: found}.Keys()
	text := src
	for _, key := range []string{"head.left", "head.gate"} {
		if text, err = pourplan.DropKey(text, key); err != nil {
			return "", nil, err
		}
	}
	for _, k := range append([]pourplan.ProposedKey{{Key: "head.file", Value: quoted(file)}}, proposed...) {
		if text, err = pourplan.SetKey(text, k.Key, k.Value); err != nil {
			return "", nil, err
		}
	}
	return text, proposed, nil
}

package desk

import (
	"context"

	"halfpour/moldbox/head"
	"halfpour/moldbox/placing"
	"halfpour/pourplan"
)

// TakeHead returns the text of a job with another head in it: its file by the
// name that the job is to have for it, and how it lies there, as proposed. What
// was said of places on the head before becomes a remark. The errors are those
// of placing.Propose and of package pourplan.
func TakeHead(ctx context.Context, src, file string, h *head.Head, hooks pourplan.HookLibrary) (string, []pourplan.ProposedKey, error) {
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

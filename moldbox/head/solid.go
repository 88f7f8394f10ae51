package head

import (
	"context"
	"fmt"

	"halfpour/geom"
	"halfpour/moldbox"
)

// makeSolid makes the mesh a solid, after mending if need be.
func (h *Head) makeSolid(ctx context.Context) error {
	faults := geom.Audit(h.Mesh)
	if needsMending(faults) {
		var err error
		if faults, err = h.mend(faults); err != nil {
			return err
		}
	}
	apart, err := h.takeHooksApart(ctx)
	if err != nil {
		return err
	}
	if apart {
		faults = geom.Audit(h.Mesh)
	}
	if h.Solid, err = geom.NewMeshSolid(h.Mesh); err != nil {
		return unsoundError(h.Name, faults, err)
	}
	for _, f := range faults {
		severity := moldbox.Warn
		if f.IsNote() {
			severity = moldbox.Note
		}
		h.noteAt("head-mesh", severity, f.Error(), "look at this spot in your CAD program", f.At)
	}
	if len(faults) == 0 || faults[len(faults)-1].Rule != geom.Shells {
		return nil
	}
	return h.fillHollows(ctx)
}

func needsMending(faults []geom.Fault) bool {
	for _, f := range faults {
		switch f.Rule {
		case geom.DuplicateFacet, geom.OpenEdge, geom.CrowdedEdge, geom.FlippedEdge:
			return true
		}
	}
	return false
}

// mend puts small defects right, tells of each, and returns the faults that
// are left. A volume that this leaves more uncertain than it may be is refused.
func (h *Head) mend(faults []geom.Fault) ([]geom.Fault, error) {
	mended, repairs := geom.Mend(h.Mesh)
	left := geom.Audit(mended)
	if len(repairs) == 0 || !encloses(mended) {
		return faults, nil // to be refused, or told as they are
	}
	volume := mended.Volume()
	if open := geom.Open(repairs); open > mostOpen*volume {
		err := unsoundError(h.Name, faults, fmt.Errorf("filling its holes flat would leave %.3g of %.5g mm³ uncertain", open, volume))
		last := &err.Problems[len(err.Problems)-1]
		last.Hints = append(last.Hints, fmt.Sprintf("filling its holes flat would leave %.2g %% of the volume uncertain, the limit is %g %%", 100*open/volume, 100*mostOpen))
		return nil, err
	}
	for _, r := range repairs {
		text := r.String()
		if r.Open > 0 {
			text += fmt.Sprintf("; that leaves %.2g %% of the volume uncertain", 100*r.Open/volume)
		}
		h.noteAt("head-mended", moldbox.Warn, text, "look at this spot in your CAD program", r.At)
	}
	h.Mesh = mended
	return left, nil
}

func encloses(m *geom.TriMesh) bool {
	if len(m.Triangles) == 0 {
		return false
	}
	_, err := geom.NewMeshSolid(m)
	return err == nil
}

// fillHollows leaves shells inside others that face inwards out: the rubber of
// rubber cannot enter them, so that metal fills them.
func (h *Head) fillHollows(ctx context.Context) error {
	filled, hollows, err := geom.FillHollows(ctx, h.Mesh)
	if err != nil || len(hollows) == 0 {
		return err
	}
	volume := 0.0
	for _, hollow := range hollows {
		if hollow.Crosses {
			return refuse(h.Name, string(geom.InsideOut), fmt.Sprintf(
				"does not enclose a volume: the shell at triangle %d near (%.1f, %.1f, %.1f) mm is inside out and cuts through another",
				hollow.Triangle, hollow.At.X, hollow.At.Y, hollow.At.Z),
				"flip the normals in your CAD program, join the shells and export it again")
		}
		volume += hollow.Volume
	}
	h.Mesh = filled
	if h.Solid, err = geom.NewMeshSolid(filled); err != nil {
		return refuse(h.Name, "mesh", err.Error())
	}
	h.noteAt("head-hollow", moldbox.Warn, fmt.Sprintf("%s inside, %.3g mm³, counted as metal: no rubber can get in", counted(len(hollows), "hollow", "hollows"), volume),
		"fill it in your CAD program, or flip the shell's normals if it is meant to be metal", hollows[0].At)
	return nil
}

func (h *Head) noteAt(code string, severity moldbox.Severity, message, remedy string, at geom.Vec) {
	h.note(code, severity, message, remedy)
	h.Findings[len(h.Findings)-1].HeadAt = &at
}

// unsoundError names every fault of a mesh that is no solid, each with its
// first place.
func unsoundError(name string, faults []geom.Fault, err error) *Error {
	hint := "flip the normals in your CAD program and export it again"
	out := &Error{Name: name, Err: err}
	for _, f := range faults {
		if f.IsNote() {
			continue
		}
		switch f.Rule {
		case geom.InsideOut:
		case geom.TooFar, geom.NotFinite:
			hint = "move the head to the origin in your CAD program and export it again"
		default:
			hint = "close the head in your CAD program and export it again"
		}
		out.Problems = append(out.Problems, Problem{
			Rule: string(f.Rule), Message: "does not enclose a volume: " + f.Error(),
		})
	}
	if len(out.Problems) == 0 {
		out.Problems = []Problem{{Rule: "mesh", Message: err.Error()}}
	}
	out.Problems[len(out.Problems)-1].Hints = []string{hint}
	return out
}

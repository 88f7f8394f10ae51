package main

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"

	"halfpour/geom"
	"halfpour/geom/stl"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// headMesh is a head as its file holds it.
type headMesh struct {
	path     string
	mesh     *geom.TriMesh
	solid    geom.Solid
	findings []moldbox.Finding // oddities that were put up with
}

// loadHead reads the mesh of a head that a job names, and refuses what
// encloses no volume.
func loadHead(path, job string) (*headMesh, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, meshError(path, "unreadable", plainCause(err),
			"head.file in "+job+" names it; a relative path starts at the job's folder")
	}
	mesh, info, err := stl.Decode(data)
	if err != nil {
		return nil, meshFormatError(path, err)
	}
	h := &headMesh{path: path, mesh: mesh}
	faults := geom.Audit(mesh)
	if h.solid, err = geom.NewMeshSolid(mesh); err != nil {
		return nil, unsoundError(path, faults, err)
	}
	for _, note := range info.Notes {
		h.note("head-file", moldbox.Note, note, "")
	}
	if info.Degenerate > 0 {
		h.note("head-mesh", moldbox.Note, fmt.Sprintf("%d facets without area left out", info.Degenerate), "")
	}
	for _, f := range faults {
		severity := moldbox.Warn
		if f.IsNote() {
			severity = moldbox.Note
		}
		at := f.At
		h.note("head-mesh", severity, f.Error(), "look at the place in your CAD program")
		h.findings[len(h.findings)-1].HeadAt = &at
	}
	return h, nil
}

func (h *headMesh) note(code string, severity moldbox.Severity, message, remedy string) {
	h.findings = append(h.findings, moldbox.Finding{
		Severity: severity, Code: code, Message: h.path + ": " + message, Remedy: remedy,
	})
}

// Heads are some 8 to 100 mm long (common practice, no source): a file that is
// far off is likely in another unit than the job says.
const shortHead, longHead = 4.0, 200.0

// checkSize says a suspicious size back.
func (h *headMesh) checkSize(t pourplan.HeadTable) []moldbox.Finding {
	s := h.solid.BoundingBox().Size().Mul(t.MMPerUnit())
	long := math.Max(s.X, math.Max(s.Y, s.Z))
	if long >= shortHead && long <= longHead {
		return nil
	}
	return []moldbox.Finding{{
		Severity: moldbox.Warn, Code: "head-size", Value: long, Limit: longHead, Unit: "mm",
		Message: fmt.Sprintf("%s: the head is %s mm with unit = %q", h.path, sizeText(s), t.Unit),
		Remedy:  "an STL file has no unit: set head.unit to the one it was drawn in",
	}}
}

// sizeText is a size as it is said back to the user.
func sizeText(s geom.Vec) string { return fmt.Sprintf("%.1f x %.1f x %.1f", s.X, s.Y, s.Z) }

func meshError(path, rule, what string, hints ...string) error {
	return &fault{code: exitMesh, problems: []problem{{
		Message: path + ": " + what, File: path, Rule: rule, Hints: hints,
	}}}
}

func meshFormatError(path string, err error) error {
	rule, hint := "unsupported", "export the head from your CAD program as STL, in millimetres"
	var format *stl.FormatError
	if errors.As(err, &format) {
		rule, hint = string(format.Rule), "export the head from your CAD program as STL again"
	}
	return meshError(path, rule, err.Error(), hint)
}

// unsoundError names every fault of a mesh that is no solid, each with its
// first place.
func unsoundError(path string, faults []geom.Fault, err error) error {
	hint := "turn its facets over in your CAD program (flip the normals) and export it again"
	out := &fault{code: exitMesh, err: err}
	for _, f := range faults {
		if f.IsNote() {
			continue
		}
		if f.Rule != geom.InsideOut {
			hint = "close the head in your CAD program and export it again"
		}
		out.problems = append(out.problems, problem{
			Message: path + ": does not enclose a volume: " + f.Error(), File: path, Rule: string(f.Rule),
		})
	}
	if len(out.problems) == 0 {
		out.problems = []problem{{Message: path + ": " + err.Error(), File: path, Rule: "mesh"}}
	}
	out.problems[len(out.problems)-1].Hints = []string{hint}
	return out
}

// plainCause says why a file cannot be read without repeating its name.
func plainCause(err error) string {
	var p *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "no such file"
	case errors.Is(err, fs.ErrPermission):
		return "no permission to read it"
	case errors.As(err, &p):
		return p.Err.Error()
	}
	return err.Error()
}

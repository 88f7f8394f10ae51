package head

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"

	"halfpour/geom"
	"halfpour/geom/obj"
	"halfpour/geom/stl"
	"halfpour/geom/threemf"
	"halfpour/moldbox"
)

// decode returns the mesh in a head's file, in the file's unit or, of a
// 3MF file, which states its own, in mm.
func decode(ctx context.Context, name string, data []byte) (*Head, error) {
	format, err := formatOf(name, data)
	if err != nil {
		return nil, err
	}
	h := &Head{Name: name, Format: format}
	switch format {
	case ThreeMF:
		err = h.decode3MF(ctx, data)
	case OBJ:
		err = h.decodeOBJ(ctx, data)
	default:
		err = h.decodeSTL(ctx, data)
	}
	return h, err
}

func (h *Head) decodeSTL(ctx context.Context, data []byte) error {
	mesh, info, err := stl.Decode(ctx, data)
	if err != nil {
		return formatError(h, err)
	}
	h.take(mesh, info.Notes, info.Solids, "solids", info.Degenerate)
	return nil
}

func (h *Head) decodeOBJ(ctx context.Context, data []byte) error {
	mesh, info, err := obj.Decode(ctx, data)
	if err != nil {
		return formatError(h, err)
	}
	h.take(mesh, info.Notes, info.Objects, "objects", info.Degenerate)
	if volume := mesh.Volume(); info.Warp > mostOpen*volume && volume > 0 {
		h.note("head-open", moldbox.Warn, fmt.Sprintf("faces that are not flat leave %.2g %% of its volume uncertain, most of all the face on line %d", 100*info.Warp/volume, info.WarpLine),
			"export it as triangles")
	}
	return nil
}

// take makes the head of a file's mesh, and says what was odd in the file.
func (h *Head) take(mesh *geom.TriMesh, notes []string, parts int, what string, degenerate int) {
	h.Mesh = mesh
	for _, note := range notes {
		h.note("head-file", moldbox.Note, note, "")
	}
	if parts > 1 {
		h.note("head-file", moldbox.Note, fmt.Sprintf("%d %s are combined into the head", parts, what), "")
	}
	h.noteDegenerate(degenerate)
}

// decode3MF puts the objects on the plate together, in the coordinates of the
// first: where the plate has it is the printer's business, not CAD's.
func (h *Head) decode3MF(ctx context.Context, data []byte) error {
	pkg, err := threemf.Read(ctx, bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return formatError(h, err)
	}
	weld := geom.NewWelder(0)
	h.Mesh = &geom.TriMesh{}
	degenerate, names := 0, []string{}
	first := pkg.Objects[0].Offset
	if first != (geom.Vec{}) {
		h.note("head-file", moldbox.Note, fmt.Sprintf("sits at (%.4g, %.4g, %.4g) mm on its plate; halfpour measures from the object's own origin", first.X, first.Y, first.Z), "")
	}
	for _, o := range pkg.Objects {
		o.Offset = o.Offset.Sub(first)
		for t := range o.Mesh.Triangles {
			if t%oftenEnough == 0 && ctx.Err() != nil {
				return ctx.Err()
			}
			p, q, r := o.Mesh.Corners(t)
			c := [3]int32{weld.Index(p.Add(o.Offset)), weld.Index(q.Add(o.Offset)), weld.Index(r.Add(o.Offset))}
			if c[0] == c[1] || c[1] == c[2] || c[2] == c[0] {
				degenerate++
				continue
			}
			h.Mesh.Triangles = append(h.Mesh.Triangles, c)
		}
		names = append(names, fmt.Sprintf("%.40q", o.Name))
	}
	h.Mesh.Vertices = weld.Points()
	if len(h.Mesh.Triangles) == 0 {
		return formatError(h, &threemf.FormatError{Rule: threemf.RuleNoTriangles, Detail: "it has no triangles with three different corners"})
	}
	if len(names) > 1 {
		const most = 4
		shown := strings.Join(names[:min(len(names), most)], ", ")
		if len(names) > most {
			shown += ", ..."
		}
		h.note("head-file", moldbox.Warn, fmt.Sprintf("%d objects on its plate are combined into the head: %s", len(names), shown),
			"if they are not its parts, export the head alone")
	}
	h.noteDegenerate(degenerate)
	return nil
}

func (h *Head) noteDegenerate(n int) {
	if n > 0 {
		h.note("head-mesh", moldbox.Note, counted(n, "facet", "facets")+" without area left out", "")
	}
}

// oftenEnough is after how many triangles a loop asks whether to go on.
const oftenEnough = 1 << 14

// formatError tells a file that is damaged from one that is not for us.
func formatError(h *Head, err error) error {
	rule, hint := "unsupported", "export the head from your CAD program as STL, in millimetres"
	var inSTL *stl.FormatError
	var inOBJ *obj.FormatError
	var in3MF *threemf.FormatError
	switch {
	case errors.As(err, &inSTL):
		rule = string(inSTL.Rule)
	case errors.As(err, &inOBJ):
		rule = string(inOBJ.Rule)
	case errors.As(err, &in3MF):
		rule = string(in3MF.Rule)
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return err
	default:
		return refuse(h.Name, rule, err.Error(), hint)
	}
	if in3MF != nil && in3MF.Rule == threemf.RuleMissing && in3MF.Part == "_rels/.rels" { // it names no model
		return refuse(h.Name, rule, "is a zip archive, but not a 3MF file", "unpack it, and name the mesh inside", exportHint)
	}
	return refuse(h.Name, rule, err.Error(), "export the head from your CAD program as "+string(h.Format)+" again")
}

package pourplan

import (
	"cmp"
	"fmt"
	"slices"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/moldbox/head"
)

// drawn reports whether the hook is a body in the head's coordinates, so that its
// eye is where it is drawn.
func (h *HookTable) drawn() bool { return h != nil && h.File != "" && h.Place == "drawn" }

// mmPerUnit is one unit of the hook's file in mm.
func (h *HookTable) mmPerUnit(head HeadTable) float64 {
	if h.Unit != "" {
		return lengthDim.units[h.Unit]
	}
	return head.MMPerUnit()
}

// checkHook checks what goes together in a hook.
func (c CavityTable) checkHook(f *faults, at func(key string) string) {
	h := c.Hook
	if h.drawn() {
		if c.Head.Eye != nil {
			f.refuse(at("head.eye"), RuleConflict, "remove it: the body's own eye counts; or set hook.place = \"eye\" to move the body there",
				"cannot be used with a hook.file that lies as drawn")
		}
	} else if c.Head.Eye == nil {
		f.refuse(at("head.eye"), RuleMissing, "write eye = [x, y, z] under [head], read off in CAD in the file's coordinates",
			"must give the centre of the hook's eye")
	}
	if onAnotherHost(h.File) {
		f.refuse(at("hook.file"), RuleValue, "copy it next to the job, and name it there: file = \"hook.stl\"", "must be a file on this computer, got %q", h.File)
	}
	for _, k := range h.keys() {
		if !slices.Contains(hookDimensions, k.name) {
			continue
		}
		switch set := !k.field().IsZero(); {
		case h.File != "" && set && k.name != "leg_angle":
			f.refuse(at("hook."+k.name), RuleConflict, "remove one of them", "cannot be used with hook.file: it is measured there")
		case h.File == "" && !set && (k.name == "wire" || k.name == "eye_inside" && h.Over.Eye == nil):
			f.refuse(at("hook."+k.name), RuleMissing, k.hint, "is required")
		}
	}
	h.checkCaliper(f, at)
	if h.File == "" && h.Unit != "" {
		f.refuse(at("hook.unit"), RuleMissing, "remove it, or name the hook's body in hook.file", "needs hook.file, of which it is the unit")
	}
}

// hookDimensions are the keys of what a hook's body shows itself.
var hookDimensions = []string{"wire", "eye_inside", "leg", "leg_angle", "shank", "gape", "point", "points", "bend", "eye_across"}

// usualHook stands in for a body that is not read.
var usualHook = moldbox.Hook{Wire: 1, EyeInside: 2, Shank: 20, Gape: 8}

// layBodies puts what is measured of the bodies of hook and keepers into a cavity.
func (j *Job) layBodies(c CavityTable, v *moldbox.Cavity, s moldbox.Spec, bodies Bodies) error {
	finest := s.Print.Nozzle + 2*s.Finish.SealCoat
	for i, k := range c.Keeper {
		if err := k.layBody(&v.Keepers[i], c.Head, v.Pose, bodies, finest); err != nil {
			return err
		}
	}
	if v.Hook == nil || c.Hook.File == "" {
		return nil
	}
	if bodies.Hook == nil {
		own := *v.Hook
		*v.Hook = usualHook
		v.Hook.Name, v.Hook.Fit, v.Hook.EyeRubber = own.Name, own.Fit, own.EyeRubber
		return nil
	}
	body, err := bodies.Hook(c.Hook.File, c.Hook.mmPerUnit(c.Head))
	if err != nil {
		return fmt.Errorf("hook.file: %w", err)
	}
	*v.Hook = body.Lay(*v.Hook, v.Pose, c.Hook.drawn(), finest)
	if c.Hook.drawn() {
		v.Eye = body.Eye
	}
	return j.coatsLeaveOpen(*v.Hook)
}

// eyeInside is of the eye's opening, in mm.
func (h *HookTable) eyeInside(m moldbox.MeasuredCavity) float64 {
	if h.File == "" {
		return h.wire().EyeInside
	}
	return 2 * m.Wires[0].Cut[0].Inside
}

// CheckHookApart says of a head's file that holds a hook's body when the job does
// not take it.
func (c CavityTable) CheckHookApart(hooks []*geom.TriMesh) []moldbox.Finding {
	if len(hooks) == 0 || c.Hook != nil && c.Hook.File != "" {
		return nil
	}
	return []moldbox.Finding{{Severity: moldbox.Stop, Code: "hook-in-head-file", HeadAt: c.Head.placeOn(hooks[0]),
		Message: fmt.Sprintf("%s holds a body that looks like a hook, and the job does not take it: it would be left out", c.Head.File),
		Remedy:  fmt.Sprintf("write file = %q under [hook], or export the head without it", c.Head.File)}}
}

// surelyWire is from how many times longer than thick a body is a wire, which nobody
// casts: the wire of a small hook is 30 times (common practice, no source).
const surelyWire = 20

// CheckWiresApart says of bodies in a head's file that look like wires without an eye
// that they are cast as metal.
func (c CavityTable) CheckWiresApart(wires []head.Wire) (list []moldbox.Finding) {
	for _, w := range wires {
		f := moldbox.Finding{Severity: moldbox.Warn, Code: "wire-in-head-file", HeadAt: c.Head.placeOn(w.Mesh), Value: w.Long, Limit: surelyWire,
			Message: fmt.Sprintf("%s holds a body that is %s times as long as it is thick and has no eye: it would be cast as metal", c.Head.File, FormatNumber(w.Long, 0)),
			Remedy:  "if it is the hook, close the ring of its eye in CAD and export again; if it is a keeper, export it to its own file for keeper.file; else make it thicker"}
		if w.Long >= surelyWire {
			f.Severity = moldbox.Stop
		}
		list = append(list, f)
	}
	return list
}

// placeOn is the place of a body in the head's file that is nearest to its middle, mm.
func (h HeadTable) placeOn(body *geom.TriMesh) *geom.Vec {
	middle := body.BoundingBox().Centre()
	at := slices.MinFunc(body.Vertices, func(a, b geom.Vec) int { return cmp.Compare(a.Dist(middle), b.Dist(middle)) }).Mul(h.MMPerUnit())
	return &at
}

// BoreFilled says which hole of a cavity's head is filled.
func (c CavityTable) BoreFilled(b moldbox.Bore) moldbox.Finding {
	return moldbox.Finding{Severity: moldbox.Note, Code: "bore-filled", Cavity: c.Name, HeadAt: &b.At, Value: b.Volume, Unit: "mm³",
		Message: fmt.Sprintf("%s has a hole of %s mm where %s goes: it is filled, so that metal is cast around the wire", c.Head.File, FormatNumber(b.Diameter, 1), b.Wire)}
}

// HookTaken says which body is taken as the hook of a cavity, and its measures.
func (c CavityTable) HookTaken(b *moldbox.HookBody) moldbox.Finding {
	of := c.Hook.File
	if of == c.Head.File {
		of += ": the thin wire-like body with an eye"
	}
	return moldbox.Finding{Severity: moldbox.Note, Code: "hook-body", Cavity: c.Name, Value: b.Volume, Unit: "mm³",
		Message: fmt.Sprintf("%s is the hook: %s; it weighs %s g", of, b, FormatNumber(c.Hook.steelMass(b.Volume), 2))}
}

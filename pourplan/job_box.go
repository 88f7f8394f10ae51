package pourplan

import (
	"errors"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/moldbox/box"
)

// BoxTable is [box]: the frames of a mold that halfpour has not drawn. A job with
// it plans the rubber alone, and has no head.
type BoxTable struct {
	Left, Right string
	Unit        string
	Up          *Direction // nil: found
	Fill        MM         // 0: frame.freeboard under the rim
}

func (t *BoxTable) keys() []key {
	return []key{
		{"left", &t.Left, given, nil, "the open-top frame of the left half, as STL, OBJ or 3MF (then in mm): one closed body with its floor, walls and all that stands on the floor; a relative path starts at the job's folder", `write left = "left-frame.stl" under [box]`},
		{"right", &t.Right, given, nil, "the frame of the right half, the same way", `write right = "right-frame.stl" under [box]`},
		{"unit", &t.Unit, "mm", oneOf("mm", "cm", "m", "in", "ft"), "unit the files were drawn in", ""},
		{"up", &t.Up, nil, nil, "which way the open side looks in the files, an axis with its sign; left out: halfpour finds it", ""},
		{"fill", &t.Fill, 0, in(0, 500).orZero(), "height of the rubber over the floor, in mm whatever the files' unit; left out: frame.freeboard under the lowest point of the rim", ""},
	}
}

// MMPerUnit is one unit of the files in mm.
func (t *BoxTable) MMPerUnit() float64 { return HeadTable{Unit: t.Unit}.MMPerUnit() }

// Spec is what there is to look at of the frames; their meshes are in mm.
func (t *BoxTable) Spec(job *Job, left, right *geom.TriMesh) box.Spec {
	shape := job.shape()
	s := box.Spec{Left: box.Input{Mesh: left}, Right: box.Input{Mesh: right},
		Options: box.Options{Freeboard: shape.Frame.Freeboard}, Checks: shape.Checks, Over: moldbox.Default().Checks.Rubber}
	if t.Up != nil {
		s.Left.Up, s.Right.Up = geom.Vec(*t.Up), geom.Vec(*t.Up)
	}
	if t.Fill > 0 {
		fill := float64(t.Fill)
		s.Fill = &fill
	}
	return s
}

// checkBox checks a job that has frames of its own.
func (j *Job) checkBox(given func(key string) bool) error {
	f := new(faults)
	f.missing(j.Box, func(key string) string { return "box." + key })
	for key, file := range map[string]string{"box.left": j.Box.Left, "box.right": j.Box.Right} {
		if onAnotherHost(file) {
			f.refuse(key, RuleValue, `copy it next to the job, and name it there`, "must be a file on this computer, got %q", file)
		}
	}
	if up := j.Box.Up; up != nil && !isAxis(*up) {
		f.refuse("box.up", RuleValue, `write up = "+z"`, "must be an axis of the file with its sign")
	}
	for _, key := range []string{"head", "hook", "keeper", "weight", "metal", "casting", "cavity", "size", "cavities", "sprue", "runner", "vents", "cost"} {
		if given(key) {
			f.refuse(key, RuleConflict, "remove it, or [box]: a job with [box] plans the rubber of frames that are drawn already", "cannot be used with [box]")
		}
	}
	j.checkRubber(f)
	j.checkBench(f)
	return errors.Join(f.errs...)
}

func isAxis(d Direction) bool {
	for _, axis := range fileAxes {
		if d == axis {
			return true
		}
	}
	return false
}

package pourplan

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"halfpour/moldbox"
)

// Explain says an error of moldbox.Build, Job.Spec or NewPlan in the words of
// the job file: a JobErrors with a *JobError for each moldbox.SpecError and for
// each key that does not do, with its place in the file when ReadJob made the
// job. An error that holds anything else comes back as it is.
func (j *Job) Explain(err error) error {
	source := j.source
	if source == nil {
		source = &jobSource{file: "job"}
	}
	var list JobErrors
	told := map[string]bool{}
	for _, e := range flatten(err) {
		k := source.keyErrorOf(e, RuleMold)
		if k == nil {
			return err
		}
		if told[k.key] { // by a cavity that is alike
			continue
		}
		told[k.key] = true
		list = append(list, source.blame(k.key, k.rule, k.hint, k.err, valueOf))
	}
	if len(list) == 0 {
		return err
	}
	return list.sorted()
}

// keyErrorOf finds the key of the job that an error is about; rule is what a
// SpecError breaks. It returns nil for an error about no key.
func (s *jobSource) keyErrorOf(err error, rule string) *keyError {
	var k *keyError
	var e *moldbox.SpecError
	switch {
	case errors.As(err, &k):
		return k
	case errors.As(err, &e):
		hint := e.Remedy
		if e.Cause != "" {
			hint = remedyOf("", e.Cause, e.Figures)
		}
		return &keyError{s.keyOf(e.Field), rule, hint, s.shapeError(e)}
	}
	return nil
}

// cavityKeys are the keys that decide fields of a moldbox.Cavity which have
// another name there.
var cavityKeys = map[string]string{"head": "head.file", "eye": "head.eye", "gate": "head.gate", "wall": "weight.wall",
	"metal_volume": "weight.target", "scale": "weight.scale", "shrink": "metal.shrink"}

var cavityField = regexp.MustCompile(`^cavities\[(\d+)\]\.(.*)$`)

var inField = regexp.MustCompile(`([a-z])([A-Z])`) // where a new word begins

// keyCase spells a field as a key is: "Frame.ToWall" is frame.to_wall.
func keyCase(field string) string {
	return strings.ToLower(inField.ReplaceAllString(field, "${1}_$2"))
}

// keyOf turns a field of a moldbox.Spec into the key of the job that decides
// it.
func (s *jobSource) keyOf(field string) string {
	field = keyCase(field)
	if _, listed := s.places["cavity[0]"]; listed && field == "cavities" {
		return "cavity"
	}
	m := cavityField.FindStringSubmatch(field)
	if m == nil {
		return s.path(field)
	}
	index, err := strconv.Atoi(m[1])
	if err != nil {
		return field
	}
	key := m[2]
	if own, ok := cavityKeys[key]; ok {
		key = own
	} else if axis, ok := strings.CutPrefix(key, "pose."); ok {
		key = "head." + axis
	} else if wire, ok := strings.CutPrefix(key, "keepers["); ok {
		key = "keeper[" + wire
	}
	return s.cavityPath(index, key)
}

// shapeError words a SpecError for a person: degrees, not radians.
func (s *jobSource) shapeError(e *moldbox.SpecError) error {
	unit, value, limit := e.Unit, e.Value, e.Limit
	if unit == "rad" {
		unit, value, limit = "°", value*180/math.Pi, limit*180/math.Pi
	} else if unit != "" {
		unit = " " + unit
	}
	text := e.Rule
	if e.Bound != "" {
		text += " " + s.keyOf(e.Bound) + " of"
	}
	if !math.IsNaN(limit) {
		text += fmt.Sprintf(" %.6g%s", limit, unit)
	}
	if !math.IsNaN(value) {
		text += fmt.Sprintf(", got %.6g%s", value, unit)
	}
	return errors.New(text)
}

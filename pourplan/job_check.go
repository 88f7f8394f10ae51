package pourplan

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"halfpour/geom"
	"halfpour/moldbox"
)

// check looks at how values go together that each read well. A table with a key
// that does not read is not looked at again, and nothing is called missing
// beside a key that is unknown, so that one mistake is told once.
func (r *jobReader) check(j *Job) {
	broken, misspelt, told := map[string]bool{}, false, map[string]bool{}
	for _, e := range r.errs {
		broken[tableOf(e.Key)] = broken[tableOf(e.Key)] || e.Rule != RuleRange
		misspelt = misspelt || e.Rule == RuleUnknownKey
		told[e.Key] = true
	}
	note := func(err error) {
		for _, e := range flatten(err) {
			var k *keyError
			if errors.As(e, &k) && !broken[tableOf(k.key)] && !told[k.key] && !(misspelt && k.rule == RuleMissing) {
				told[k.key] = true
				r.fail(k.key, k.rule, k.hint, k.err)
			}
		}
	}
	out := func() bool {
		return slices.ContainsFunc(r.errs, func(e *JobError) bool { return e.Rule != RuleRange })
	}
	if j.Box != nil {
		note(j.checkBox(func(key string) bool { _, ok := r.places[key]; _, list := r.places[key+"[0]"]; return ok || list }))
		return
	}
	note(j.checkOwn())
	if out() {
		return
	}
	for _, m := range j.Molds() {
		for i, c := range m.Job.Placed() {
			note(c.check(func(key string) string { return m.Job.source.cavityPath(i, key) }))
			if c.Hook != nil {
				note(m.Job.coatsLeaveOpen(c.Hook.wire()))
			}
		}
	}
	if out() {
		return
	}
	for _, m := range j.Molds() {
		r.checkShape(m.Job, told)
	}
}

// tableOf is the first part of a key, without an index.
func tableOf(key string) string {
	return key[:len(key)-len(strings.TrimLeft(key, "abcdefghijklmnopqrstuvwxyz_"))]
}

// flatten takes joined errors apart.
func flatten(err error) []error {
	joined, ok := err.(interface{ Unwrap() []error })
	switch {
	case err == nil:
		return nil
	case !ok:
		return []error{err}
	}
	var list []error
	for _, e := range joined.Unwrap() {
		list = append(list, flatten(e)...)
	}
	return list
}

// faults collects what does not go together.
type faults struct{ errs []error }

func (f *faults) refuse(key, rule, hint, format string, args ...any) {
	f.errs = append(f.errs, &keyError{key, rule, hint, fmt.Errorf(format, args...)})
}

// join adds the errors that err joins.
func (f *faults) join(err error) { f.errs = append(f.errs, flatten(err)...) }

// bound holds the value of a key against one that depends on other keys.
func (f *faults) bound(t keyed, table, name string, x float64, want string, bound float64, hint string) {
	if want == "at least" && !(x >= bound) || want == "at most" && !(x <= bound) {
		f.errs = append(f.errs, &keyError{table + "." + name, RuleRange, hint, keyNamed(t, name).outside(want, bound, x)})
	}
}

// missing asks for the keys that is required; at turns a key into where it
// stands.
func (f *faults) missing(t keyed, at func(key string) string) {
	for _, k := range t.keys() {
		if k.start == given && k.field().IsZero() {
			f.refuse(at(k.name), RuleMissing, k.hint, "is required")
		}
	}
}

// checkOwn checks what all molds of the job have in common.
func (j *Job) checkOwn() error {
	f := new(faults)
	if dir := j.Output.Folder; dir != "" && !filepath.IsLocal(filepath.FromSlash(dir)) {
		f.refuse("output.folder", RuleValue, "to write elsewhere: halfpour build --out FOLDER", "must lie in the job's folder, got %q", dir)
	} else if dir != "" {
		for _, name := range strings.FieldsFunc(dir, func(c rune) bool { return c == '/' || c == '\\' }) {
			if isDevice(name) {
				f.refuse("output.folder", RuleValue, "choose another name", "must be a valid folder name, got %q, which Windows reserves for a device", name)
			}
		}
	}
	if (j.Finish.Socket > 0) != (j.Finish.StickEye > 0) {
		f.refuse("finish.stick_eye", RuleMissing, "give both or neither", "needs finish.socket, and finish.socket needs it")
	}
	j.checkMetal(f)
	j.checkRubber(f)
	j.checkBench(f)
	return errors.Join(f.errs...)
}

func (j *Job) checkMetal(f *faults) {
	c := &j.Casting
	if c.Pot > 0 {
		f.bound(c, "casting", "heel", float64(c.Heel), "at most", 0.9*float64(c.Pot), "at most nine tenths of casting.pot: you can only pour the rest")
	}
	metal, err := j.Metal.resolve()
	if err != nil {
		f.join(err)
	} else if c.Pour != nil {
		f.bound(c, "casting", "pour", float64(*c.Pour), "at least", metal.Liquidus, "it must be above the liquidus")
	}
}

func (j *Job) checkRubber(f *faults) {
	r, err := j.Rubber.resolve()
	if err != nil {
		f.join(err)
		return
	}
	f.bound(&j.Rubber, "rubber", "heat_short", r.Short, "at least", r.Continuous, "it is above rubber.heat_continuous")
}

// checkBench checks shopping, clock and money.
func (j *Job) checkBench(f *faults) {
	for i := range j.Kit {
		k, at := &j.Kit[i], fmt.Sprintf("kit[%d]", i)
		switch {
		case k.Mass > 0 && k.A > 0:
			f.refuse(at+".a", RuleConflict, "remove one of them", "cannot be used with mass: a is A alone, mass is A and B")
		case k.Mass == 0 && k.A == 0:
			f.refuse(at, RuleMissing, "write mass = \"1 kg\" for A and B together, or a = \"1 kg\" for A alone", "must say how much the kit holds")
		}
		f.missing(k, func(key string) string { return at + "." + key })
	}
	if e := &j.Evening; e.PostCure > 0 {
		f.bound(e, "evening", "post_cure_at", float64(e.PostCureAt), "at least", float64(e.Room), "the data sheet says how warm")
	}
	_, err := j.Plastic.resolve()
	f.join(err)
	if j.Cost.Plastic != nil && j.Plastic.Name == "" {
		f.refuse("cost.plastic", RuleMissing, "write name = \"PLA\" under [plastic]", "needs plastic.name, the plastic that it is the price of")
	}
	if j.Cost.Rubber != nil && len(j.Kit) > 0 {
		f.refuse("cost.rubber", RuleConflict, "remove it: the plan counts the kits' prices", "cannot be used with [[kit]]")
	}
}

// check checks one cavity; at turns a key into where it stands in the file.
func (c CavityTable) check(at func(key string) string) error {
	f := new(faults)
	in := func(table string) func(string) string {
		return func(key string) string { return at(table + "." + key) }
	}
	f.missing(&c.Head, in("head"))
	if left, want := c.Head.Left, c.Head.pose().Left(); left != nil && want != (geom.Vec{}) && geom.Vec(*left).Unit().Dot(want) < leastAlike {
		f.refuse(at("head.left"), RuleRange, "remove it: it follows from head.nose and head.back", "must be the left flank, which is %s with this nose and back, got %s",
			moldbox.DirectionText(want), *left)
	}
	if onAnotherHost(c.Head.File) {
		f.refuse(at("head.file"), RuleValue, "copy it next to the job, and name it there: file = \"head.stl\"", "must be a file on this computer, got %q", c.Head.File)
	}
	if c.Hook != nil {
		c.checkHook(f, at)
	}
	if c.Weight.Target != 0 && c.Weight.Scale != 0 {
		f.refuse(at("weight.scale"), RuleConflict, "remove one of them", "cannot be used with weight.target, which decides the scale")
	}
	for i := range c.Keeper {
		k, keeper := &c.Keeper[i], fmt.Sprintf("keeper[%d]", i)
		k.check(f, in(keeper), c.Hook != nil)
	}
	return errors.Join(f.errs...)
}

// leastAlike is the cosine of how far head.left may be off.
const leastAlike = 0.9

// checkShape lets moldbox judge the mold, with a ball in place of each head,
// and tells what it says at the job's keys.
// told are the keys that were told of already.
func (r *jobReader) checkShape(j *Job, told map[string]bool) {
	ball := geom.Ball(geom.Vec{}, 5)
	spec, err := j.Spec(func(string) (geom.Solid, error) { return ball, nil })
	if err == nil {
		err = spec.Validate()
	}
	for _, e := range flatten(err) {
		k := j.source.keyErrorOf(e, RuleRange)
		if k == nil {
			k = &keyError{"", RuleRange, "", e}
		}
		if told[k.key] {
			continue
		}
		told[k.key] = true
		r.fail(k.key, k.rule, k.hint, k.err)
	}
}

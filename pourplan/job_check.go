package pourplan

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"halfpour/geom"
)

const maxCavities = 64 // as moldbox.Spec.Validate has it

// check looks at values that each read well: their limits and how they go
// together. A table with a broken key is not looked at again, and nothing is
// called missing beside a key that is unknown, so that one mistake is told
// once.
func (r *jobReader) check(j *Job) {
	broken, misspelt := map[string]bool{}, false
	for _, e := range r.errs {
		broken[tableOf(e.Key)] = true
		misspelt = misspelt || e.Rule == RuleUnknownKey
	}
	told := map[string]bool{}
	note := func(err error) {
		for _, e := range flatten(err) {
			var k *keyError
			if errors.As(e, &k) && !broken[tableOf(k.key)] && !told[k.key] && !(misspelt && k.rule == RuleMissing) {
				told[k.key] = true
				r.fail(k.key, k.rule, k.hint, k.err)
			}
		}
	}
	note(j.checkOwn())
	if len(r.errs) > 0 {
		return
	}
	for _, m := range j.Molds() {
		note(m.Job.checkSize())
		if len(r.errs) > 0 {
			return
		}
		for i, c := range m.Job.Placed() {
			note(c.check(func(key string) string { return m.Job.source.cavityPath(i, key) }))
			note(m.Job.Finish.leavesOpen(c))
		}
	}
	if len(r.errs) > 0 {
		return
	}
	told = map[string]bool{}
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

// limits collects what is out of range.
type limits struct{ errs []error }

func (l *limits) within(key string, v, lo, hi float64, unit, hint string) {
	want := ""
	switch {
	case !(v >= lo):
		want = fmt.Sprintf("at least %.6g", lo)
	case !(v <= hi):
		want = fmt.Sprintf("at most %.6g", hi)
	default:
		return
	}
	if unit != "" {
		unit = " " + unit
	}
	l.errs = append(l.errs, &keyError{key, RuleRange, hint, fmt.Errorf("must be %s%s, got %.6g%s", want, unit, v, unit)})
}

func (l *limits) oneOf(key, got string, names ...string) {
	for _, name := range names {
		if got == name {
			return
		}
	}
	l.errs = append(l.errs, &keyError{key, RuleValue, suggest(got, names), fmt.Errorf("must be one of %s, got %q", strings.Join(names, ", "), got)})
}

// checkOwn checks what moldbox does not know.
func (j *Job) checkOwn() error {
	l := new(limits)
	if n := len([]rune(j.Title)); n > 80 {
		l.within("title", float64(n), 0, 80, "characters", "it goes on the sheet and, without marking.lines, on the mold")
	}
	j.checkMetal(l)
	j.checkFinish(l)
	j.checkRubber(l)
	j.checkBench(l)
	l.within("output.tolerance", float64(j.Output.Tolerance), 0.001, 0.5, "mm", "0.02 mm is below what a printer shows")
	l.oneOf("output.paper", j.Output.Paper, "a4", "letter")
	if f := j.Output.Folder; f != "" && !filepath.IsLocal(filepath.FromSlash(f)) {
		l.errs = append(l.errs, &keyError{"output.folder", RuleValue, "to write elsewhere: halfpour build --out FOLDER", fmt.Errorf("must lie in the job's folder, got %q", f)})
	}
	return errors.Join(l.errs...)
}

// checkSize checks what each size has of its own.
func (j *Job) checkSize() error {
	l := new(limits)
	l.within(j.source.path("cavities"), float64(j.Cavities), 1, maxCavities, "", "a mold has at least one head")
	heads := j.source.path("heads")
	if heads == "heads" {
		heads = "casting.heads"
	}
	l.within(heads, float64(j.Casting.Heads), 0, 1e6, "", "")
	return errors.Join(l.errs...)
}

// A fill factor outside these is a slip of unit or decimal.
const leastFill, mostFill = 0.5, 1.2

func (j *Job) checkMetal(l *limits) {
	c := j.Casting
	l.within("metal.fill_factor", j.Metal.FillFactor, leastFill, mostFill, "", "it is weighed over computed mass, near 1")
	if r := j.Metal.FillRange; r != nil {
		l.within("metal.fill_range", r[0], leastFill, mostFill, "", "it is weighed over computed mass, near 1")
		l.within("metal.fill_range", r[1], leastFill, mostFill, "", "it is weighed over computed mass, near 1")
	}
	if j.Metal.Density != 0 {
		l.within("metal.density", float64(j.Metal.Density), 1, 20, "g/cm3", "lead has 11.3, tin 7.3")
	}
	if j.Metal.Shrink != nil {
		l.within("metal.shrink", float64(*j.Metal.Shrink), 0, 3, "%", "linear, of the solid metal: about 0.9 for lead, 0.5 for tin")
	}
	l.within("casting.superheat", float64(c.Superheat), 0, 300, "K", "30 to 80 is usual")
	l.within("casting.mold", float64(c.Mold), -20, 200, "°C", "50 to 95 is usual")
	l.within("casting.dross", float64(c.Dross), 0, 50, "%", "")
	l.within("casting.yield", float64(c.Yield), 1, 100, "%", "")
	if c.Pot > 0 {
		l.within("casting.heel", float64(c.Heel), 0, 0.9*float64(c.Pot), "g", "nine tenths of casting.pot: the rest is what can be poured")
	}
	metal, err := j.Metal.resolve()
	if err != nil {
		l.errs = append(l.errs, flatten(err)...)
		return
	}
	l.within("metal.liquidus", metal.Liquidus, 40, 1200, "°C", "")
	if c.Pour != nil {
		l.within("casting.pour", float64(*c.Pour), metal.Liquidus, 1500, "°C", "it must be over the liquidus")
	}
}

func (j *Job) checkRubber(l *limits) {
	t := j.Rubber
	l.within("rubber.waste", float64(t.Waste), 0, 100, "%", "")
	l.within("rubber.residue", float64(t.Residue), 0, 1000, "g", "")
	if t.Conductivity != nil {
		l.within("rubber.conductivity", *t.Conductivity, 0.05, 5, "W/(m·K)", "silicone rubbers have 0.2 to 0.4")
	}
	if t.SpecificHeat != nil {
		l.within("rubber.specific_heat", *t.SpecificHeat, 0.5, 4, "J/(g·K)", "silicone rubbers have 1.2 to 1.5")
	}
	l.within("rubber.brush", float64(t.Brush), 0, 5, "mm", "0.5 mm is a thin coat")
	l.within("rubber.scale", float64(t.Scale), 0.001, 10, "g", "the smallest step that your scale shows")
	if t.Hardness != 0 {
		l.within("rubber.hardness", t.Hardness, 5, 90, "Shore A", "mold rubbers have 10 to 60")
	}
	if t.BTolerance != nil {
		l.within("rubber.b_tolerance", float64(*t.BTolerance), 0, 50, "%", "the data sheet says how far B may be off")
	}
	if t.Cure != "" {
		l.oneOf("rubber.cure", t.Cure, "tin", "platinum")
	}
	r, err := t.resolve()
	if err != nil {
		l.errs = append(l.errs, flatten(err)...)
		return
	}
	l.within("rubber.density", r.Density, 0.8, 3, "g/cm3", "mold silicones have 1.05 to 1.45")
	l.within("rubber.ratio", r.Ratio.PerHundred(), 0.1, 1000, "parts of B to 100 of A", "write A first")
	l.within("rubber.shrink", r.Shrink.Best, 0, 5, "%", "")
	l.within("rubber.shrink_range", r.Shrink.Hi, 0, 5, "%", "")
	l.within("rubber.pot_life", r.PotLife, 30, 7*86400, "s", "")
	l.within("rubber.demold", r.Demold, 60, 60*86400, "s", "")
	l.within("rubber.rest", r.Rest, 0, 365*86400, "s", "")
	l.within("rubber.heat_short", r.Short, r.Continuous, 600, "°C", "it is above rubber.heat_continuous")
}

// check checks one cavity; at turns a key into where it stands in the file.
func (c CavityTable) check(at func(key string) string) error {
	l := new(limits)
	if c.Head.File == "" {
		l.errs = append(l.errs, &keyError{at("head.file"), RuleMissing, "write file = \"head.stl\" under [head]", errors.New("must name the head's mesh")})
	}
	if c.Hook != nil && c.Head.Eye == nil {
		l.errs = append(l.errs, &keyError{at("head.eye"), RuleMissing, "write eye = [x, y, z] under [head], read off in CAD in the file's coordinates",
			errors.New("must say where the centre of the hook's eye is")})
	}
	l.oneOf(at("head.unit"), c.Head.Unit, "mm", "cm", "m", "in", "ft")
	l.oneOf(at("weight.of"), c.Weight.Of, "finished", "metal")
	w := c.Weight
	if w.Target != 0 {
		l.within(at("weight.target"), float64(w.Target), 0.05, 5000, "g", "")
	}
	if w.Target != 0 && w.Scale != 0 {
		l.errs = append(l.errs, &keyError{at("weight.scale"), RuleConflict, "take one of them out", errors.New("does not go with weight.target, which decides the scale")})
	}
	if c.Hook != nil && c.Hook.Mass == 0 {
		l.within(at("hook.density"), float64(c.Hook.Density), 1, 20, "g/cm3", "spring steel has 7.85")
	}
	for i, k := range c.Keeper {
		k.check(l, func(key string) string { return at(fmt.Sprintf("keeper[%d].%s", i, key)) })
	}
	return errors.Join(l.errs...)
}

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

package pourplan

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"reflect"
	"slices"
)

// cavities reads [[cavity]]; each starts as the job's plain cavity.
func (r *jobReader) cavities(v any, job *Job) {
	for i, row := range r.tables("cavity", v, keyNamed(job, "cavity")) {
		c, path := job.plainCavity(), fmt.Sprintf("cavity[%d]", i)
		r.table(path, row, &c)
		r.settle(path, &c.OwnTable)
		r.spread(c, path, job)
	}
	if n := len(job.Cavity); n > maxCavities {
		r.fail("cavity", RuleRange, "", fmt.Errorf("must make at most %d cavities, got %d", maxCavities, n))
	}
}

// settle makes weight and hook what the short keys of the table at path say.
// What decides the size there replaces what decides it in the job.
func (r *jobReader) settle(path string, t *OwnTable) {
	_, long := r.places[path+".weight.target"]
	_, scaled := r.places[path+".weight.scale"]
	switch {
	case t.Target != nil && long:
		r.fail(path+".target", RuleConflict, "remove one of them", errors.New("is short for weight.target, which is given too"))
	case t.Target != nil:
		t.Weight.Target = *t.Target
		if !scaled {
			t.Weight.Scale = 0
		}
	case scaled && !long:
		t.Weight.Target = 0
	}
	if t.WithoutHook {
		t.Hook = nil
	}
}

// spread adds count cavities of the table at path.
func (r *jobReader) spread(c CavityTable, path string, job *Job) {
	for k := range c.Count {
		one := c
		if c.Name != "" && c.Count > 1 {
			one.Name = fmt.Sprintf("%s %d", c.Name, k+1)
		}
		job.Cavity, r.owners = append(job.Cavity, one), append(r.owners, path)
	}
}

// tables takes the list of tables of a key, written with [[ ]] or inline. A
// list that the key may not have is none.
func (r *jobReader) tables(at string, v any, k key) []map[string]any {
	rows, ok := v.([]map[string]any)
	if list, inline := v.([]any); inline {
		ok = true
		for _, x := range list {
			row, isTable := x.(map[string]any)
			rows, ok = append(rows, row), ok && isTable
		}
	}
	if !ok {
		r.fail(at, RuleValue, "write [["+at+"]] with two brackets, once for each", fmt.Errorf("want a list of tables, got %s", quoted(v)))
		return nil
	}
	if rule, hint, err := k.within(reflect.ValueOf(rows)); err != nil {
		r.fail(at, rule, hint, err)
		return nil
	}
	return rows
}

// unmarshaler is the method of our quantities.
type unmarshaler interface{ UnmarshalTOML(v any) error }

// table reads the keys of a table.
func (r *jobReader) table(path string, src map[string]any, t keyed) {
	if name, is := src["use"].(string); is {
		r.named(join(path, "use"), name, t)
	}
	for _, name := range sortedKeys(src) {
		if k := keyNamed(t, name); k.at != nil {
			r.assign(join(path, name), src[name], k)
		} else {
			r.unknown(path, name, src[name], t)
		}
	}
}

func sortedKeys(m map[string]any) []string { return slices.Sorted(maps.Keys(m)) }

// keyNamed finds a key of a table; what is nowhere goes nowhere.
func keyNamed(t keyed, name string) key {
	for _, k := range t.keys() {
		if k.name == name {
			return k
		}
	}
	return key{}
}

// assign puts a value where its key belongs, or notes why it does not fit.
func (r *jobReader) assign(at string, v any, k key) {
	field := k.field()
	table, isTable := k.at.(keyed)
	if field.Kind() == reflect.Pointer && isKeyed(field.Type().Elem()) {
		if field.IsNil() {
			field.Set(newTable(field.Type().Elem()))
		}
		table, isTable = field.Interface().(keyed), true
	}
	switch {
	case isTable:
		if src, ok := v.(map[string]any); ok {
			r.table(at, src, table)
		} else if name, ok := v.(string); ok && keyNamed(table, "use").at != nil { // short for its use
			r.named(at, name, table)
			r.assign(at, name, keyNamed(table, "use"))
		} else {
			r.fail(at, RuleValue, "write ["+at+"] on a line of its own", fmt.Errorf("want a table, got %s", quoted(v)))
		}
	case field.Kind() == reflect.Slice && isKeyed(field.Type().Elem()):
		list := reflect.Zero(field.Type())
		for i, row := range r.tables(at, v, k) {
			one := newTable(field.Type().Elem())
			r.table(fmt.Sprintf("%s[%d]", at, i), row, one.Interface().(keyed))
			list = reflect.Append(list, one.Elem())
		}
		field.Set(list)
	default:
		r.value(at, v, k, field)
	}
}

func isKeyed(t reflect.Type) bool { return reflect.PointerTo(t).Implements(reflect.TypeFor[keyed]()) }

// newTable is a pointer to a table that says nothing yet.
func newTable(t reflect.Type) reflect.Value {
	table := reflect.New(t)
	fill(table.Interface().(keyed))
	return table
}

// value puts a plain value or a quantity where it belongs. A figure that is out
// of its limits goes there too, so that what has to go together can be judged;
// a count does not, for something is made that many times.
func (r *jobReader) value(at string, v any, k key, field reflect.Value) {
	optional := field.Kind() == reflect.Pointer
	t := field.Type()
	if optional {
		t = t.Elem()
	}
	read := reflect.New(t)
	if err := readInto(read, v); err != nil {
		r.fail(at, RuleValue, "", err)
		return
	}
	rule, hint, err := k.within(read.Elem())
	if err != nil {
		r.fail(at, rule, hint, err)
	}
	switch {
	case err != nil && t.Kind() == reflect.Int:
	case optional:
		field.Set(read)
	default:
		field.Set(read.Elem())
	}
}

// readInto reads a TOML value into what dst points to.
func readInto(dst reflect.Value, v any) error {
	if u, ok := dst.Interface().(unmarshaler); ok {
		return u.UnmarshalTOML(v)
	}
	if d := kinds()[dst.Type().Elem()].dim; d.units != nil {
		x, err := d.read(v)
		dst.Elem().SetFloat(x)
		return err
	}
	want, ok := "", false
	switch dst := dst.Interface().(type) {
	case *string:
		want = `text such as "minnow"`
		*dst, ok = v.(string)
	case *bool:
		want = "true or false"
		*dst, ok = v.(bool)
	case *int:
		var n int64
		want = "a whole number"
		n, ok = v.(int64)
		*dst = int(n)
	case *float64:
		want = "a plain number"
		n, whole := v.(int64)
		if *dst, ok = v.(float64); whole {
			*dst, ok = float64(n), true
		}
		ok = ok && !math.IsNaN(*dst) && !math.IsInf(*dst, 0)
	case *[]string:
		want = `a list of texts such as ["minnow", "3/8 oz"]`
		*dst, ok = texts(v)
	}
	if !ok {
		return fmt.Errorf("want %s, got %s", want, quoted(v))
	}
	return nil
}

func texts(v any) ([]string, bool) {
	list, ok := v.([]any)
	lines := make([]string, len(list))
	for i, x := range list {
		s, isText := x.(string)
		if !isText {
			return nil, false
		}
		lines[i] = s
	}
	return lines, ok
}

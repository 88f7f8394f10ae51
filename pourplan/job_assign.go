package pourplan

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"sort"
)

// cavities reads [[cavity]]; each starts as the job's plain cavity.
func (r *jobReader) cavities(v any, job *Job) {
	rows, ok := tables(v)
	if !ok || len(rows) == 0 {
		r.fail("cavity", RuleValue, "write [[cavity]] with two brackets, once for each",
			fmt.Errorf("want a list of tables, got %s", quoted(v)))
		return
	}
	if len(rows) > maxCavities {
		r.fail("cavity", RuleRange, "", fmt.Errorf("must be at most %d, got %d", maxCavities, len(rows)))
		return
	}
	for i, row := range rows {
		c, path := job.plainCavity(), fmt.Sprintf("cavity[%d]", i)
		r.table(path, row, reflect.ValueOf(&c).Elem())
		r.settle(path, c.Target, c.WithoutHook, &c.Weight, &c.Hook)
		r.spread(c, i, job)
	}
	if n := len(job.Cavity); n > maxCavities {
		r.fail("cavity", RuleRange, "", fmt.Errorf("must come to at most %d cavities, got %d", maxCavities, n))
	}
}

// settle makes weight and hook what the short keys of the table at path say.
// What decides the size there replaces what decides it in the job.
func (r *jobReader) settle(path string, target *Gram, withoutHook bool, w *WeightTable, hook **HookTable) {
	_, long := r.places[path+".weight.target"]
	_, scaled := r.places[path+".weight.scale"]
	if target != nil {
		if long {
			r.fail(path+".target", RuleConflict, "take one of them out", errors.New("is short for weight.target, which is given too"))
		}
		w.Target = *target
	}
	if scaled && target == nil && !long {
		w.Target = 0
	}
	if !scaled && target != nil {
		w.Scale = 0
	}
	if withoutHook {
		*hook = nil
	}
}

// spread adds count cavities of table i.
func (r *jobReader) spread(c CavityTable, i int, job *Job) {
	path := fmt.Sprintf("cavity[%d]", i)
	if c.Count < 1 || c.Count > maxCavities {
		r.fail(path+".count", RuleRange, "leave the table out for none", fmt.Errorf("must be 1 to %d, got %d", maxCavities, c.Count))
		c.Count = 1
	}
	for k := range c.Count {
		one := c
		if c.Name != "" && c.Count > 1 {
			one.Name = fmt.Sprintf("%s %d", c.Name, k+1)
		}
		job.Cavity, r.owners = append(job.Cavity, one), append(r.owners, path)
	}
}

// tables takes a list of tables, written with [[ ]] or inline.
func tables(v any) ([]map[string]any, bool) {
	switch v := v.(type) {
	case []map[string]any:
		return v, true
	case []any:
		rows := make([]map[string]any, len(v))
		for i, x := range v {
			row, ok := x.(map[string]any)
			if !ok {
				return nil, false
			}
			rows[i] = row
		}
		return rows, true
	}
	return nil, false
}

// unmarshaler is the method of our quantities.
type unmarshaler interface{ UnmarshalTOML(v any) error }

// table fills the struct dst from a table.
func (r *jobReader) table(path string, src map[string]any, dst reflect.Value) {
	for _, key := range sortedKeys(src) {
		at := join(path, key)
		field, ok := fieldOf(dst, key)
		if !ok {
			r.unknown(path, key, dst.Type())
			continue
		}
		r.assign(at, src[key], field)
	}
}

func sortedKeys(m map[string]any) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}

func fieldOf(v reflect.Value, key string) (reflect.Value, bool) {
	for i := range v.NumField() {
		if name, ok := v.Type().Field(i).Tag.Lookup("toml"); ok && name == key {
			return v.Field(i), true
		}
	}
	return reflect.Value{}, false
}

// assign puts one value into dst, or notes why it does not fit.
func (r *jobReader) assign(at string, v any, dst reflect.Value) {
	if u, ok := dst.Addr().Interface().(unmarshaler); ok {
		if err := u.UnmarshalTOML(v); err != nil {
			r.fail(at, RuleValue, "", err)
		}
		return
	}
	if list, ok := dst.Addr().Interface().(*[]KeeperTable); ok {
		r.keepers(at, v, list)
		return
	}
	switch dst.Kind() {
	case reflect.Pointer:
		r.assignPointer(at, v, dst)
		return
	case reflect.Slice:
		if dst.Type().Elem().Kind() == reflect.Struct {
			r.assignTables(at, v, dst)
			return
		}
	case reflect.Struct:
		if t, ok := v.(map[string]any); ok {
			r.table(at, t, dst)
			return
		}
		r.fail(at, RuleValue, "write ["+at+"] on a line of its own", fmt.Errorf("want a table, got %s", quoted(v)))
		return
	}
	if want, ok := assignPlain(v, dst); !ok {
		r.fail(at, RuleValue, "", fmt.Errorf("want %s, got %s", want, quoted(v)))
	}
}

// assignTables reads a list of tables; each starts empty.
func (r *jobReader) assignTables(at string, v any, dst reflect.Value) {
	rows, ok := tables(v)
	if !ok {
		r.fail(at, RuleValue, "write [["+at+"]] with two brackets, once for each", fmt.Errorf("want a list of tables, got %s", quoted(v)))
		return
	}
	list := reflect.MakeSlice(dst.Type(), len(rows), len(rows))
	for i, row := range rows {
		r.table(fmt.Sprintf("%s[%d]", at, i), row, list.Index(i))
	}
	dst.Set(list)
}

// assignPointer allocates what an optional key points to; an existing value
// is changed, not replaced.
func (r *jobReader) assignPointer(at string, v any, dst reflect.Value) {
	target := dst
	if dst.IsNil() {
		target = reflect.New(dst.Type().Elem())
		switch t := target.Interface().(type) {
		case *HookTable:
			*t = defaultHook()
		case *RunnerTable:
			*t = defaultRunner()
		}
	}
	before := len(r.errs)
	r.assign(at, v, target.Elem())
	if len(r.errs) == before || dst.Type().Elem().Kind() == reflect.Struct {
		dst.Set(target)
	}
}

// assignPlain puts a plain TOML value into a field of the same kind.
func assignPlain(v any, dst reflect.Value) (want string, ok bool) {
	switch dst.Kind() {
	case reflect.String:
		s, ok := v.(string)
		if ok {
			dst.SetString(s)
		}
		return `text such as "minnow"`, ok
	case reflect.Bool:
		b, ok := v.(bool)
		if ok {
			dst.SetBool(b)
		}
		return "true or false", ok
	case reflect.Int:
		n, ok := v.(int64)
		if ok {
			dst.SetInt(n)
		}
		return "a whole number", ok
	case reflect.Float64:
		x, ok := v.(float64)
		if n, whole := v.(int64); whole {
			x, ok = float64(n), true
		}
		ok = ok && !math.IsNaN(x) && !math.IsInf(x, 0)
		if ok {
			dst.SetFloat(x)
		}
		return "a plain number", ok
	}
	lines, ok := texts(v)
	if ok {
		dst.Set(reflect.ValueOf(lines))
	}
	return `a list of texts such as ["minnow", "3/8 oz"]`, ok
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

package pourplan

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"sort"
	"strings"
	"unicode"

	"github.com/BurntSushi/toml"
)

// maxJobBytes bounds a job file; a long one has some 5 kB.
const maxJobBytes = 256 << 10

// ReadJob reads and checks a job file. name is for error messages only. The
// error is a JobErrors with everything that was found wrong.
func ReadJob(name string, data []byte) (*Job, error) {
	r := &jobReader{file: name, src: strings.TrimPrefix(string(data), "\ufeff")}
	if len(data) > maxJobBytes {
		r.fail("", RuleSyntax, "keep pictures and meshes in files of their own",
			fmt.Errorf("too long for a job file: %d bytes, at most %d", len(data), maxJobBytes))
		return nil, r.errs
	}
	var tree map[string]any
	if _, err := toml.Decode(r.src, &tree); err != nil {
		return nil, JobErrors{r.syntax(err)}
	}
	r.places = findPlaces(r.src)
	job := Default()
	list, hasList := tree["cavity"]
	delete(tree, "cavity")
	r.table("", tree, reflect.ValueOf(job).Elem())
	if hasList {
		r.cavities(list, job)
		if _, also := r.places["cavities"]; also {
			r.fail("cavities", RuleConflict, "take out cavities, or the [[cavity]] tables",
				errors.New("says how many are alike, but [[cavity]] tables list them one by one"))
		}
	}
	r.check(job)
	if len(r.errs) > 0 {
		return nil, r.sorted()
	}
	return job, nil
}

// jobReader fills a Job from a TOML tree and collects what is wrong.
type jobReader struct {
	file, src string
	places    map[string]place
	errs      JobErrors
}

// syntax turns a decoder's error into one of ours.
func (r *jobReader) syntax(err error) *JobError {
	e := &JobError{File: r.file, Rule: RuleSyntax, Err: err}
	var p toml.ParseError
	if errors.As(err, &p) {
		e.Err = errors.New(lowerFirst(p.Message))
		start := min(max(0, p.Position.Start), len(r.src))
		e.pointAt(r.src, extent{start, start + max(1, p.Position.Len)})
	}
	return e
}

func lowerFirst(s string) string {
	rs := []rune(s)
	if len(rs) > 1 && unicode.IsUpper(rs[0]) && unicode.IsLower(rs[1]) {
		rs[0] = unicode.ToLower(rs[0])
	}
	return string(rs)
}

// fail notes an error at the value of a key, or, when the key is not in the
// file, at the nearest table around it that is.
func (r *jobReader) fail(key, rule, hint string, err error) {
	r.failAt(key, rule, hint, err, func(p place) extent { return p.value })
}

func (r *jobReader) failAt(key, rule, hint string, err error, part func(place) extent) {
	e := &JobError{File: r.file, Key: key, Rule: rule, Hint: hint, Err: err}
	for path := key; path != ""; path = parentOf(path) {
		if p, ok := r.places[path]; ok {
			e.pointAt(r.src, part(p))
			break
		}
	}
	r.errs = append(r.errs, e)
}

// parentOf cuts the last part off a path: "cavity[1].hook" -> "cavity[1]" -> "".
func parentOf(path string) string {
	return path[:max(0, strings.LastIndexByte(path, '.'))]
}

// sorted puts the errors in the order of the file.
func (r *jobReader) sorted() JobErrors {
	sort.SliceStable(r.errs, func(i, k int) bool {
		a, b := r.errs[i], r.errs[k]
		if (a.Line == 0) != (b.Line == 0) {
			return b.Line == 0
		}
		return a.Line < b.Line || a.Line == b.Line && a.Col < b.Col
	})
	return r.errs
}

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
		if c.Target != nil {
			if _, both := r.places[path+".weight.target"]; both {
				r.fail(path+".target", RuleConflict, "take one of them out", errors.New("is short for weight.target, which is given too"))
			}
			c.Weight.Target = *c.Target
		}
		if c.WithoutHook {
			c.Hook = nil
		}
		_, scaled := r.places[path+".weight.scale"]
		if scaled && c.Target == nil && r.places[path+".weight.target"] == (place{}) {
			c.Weight.Target = 0
		}
		if !scaled && c.Target != nil {
			c.Weight.Scale = 0
		}
		job.Cavity = append(job.Cavity, c)
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
		if v.Type().Field(i).Tag.Get("toml") == key {
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
	switch dst.Kind() {
	case reflect.Pointer:
		r.assignPointer(at, v, dst)
		return
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

// assignPointer allocates what an optional key points to; an existing value
// is changed, not replaced.
func (r *jobReader) assignPointer(at string, v any, dst reflect.Value) {
	target := dst
	if dst.IsNil() {
		target = reflect.New(dst.Type().Elem())
		if h, ok := target.Interface().(*HookTable); ok {
			*h = defaultHook()
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

// unknown notes a key that the table does not have, with the key that was
// likely meant.
func (r *jobReader) unknown(path, key string, table reflect.Type) {
	names := keysOf(table)
	hint := "keys here: " + strings.Join(names, ", ")
	if near := nearest(strings.ToLower(key), names); near != "" {
		hint = fmt.Sprintf("did you mean %s?", near)
	} else if owner := ownerOf(key); owner != "" {
		hint = fmt.Sprintf("%s is a key of %s", key, owner)
	}
	where := "at the top of a job"
	if path != "" {
		where = "in [" + strings.SplitN(path, "[", 2)[0] + "]"
	}
	r.failAt(join(path, key), RuleUnknownKey, hint, fmt.Errorf("no such key %s", where), func(p place) extent { return p.key })
}

// keysOf lists the keys of a table in the order of its documentation.
func keysOf(t reflect.Type) []string {
	var names []string
	for i := range t.NumField() {
		if name := t.Field(i).Tag.Get("toml"); name != "" {
			names = append(names, name)
		}
	}
	return names
}

// ownerOf returns the table that has a key of this name, "" for none.
func ownerOf(key string) string {
	job := reflect.TypeFor[Job]()
	for i := range job.NumField() {
		t := job.Field(i).Type
		if t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
			t = t.Elem()
		}
		if t.Kind() != reflect.Struct {
			continue
		}
		for _, name := range keysOf(t) {
			if name == key {
				return "[" + job.Field(i).Tag.Get("toml") + "]"
			}
		}
	}
	return ""
}

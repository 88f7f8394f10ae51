package pourplan

import (
	"fmt"
	"reflect"
	"strings"
)

// unknown notes a key that the table does not have, with the key that was
// likely meant.
func (r *jobReader) unknown(path, key string, table reflect.Type) {
	names := keysOf(table)
	hint := "keys here: " + strings.Join(names, ", ")
	if near := Nearest(strings.ToLower(key), names); near != "" {
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

package pourplan

import (
	"fmt"
	"strings"
)

// unknown notes a key that the table does not have, with the key that was
// likely meant.
func (r *jobReader) unknown(path, name string, v any, t keyed) {
	where := "at the top of a job"
	if path != "" {
		where = "in [" + strings.SplitN(path, "[", 2)[0] + "]"
	}
	r.failAt(join(path, name), RuleUnknownKey, likely(path, name, v, t), fmt.Errorf("no such key %s", where), func(p place) extent { return p.key })
}

// likely says which key was meant by a name that a table does not have.
func likely(path, name string, v any, t keyed) string {
	job := new(Job)
	all := keysOf(t, func(key) bool { return true })
	// "cavitys = 3" means cavities, [[cavitys]] means cavity.
	near := Nearest(strings.ToLower(name), keysOf(t, func(k key) bool { return k.isTable() == looksLikeTable(v) }))
	if near == "" {
		near = Nearest(strings.ToLower(name), all)
	}
	top := keyNamed(job, name)
	switch {
	case path != "" && top.at != nil && !top.isTable():
		return name + " is a key at the top of a job: write it above the first [table]"
	case near != "":
		return fmt.Sprintf("did you mean %s?", near)
	}
	for _, k := range job.keys() {
		if table := k.table(); table != nil {
			if sub := keyNamed(table, name); sub.at != nil && sub.isTable() == looksLikeTable(v) {
				return fmt.Sprintf("%s is a key of [%s]", name, k.name)
			}
		}
	}
	return "keys here: " + strings.Join(all, ", ")
}

func looksLikeTable(v any) bool {
	switch v.(type) {
	case map[string]any, []map[string]any:
		return true
	}
	return false
}

// keysOf lists those keys of a table that are wanted, in its order.
func keysOf(t keyed, wanted func(key) bool) []string {
	var names []string
	for _, k := range t.keys() {
		if wanted(k) {
			names = append(names, k.name)
		}
	}
	return names
}

package pourplan

import (
	"errors"
	"fmt"
	"slices"

	"github.com/BurntSushi/toml"
)

// HookLibrary gives the file of hooks that were measured once: its name for messages,
// and its text, nil when there is no such file. It is asked only when a job uses a hook
// by its name, and at most once for each.
type HookLibrary func() (file string, data []byte, err error)

// HooksFile is the name of the file of hooks in a job's folder.
const HooksFile = "hooks.toml"

// fromLibrary makes a hook the one of that name in the library. Without a library
// nothing is known of it, and a usual hook stands in.
func (r *jobReader) fromLibrary(at, name string, h *HookTable) {
	*h = HookTable{}
	fill(h)
	standIn := *h
	standIn.Hook.Wire, standIn.Hook.EyeInside, standIn.Hook.Shank, standIn.Hook.Gape = usualHook.Wire, usualHook.EyeInside, usualHook.Shank, usualHook.Gape
	if r.hooks == nil {
		*h = standIn
		return
	}
	file, data, err := r.hooks()
	switch {
	case err != nil:
		r.fail(at, RuleValue, "", fmt.Errorf("cannot read %s: %w", file, err))
		return
	case data == nil:
		r.fail(at, RuleMissing, fmt.Sprintf("write %s beside the job: a table [%q] with the hook's keys", HooksFile, name),
			errors.New("needs the file "+file+", which is not there"))
		return
	}
	lib := &jobReader{jobSource: &jobSource{file: file, src: string(data)}}
	var tree map[string]any
	if err := lib.plausible(); err != nil {
		r.errs = append(r.errs, err)
		return
	}
	if _, err := toml.Decode(lib.src, &tree); err != nil {
		r.errs = append(r.errs, lib.syntax(err))
		return
	}
	lib.places = findPlaces(lib.src)
	row, ok := tree[name].(map[string]any)
	if !ok {
		names := sortedKeys(tree)
		hint := "it has no tables"
		if len(names) > 0 {
			hint = "it has " + fmt.Sprintf("%q", names)
		}
		if near := Nearest(name, names); near != "" {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
		r.fail(at, RuleValue, hint, fmt.Errorf("is no hook of %s: %q", file, name))
		return
	}
	delete(row, "use")
	lib.table(name, row, h)
	for _, e := range lib.errs { // once, though several cavities use it
		if !slices.ContainsFunc(r.errs, func(o *JobError) bool { return o.File == e.File && o.Key == e.Key }) {
			r.errs = append(r.errs, e)
		}
	}
	if len(lib.errs) > 0 {
		*h = standIn // what it lacks or has wrong has been told
	}
	if h.Name == "" {
		h.Name = name
	}
}

// Names are the names of the hooks in a library, in order; none of one that is nil,
// or not to be read.
func (l HookLibrary) Names() []string {
	if l == nil {
		return nil
	}
	_, data, err := l()
	if err != nil {
		return nil
	}
	var tree map[string]any
	if _, err := toml.Decode(string(data), &tree); err != nil {
		return nil
	}
	return sortedKeys(tree)
}

package pourplan

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"
)

// Library gives a file that jobs take things from by their names, ShelfFile or
// HooksFile: its path for messages, and its text, nil when there is no such file. It is
// asked only when a job uses such a name.
type Library func(name string) (file string, data []byte, err error)

const (
	// ShelfFile is the file of what a person has, in the job's folder or one above it.
	ShelfFile = "shelf.toml"
	// HooksFile is an older file of hooks alone, in the job's folder.
	HooksFile = "hooks.toml"
)

// The kinds of things on the shelf, by the table that they are in.
const (
	hookKind   = "hook"
	rubberKind = "rubber"
	metalKind  = "metal"
)

// shelfKinds are the tables of the shelf.
func shelfKinds() []string { return []string{hookKind, rubberKind, metalKind} }

// named makes a table of the job the thing of that name on the shelf, which the
// table's own keys then change.
func (r *jobReader) named(at, name string, t keyed) {
	switch t := t.(type) {
	case *HookTable:
		*t = HookTable{}
		fill(t)
		found, sound := r.fromLibrary(at, hookKind, name, t, nil)
		if r.library == nil || found && !sound {
			fill(t)
			t.Hook.Wire, t.Hook.EyeInside, t.Hook.Shank, t.Hook.Gape = usualHook.Wire, usualHook.EyeInside, usualHook.Shank, usualHook.Gape
		}
		if found && t.Name == "" {
			t.Name = name
		}
	case *RubberTable:
		row := ShelfRubber{RubberTable: *t}
		found, sound := r.fromLibrary(at, rubberKind, name, &row, rubberPresetNames())
		switch {
		case found && sound:
			*t, r.life = row.RubberTable, row.Life
			if t.Name == "" {
				t.Name = name
			}
		case slices.Contains(rubberPresetNames(), name):
			t.Preset = name
		default:
			t.Preset = rubberPresetNames()[0] // what is wrong has been told
		}
	case *MetalTable:
		row := *t
		found, sound := r.fromLibrary(at, metalKind, name, &row, metalPresetNames())
		switch {
		case found && sound:
			*t = row
		case slices.Contains(metalPresetNames(), name):
			t.Preset = name
		default:
			t.Preset = metalPresetNames()[0]
		}
	}
}

// fromLibrary reads the thing of that kind and name into t. It is sound if nothing is
// wrong with it; what is, is told. One that is not found is told too, unless it is
// among the presets.
func (r *jobReader) fromLibrary(at, kind, name string, t keyed, presets []string) (found, sound bool) {
	if r.library == nil {
		return false, false
	}
	names, files := []string{}, []string{}
	for _, file := range []string{ShelfFile, HooksFile} {
		if file == HooksFile && kind != hookKind {
			continue
		}
		lib, tree, err := r.openLibrary(at, file)
		if err {
			return true, false
		}
		if lib == nil {
			continue
		}
		path := name
		if file == ShelfFile {
			path = join(kind, name)
			tree, _ = tree[kind].(map[string]any)
		}
		files, names = append(files, lib.file), append(names, sortedKeys(tree)...)
		row, ok := tree[name].(map[string]any)
		if !ok {
			continue
		}
		delete(row, "use")
		lib.table(path, row, t)
		for _, e := range lib.errs { // once, though several cavities use it
			if !slices.ContainsFunc(r.errs, func(o *JobError) bool { return o.File == e.File && o.Key == e.Key }) {
				r.errs = append(r.errs, e)
			}
		}
		return true, len(lib.errs) == 0
	}
	if slices.Contains(presets, name) {
		return false, true
	}
	r.notFound(at, kind, name, files, append(names, presets...))
	return true, false
}

// notFound says that nothing on the shelf has a name, and which it has.
func (r *jobReader) notFound(at, kind, name string, files, names []string) {
	if len(files) == 0 && kind == hookKind {
		r.fail(at, RuleMissing, fmt.Sprintf("write %s beside the job or in a folder above it: a table [%s.%q] with the keys of [%s]", ShelfFile, kind, name, kind),
			errors.New("needs the file "+ShelfFile+", which is not there"))
		return
	}
	where := strings.Join(files, " or ")
	if where == "" {
		where = "a shelf, which is not there, and no preset"
	}
	hint := fmt.Sprintf("it has no [%s.%q]", kind, name)
	if len(names) > 0 {
		hint = "it has " + fmt.Sprintf("%q", names)
	}
	if near := Nearest(name, names); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	}
	r.fail(at, RuleValue, hint, fmt.Errorf("is no %s of %s: %q", kind, where, name))
}

// openLibrary reads a file of the library; nil for one that is not there. failed says
// that it cannot be read, which has been told.
func (r *jobReader) openLibrary(at, name string) (lib *jobReader, tree map[string]any, failed bool) {
	file, data, err := r.library(name)
	switch {
	case err != nil:
		r.fail(at, RuleValue, "", fmt.Errorf("cannot read %s: %w", file, err))
		return nil, nil, true
	case data == nil:
		return nil, nil, false
	}
	lib, tree, wrong := readTree(file, data)
	if wrong != nil {
		r.errs = append(r.errs, wrong)
		return nil, nil, true
	}
	return lib, tree, false
}

// readTree takes the text of a file of the library apart.
func readTree(file string, data []byte) (*jobReader, map[string]any, *JobError) {
	lib := &jobReader{jobSource: &jobSource{file: file, src: strings.TrimPrefix(string(data), byteOrderMark)}}
	if err := lib.plausible(); err != nil {
		return nil, nil, err
	}
	var tree map[string]any
	if _, err := toml.Decode(lib.src, &tree); err != nil {
		return nil, nil, lib.syntax(err)
	}
	lib.places = findPlaces(lib.src)
	return lib, tree, nil
}

// Names are the names of the things of a kind in a library, "hook", "rubber" or
// "metal", in order; none of one that is nil, or not to be read.
func (l Library) Names(kind string) (names []string) {
	if l == nil {
		return nil
	}
	for _, name := range []string{ShelfFile, HooksFile} {
		file, data, err := l(name)
		if err != nil || data == nil {
			continue
		}
		_, tree, wrong := readTree(file, data)
		switch {
		case wrong != nil:
		case name == ShelfFile:
			rows, _ := tree[kind].(map[string]any)
			names = append(names, sortedKeys(rows)...)
		case kind == hookKind:
			names = append(names, sortedKeys(tree)...)
		}
	}
	return names
}

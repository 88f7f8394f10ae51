package pourplan

import (
	"errors"
	"fmt"
	"strings"
)

// Shelf is what a person has, as shelf.toml says: hooks measured once, rubbers and
// metals from their data sheets. What is used of it stands in an account beside it
// (shelf_account.go): that one is written by the program, this one by hand.
type Shelf struct {
	Hooks   []ShelfHook   // by name
	Rubbers []ShelfRubber // by name
	Metals  []ShelfMetal  // by name
}

// ShelfHook is a hook measured once.
type ShelfHook struct {
	Name string // on the shelf
	HookTable
}

// ShelfRubber is a rubber by its data sheet.
type ShelfRubber struct {
	RubberTable
	Life  *ShotRange // shots that a mold of it lasts; nil: usual
	Opens *Seconds   // that an opened can keeps; nil: not known
}

func (t *ShelfRubber) keys() []key {
	const day = 86400
	return append(t.RubberTable.keys(),
		key{"life", &t.Life, nil, nil, "shots that a mold of it lasts, lowest and highest; the job's casting.life stands above it", ""},
		key{"opened_life", &t.Opens, nil, in(day, 3650*day), "how long an opened can keeps, by the data sheet; left out: not checked", "a time such as \"90 d\""})
}

// ShelfMetal is a metal by its data sheet.
type ShelfMetal struct {
	MetalTable
	Name string // on the shelf
	C    Metal  // its figures
}

// ReadShelf reads and checks a shelf. file is for error messages only. The error is a
// JobErrors with everything that is wrong.
func ReadShelf(file string, data []byte) (*Shelf, error) {
	r, tree, wrong := readTree(file, data)
	if wrong != nil {
		return nil, JobErrors{wrong}
	}
	s := &Shelf{}
	for _, kind := range sortedKeys(tree) {
		rows, ok := tree[kind].(map[string]any)
		switch {
		case keyNamed(shelfTop{}, kind).at == nil:
			r.failAt(kind, RuleUnknownKey, suggest(kind, shelfKinds()), errors.New("no such table on a shelf"), func(p place) extent { return p.key })
			continue
		case !ok:
			r.fail(kind, RuleValue, "write ["+kind+".\"its name\"] on a line of its own", fmt.Errorf("want tables with names, got %s", quoted(tree[kind])))
			continue
		}
		for _, name := range sortedKeys(rows) {
			row, ok := rows[name].(map[string]any)
			if at := join(kind, name); !ok {
				r.fail(at, RuleValue, fmt.Sprintf("write [%s.%q] on a line of its own", kind, "its name"), fmt.Errorf("want a table, got %s", quoted(rows[name])))
			} else if err := CheckLabel(name); err != nil {
				r.fail(at, RuleValue, "choose another name", err)
			} else {
				r.shelfRow(s, kind, name, row)
			}
		}
	}
	if len(r.errs) > 0 {
		return nil, r.errs.sorted()
	}
	return s, nil
}

// shelfTop is the top of a shelf.
type shelfTop struct{}

func (shelfTop) keys() []key {
	return []key{
		{hookKind, new(HookTable), nil, nil, "A hook that you have measured once, with the keys of the job's [hook].", ""},
		{rubberKind, new(ShelfRubber), nil, nil, "A rubber by its data sheet, with the keys of the job's [rubber] and two more.", ""},
		{metalKind, new(MetalTable), nil, nil, "A metal by its data sheet, with the keys of the job's [metal].", ""},
	}
}

// shelfRow reads one thing.
func (r *jobReader) shelfRow(s *Shelf, kind, name string, row map[string]any) {
	at, before := join(kind, name), len(r.errs)
	if _, also := row["use"]; also {
		r.fail(join(at, "use"), RuleValue, "write its figures here", errors.New("cannot be used on the shelf itself"))
		return
	}
	switch kind {
	case hookKind:
		h := ShelfHook{Name: name}
		fill(&h.HookTable)
		r.table(at, row, &h.HookTable)
		s.Hooks = append(s.Hooks, h)
	case rubberKind:
		t := ShelfRubber{}
		fill(&t)
		r.table(at, row, &t)
		if t.Name == "" {
			t.Name = name
		}
		_, err := t.resolve()
		r.failRow(kind, at, before, err)
		s.Rubbers = append(s.Rubbers, t)
	case metalKind:
		m := ShelfMetal{Name: name}
		fill(&m.MetalTable)
		r.table(at, row, &m.MetalTable)
		m.Use = name
		var err error
		m.C, err = m.resolve()
		r.failRow(kind, at, before, err)
		s.Metals = append(s.Metals, m)
	}
}

// failRow tells what does not go together in a row whose keys read well.
func (r *jobReader) failRow(kind, at string, before int, err error) {
	for _, e := range flatten(err) {
		var k *keyError
		if len(r.errs) == before && errors.As(e, &k) {
			r.fail(at+strings.TrimPrefix(k.key, kind), k.rule, k.hint, k.err)
			before = len(r.errs)
		}
	}
}

// CheckLabel says why a text cannot be the name of something on the shelf.
func CheckLabel(name string) error {
	switch {
	case strings.TrimSpace(name) == "" || strings.TrimSpace(name) != name:
		return fmt.Errorf("name must be a word, without space before or behind it, got %q", name)
	case len(name) > mostName:
		return fmt.Errorf("name must be at most %d characters, got %q", mostName, name)
	case strings.IndexFunc(name, func(c rune) bool { return c < ' ' || c == 0x7f || c == '\ufffd' }) >= 0:
		return fmt.Errorf("name must be plain text on one line, got %q", name)
	}
	return nil
}

// Rubber is a rubber of the shelf by the name that it has in a plan or on a can.
func (s *Shelf) Rubber(name string) (ShelfRubber, bool) {
	for _, r := range s.Rubbers {
		if r.Name == name {
			return r, true
		}
	}
	return ShelfRubber{}, false
}

package pourplan

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
)

// KeyDoc describes a key of a job file.
type KeyDoc struct {
	Table   string `json:"-"`                 // that the key is in: "hook"; "" at the top
	Name    string `json:"key"`               // with its table: hook.wire
	Kind    string `json:"kind"`              // of its values, in words
	Unit    string `json:"unit,omitempty"`    // of a bare number; left out where there is none
	Default string `json:"default,omitempty"` // left out where leaving the key out means something else
	Limits  string `json:"limits,omitempty"`  // left out where there are none, or where they depend on other keys
	Meaning string `json:"meaning"`           // for a person who writes a job

	Words []string `json:"-"` // that a text is one of; nil for any
}

// TableDoc describes a table of a job file.
type TableDoc struct {
	Name    string // "hook"; "" for the top
	List    bool   // written [[name]], once for each
	Meaning string
	Keys    []KeyDoc
	As      []string // tables of the same keys as the job's own: "cavity.head"
}

// Header is the table as a job writes it: "[hook]", "[[keeper]]".
func (t TableDoc) Header() string {
	if t.List {
		return "[[" + t.Name + "]]"
	}
	return "[" + t.Name + "]"
}

// JobTables describes every table and key of a job file, in the order of Job.
func JobTables() []TableDoc {
	top := TableDoc{Meaning: "At the top of the file, before any table."}
	tables := []TableDoc{}
	for _, k := range Default().keys() {
		table := k.table()
		if table == nil {
			top.Keys = append(top.Keys, k.doc(""))
			continue
		}
		t := TableDoc{Name: k.name, List: k.field().Kind() == reflect.Slice, Meaning: k.means}
		for _, sub := range table.keys() {
			if sub.isTable() {
				t.As = append(t.As, sub.name)
			} else {
				t.Keys = append(t.Keys, sub.doc(k.name))
			}
		}
		tables = append(tables, t)
	}
	return append([]TableDoc{top}, tables...)
}

// TableNames returns the names of all tables, in the order of JobTables.
func TableNames() []string { return keysOf(new(Job), key.isTable) }

// KeyNames returns the whole names of all keys, in the order of JobTables.
func KeyNames() []string {
	var names []string
	for _, t := range JobTables() {
		for _, k := range t.Keys {
			names = append(names, k.Name)
		}
	}
	return names
}

// doc describes a key; table is the one that it is in.
func (k key) doc(table string) KeyDoc {
	kind := k.kind()
	d := KeyDoc{Table: table, Name: join(table, k.name), Kind: kind.name, Unit: kind.unit, Meaning: k.means}
	switch {
	case k.start == given:
		d.Meaning += ". Required"
	case k.start != nil:
		d.Default = k.shown()
	}
	if k.limit != nil {
		d.Limits, d.Words = k.limit.shown(kind), k.limit.words
	}
	return d
}

// shown is the value in a key's place, as docs tell it.
func (k key) shown() string {
	switch x := k.field().Interface().(type) {
	case string:
		return strconv.Quote(x)
	case bool, int:
		return fmt.Sprint(x)
	case Direction:
		return x.String()
	case Coord:
		return fmt.Sprint(x.Value)
	}
	return spaced(k.kind().show(k.figures(k.field())[0], 6))
}

// shown writes a limit: "0.2 to 6 mm", "at least 1".
func (l limit) shown(kind kind) string {
	if n := len(l.words); n > 0 {
		return strings.Join(l.words[:n-1], ", ") + " or " + l.words[n-1]
	}
	show := func(x float64) string { return kind.show(x, 6) }
	low, high := !math.IsInf(l.least, -1), l.most < noMore || kind.name == timeKind && l.most < noLater
	least := show(l.least)
	if high && kind.name != timeKind { // the unit stands once
		least = strconv.FormatFloat(l.least, 'g', 6, 64)
	}
	switch {
	case low && high && l.above:
		return spaced("above " + least + " to " + show(l.most))
	case low && high:
		return spaced(least + " to " + show(l.most))
	case low && l.least != 0:
		return spaced("at least " + least)
	case high:
		return spaced("at most " + show(l.most))
	}
	return ""
}

// spaced puts a space before a degree sign, as the tables have it.
func spaced(s string) string {
	if number, ok := strings.CutSuffix(s, "°"); ok {
		return number + " °"
	}
	return s
}

// Presets are the names that a key can be given of what the program knows:
// metals, rubbers, plastics; nil for any other key.
func Presets(key string) []string {
	switch key {
	case "metal.preset":
		return metalPresetNames()
	case "rubber.preset":
		return rubberPresetNames()
	case "plastic.name":
		return plasticNames()
	}
	return nil
}

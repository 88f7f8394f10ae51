package pourplan

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
)

// KeyDoc tells a key of a job file.
type KeyDoc struct {
	Table   string // that the key stands in: "hook"; "" at the top
	Name    string // whole: "hook.wire"
	Kind    string // of its values: "length"
	Unit    string // of a bare number: "mm"; "" where there is none
	Default string // "0.05 mm"; "" when leaving the key out means something else
	Limits  string // "0.2 to 6 mm"; "" where there are none, or where they depend on other keys
	Meaning string
}

// TableDoc tells a table of a job file.
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

// JobTables tells every table and key of a job file, in the order of Job. Kinds
// and defaults come from the types and values that the reader fills, limits
// from what the reader refuses.
func JobTables() []TableDoc { return jobTables(newLimitProbe()) }

// jobTables tells no limits when the probe has no jobs to ask with.
func jobTables(limits *limitProbe) []TableDoc {
	job := reflect.ValueOf(Default()).Elem()
	meanings := keyMeanings()
	top := TableDoc{Meaning: tableMeanings()[""]}
	tables := []TableDoc{}
	for i := range job.NumField() {
		name, ok := job.Type().Field(i).Tag.Lookup("toml")
		if !ok {
			continue
		}
		v, list := tableValue(job.Field(i))
		if !v.IsValid() {
			top.Keys = append(top.Keys, keyDoc("", name, job.Field(i), meanings, limits))
			continue
		}
		t := TableDoc{Name: name, List: list, Meaning: tableMeanings()[name]}
		for k := range v.NumField() {
			key, ok := v.Type().Field(k).Tag.Lookup("toml")
			if !ok {
				continue
			}
			if sub, _ := tableValue(v.Field(k)); sub.IsValid() {
				t.As = append(t.As, key)
				continue
			}
			t.Keys = append(t.Keys, keyDoc(name, key, v.Field(k), meanings, limits))
		}
		tables = append(tables, t)
	}
	return append([]TableDoc{top}, tables...)
}

// TableNames returns the names of all tables, in the order of JobTables.
func TableNames() []string {
	var names []string
	for _, t := range jobTables(&limitProbe{}) {
		if t.Name != "" {
			names = append(names, t.Name)
		}
	}
	return names
}

// KeyNames returns the whole names of all keys, in the order of JobTables.
func KeyNames() []string {
	var names []string
	for _, t := range jobTables(&limitProbe{}) {
		for _, k := range t.Keys {
			names = append(names, k.Name)
		}
	}
	return names
}

// tableValue returns the struct that a table starts from, and whether a job has
// a list of them; the zero Value for a plain key.
func tableValue(v reflect.Value) (reflect.Value, bool) {
	switch v.Interface().(type) {
	case *HookTable:
		return reflect.ValueOf(defaultHook()), false
	case *RunnerTable:
		return reflect.ValueOf(defaultRunner()), false
	case []KeeperTable:
		return reflect.ValueOf(defaultKeeper()), true
	case []CavityTable:
		return reflect.ValueOf(CavityTable{Count: 1}), true
	case []SizeTable:
		return reflect.ValueOf(SizeTable{}), true
	case []KitTable:
		return reflect.ValueOf(KitTable{}), true
	}
	if _, plain := kindsOfKeys()[v.Type()]; v.Kind() == reflect.Struct && !plain {
		return v, false
	}
	return reflect.Value{}, false
}

func keyDoc(table, key string, v reflect.Value, meanings map[string]string, limits *limitProbe) KeyDoc {
	t := v.Type()
	optional := t.Kind() == reflect.Pointer
	if optional {
		t = t.Elem()
	}
	kind := kindsOfKeys()[t]
	d := KeyDoc{Table: table, Name: join(table, key), Kind: kind.name, Unit: kind.unit}
	d.Meaning = meanings[d.Name]
	if d.Unit == "" && d.Kind == "number" {
		d.Unit = unitsOfNumbers()[d.Name]
	}
	d.Limits = limits.of(d.Name, kind)
	// A 0 that is out of its limits stands for "left out", and in the tables of
	// what differs for the job's own.
	copies := table == "cavity" || table == "size"
	if !optional && !(v.IsZero() && (copies || d.above0() || kind.low != "" && !limits.takes(d.Name, kind.zero()))) {
		d.Default = shownDefault(v, kind)
	}
	return d
}

// above0 reports whether the limits keep 0 out.
func (d KeyDoc) above0() bool {
	least := 0.0
	_, err := fmt.Sscanf(strings.TrimPrefix(d.Limits, "at least "), "%g", &least)
	return err == nil && least > 0
}

// kindOfKey is how the values of a type are written.
type kindOfKey struct {
	name string // in words
	unit string // of a bare number
	per  float64
	low  string // a value below any sensible one that still reads, "" for none
	high string // above
}

// zero is nothing of a kind, as a job writes it.
func (k kindOfKey) zero() string { return k.written("0") }

// written is a number as a job writes it.
func (k kindOfKey) written(number string) string {
	if strings.HasPrefix(k.low, `"`) {
		return `"` + number + ` s"`
	}
	return number
}

// kindsOfKeys has every type that a key can have.
func kindsOfKeys() map[reflect.Type]kindOfKey {
	const tiny, huge = "1e-9", "1e15"
	return map[reflect.Type]kindOfKey{
		reflect.TypeFor[string]():       {name: "text"},
		reflect.TypeFor[bool]():         {name: "true or false"},
		reflect.TypeFor[[]string]():     {name: "list of texts"},
		reflect.TypeFor[int]():          {name: "whole number", per: 1, low: "-1000", high: "1000000000"},
		reflect.TypeFor[float64]():      {name: "number", per: 1, low: "-1e15", high: huge},
		reflect.TypeFor[MM]():           {name: "length", unit: "mm", per: 1, low: tiny, high: huge},
		reflect.TypeFor[Gram]():         {name: "mass", unit: "g", per: 1, low: tiny, high: huge},
		reflect.TypeFor[Millilitre]():   {name: "volume", unit: "ml", per: 1, low: tiny, high: huge},
		reflect.TypeFor[Celsius]():      {name: "temperature", unit: "°C", per: 1, low: "-273", high: huge},
		reflect.TypeFor[Rise]():         {name: "temperature difference", unit: "K", per: 1, low: tiny, high: huge},
		reflect.TypeFor[Seconds]():      {name: "time with its unit", per: 1, low: `"1e-9 s"`, high: `"1e15 s"`},
		reflect.TypeFor[Percent]():      {name: "percentage", unit: "%", per: 1, low: tiny, high: huge},
		reflect.TypeFor[Angle]():        {name: "angle", unit: "°", per: math.Pi / 180, low: "-1e6", high: "1e6"},
		reflect.TypeFor[Density]():      {name: "density", unit: "g/cm³", per: 1, low: tiny, high: huge},
		reflect.TypeFor[Turn]():         {name: `angle, or "auto"`, unit: "°", per: math.Pi / 180, low: "-1e6", high: "1e6"},
		reflect.TypeFor[Coord]():        {name: "length", unit: "the file's unit"},
		reflect.TypeFor[Point]():        {name: "[x, y, z]", unit: "the file's unit"},
		reflect.TypeFor[Places]():       {name: "list of [x, y, z]", unit: "the file's unit"},
		reflect.TypeFor[Path]():         {name: "list of [x, y]", unit: "mm"},
		reflect.TypeFor[Ratio]():        {name: `"A:B"`},
		reflect.TypeFor[Composition]():  {name: "{metal = percent, ...}", unit: "%"},
		reflect.TypeFor[PercentRange](): {name: "[lowest, highest]", unit: "%"},
		reflect.TypeFor[DensityRange](): {name: "[lowest, highest]", unit: "g/cm³"},
		reflect.TypeFor[FactorRange]():  {name: "[lowest, highest]"},
		reflect.TypeFor[ShotRange]():    {name: "[least, most]"},
		reflect.TypeFor[Moment]():       {name: "clock time, with or without a day"},
	}
}

// unitsOfNumbers are units of keys that take plain numbers only.
func unitsOfNumbers() map[string]string {
	return map[string]string{"rubber.conductivity": "W/(m·K)", "rubber.specific_heat": "J/(g·K)",
		"rubber.hardness": "Shore A", "checks.air": "mm³"}
}

// shownDefault is what a key that is left out stands for; "" for what cannot be
// told by a value.
func shownDefault(v reflect.Value, kind kindOfKey) string {
	if v.Kind() == reflect.Slice && v.Len() == 0 {
		return ""
	}
	switch x := v.Interface().(type) {
	case string:
		if x == "" {
			return ""
		}
		return strconv.Quote(x)
	case bool, int:
		return fmt.Sprint(x)
	case Turn:
		return "0 °"
	case Coord:
		return "0"
	case Seconds:
		return FormatDuration(float64(x))
	}
	if v.CanFloat() {
		return strings.TrimSpace(strconv.FormatFloat(v.Float()/kind.per, 'g', 6, 64) + " " + kind.unit)
	}
	return ""
}

// tableMeanings says what each table is for.
func tableMeanings() map[string]string {
	return map[string]string{
		"":        "At the top of the file, before any table.",
		"head":    "The head's mesh and how it faces. Lengths and points are in the file's unit, as read off in CAD.",
		"hook":    "A wire by its usual dimensions, or by points. Left out: heads without hooks.",
		"keeper":  "Further wires of every head, bent at the bench; they lie in the parting plane.",
		"weight":  "What a head shall weigh, or how large it shall be.",
		"metal":   "A preset, a composition, or a density with a liquidus.",
		"casting": "How the metal is melted and poured.",
		"rubber":  "A preset with what the data sheet knows better, or all of the data sheet's figures.",
		"layout":  "How the cavities stand in the mold.",
		"frame":   "The printed tray of each half, and the rubber's thickness in it.",
		"keys":    "Registration of the halves.",
		"sprue":   "The funnel that metal is poured into, and its gate.",
		"runner":  "One funnel for all cavities. The table alone asks for it; left out: a funnel for each cavity.",
		"vents":   "Channels by which air leaves a cavity.",
		"marking": "Raised letters on the floor.",
		"finish":  "Coats on the print and on the heads.",
		"print":   "Your printer.",
		"checks":  "What the checks let pass.",
		"output":  "What a build writes.",
		"buying":  "How much rubber to buy, out of the [[kit]] tables.",
		"kit":     "The sizes in which your shop sells the rubber, A with the B that belongs to it.",
		"evening": "The work at the bench by the clock. What is left out is common practice.",
		"plastic": "What the frames are printed of.",
		"cost":    "Prices, in your own currency. One that is left out is named as not counted.",
		"cavity":  "Cavities that differ, in order along the row. Each starts as a copy of turn, [head], [hook], [[keeper]] and [weight], and changes what it names.",
		"size":    "A size run: a mold for each size, in a folder of its own. Each starts as a copy of the job's keys of the same names, and changes what it names.",
	}
}

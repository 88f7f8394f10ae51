package pourplan

import (
	"cmp"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"halfpour/moldbox"
)

// key is a row of the table of keys: everything that is known of one key of the
// job. Reading, checks, explain and the reference all go by it.
type key struct {
	name  string
	at    any    // pointer to where it goes; a table there has keys of its own
	start any    // value when the key is left out; given: there is none; nil: the meaning says what that does
	limit *limit // nil for none
	means string
	hint  string // beside a value that is out of its limits
}

// keyed is a table of the job.
type keyed interface{ keys() []key }

// given stands in a row for a key that a job must give.
var given = new(struct{})

// limit is what the value of a key may be. Numbers are in the unit of a bare
// number; of a text its length counts, of a list its items, of a range both
// ends, of a ratio the parts of B to 100 of A.
type limit struct {
	least, most float64  // an infinity for none
	above       bool     // least itself is too little
	or0         bool     // 0 will do besides, and stands for "not known"
	words       []string // of a text: one of these
	unit        string   // of a plain number
	hint        string   // beside a value that is out, where the row has none
}

// noMore is a limit that only keeps out slips of the hand and what would make
// figures overflow: no page names it.
const noMore = 1e6

func in(least, most float64) *limit    { return &limit{least: least, most: most} }
func above(least, most float64) *limit { return &limit{least: least, most: most, above: true} }
func atMost(most float64) *limit       { return &limit{least: math.Inf(-1), most: most} }
func oneOf(words ...string) *limit     { return &limit{words: words} }

// limitOf is the limit of a field of moldbox.Spec; angles are in degrees.
func limitOf(field string) *limit {
	l, per := moldbox.LimitOf(field), 1.0
	if l.Unit == "rad" {
		per = math.Pi / 180
	}
	return &limit{least: l.Least / per, most: l.Most / per, hint: l.Remedy}
}

func (l limit) of(unit string) *limit { l.unit = unit; return &l }
func (l limit) orZero() *limit        { l.or0 = true; return &l }

// mm and deg let a row put a length or an angle into a field of moldbox.
func mm(field *float64) *MM     { return (*MM)(field) }
func deg(field *float64) *Angle { return (*Angle)(field) }

// fill gives a table's keys what leaving them out stands for, and the keys of
// the tables in it.
func fill(t keyed) {
	for _, k := range t.keys() {
		if table, ok := k.at.(keyed); ok {
			fill(table)
		} else if k.start != nil && k.start != given {
			field := k.field()
			field.Set(reflect.ValueOf(k.start).Convert(field.Type()))
		}
	}
}

// table is the table that a key stands for, one that says nothing yet where
// the job has a list of them or may leave it out; nil for a key with a value.
func (k key) table() keyed {
	t := k.field().Type()
	if t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	if !isKeyed(t) {
		return nil
	}
	return newTable(t).Interface().(keyed)
}

func (k key) isTable() bool { return k.table() != nil }

func (k key) field() reflect.Value { return reflect.ValueOf(k.at).Elem() }

// kind is how the values of a key are written.
type kind struct {
	name   string    // in words
	unit   string    // of a bare number, "" for none
	counts string    // what limits are in, where no number has a unit
	per    float64   // a unit in what the program counts in; 0: 1
	dim    dimension // of a quantity: how it is written; else the type reads itself
}

const timeKind = "time with its unit"

// kind goes by the type that the key is read into.
func (k key) kind() kind {
	t := k.field().Type()
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	found := kinds()[t]
	if k.limit != nil {
		found.unit += k.limit.unit
	}
	return found
}

// kinds has every type that a key can have.
func kinds() map[reflect.Type]kind {
	return map[reflect.Type]kind{
		reflect.TypeFor[string]():         {name: "text", counts: "characters"},
		reflect.TypeFor[bool]():           {name: "true or false"},
		reflect.TypeFor[[]string]():       {name: "list of texts"},
		reflect.TypeFor[int]():            {name: "whole number"},
		reflect.TypeFor[float64]():        {name: "number"},
		reflect.TypeFor[MM]():             {name: "length", unit: "mm", dim: lengthDim.positive()},
		reflect.TypeFor[Gram]():           {name: "mass", unit: "g", dim: massDim},
		reflect.TypeFor[Millilitre]():     {name: "volume", unit: "ml", dim: volumeDim},
		reflect.TypeFor[Celsius]():        {name: "temperature", unit: "°C"},
		reflect.TypeFor[Rise]():           {name: "temperature difference", unit: "K", dim: riseDim},
		reflect.TypeFor[Seconds]():        {name: timeKind, counts: "s", dim: durationDim},
		reflect.TypeFor[Percent]():        {name: "percentage", unit: "%", dim: percentDim},
		reflect.TypeFor[Angle]():          {name: "angle", unit: "°", per: math.Pi / 180, dim: angleDim},
		reflect.TypeFor[Density]():        {name: "density", unit: "g/cm³", dim: densityDim},
		reflect.TypeFor[Expansion]():      {name: "expansion", unit: "ppm/K", dim: expansionDim},
		reflect.TypeFor[Turn]():           {name: `angle, or "auto"`, unit: "°", per: math.Pi / 180},
		reflect.TypeFor[Coord]():          {name: "length", unit: "the file's unit"},
		reflect.TypeFor[Direction]():      {name: `axis such as "+x", or [x, y, z]`},
		reflect.TypeFor[Point]():          {name: "[x, y, z]", unit: "the file's unit"},
		reflect.TypeFor[Places]():         {name: "list of [x, y, z]", unit: "the file's unit"},
		reflect.TypeFor[Path]():           {name: "list of [x, y]", unit: "mm"},
		reflect.TypeFor[Ratio]():          {name: `"A:B"`, counts: "parts of B to 100 of A"},
		reflect.TypeFor[Composition]():    {name: "{metal = percent, ...}", unit: "%"},
		reflect.TypeFor[PercentRange]():   {name: "[lowest, highest]", unit: "%"},
		reflect.TypeFor[DensityRange]():   {name: "[lowest, highest]", unit: "g/cm³"},
		reflect.TypeFor[FactorRange]():    {name: "[lowest, highest]"},
		reflect.TypeFor[ExpansionRange](): {name: "[lowest, highest]", unit: "ppm/K"},
		reflect.TypeFor[ShotRange]():      {name: "[least, most]"},
		reflect.TypeFor[Moment]():         {name: "clock time, with or without a day"},
	}
}

// figures are the numbers in a value that a limit is about, in the unit of a
// bare number.
func (k key) figures(v reflect.Value) []float64 {
	switch x := v.Interface().(type) {
	case Ratio:
		return []float64{x.PerHundred()}
	case Turn:
		return k.figures(reflect.ValueOf(x.Angle))
	}
	switch v.Kind() {
	case reflect.String:
		return []float64{float64(utf8.RuneCountInString(v.String()))}
	case reflect.Slice:
		return []float64{float64(v.Len())}
	case reflect.Array:
		return append(k.figures(v.Index(0)), k.figures(v.Index(1))...)
	case reflect.Int:
		return []float64{float64(v.Int())}
	}
	if per := k.kind().per; per != 0 {
		return []float64{v.Float() / per}
	}
	return []float64{v.Float()}
}

// within says at which rule a value breaks its key's limits, and how.
func (k key) within(v reflect.Value) (rule, hint string, err error) {
	l := k.limit
	if l == nil {
		return "", "", nil
	}
	if l.words != nil {
		if word := v.String(); !slices.Contains(l.words, word) {
			return RuleValue, suggest(word, l.words), fmt.Errorf("must be one of %s, got %q", strings.Join(l.words, ", "), word)
		}
		return "", "", nil
	}
	for _, x := range k.figures(v) {
		want, bound := "", 0.0
		switch {
		case l.or0 && x == 0:
		case l.above && !(x > l.least):
			want, bound = "above", l.least
		case !(x >= l.least) && !same(x, l.least):
			want, bound = "at least", l.least
		case !(x <= l.most) && !same(x, l.most):
			want, bound = "at most", l.most
		}
		if want != "" {
			return RuleRange, cmp.Or(k.hint, l.hint), k.outside(want, bound, x)
		}
	}
	return "", "", nil
}

// same forgives the last bits that a change of unit costs.
func same(x, bound float64) bool { return math.Abs(x-bound) <= 1e-12*math.Abs(bound) }

// outside words that x is beyond a bound.
func (k key) outside(want string, bound, x float64) error {
	kind := k.kind()
	seen := kind.show(x, 6)
	if seen == kind.show(bound, 6) {
		seen = kind.show(x, -1)
	}
	return fmt.Errorf("must be %s %s, got %s", want, kind.show(bound, 6), seen)
}

// show writes a figure with its unit; -1 digits are all it has.
func (k kind) show(x float64, digits int) string {
	number := strconv.FormatFloat(x, 'g', digits, 64)
	switch {
	case k.name == timeKind && digits > 0:
		return FormatDuration(x)
	case k.unit == "°":
		return number + k.unit
	}
	return strings.TrimSpace(number + " " + k.unit + k.counts)
}

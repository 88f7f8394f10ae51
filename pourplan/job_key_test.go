package pourplan

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"halfpour/geom"
	"halfpour/moldbox"
)

// fullJob has every table that a job can have beside [[cavity]] and [[size]].
const fullJob = `
[head]
file = "head.stl"
eye = [0, 0, 0]
[hook]
wire = 1
eye_inside = 2
leg = 20
shank = 40
gape = 20
point = 8
[metal]
preset = "tin"
[rubber]
preset = "tin-cure 100:5"
[runner]
[[keeper]]
wire = 0.9
points = [[4, 2, 0], [13, 2, 0]]
[[kit]]
mass = "1 kg"
price = 40
[[coat]]
kind = "other"
[plastic]
name = "PLA"
`

// jobWith puts a line "name = value" into a table of fullJob, and says where
// the value stands.
func jobWith(table, name, value string) (text string, line, col int) {
	assign := name + " = " + value
	col = len(name) + 4
	if table == "" {
		return assign + fullJob, 1, col
	}
	lines := strings.Split(fullJob, "\n")
	for i, l := range lines {
		if l == "["+table+"]" || l == "[["+table+"]]" {
			var kept []string
			for _, rest := range lines[i+1:] {
				if !strings.HasPrefix(rest, name+" = ") || len(kept) > 0 && strings.HasPrefix(kept[len(kept)-1], "[") {
					kept = append(kept, rest)
				}
			}
			return strings.Join(lines[:i+1], "\n") + "\n" + assign + "\n" + strings.Join(kept, "\n"), i + 2, col
		}
	}
	header := "[" + table + "]"
	if table == "cavity" || table == "size" {
		header = "[[" + table + "]]\nname = \"one\""
		if name == "name" {
			header = "[[" + table + "]]"
		}
	}
	text = fullJob + header + "\n"
	return text + assign + "\n", strings.Count(text, "\n") + 1, col
}

// written is a figure as a job writes it for a key.
func written(k key, x float64) string {
	t := k.field().Type()
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	number := fmt.Sprint(x)
	switch t {
	case reflect.TypeFor[Seconds]():
		return fmt.Sprintf(`"%s s"`, strings.TrimPrefix(fmt.Sprintf("%.12f", x), "+"))
	case reflect.TypeFor[Ratio]():
		return fmt.Sprintf(`"100:%.9f"`, x)
	case reflect.TypeFor[string]():
		return `"` + strings.Repeat("x", int(x)) + `"`
	case reflect.TypeFor[int]():
		return fmt.Sprint(int(x))
	}
	if t.Kind() == reflect.Array {
		return "[" + number + ", " + number + "]"
	}
	return number
}

// beside is the next figure of a key below (-1) or above (1) x.
func beside(k key, x, way float64) float64 {
	switch k.field().Kind() {
	case reflect.Int, reflect.String:
		return x + way
	}
	return x + way*math.Max(1e-6, math.Abs(x)*1e-6)
}

// eachKey calls f with every row of every table that holds a value.
func eachKey(f func(table string, k key)) {
	for _, k := range Default().keys() {
		table := k.table()
		if table == nil {
			f("", k)
			continue
		}
		for _, sub := range table.keys() {
			if !sub.isTable() {
				f(k.name, sub)
			}
		}
	}
}

// What a row says is what the reader does: below and above its limits a value
// is refused where it stands, each end is taken or refused as the row says, and
// the default lies inside.
func TestEveryRowOfTheTable(t *testing.T) {
	rows, numbers := 0, 0
	eachKey(func(table string, k key) {
		rows++
		name := join(table, k.name)
		l := k.limit
		if k.start != nil && k.start != given {
			if _, _, err := k.within(k.field()); err != nil {
				t.Errorf("%s: its own default: %v", name, err)
			}
		}
		if l == nil {
			return
		}
		// faultOf is what is said of the key when it has a value.
		faultOf := func(value string) *JobError {
			text, line, col := jobWith(table, k.name, value)
			_, err := ReadJob("job.toml", []byte(text))
			var list JobErrors
			errors.As(err, &list)
			for _, e := range list {
				if e.Line == line && e.Col == col {
					return e
				}
			}
			return nil
		}
		if l.words != nil {
			if e := faultOf(`"x"`); e == nil || e.Rule != RuleValue {
				t.Errorf("%s: another word is taken", name)
			}
			for _, word := range l.words {
				if e := faultOf(`"` + word + `"`); e != nil && strings.Contains(e.Error(), "must be one of") {
					t.Errorf("%s: %v", name, e)
				}
			}
			return
		}
		numbers++
		refused := func(x float64) {
			t.Helper()
			if e := faultOf(written(k, x)); e == nil {
				t.Errorf("%s: %s is taken", name, written(k, x))
			}
		}
		taken := func(x float64) {
			t.Helper()
			// Other keys may refuse it: what must not be is a word of this limit.
			e := faultOf(written(k, x))
			for _, bound := range []float64{l.least, l.most} {
				for _, want := range []string{"at least", "at most", "above"} {
					if e != nil && e.Err.Error() == k.outside(want, bound, x).Error() {
						t.Errorf("%s: %v", name, e)
					}
				}
			}
		}
		if !math.IsInf(l.least, -1) {
			if l.least > 0 || k.field().Kind() != reflect.String {
				refused(beside(k, l.least, -1))
			}
			if l.above {
				refused(l.least)
			} else {
				taken(l.least)
			}
			if l.least > 0 && !l.or0 {
				refused(0)
			}
			if l.or0 {
				taken(0)
			}
		}
		if !math.IsInf(l.most, 1) {
			taken(l.most)
			refused(beside(k, l.most, 1))
		}
	})
	if rows < 150 || numbers < 110 {
		t.Errorf("only %d rows, %d with numbers", rows, numbers)
	}
}

// Keys that make their tables lists have limits too.
func TestListsOfTables(t *testing.T) {
	for _, c := range []struct {
		table string
		most  int
	}{{"kit", 20}, {"coat", 8}, {"keeper", 32}, {"cavity", 64}, {"size", 32}} {
		text := shortJob + strings.Repeat("[["+c.table+"]]\n", c.most+1)
		_, err := ReadJob("job.toml", []byte(text))
		if want := fmt.Sprintf("must be at most %d, got %d", c.most, c.most+1); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", c.table, err, want)
		}
	}
}

// specFields are the names in moldbox.SpecError of keys that are called
// otherwise there, spelled as keys.
var specFields = strings.NewReplacer("hook.", "cavities[0].hook.", "keeper.", "cavities[0].keepers[0].",
	"weight.scale", "cavities[0].scale", "weight.wall", "cavities[0].wall")

// moldbox.Validate refuses and takes what the rows do: nothing passes the
// reader that fails in a build for want of a limit.
func TestKeysOfTheMold(t *testing.T) {
	both := 0
	eachKey(func(table string, k key) {
		if k.limit == nil || k.limit.words != nil || table == "cavity" || table == "size" || table == "box" || k.name == "cavities" {
			return
		}
		field := specFields.Replace(join(table, k.name))
		if field == "turn" {
			field = "cavities[0].turn"
		}
		// refusal says whether the spec with a figure in the key's place breaks
		// that limit.
		refusal := func(x, limit float64) bool {
			job, err := ReadJob("job.toml", []byte(fullJob))
			if err != nil {
				t.Fatal(err)
			}
			setFigure(job, table, k.name, x)
			spec, err := job.Spec(func(string) (geom.Solid, error) { return geom.Ball(geom.Vec{}, 5), nil })
			if err != nil {
				return false
			}
			for _, e := range flatten(spec.Validate()) {
				var s *moldbox.SpecError
				if errors.As(e, &s) && keyCase(s.Field) == field && same(s.Limit/perOf(k), limit) {
					return true
				}
			}
			return false
		}
		l := k.limit
		if !refusal(beside(k, l.most, 1), l.most) {
			return // a key that moldbox does not know, or not by its limits
		}
		both++
		if refusal(l.most, l.most) {
			t.Errorf("%s: moldbox refuses %g", field, l.most)
		}
		if l.above || l.least == 0 && field == "cavities[0].hook.leg" || field == "cavities[0].keepers[0].count" {
			return // moldbox has another rule for small ones
		}
		if !refusal(beside(k, l.least, -1), l.least) {
			t.Errorf("%s: moldbox takes less than %g", field, l.least)
		}
		if refusal(l.least, l.least) {
			t.Errorf("%s: moldbox refuses %g", field, l.least)
		}
	})
	if both != 57 {
		t.Errorf("%d keys have their limits in moldbox too", both)
	}
}

func perOf(k key) float64 {
	if per := k.kind().per; per != 0 {
		return per
	}
	return 1
}

// setFigure puts a figure into a job, past the reader.
func setFigure(job *Job, table, name string, x float64) {
	var t keyed = job
	if table != "" {
		top := keyNamed(job, table)
		switch at := top.at.(type) {
		case keyed:
			t = at
		case *[]KeeperTable:
			t = &(*at)[0]
		case *[]CoatTable:
			t = &(*at)[0]
		case *[]KitTable:
			t = &(*at)[0]
		default:
			t = top.field().Interface().(keyed)
		}
	}
	k := keyNamed(t, name)
	field := k.field()
	x *= perOf(k)
	if field.Kind() == reflect.Pointer {
		field.Set(reflect.New(field.Type().Elem()))
		field = field.Elem()
	}
	switch {
	case field.Kind() == reflect.Int:
		field.SetInt(int64(x))
	case field.CanFloat():
		field.SetFloat(x)
	case field.Type() == reflect.TypeFor[Turn]():
		field.Set(reflect.ValueOf(Turn{Angle: Angle(x)}))
	}
}

// The last bits that a change of unit costs are forgiven, on both sides of a
// bound; a millionth is not.
func TestBoundForgivesLastBits(t *testing.T) {
	for _, c := range []struct {
		x, bound float64
		want     bool
	}{{3, 3, true}, {3 * (1 + 5e-13), 3, true}, {3 * (1 - 5e-13), 3, true}, {3 * (1 + 3e-12), 3, false}, {3 * (1 - 3e-12), 3, false},
		{-3, -3, true}, {-3 * (1 + 5e-13), -3, true}, {-3, 3, false}, {0, 0, true}, {1e-13, 0, false}} {
		if got := same(c.x, c.bound); got != c.want {
			t.Errorf("%v and %v: %v", c.x, c.bound, got)
		}
	}
}

// A figure beyond a bound is told so that it is seen to be beyond it.
func TestOutsideShowsTheDifference(t *testing.T) {
	for _, c := range []struct {
		table keyed
		name  string
		bound float64
		x     float64
		want  string
	}{
		{&Default().Frame, "wall", 1, 0.5, "must be at least 1 mm, got 0.5 mm"},
		{&Default().Frame, "wall", 1, 0.99999999, "must be at least 1 mm, got 0.99999999 mm"},
		{&Default().Rubber, "demold", 60, 59, "must be at least 60 s, got 59 s"},
		{&Default().Rubber, "demold", 3600, 5400, "must be at least 60 min, got 90 min"},
		{&Default().Rubber, "demold", 3600, 3599.99999, "must be at least 60 min, got 3599.99999 s"},
		{Default(), "title", 40, 41, "must be at least 40 characters, got 41 characters"},
		{&Default().Frame, "draft", 5, 6, "must be at least 5°, got 6°"},
	} {
		if got := keyNamed(c.table, c.name).outside("at least", c.bound, c.x).Error(); got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}

// A limit on both sides of each end, for each kind of limit and of figure.
func TestWithinBounds(t *testing.T) {
	within := func(at any, l *limit) string {
		rule, _, err := key{name: "x", at: at, limit: l}.within(reflect.ValueOf(at).Elem())
		if (rule == "") != (err == nil) || rule != "" && rule != RuleRange && rule != RuleValue {
			t.Errorf("rule %q with %v", rule, err)
		}
		if err == nil {
			return ""
		}
		return err.Error()
	}
	number := func(x float64) any { return &x }
	text := func(s string) any { return &s }
	for _, c := range []struct {
		at   any
		l    *limit
		want string // part of what is said; "" for nothing
	}{
		{number(0), above(0, 5), "must be above 0, got 0"}, {number(1e-9), above(0, 5), ""}, {number(5), above(0, 5), ""}, {number(5.1), above(0, 5), "must be at most 5, got 5.1"},
		{number(1), in(1, 5), ""}, {number(0.99), in(1, 5), "must be at least 1, got 0.99"}, {number(5.01), in(1, 5), "must be at most 5, got 5.01"},
		{number(1 - 1e-13), in(1, 5), ""}, {number(5 + 1e-12), in(1, 5), ""},
		{number(0), in(1, 5).orZero(), ""}, {number(0.5), in(1, 5).orZero(), "must be at least 1"}, {number(-9e9), atMost(5), ""}, {number(5.5), atMost(5), "must be at most 5"},
		{number(math.NaN()), in(1, 5), "must be at least 1"}, {number(9), in(1, 5).of("kN"), "must be at most 5 kN, got 9 kN"},
		{number(9), nil, ""}, {text("lead"), oneOf("lead", "tin"), ""}, {text("gold"), oneOf("lead", "tin"), `must be one of lead, tin, got "gold"`},
		{text("größe"), atMost(5), ""}, {text("größen"), atMost(5), "must be at most 5 characters, got 6 characters"},
		{&Ratio{100, 4}, in(3, 5), ""}, {&Ratio{10, 1}, in(3, 5), "must be at most 5 parts of B to 100 of A, got 10"},
		{&PercentRange{1, 5}, in(1, 5), ""}, {&PercentRange{0.9, 5}, in(1, 5), "must be at least 1 %"}, {&PercentRange{1, 5.1}, in(1, 5), "must be at most 5 %"},
		{ptr(Angle(math.Pi / 2)), in(-90, 90), ""}, {ptr(Angle(math.Pi)), in(-90, 90), "must be at most 90°, got 180°"},
		{&Turn{Angle: math.Pi}, in(-90, 90), "must be at most 90°, got 180°"}, {ptr(3), in(1, 2), "must be at most 2, got 3"}, {ptr([]string{"a", "b"}), atMost(1), "must be at most 1, got 2"},
	} {
		if got := within(c.at, c.l); (got == "") != (c.want == "") || !strings.Contains(got, c.want) {
			t.Errorf("%v: got %q, want %q", reflect.ValueOf(c.at).Elem(), got, c.want)
		}
	}
}

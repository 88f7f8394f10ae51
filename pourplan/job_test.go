package pourplan

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"halfpour/pourplan/internal/plantest"
)

const shortJob = plantest.ShortJob

func read(t *testing.T, text string) *Job {
	t.Helper()
	job, err := ReadJob("job.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return job
}

func TestShortJob(t *testing.T) {
	job := read(t, "turn = -90\n"+shortJob)
	if got := len(job.Placed()); got != 3 {
		t.Errorf("cavities: got %d", got)
	}
	if got := float64(job.Placed()[2].Turn.Angle); got != -math.Pi/2 {
		t.Errorf("turn: got %v", got)
	}
	if got := float64(job.Weight.Target); got != 10.631071171875 {
		t.Errorf("3/8 oz: got %v g", got)
	}
	if job.Hook.Density != 7.85 || job.Hook.Fit != 0.05 || float64(job.Hook.LegAngle) != math.Pi/2 {
		t.Errorf("hook defaults lost: %+v", *job.Hook)
	}
	if job.Frame.Over != 8 || job.Rubber.Waste != 5 || job.Head.Nose != (Direction{X: -1}) {
		t.Error("defaults lost")
	}
}

func TestCavityTablesOverride(t *testing.T) {
	job := read(t, strings.Replace(shortJob, "cavities = 3\n", "", 1)+`
[[cavity]]
target = "1/4 oz"
[[cavity]]
name = "upside down"
turn = 180
hook = { wire = 0.8 }
[[cavity]]
without_hook = true
weight = { of = "metal" }
[cavity.head]
gate = [1, 2, 0]
eye = [0, 8, 0]
[[cavity]]
weight.scale = 1.5
`)
	c := job.Placed()
	if len(c) != 4 {
		t.Fatalf("got %d cavities", len(c))
	}
	if got := float64(c[0].Weight.Target); got != 7.08738078125 {
		t.Errorf("1/4 oz: got %v", got)
	}
	if c[1].Hook.Wire != 0.8 || c[1].Hook.Gape != 9 || float64(c[1].Turn.Angle) != math.Pi {
		t.Errorf("override: %+v", *c[1].Hook)
	}
	if c[0].Hook.Wire != 1 || job.Hook.Wire != 1 {
		t.Error("a cavity's hook changed another's")
	}
	if c[2].Hook != nil || c[2].Weight.Of != "metal" || c[2].Head.Gate == nil || c[2].Head.File != "ball.stl" {
		t.Errorf("third cavity: %+v", c[2])
	}
	if c[2].Head.Eye[1].Value != 8 || c[1].Head.Eye[1].Value != 9.5 {
		t.Error("a cavity's eye changed another's")
	}
	if c[3].Weight.Target != 0 || c[3].Weight.Scale != 1.5 {
		t.Errorf("scale must replace the job's target: %+v", c[3].Weight)
	}
}

// jobErrorCases are whole rendered messages: main line, excerpt, hint.
var jobErrorCases = []struct {
	name string
	edit func(string) string
	rule string
	want string
}{
	{"wrong unit", swap(`target = "3/8 oz"`, `target = "10 mm"`), RuleValue, `
job.toml:17:10: weight.target: want a mass such as "3/8 oz" or "14 g", got "10 mm"
     16 | [weight]
     17 | target = "10 mm"
                   ^^^^^^^
`},
	{"a folder elsewhere", func(s string) string { return s + "[output]\nfolder = \"../elsewhere\"\n" }, RuleValue, `
job.toml:25:10: output.folder: must lie in the job's folder, got "../elsewhere"
     24 | [output]
     25 | folder = "../elsewhere"
                   ^^^^^^^^^^^^^^
hint: to write elsewhere: halfpour build --out FOLDER
`},
	{"a folder from the root", func(s string) string { return s + "[output]\nfolder = \"/tmp\"\n" }, RuleValue, `
job.toml:25:10: output.folder: must lie in the job's folder, got "/tmp"
     24 | [output]
     25 | folder = "/tmp"
                   ^^^^^^
hint: to write elsewhere: halfpour build --out FOLDER
`},
	{"not a number", swap(`gape = 9`, `gape = nan`), RuleValue, `
job.toml:13:8: hook.gape: want a length such as "12 mm" or "1/2 in", got NaN, which is no finite number
     12 | shank = 24
     13 | gape = nan
                 ^^^
`},
	{"decimal comma in text", swap(`wire = "1 mm"`, `wire = "1,1 mm"`), RuleValue, `
job.toml:9:8: hook.wire: want a length such as "12 mm" or "1/2 in", got "1,1 mm": the decimal sign is a point
      8 | [hook]
      9 | wire = "1,1 mm"
                 ^^^^^^^^
`},
	{"decimal comma", swap(`wire = "1 mm"`, `wire = 1,1`), RuleSyntax, `
job.toml:9:9: expected a top-level item to end with a newline, comment, or EOF, but got ',' instead
      8 | [hook]
      9 | wire = 1,1
                  ^
hint: the decimal sign is a point; write key = value or [table] on each line; put text in quotes
`},
	{"life with its ends changed", func(s string) string { return s + "[casting]\nlife = [25, 20]\n" }, RuleValue, `
job.toml:25:8: casting.life: want a list of the least and the most shots such as [20, 25], got 25 before 20
     24 | [casting]
     25 | life = [25, 20]
                 ^^^^^^^^
`},
	{"life of part of a shot", func(s string) string { return s + "[casting]\nlife = [20, 22.5]\n" }, RuleValue, `
job.toml:25:8: casting.life: want a list of the least and the most shots such as [20, 25], each a whole number from 1 to 100000, got 22.5
     24 | [casting]
     25 | life = [20, 22.5]
                 ^^^^^^^^^^
`},
	{"tolerance of B", swap(`preset = "tin-cure 100:3"`, "preset = \"tin-cure 100:3\"\nb_tolerance = 60"), RuleRange, `
job.toml:24:15: rubber.b_tolerance: must be at most 50 %, got 60 %
     23 | preset = "tin-cure 100:3"
     24 | b_tolerance = 60
                        ^^
hint: the data sheet says how far B may be off
`},
	{"negative", swap(`wire = "1 mm"`, `wire = "-1 mm"`), RuleValue, `
job.toml:9:8: hook.wire: want a length such as "12 mm" or "1/2 in", got "-1 mm", which is negative
      8 | [hook]
      9 | wire = "-1 mm"
                 ^^^^^^^
`},
	{"unknown key", swap(`gape = 9`, `gap = 9`), RuleUnknownKey, `
job.toml:13:1: hook.gap: no such key in [hook]
     12 | shank = 24
     13 | gap = 9
          ^^^
hint: did you mean gape?
`},
	{"key of another table", swap(`gape = 9`, "gape = 9\nfreeboard = 4"), RuleUnknownKey, `
job.toml:14:1: hook.freeboard: no such key in [hook]
     13 | gape = 9
     14 | freeboard = 4
          ^^^^^^^^^
hint: freeboard is a key of [frame]
`},
	{"unknown table", swap(`[rubber]`, `[ruber]`), RuleUnknownKey, `
job.toml:22:1: ruber: no such key at the top of a job
     21 | 
     22 | [ruber]
          ^^^^^^^
hint: did you mean rubber?
`},
	{"a value that is many", swap(`cavities = 3`, `cavitys = 3`), RuleUnknownKey, `
job.toml:2:1: cavitys: no such key at the top of a job
      1 | title = "ball jig"
      2 | cavitys = 3
          ^^^^^^^
hint: did you mean cavities?
`},
	{"tables that are many", swap("cavities = 3\n", "[[cavitys]]\n"), RuleUnknownKey, `
job.toml:2:1: cavitys: no such key at the top of a job
      1 | title = "ball jig"
      2 | [[cavitys]]
          ^^^^^^^^^^^
hint: did you mean cavity?
`},
	{"key of the top in a table", swap(`[weight]`, "[weight]\ncavities = 3"), RuleUnknownKey, `
job.toml:17:1: weight.cavities: no such key in [weight]
     16 | [weight]
     17 | cavities = 3
          ^^^^^^^^
hint: cavities is a key at the top of a job: write it above the first [table]
`},
	{"first part of a dotted key", swap("cavities = 3", "cavities = 3\nkeks.gap.gap = 1"), RuleUnknownKey, `
job.toml:3:1: keks: no such key at the top of a job
      2 | cavities = 3
      3 | keks.gap.gap = 1
          ^^^^
hint: did you mean keys?
`},
	{"first part of a dotted table", swap("cavities = 3", "cavities = 3\n[keks.gap]"), RuleUnknownKey, `
job.toml:3:2: keks: no such key at the top of a job
      2 | cavities = 3
      3 | [keks.gap]
           ^^^^
hint: did you mean keys?
`},
	{"a weight of nothing", swap(`target = "3/8 oz"`, `target = 0`), RuleRange, `
job.toml:17:10: weight.target: must be at least 0.05 g, got 0 g
     16 | [weight]
     17 | target = 0
                   ^
`},
	{"finer than a mesh can be", func(s string) string { return s + "[output]\ntolerance = 0.001\n" }, RuleRange, `
job.toml:25:13: output.tolerance: must be at least 0.002 mm, got 0.001 mm
     24 | [output]
     25 | tolerance = 0.001
                      ^^^^^
hint: 0.02 mm is below what a printer shows
`},
	{"syntax", swap(`title = "ball jig"`, `title = "ball jig`), RuleSyntax, `
job.toml:1:18: strings cannot contain newlines
      1 | title = "ball jig
                           ^
hint: write key = value or [table] on each line; put text in quotes
`},
	{"plain type clash", swap(`cavities = 3`, `cavities = "3"`), RuleValue, `
job.toml:2:12: cavities: want a whole number, got "3"
      1 | title = "ball jig"
      2 | cavities = "3"
                     ^^^
`},
	{"limit of the mold", swap(`[weight]`, "[frame]\nwall = 0.2\n[weight]"), RuleRange, `
job.toml:17:8: frame.wall: must be at least 1 mm, got 0.2 mm
     16 | [frame]
     17 | wall = 0.2
                 ^^^
hint: the wall loses a step at the fill line and must stay thick enough to print
`},
	{"angle in degrees", swap(`[weight]`, "[frame]\ndraft = 40\n[weight]"), RuleRange, `
job.toml:17:9: frame.draft: must be at most 15°, got 40°
     16 | [frame]
     17 | draft = 40
                  ^^
hint: 1° to 3° is usual
`},
	{"mirrored pose", swap(`file = "ball.stl"`, "file = \"ball.stl\"\nleft = \"-z\""), RuleRange, `
job.toml:6:8: head.left: must be the left flank, which is +z with this nose and back, got "-z"
      5 | file = "ball.stl"
      6 | left = "-z"
                 ^^^^
hint: remove it: it follows from head.nose and head.back
`},
	{"no head", swap("file = \"ball.stl\"\n", ""), RuleMissing, `
job.toml:4:1: head.file: is required
      3 | 
      4 | [head]
          ^^^^^^
hint: write file = "head.stl" under [head]
`},
	{"a hook without its eye's place", swap("eye = [0, 9.5, 0]\n", ""), RuleMissing, `
job.toml:4:1: head.eye: must give the centre of the hook's eye
      3 | 
      4 | [head]
          ^^^^^^
hint: write eye = [x, y, z] under [head], read off in CAD in the file's coordinates
`},
	{"no metal", swap("[metal]\npreset = \"lead-antimony 4\"\n", ""), RuleMissing, `
job.toml: metal: give one of them: preset, composition or density
hint: write preset = "lead-antimony 4" under [metal]; presets: lead, lead-antimony 2, lead-antimony 4, lead-antimony 6, lead-tin-antimony 92-4-4, lead-tin-antimony 92-2-6, lead-tin-antimony 84-4-12, lead-tin 95-5, lead-tin 90-10, lead-tin 70-30, tin-lead 50-50, tin-lead 60-40, tin-lead 63-37, tin, bismuth-tin 58-42, bismuth-tin 50-50, bismuth-tin 88-12, tin-bismuth 60-40, tin-zinc 91-9, pewter 92, pewter 91
`},
	{"hook heavier than head", swap(`target = "3/8 oz"`, `target = 0.2`), RuleRange, `
job.toml:17:10: weight.target: must be above the hook's own 0.373 g, got 0.2 g
     16 | [weight]
     17 | target = 0.2
                   ^^^
hint: ask for more weight, use a lighter hook, or set of = "metal"
`},
	{"in the second of repeated tables", swap("cavities = 3\n\n", "[[cavity]]\n[[cavity]]\nturm = 3\n"), RuleUnknownKey, `
job.toml:4:1: cavity[1].turm: no such key in [cavity]
      3 | [[cavity]]
      4 | turm = 3
          ^^^^
hint: did you mean turn?
`},
	{"composition", swap(`preset = "lead-antimony 4"`, `composition = { lead = 90, antimony = 4 }`), RuleValue, `
job.toml:20:15: metal.composition: must come to 100 %, got 94 %
     19 | [metal]
     20 | composition = { lead = 90, antimony = 4 }
                        ^^^^^^^^^^^^^^^^^^^^^^^^^^^
`},
	{"liquidus of an odd alloy", swap(`preset = "lead-antimony 4"`, `composition = { tin = 80, zinc = 20 }`), RuleMissing, `
job.toml:19:1: metal.liquidus: not known for tin 80 %, zinc 20 %: give the temperature at which it is fully molten
     18 | 
     19 | [metal]
          ^^^^^^^
hint: take it from a phase diagram or the supplier's sheet
`},
	{"two at once, in the order of the file", func(s string) string {
		return swap(`gape = 9`, `gape = "9 g"`)(swap(`leg = 8.6`, `lag = 8.6`)(s))
	}, RuleUnknownKey, `
job.toml:11:1: hook.lag: no such key in [hook]
     10 | eye_inside = 2.2
     11 | lag = 8.6
          ^^^
hint: did you mean leg?

job.toml:13:8: hook.gape: want a length such as "12 mm" or "1/2 in", got "9 g"
     12 | shank = 24
     13 | gape = "9 g"
                 ^^^^^
`},
	{"turned too far", swap("cavities = 3", "cavities = 3\nturn = 400"), RuleRange, `
job.toml:3:8: turn: must be at most 360°, got 400°
      2 | cavities = 3
      3 | turn = 400
                 ^^^
`},
	{"target and scale", swap(`target = "3/8 oz"`, "target = \"3/8 oz\"\nscale = 1.1"), RuleConflict, `
job.toml:18:9: weight.scale: cannot be used with weight.target, which decides the scale
     17 | target = "3/8 oz"
     18 | scale = 1.1
                  ^^^
hint: remove one of them
`},
	{"poured too cold", swap(`[rubber]`, "[casting]\npour = \"500 F\"\n[rubber]"), RuleRange, `
job.toml:23:8: casting.pour: must be at least 299 °C, got 260 °C
     22 | [casting]
     23 | pour = "500 F"
                 ^^^^^^^
hint: it must be above the liquidus
`},
}

func swap(old, new string) func(string) string {
	return func(s string) string { return strings.Replace(s, old, new, 1) }
}

func TestJobErrors(t *testing.T) {
	for _, c := range jobErrorCases {
		t.Run(c.name, func(t *testing.T) {
			text := c.edit(shortJob)
			if text == shortJob {
				t.Fatal("the edit changed nothing")
			}
			job, err := ReadJob("job.toml", []byte(text))
			var list JobErrors
			if !errors.As(err, &list) || job != nil {
				t.Fatalf("got job %v, error %v", job, err)
			}
			if list[0].Rule != c.rule {
				t.Errorf("rule: got %s, want %s", list[0].Rule, c.rule)
			}
			if got := rendered(list); got != c.want[1:] {
				t.Errorf("got\n%s\nwant%s", got, c.want)
			}
		})
	}
}

func rendered(list JobErrors) string {
	parts := make([]string, len(list))
	for i, e := range list {
		parts[i] = e.Error() + "\n" + e.Excerpt()
		if e.Hint != "" {
			parts[i] += "hint: " + e.Hint + "\n"
		}
	}
	return strings.Join(parts, "\n")
}

func TestImplausibleJobs(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{strings.Repeat("\n", MaxJobBytes+1), "job.toml: too long for a job file: more than 65536 bytes"},
		{"\na = \"" + strings.Repeat("x", maxJobLine) + "\"", "job.toml:2:1: line too long for a job file: at most 4096 bytes"},
		{"\n" + strings.Repeat("a.", 1499) + "a = 1", "job.toml:2:1: a: no such key at the top of a job"},
		{"\n\na" + strings.Repeat(".a", maxJobLine) + " = 1", "job.toml:3:1: line too long for a job file: at most 4096 bytes"},
		{"a = " + strings.Repeat("[", 1000), "job.toml:1:1: nested too deep for a job file: at most 200 brackets open"},
	} {
		_, err := ReadJob("job.toml", []byte(c.text))
		if err == nil || err.Error() != c.want {
			t.Errorf("got %v, want %s", err, c.want)
		}
	}
}

// A file of wrong keys only is answered with a bounded list.
func TestManyErrors(t *testing.T) {
	var b strings.Builder
	for i := range 3000 {
		fmt.Fprintf(&b, "k%d = 1\n", i)
	}
	_, err := ReadJob("job.toml", []byte(b.String()))
	var list JobErrors
	if !errors.As(err, &list) || len(list) != maxJobErrors {
		t.Errorf("got %d errors", len(list))
	}
}

// A decoder's sentence begins in lower case; an abbreviation stays.
func TestLowerFirst(t *testing.T) {
	for text, want := range map[string]string{"Ab": "ab", "Expected a key": "expected a key", "TOML": "TOML", "A key": "A key", "A": "A", "": "", "ab": "ab"} {
		if got := lowerFirst(text); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}

// The bounds of a job's text, each just kept and just broken.
func TestJobTextBounds(t *testing.T) {
	comment := func(n int) string { return "#" + strings.Repeat("x", n-1) + "\n" }
	nested := func(n int) string { return "title = " + strings.Repeat("[", n) + strings.Repeat("]", n) }
	for _, c := range []struct {
		name, text string
		ok         bool
	}{
		{"a line of 4096 bytes", comment(4096) + shortJob, true},
		{"one of 4097", comment(4097) + shortJob, false},
		{"a file of 65536 bytes", shortJob + strings.Repeat("\n", 65536-len(shortJob)), true},
		{"one of 65537", shortJob + strings.Repeat("\n", 65537-len(shortJob)), false},
		{"200 brackets", nested(200), true},
		{"201", nested(201), false},
		{"200, one after another", strings.Repeat("#[]{}\n", 201) + nested(200), true},
		{"a bracket too many closed before", "#" + strings.Repeat("]", 5) + "\n" + nested(201), false},
	} {
		r := &jobReader{jobSource: &jobSource{file: "job.toml", src: c.text}}
		if e := r.plausible(); (e == nil) != c.ok || e != nil && e.Rule != RuleSyntax {
			t.Errorf("%s: %v", c.name, e)
		}
	}
}

// What has a place comes before what has none, in the order of the file.
func TestJobErrorsAreSorted(t *testing.T) {
	at := func(line, col int) *JobError {
		return &JobError{Line: line, Col: col, Key: fmt.Sprintf("%d:%d", line, col), Err: errors.New("x")}
	}
	got := ""
	for _, e := range (JobErrors{at(0, 0), at(3, 5), at(2, 9), at(3, 2), at(0, 1), at(1, 1)}).sorted() {
		got += e.Key + " "
	}
	if got != "1:1 2:9 3:2 3:5 0:0 0:1 " {
		t.Errorf("in the order %s", got)
	}
}

// Carets stand under the place, never beyond the line.
func TestExcerpt(t *testing.T) {
	const src = "first\r\nwäll\t= 12 # x\r\n"
	for _, c := range []struct {
		from, to int
		want     string
	}{
		{0, 5, "      1 | first\n          ^^^^^\n"},
		{15, 17, "      1 | first\n      2 | wäll = 12 # x\n                 ^^\n"},
		{15, 99, "      1 | first\n      2 | wäll = 12 # x\n                 ^^^^^^\n"},
		{7, 7, "      1 | first\n      2 | wäll = 12 # x\n          ^\n"},
	} {
		e := &JobError{Err: errors.New("x")}
		e.pointAt(src, extent{c.from, c.to})
		if got := e.Excerpt(); got != c.want {
			t.Errorf("%d to %d:\n%q, want\n%q", c.from, c.to, got, c.want)
		}
	}
	if got := (&JobError{}).Excerpt(); got != "" {
		t.Errorf("of no place: %q", got)
	}
}

package desk

import (
	"errors"
	"os"
	"strings"
	"testing"

	"halfpour/pourplan"
)

func starter(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile("../../examples/starter/job.toml")
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func fieldOf(t *testing.T, f *Form, path string) Field {
	t.Helper()
	for _, table := range f.Tables {
		for _, field := range table.Fields {
			if field.Path == path {
				return field
			}
		}
	}
	t.Fatalf("no field %s", path)
	return Field{}
}

// Every key of the reference has its field, and what the starter gives stands
// in it.
func TestFormOfTheStarter(t *testing.T) {
	src := starter(t)
	f := NewForm("job.toml", src, nil)
	if f.Title != "Ball" || len(f.Problems) > 0 {
		t.Errorf("title %q, problems %v", f.Title, f.Problems)
	}
	for path, want := range map[string]string{
		"title": "Ball", "turn": "-90", "weight.target": "1/4 oz", "head.eye": "[-1.22, 8.95, 0]", "kit[1].price": "45", "hook.fit": "", "hook.eye_inside": "2.0",
	} {
		if got := fieldOf(t, f, path); got.Text != want || got.Given != (want != "") {
			t.Errorf("%s: %q, given %v, want %q", path, got.Text, got.Given, want)
		}
	}
	fields := map[string]bool{}
	for _, table := range f.Tables {
		for _, field := range table.Fields {
			if fields[field.Path] || field.Meaning == "" || field.Kind == "" {
				t.Errorf("%s twice, or says nothing", field.Path)
			}
			fields[field.Path] = true
		}
	}
	for _, table := range pourplan.JobTables() {
		for _, k := range table.Keys {
			if !table.List && !fields[k.Name] {
				t.Errorf("no field for %s", k.Name)
			}
		}
	}
	for _, key := range mainKeys {
		if !fields[key] {
			t.Errorf("no such key: %s", key)
		}
	}
	if got := fieldOf(t, f, "head.unit").Words; len(got) != 5 {
		t.Errorf("words of head.unit: %q", got)
	}
	if got := fieldOf(t, f, "metal.preset").Offers; len(got) < 5 {
		t.Errorf("offers of metal.preset: %q", got)
	}
}

// What is wrong stands at its field; cavities of their own have theirs.
func TestFormOfAJobWithFaults(t *testing.T) {
	f := NewForm("job.toml", "title = 3\n[head]\nfile = \"a.stl\"\n[hook]\nwire = 40\n[[cavity]]\nname = \"a\"\n[cavity.weight]\ntarget = 3\n[[cavity]]\nname = \"b\"\n", nil)
	if got := fieldOf(t, f, "hook.wire").Problems; len(got) != 1 || !strings.Contains(got[0], "at most 6 mm") {
		t.Errorf("hook.wire: %q", got)
	}
	if got := fieldOf(t, f, "title").Problems; len(got) != 1 {
		t.Errorf("title: %q", got)
	}
	if got := fieldOf(t, f, "cavity[0].weight.target").Text; got != "3" {
		t.Errorf("a cavity's own weight: %q", got)
	}
	if got := fieldOf(t, f, "cavity[1].name").Text; got != "b" {
		t.Errorf("the second cavity's name: %q", got)
	}
	if broken := NewForm("job.toml", "title = \"a\"\nturn = = 3\n", nil); len(broken.Problems) != 1 || broken.Problems[0].Line != 2 || broken.Title != "a" {
		t.Errorf("a text that is no TOML: %+v", broken.Problems)
	}
}

func TestSet(t *testing.T) {
	src := starter(t)
	for _, c := range []struct{ path, typed, was, want string }{
		{"title", `Minnow "two" \o/`, `title = "Ball" `, `title = "Minnow \"two\" \\o/" `},
		{"title", "12", `title = "Ball" `, `title = "12" `},
		{"hook.wire", "0,9", "wire = 1.1 ", "wire = 0.9 "},
		{"hook.wire", ".9", "wire = 1.1 ", "wire = 0.9 "},
		{"hook.wire", "0.04 in", "wire = 1.1 ", `wire = "0.04 in" `},
		{"hook.wire", "+007/8", "", ""}, // no length
		{"turn", "auto", "turn = -90 ", `turn = "auto" `},
		{"turn", "-045.5", "turn = -90 ", `turn = -45.5 `},
		{"head.eye", "1, 2, 0", "eye = [-1.22, 8.95, 0]", "eye = [1, 2, 0]"},
		{"hook.eye_across", "true", "# eye_across = false ", "eye_across = true "},
		{"marking.lines", "Ball, 1/4 oz", `# lines = ["Ball", "1/4 oz"]`, `lines = ["Ball", "1/4 oz"]`},
		{"hook.mass", "", "", ""}, // is not there
		{"hook.gape", " ", "gape = 10 ", "# gape = 10 "},
	} {
		want := strings.Replace(src, c.was, c.want, 1)
		got, err := Set("job.toml", src, c.path, c.typed, nil)
		if c.was == "" && c.typed != "" {
			if err == nil {
				t.Errorf("%s = %s: no fault", c.path, c.typed)
			}
			continue
		}
		if err != nil || got != want {
			t.Errorf("%s = %s: %v", c.path, c.typed, err)
		}
	}
	if _, err := Set("job.toml", src, "hook.wires", "1", nil); !errors.Is(err, ErrNoField) {
		t.Errorf("a key that is none: %v", err)
	}
	if _, err := Set("job.toml", src, "hook.wire", "9", nil); err == nil || !strings.Contains(err.Error(), "at most 6 mm, got 9 mm") {
		t.Errorf("too thick a wire: %v", err)
	}
	// What a value makes wrong elsewhere does not keep it out.
	if text, err := Set("job.toml", src, "weight.scale", "1", nil); err != nil || len(NewForm("job.toml", text, nil).Problems) != 1 {
		t.Errorf("a scale beside a target: %v", err)
	}
	if text, err := Add(src, "kit"); err != nil || !strings.HasSuffix(text, "\n[[kit]]\n") {
		t.Errorf("another kit: %v", err)
	}
	if _, err := Add(src, "hook"); !errors.Is(err, ErrNoField) {
		t.Errorf("another hook: %v", err)
	}
}

func TestHistory(t *testing.T) {
	var h History
	if _, err := h.Go(-1); !errors.Is(err, ErrNoStep) {
		t.Errorf("before there is a text: %v", err)
	}
	for _, src := range []string{"a", "a", "b", "c"} {
		h.Note(src)
	}
	step := func(by int, want string) {
		t.Helper()
		if got, err := h.Go(by); got != want || (err == nil) != (want != "") {
			t.Errorf("%+d: %q, %v, want %q", by, got, err, want)
		}
	}
	step(1, "")
	step(-1, "b")
	h.Note("b")
	step(-1, "a")
	step(-1, "")
	step(1, "b")
	if undo, redo := h.Steps(); !undo || !redo {
		t.Error("steps on both sides")
	}
	h.Note("d") // c is gone
	step(1, "")
	step(-1, "b")
	for i := range 3 * mostTexts {
		h.Note(strings.Repeat("x", i+1))
	}
	if len(h.texts) != mostTexts {
		t.Errorf("keeps %d texts", len(h.texts))
	}
}

// The form shows where the measures of a hook are taken, and has no other drawing.
func TestFormShowsWhereToMeasure(t *testing.T) {
	shown := 0
	for _, table := range NewForm("job.toml", "title = \"x\"\n", nil).Tables {
		if (table.Drawing != "") != (table.Path == "hook") {
			t.Errorf("%s: drawing %q", table.Path, table.Drawing)
		}
		if strings.Contains(table.Drawing, "over_gape") {
			shown++
		}
	}
	if shown != 1 {
		t.Errorf("shown %d times", shown)
	}
}

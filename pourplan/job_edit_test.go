package pourplan

import (
	"errors"
	"os"
	"strings"
	"testing"
)

const editedJob = `# A job.
title = "Ball"          # on the sheet

[head]
file = "head.stl" # closed
eye = [-1.22,
       8.95, 0] # of the hook
# gate = [-5, 0, 0]   # left out: the highest point

[weight]   # of it
target = "1/4 oz"

[[cavity]]
name = "a"
turn = -90

[[cavity]]
  name = 'b'
  hook = { wire = 1.1, leg = 3 }
`

func TestSetKey(t *testing.T) {
	for _, c := range []struct{ path, value, was, want string }{
		{"title", `"Minnow"`, `"Ball"  `, `"Minnow"  `},
		{"head.eye", "[1, 2, 0]", "[-1.22,\n       8.95, 0]", "[1, 2, 0]"},
		{"head.gate", "[0, 1, 0]", "# gate = [-5, 0, 0]   #", "gate = [0, 1, 0]   #"},
		{"head.unit", `"in"`, "8.95, 0] # of the hook\n", "8.95, 0] # of the hook\nunit = \"in\"\n"},
		{"weight.scale", "1.2", "\"1/4 oz\"\n", "\"1/4 oz\"\nscale = 1.2\n"},
		{"rubber.waste", "7", "leg = 3 }\n", "leg = 3 }\n\n[rubber]\nwaste = 7\n"},
		{"cavity[1].name", `"c"`, `'b'`, `"c"`},
		{"cavity[0].hook.wire", "0.9", "turn = -90\n", "turn = -90\nhook.wire = 0.9\n"},
		{"cavity[1].hook.wire", "0.9", "wire = 1.1", "wire = 0.9"},
		{"cavities", "3", "# on the sheet\n", "# on the sheet\ncavities = 3\n"},
	} {
		for _, ends := range []string{"\n", "\r\n"} {
			lines := func(s string) string { return strings.ReplaceAll(s, "\n", ends) }
			if marked, err := SetKey(byteOrderMark+editedJob, c.path, c.value); err != nil || marked != byteOrderMark+strings.Replace(editedJob, c.was, c.want, 1) {
				t.Errorf("behind a byte order mark: %s = %s: %v\n%s", c.path, c.value, err, marked)
			}
			want := strings.Replace(lines(editedJob), lines(c.was), lines(c.want), 1)
			if got, err := SetKey(lines(editedJob), c.path, c.value); err != nil || got != want {
				t.Errorf("%s = %s: %v\n%s", c.path, c.value, err, got)
			}
		}
	}
}

// An item of a list changes alone, wherever its list is broken into lines.
func TestSetItem(t *testing.T) {
	const src = "[[keeper]]\nwire = 0.9\npoints = [ # in the head\n  [1, 2, 0], # in\n  [3, 2, 0], # out\n]\n"
	for _, c := range []struct {
		path     string
		item     int
		was, now string
	}{
		{"keeper[0].points", 1, "[3, 2, 0]", "[4, 2, 0]"}, {"keeper[0].points", 0, "[1, 2, 0]", "[4, 2, 0]"},
		{"keeper[0].points", 2, "[3, 2, 0]", "[3, 2, 0], [4, 2, 0]"}, {"keeper[0].step", 0, "]\n", "]\n"},
	} {
		got, err := SetItem(src, c.path, c.item, "[4, 2, 0]")
		want := strings.Replace(src, c.was, c.now, 1)
		if c.path == "keeper[0].step" {
			want = src + "step = [[4, 2, 0]]\n"
		}
		if err != nil || strings.TrimSpace(got) != strings.TrimSpace(want) {
			t.Errorf("%s[%d]: %v\n%s", c.path, c.item, err, got)
		}
	}
	for _, c := range []struct {
		path, value string
		item        int
	}{{"keeper[0].points", "[1", 0}, {"keeper[0].points", "[1, 2, 3]", 4}, {"keeper[0].wire", "1", 0}, {"keeper", "1", 0}, {"keeper[0].points", "[1, 2, 3]]\nwire = [3", 2}} {
		if got, err := SetItem(src, c.path, c.item, c.value); err == nil {
			t.Errorf("%s[%d] = %s:\n%s", c.path, c.item, c.value, got)
		}
	}
}

// A table goes with its lines; remarks and all other tables stay.
func TestDropTable(t *testing.T) {
	const src = "# one\ntitle = \"x\"\n\n# of the first\n[[keeper]] # spike\nwire = 0.9 # blue spool\npoints = [\n  [1, 2, 0], # in\n]\n# bend = 1\n\n# of the second\n[[keeper]]\nwire = 1\n\n[[cavity]]\nname = \"a\"\n[cavity.hook]\nwire = 1\n[[cavity]]\nname = \"b\"\nhook = { wire = 2 }"
	for _, c := range []struct{ path, want string }{
		{"keeper[0]", "# one\ntitle = \"x\"\n\n# of the first\n# spike\n# blue spool\n# bend = 1\n\n# of the second\n[[keeper]]\nwire = 1\n\n[[cavity]]\nname = \"a\"\n[cavity.hook]\nwire = 1\n[[cavity]]\nname = \"b\"\nhook = { wire = 2 }"},
		{"keeper[1]", strings.Replace(src, "[[keeper]]\nwire = 1\n", "", 1)},
		{"cavity[0]", strings.Replace(src, "[[cavity]]\nname = \"a\"\n[cavity.hook]\nwire = 1\n", "", 1)},
		{"cavity[1]", strings.Replace(src, "[[cavity]]\nname = \"b\"\nhook = { wire = 2 }", "", 1)},
	} {
		for _, ends := range []string{"\n", "\r\n"} {
			lines := func(s string) string { return strings.ReplaceAll(s, "\n", ends) }
			if got, err := DropTable(lines(src), c.path); err != nil || got != lines(c.want) {
				t.Errorf("%s: %v\n%s", c.path, err, got)
			}
		}
	}
	for _, path := range []string{"keeper[2]", "keeper", "title", "cavity[0].hook", ""} {
		if got, err := DropTable(src, path); err == nil {
			t.Errorf("%s:\n%s", path, got)
		}
	}
	if _, err := DropTable("a = 1\nkeeper = [{ wire = 1 }]\n", "keeper[0]"); !errors.Is(err, ErrNoEdit) {
		t.Errorf("a table within a line: %v", err)
	}
}

func TestSetKeyRefuses(t *testing.T) {
	for _, c := range []struct {
		path, value string
		want        error
	}{
		{"title", "Ball", ErrNoValue},
		{"title", "\"a\"\nturn = 3", ErrNoEdit},
		{"title", "\"a\" # b", ErrNoEdit},
		{"title", "", ErrNoValue},
		{"head", "3", ErrNoEdit},
		{"cavity[1].hook.leg.length", "3", ErrNoValue},
	} {
		if got, err := SetKey(editedJob, c.path, c.value); !errors.Is(err, c.want) {
			t.Errorf("%s = %s: %v\n%s", c.path, c.value, err, got)
		}
	}
}

func TestDropKey(t *testing.T) {
	for _, c := range []struct{ path, was, want string }{
		{"title", `title =`, `# title =`},
		{"head.eye", "eye = [-1.22,\n       8.95", "# eye = [-1.22,\n#        8.95"},
		{"cavity[1].name", "  name =", "  # name ="},
		{"weight.scale", "", ""}, // is not there
	} {
		want := strings.Replace(editedJob, c.was, c.want, 1)
		got, err := DropKey(editedJob, c.path)
		if err != nil || got != want {
			t.Errorf("%s: %v\n%s", c.path, err, got)
		}
	}
	if got, err := DropKey(editedJob, "cavity[1].hook.leg"); !errors.Is(err, ErrNoEdit) {
		t.Errorf("a key in a table of one line: %v\n%s", err, got)
	}
}

// Each key that the starter shows as a remark goes in at its place, and out to
// the same text.
func TestSetKeysOfTheStarter(t *testing.T) {
	data, err := os.ReadFile("../examples/starter/job.toml")
	if err != nil {
		t.Fatal(err)
	}
	src, set := string(data), 0
	for _, table := range JobTables() {
		if table.List || table.Name == "" {
			continue
		}
		for _, k := range table.Keys {
			_, name, _ := strings.Cut(k.Name, ".")
			_, there := findPlaces(src)[k.Name]
			from, to := scan(src).extentOf(table.Name)
			start, end, shown := remarkOf(src, name, from, to)
			if there || !shown {
				continue
			}
			set++
			_, value, _ := strings.Cut(src[start:end], "= ")
			text, err := SetKey(src, k.Name, value)
			if want := src[:start] + strings.TrimPrefix(src[start:], "# "); err != nil || text != want {
				t.Errorf("%s = %s: %v", k.Name, value, err)
			}
			if back, err := DropKey(text, k.Name); err != nil || back != src {
				t.Errorf("%s out again: %v", k.Name, err)
			}
		}
	}
	if set < 40 {
		t.Errorf("set %d keys only", set)
	}
}

// Whatever the text, an edit fails or changes one key alone.
func FuzzSetKey(f *testing.F) {
	f.Add(editedJob, "head.gate", "[0, 0, 0]")
	f.Add("a.b = 1\n[a.c]\nd = [\n[1],\n[2]]", "a.c.d", "3")
	f.Add("[[kit]]\nprice = 3\n[kit.x]\ny = 1", "kit[0].price", `"""a"""`)
	f.Fuzz(func(t *testing.T, src, path, value string) {
		text, err := SetKey(src, path, value)
		if err != nil {
			return
		}
		places := findPlaces(text)
		p, ok := places[path]
		if !ok || text[p.value.from:p.value.to] != strings.TrimSpace(value) {
			t.Fatalf("%q at %q in %q is not in %q", value, path, src, text)
		}
		dropped, err := DropKey(text, path)
		if err != nil {
			return
		}
		if _, still := findPlaces(dropped)[path]; still {
			t.Fatalf("%q is still in %q", path, dropped)
		}
	})
}

package pourplan

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var updateDocs = flag.Bool("update", false, "rewrite docs/job-file.md")

// The committed reference is what the program says of itself.
func TestJobReferenceIsCommitted(t *testing.T) {
	path := filepath.Join("..", "docs", "job-file.md")
	got := JobReference()
	if *updateDocs {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if string(want) != got {
		t.Error("docs/job-file.md is not what JobReference gives: go test ./pourplan -run JobReference -update")
	}
}

// Every key has a kind and a meaning, every table too.
func TestEveryKeyIsDescribed(t *testing.T) {
	for _, table := range JobTables() {
		if table.Meaning == "" {
			t.Errorf("table %q has no meaning", table.Name)
		}
		for _, k := range table.Keys {
			if k.Meaning == "" || k.Kind == "" {
				t.Errorf("%s has the kind %q and the meaning %q", k.Name, k.Kind, k.Meaning)
			}
		}
	}
}

// Known defaults and limits, as Default and the checks have them.
func TestKeyDocs(t *testing.T) {
	keys := map[string]KeyDoc{}
	for _, table := range JobTables() {
		for _, k := range table.Keys {
			keys[k.Name] = k
		}
	}
	for _, c := range []struct{ name, byDefault, limits string }{
		{"frame.wall", "2 mm", "1 to 30 mm"},
		{"frame.draft", "1 °", "0 to 15 °"},
		{"vents.count", "1", "1 to 8"},
		{"keys.count", "4", "3 to 12"},
		{"casting.mold", "60 °C", "-20 to 200 °C"},
		{"rubber.scale", "0.1 g", "0.001 to 10 g"},
		{"evening.mix", "5 min", "0 s to 24 h"},
		{"turn", "0 °", "-360 to 360 °"},
		{"hook.wire", "", "0.2 to 6 mm"},
		{"keeper.count", "1", "1 to 32"},
		{"hook.leg", "0 mm", "0 to 200 mm"},
		{"casting.pour", "", "at most 1500 °C"},
		{"rubber.pot_life", "", "30 s to 7 d"},
		{"metal.shrink", "", "0 to 3 %"},
		{"output.paper", `"a4"`, "a4 or letter"},
		{"title", "", "at most 80 characters"},
	} {
		k := keys[c.name]
		if k.Default != c.byDefault || k.Limits != c.limits {
			t.Errorf("%s: got default %q and limits %q, want %q and %q", c.name, k.Default, k.Limits, c.byDefault, c.limits)
		}
	}
	// A limit that is told is one that the reader keeps.
	for name, k := range keys {
		if strings.Contains(k.Limits, "e+") {
			t.Errorf("%s has the limits %q", name, k.Limits)
		}
	}
}

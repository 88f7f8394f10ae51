package pourplan

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var updateDocs = flag.Bool("update", false, "rewrite docs/job-file.md")

// The committed reference is what the program says of itself.
func TestJobReferenceIsCommitted(t *testing.T) {
	path := filepath.Join("..", "docs", "job-file.md")
	got := jobReference()
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
		t.Error("docs/job-file.md is not what jobReference gives: go test ./pourplan -run JobReference -update")
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

// jobReference is the reference of the job file as Markdown: every table and
// key with kind, default, limits and meaning, and the presets.
func jobReference() string {
	var b strings.Builder
	b.WriteString(referenceHead)
	for _, t := range JobTables() {
		title := "Top of the file"
		if t.Name != "" {
			title = "`" + t.Header() + "`"
		}
		fmt.Fprintf(&b, "\n## %s\n\n%s\n\n| key | value | default | limits | meaning |\n|---|---|---|---|---|\n", title, t.Meaning)
		for _, k := range t.Keys {
			_, key, whole := strings.Cut(k.Name, ".")
			if !whole {
				key = k.Name
			}
			kind := k.Kind
			if k.Unit != "" {
				kind += ", " + k.Unit
			}
			fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s |\n", key, cell(kind), cell(k.Default), cell(k.Limits), cell(k.Meaning))
		}
		if len(t.As) > 0 {
			var subs []string
			for _, s := range t.As {
				subs = append(subs, "`"+t.Name+"."+s+"`")
			}
			fmt.Fprintf(&b, "\nAlso %s, with the keys of the job's own tables of these names.\n", strings.Join(subs, ", "))
		}
	}
	b.WriteString("\n## Presets\n")
	writePresets(&b)
	return b.String()
}

const referenceHead = `# The job file

A job is a TOML file: ` + "`key = value`" + ` lines under ` + "`[table]`" + ` headings. Put text in
quotes; ` + "`#`" + ` starts a remark. The program writes this page itself, so the limits are
the ones it checks.

A bare number is in the unit named under "value". To use another unit, write it:

- length: mm, cm, m, um, in, ft, mil: ` + "`\"0.5 in\"`" + `, ` + "`\"1/16 in\"`" + `
- mass: g, kg, mg, oz, lb, gr, also in sums: ` + "`\"3/8 oz\"`" + `, ` + "`\"1 lb 2 oz\"`" + `; ounces are avoirdupois
- volume: ml, l, cm3, in3, fl oz, cup, pt, qt, gal; fluid ounces and gallons are US
- time, always with its unit: s, min, h, d, week, month: ` + "`\"24 h\"`" + `, ` + "`\"1 h 30 min\"`" + `
- temperature: C, F, K: ` + "`\"140 F\"`" + `; a difference of temperatures too
- angle: deg, rad; percentage: %; expansion: ppm/K, /K; density: g/cm3, kg/m3, lb/in3, lb/ft3, lb/gal
- clock: ` + "`\"18:30\"`" + `, ` + "`\"6:30 pm\"`" + `, ` + "`\"2026-11-27 18:30\"`" + `

If "default" is empty, the meaning says what happens when you leave the key out.
It also gives limits that depend on other keys. A key that is not listed here is
an error; the message suggests the key you probably meant.
` + "`halfpour explain hook.wire`" + ` explains one key in the terminal.
`

// cell makes text safe for a table's cell.
func cell(s string) string { return strings.ReplaceAll(s, "|", "\\|") }

func writePresets(b *strings.Builder) {
	b.WriteString("\n`metal.preset`, in percent by mass:\n\n| preset | composition | liquidus, °C | density, g/cm³ |\n|---|---|---|---|\n")
	for _, m := range metalPresets() {
		var parts []string
		for _, p := range m.parts {
			parts = append(parts, fmt.Sprintf("%s %g", p.Metal, p.Percent))
		}
		fmt.Fprintf(b, "| `%s` | %s | %.0f | %.2f |\n", m.name, strings.Join(parts, ", "), m.liquidus, m.parts.Density())
	}
	b.WriteString("\n`rubber.preset`, typical figures for two-part silicones, not for any product; your data sheet takes precedence:\n\n" +
		"| preset | density, g/cm³ | shrink, % | pot life | demold | rest | limit, °C, continuous and short-term |\n|---|---|---|---|---|---|---|\n")
	for _, r := range rubberPresets() {
		fmt.Fprintf(b, "| `%s` | %g | %g to %g | %s | %s | %s | %.0f, %.0f |\n", r.Name, r.Density, r.Shrink.Lo, r.Shrink.Hi,
			FormatDuration(r.PotLife), FormatDuration(r.Demold), FormatDuration(r.Rest), r.Continuous, r.Short)
	}
	b.WriteString("\n`plastic.name`:\n\n| plastic | softens, °C | density, g/cm³ |\n|---|---|---|\n")
	for _, p := range plastics() {
		fmt.Fprintf(b, "| `%s` | %.0f | %g |\n", p.Name, p.Softens, p.Density)
	}
}

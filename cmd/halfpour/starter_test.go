package main

import (
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"halfpour/examples"
	"halfpour/geom"
	"halfpour/pourplan"
)

var commentedKey = regexp.MustCompile(`^# ([a-z_]+ = .*)$`)

// A key that the starter job comments out shows its default: taking it in
// changes nothing. One that says what leaving it out means must at least be
// understood.
func TestStarterShowsDefaults(t *testing.T) {
	lines := strings.Split(string(examples.StarterJob), "\n")
	plain := starterSpec(t, lines)
	seen := 0
	for i, line := range lines {
		if strings.HasPrefix(line, "# [") {
			break // the keys from here on are of tables that the starter does not have
		}
		m := commentedKey.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		seen++
		taken := append(append(append([]string{}, lines[:i]...), m[1]), lines[i+1:]...)
		job := starterSpec(t, taken)
		leftOut := strings.Contains(line, "left out") || strings.Contains(line, "ratio =")
		if same := reflect.DeepEqual(job, plain); !same && !leftOut {
			t.Errorf("line %d: %s is not the default", i+1, m[1])
		}
	}
	if seen < 30 {
		t.Errorf("found %d commented keys", seen)
	}
}

// starter is what a starter job comes to.
type starter struct {
	tables pourplan.Job
	spec   any
}

func starterSpec(t *testing.T, lines []string) starter {
	t.Helper()
	job, err := pourplan.ReadJob("job.toml", []byte(strings.Join(lines, "\n")))
	if err != nil {
		t.Fatal(err)
	}
	ball := geom.Ball(geom.Vec{}, 5)
	spec, err := job.Spec(func(string) (geom.Solid, error) { return ball, nil })
	if err != nil {
		t.Fatal(err)
	}
	return starter{pourplan.Job{Casting: job.Casting, Rubber: job.Rubber, Metal: job.Metal, Output: job.Output,
		Buying: job.Buying, Kit: job.Kit, Evening: job.Evening, Plastic: job.Plastic, Cost: job.Cost}, spec}
}

// notInStarter are the keys that a first job hardly needs; the reference has
// them.
const notInStarter = `box.left box.right box.unit box.up box.fill head.bores keeper.file keeper.mirror hook.use hook.file hook.unit hook.place hook.over_eye hook.over_leg hook.over_length hook.over_gape hook.over_point hook.density metal.use metal.density metal.density_range metal.shrink metal.shrink_range metal.liquidus metal.solidus metal.latent
rubber.use rubber.name rubber.density_a rubber.density_b rubber.shrink_range rubber.expansion_range rubber.rest rubber.heat_continuous rubber.heat_short
frame.floor frame.corner frame.pry_tab keys.depth keys.clearance keys.clear sprue.gate_length marking.relief kit.name
cost.rubber cavity.without_hook size.without_hook`

var (
	starterTable = regexp.MustCompile(`^(?:# )?\[\[?(?:size\.|cavity\.)?([a-z]+)\]?\]`)
	starterKey   = regexp.MustCompile(`^(?:# )?([a-z_]+) = `)
)

// The starter shows every key of the table of keys under its own table, but for
// those listed above, and no other key.
func TestStarterShowsTheTableOfKeys(t *testing.T) {
	prose, table := map[string]string{}, ""
	var shown []string
	for _, line := range strings.Split(string(examples.StarterJob), "\n") {
		if m := starterTable.FindStringSubmatch(line); m != nil {
			table = m[1]
		} else if m := starterKey.FindStringSubmatch(line); m != nil {
			shown = append(shown, strings.TrimPrefix(table+"."+m[1], "."))
		}
		prose[table] += line + "\n"
	}
	known := pourplan.KeyNames()
	for _, key := range shown {
		if !slices.Contains(known, key) {
			t.Errorf("the starter shows %s, which is no key", key)
		}
	}
	left := strings.Fields(notInStarter)
	for _, table := range pourplan.JobTables() {
		for _, k := range table.Keys {
			_, name, dotted := strings.Cut(k.Name, ".")
			if !dotted {
				name = k.Name
			}
			there := regexp.MustCompile(`\b` + name + `\b`).MatchString(prose[k.Table])
			if listed := slices.Contains(left, k.Name); there == listed {
				t.Errorf("%s: in the starter %v, listed as left out of it %v", k.Name, there, listed)
			}
		}
	}
}

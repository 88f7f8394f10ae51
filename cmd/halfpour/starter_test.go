package main

import (
	"reflect"
	"regexp"
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

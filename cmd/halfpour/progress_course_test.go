package main

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"halfpour/geom"
)

// course is how a recorded build went.
type course struct {
	effort effort
	sizes  int
	steps  []courseStep
}

type courseStep struct {
	seconds    float64 // of processor time since the start
	size, what string
}

func readCourse(t *testing.T, path string) course {
	t.Helper()
	head, rest, _ := strings.Cut(readText(t, path), "\n")
	var c course
	if _, err := fmt.Sscanf(head, "# cavities %d, facets %d, tolerance %f:", &c.effort.cavities, &c.effort.facets, &c.effort.tolerance); err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	sizes := map[string]bool{}
	for line := range strings.Lines(rest) {
		var step courseStep
		seconds, what, _ := strings.Cut(strings.TrimSpace(line), " ")
		if _, err := fmt.Sscan(seconds, &step.seconds); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		step.what = what
		if size, after, found := strings.Cut(what, " oz: "); found {
			step.size, step.what = size, after
		}
		sizes[step.size] = true
		c.steps = append(c.steps, step)
	}
	c.sizes = len(sizes)
	return c
}

// replay tells a progress what a build would have told it by a step of its
// course.
func (c course) replay() (p *progress, tell func(courseStep)) {
	p = &progress{}
	parts := map[string]func(string, float64){}
	part := func(size, name string, share float64) func(string, float64) {
		if parts[size+name] == nil {
			parts[size+name] = p.part(share / float64(c.sizes))
		}
		return parts[size+name]
	}
	writing := map[string]func(string){}
	shares := c.effort.shares()
	return p, func(s courseStep) {
		half, step, isFrame := strings.Cut(s.what, " frame: ")
		file, isFile := strings.CutPrefix(s.what, "wrote ")
		switch {
		case isFrame:
			part(s.size, half, shares.frame)(step, frameSteps[step])
		case isFile:
			if writing[s.size] == nil {
				writing[s.size] = c.effort.writeProgress(part(s.size, "write", shares.write))
			}
			writing[s.size](file)
		case s.what == "reading" || s.what == "read":
			part(s.size, "read", readShare)(s.what, map[string]float64{"read": 1}[s.what])
		default:
			part(s.size, "measure", shares.measure)(s.what, measureSteps[s.what])
		}
	}
}

// From the first fifth on, and once a second has passed, the time left is told to
// a quarter, give or take a tenth of the whole. What is done never falls and comes
// to the whole.
func TestForetoldTimeOfRecordedBuilds(t *testing.T) {
	files, err := filepath.Glob("testdata/progress/*.txt")
	if err != nil || len(files) < 6 {
		t.Fatalf("%d recorded builds, %v", len(files), err)
	}
	for _, path := range files {
		c := readCourse(t, path)
		for _, processors := range []float64{0.5, 2} {
			p, tell := c.replay()
			var left remaining
			whole := c.steps[len(c.steps)-1].seconds / processors
			next, last := 0, 0.0
			for s := 0.0; s < whole; s += progressEvery.Seconds() {
				for ; c.steps[next].seconds/processors <= s; next++ {
					tell(c.steps[next])
				}
				done, stage := standing(p.parts)
				if done < last {
					t.Errorf("%s: %g is done after %g, with %s", path, done, last, stage)
				}
				last = done
				told, true := left.at(done, time.Duration(s*float64(time.Second))).Seconds(), whole-s
				t.Logf("%s on %g: %5.1f s of %.1f, %2.0f %% done: %5.1f s left, told %5.1f", path, processors, s, whole, 100*done, true, told)
				if s > math.Max(whole/5, leastSpent.Seconds()) && math.Abs(told-true) > true/4+whole/10 {
					t.Errorf("%s on %g processors: after %.1f s of %.1f, with %s, %.1f s left are told", path, processors, s, whole, stage, told)
				}
			}
			for ; next < len(c.steps); next++ {
				tell(c.steps[next])
			}
			if done, _ := standing(p.parts); done > 1 || done < 0.98 {
				t.Errorf("%s: %g is done when all is written", path, done)
			}
		}
	}
}

// Every step that is told has its place.
func TestFrameStepsAreKnown(t *testing.T) {
	last := -1.0
	begin := func(step string, _ float64) {
		at, known := frameSteps[step]
		if !known || at < last {
			t.Errorf("%s: %g after %g, known: %v", step, at, last, known)
		}
		last = at
	}
	mesh, err := geom.Mesh(context.Background(), geom.Ball(geom.Vec{}, 3), geom.MeshOptions{Tolerance: 0.2, Progress: begin})
	if err != nil || mesh == nil || last != frameSteps["done"] {
		t.Errorf("%v, at the end %g", err, last)
	}
}

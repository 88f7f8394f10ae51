package pourplan_test

import (
	"context"
	"errors"
	"fmt"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/pourplan"
)

// exampleJob is invented demo data.
const exampleJob = `
title = "Bar"
turn = -90
[head]
file = "bar"          # whatever the function that gives heads makes of it
[weight]
target = "1/2 oz"
[metal]
preset = "bismuth-tin 58-42"
[rubber]
preset = "tin-cure 100:3"
density = 1.33
`

// From a job to what is to be weighed, without files: the head is a solid made
// in Go.
func Example() {
	job, err := pourplan.ReadJob("bar.toml", []byte(exampleJob))
	if err != nil {
		fmt.Println(err)
		return
	}
	spec, err := job.Spec(func(file string) (geom.Solid, error) {
		return geom.Capsule(geom.Vec{X: -6}, geom.Vec{X: 6}, 5), nil
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	ctx := context.Background()
	mold, err := moldbox.Build(ctx, spec)
	if err != nil {
		fmt.Println(job.Explain(err)) // in the words of the job file
		return
	}
	measured, err := mold.Measure(ctx, 1e-4, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	plan, err := pourplan.NewPlan(job, measured)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("head:", pourplan.FormatMass(plan.Heads[0].FinishedG.Best))
	for _, h := range plan.Rubber.Halves {
		fmt.Printf("%s: A %.1f g, B %.1f g\n", h.Half, h.AG, h.BG)
	}
	// Output:
	// head: 14.17 g (1/2 oz)
	// left: A 39.9 g, B 1.2 g
	// right: A 39.9 g, B 1.2 g
}

// Everything that is wrong with a job is told at once, each with its place and
// a rule that does not change with the words.
func ExampleReadJob() {
	_, err := pourplan.ReadJob("job.toml", []byte("[frame]\nwal = 2\nover = \"8 oz\"\n"))
	var all pourplan.JobErrors
	if errors.As(err, &all) {
		for _, e := range all {
			fmt.Printf("line %d, %s: %s\n", e.Line, e.Key, e.Rule)
		}
	}
	// Output:
	// line 2, frame.wal: unknown-key
	// line 3, frame.over: bad-value
}

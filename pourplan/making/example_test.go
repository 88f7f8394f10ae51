package making_test

import (
	"bytes"
	"context"
	"fmt"

	"halfpour/geom"
	"halfpour/geom/stl"
	"halfpour/moldbox/head"
	"halfpour/pourplan"
	"halfpour/pourplan/making"
)

// jobText is invented demo data.
const jobText = `
title = "Bar"
turn = -90
[head]
file = "bar.stl"
[weight]
target = "1/2 oz"
[metal]
preset = "bismuth-tin 58-42"
[rubber]
preset = "tin-cure 100:3"
density = 1.33
`

// barSTL is a head drawn in Go, as the bytes of an STL file.
func barSTL(ctx context.Context) ([]byte, error) {
	mesh, err := geom.Mesh(ctx, geom.Capsule(geom.Vec{X: -6}, geom.Vec{X: 6}, 5), geom.MeshOptions{Tolerance: 0.02})
	if err != nil {
		return nil, err
	}
	var file bytes.Buffer
	err = stl.Write(&file, mesh, "bar")
	return file.Bytes(), err
}

// From the bytes of a job and a head to the bytes of frames and plan, without
// files.
func Example() {
	ctx := context.Background()
	bar, err := barSTL(ctx)
	if err != nil {
		fmt.Println(err)
		return
	}
	job, err := pourplan.ReadJob("job.toml", []byte(jobText))
	if err != nil {
		fmt.Println(err)
		return
	}
	run := making.New(job, func(ctx context.Context, file string) (*head.Head, error) {
		return head.Read(ctx, file, bar)
	})
	if err := run.Make(ctx, making.Options{Tolerance: 0.1}); err != nil {
		fmt.Println(err)
		return
	}
	mold := run.Molds[0] // a job without sizes is a run of one
	plan, err := mold.Plan.JSON()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("head:", pourplan.FormatMass(mold.Plan.Heads[0].FinishedG.Best))
	for i, h := range mold.Plan.Rubber.Halves {
		var frame bytes.Buffer
		if err := stl.Write(&frame, mold.Frames[i], h.Half); err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: A %.1f g, B %.1f g; an STL file of the frame is made: %v\n", h.Half, h.AG, h.BG,
			frame.Len() == 84+50*len(mold.Frames[i].Triangles))
	}
	fmt.Println("plan.json is made:", bytes.HasPrefix(plan, []byte("{")))
	// Output:
	// head: 14.17 g (1/2 oz)
	// left: A 39.9 g, B 1.2 g; an STL file of the frame is made: true
	// right: A 39.9 g, B 1.2 g; an STL file of the frame is made: true
	// plan.json is made: true
}

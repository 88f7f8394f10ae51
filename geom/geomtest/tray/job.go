package main

import (
	"context"
	"fmt"
	"os"
	"time"

	"halfpour/geom"
	"halfpour/geom/stl"
)

// job is one run of the workload.
type job struct {
	head, tray       string // file names
	measures, meshes bool
	check            bool
	tolerance        float64 // of the mesh, mm
	relTol           float64 // of the rubber's volume
	workers          int
}

// run does the job: from reading the head's file to the tray's file written.
func (j job) run(ctx context.Context) (*report, error) {
	r := &report{start: time.Now()}
	r.last = r.start
	mesh, err := readHead(j.head)
	if err != nil {
		return nil, err
	}
	r.HeadFacets = len(mesh.Triangles)
	r.lap("read the head")
	head, err := geom.NewMeshSolid(mesh)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", j.head, err)
	}
	tray, rubber := tray(head)
	r.lap("make it a solid")
	if j.measures {
		if err := j.measure(ctx, rubber, r); err != nil {
			return nil, err
		}
	}
	var made *geom.TriMesh
	if j.meshes {
		if made, err = j.mesh(ctx, tray, r); err != nil {
			return nil, err
		}
	}
	r.Seconds = r.last.Sub(r.start).Seconds()
	used := measureUsage()
	r.PeakBytes, r.PeakIs, r.Busy = used.peak, used.peakIs, used.busy.Seconds()
	if j.check && made != nil {
		if r.Check, err = checkMesh(ctx, made, tray); err != nil {
			return nil, err
		}
	}
	return r, nil
}

func (j job) measure(ctx context.Context, rubber geom.Solid, r *report) error {
	v, err := geom.Integrate(ctx, rubber, geom.IntegrateOptions{RelTol: j.relTol, Workers: j.workers})
	if err != nil {
		return err
	}
	r.Rubber = &volume{Low: v.Lo, Best: v.Best, High: v.Hi, Error: v.Error}
	r.lap("measure the rubber")
	return nil
}

func (j job) mesh(ctx context.Context, tray geom.Solid, r *report) (*geom.TriMesh, error) {
	stage := ""
	m, err := geom.Mesh(ctx, tray, geom.MeshOptions{
		Tolerance: j.tolerance,
		Workers:   j.workers,
		Progress: func(next string, _ float64) {
			if next != stage && stage != "" {
				r.lap("mesh: " + stage)
			}
			stage = next
		},
	})
	if err != nil {
		return nil, err
	}
	r.Triangles = len(m.Triangles)
	err = writeSTL(j.tray, m, "tray with five heads, invented demo data")
	r.lap("write the tray")
	return m, err
}

// checkMesh holds the mesh, as its file has it, against what Mesh promises.
func checkMesh(ctx context.Context, m *geom.TriMesh, tray geom.Solid) (*checked, error) {
	m = geom.Rounded32(m)
	c := &checked{Volume: m.Volume()}
	for _, f := range geom.Audit(m) {
		if !f.IsNote() {
			c.Faults = append(c.Faults, f.Error())
		}
	}
	const show = 10
	crossings, err := geom.SelfCrossings(ctx, m, show)
	if err != nil {
		return nil, err
	}
	for _, x := range crossings {
		c.Faults = append(c.Faults, x.String())
	}
	var at geom.Vec
	c.Deviation, at, err = geom.Deviation(ctx, m, tray)
	c.At = [3]float64{at.X, at.Y, at.Z}
	return c, err
}

func readHead(name string) (*geom.TriMesh, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	m, _, err := stl.Read(context.Background(), f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return m, nil
}

func writeHead(facets int, name string) error {
	m, err := Head(facets)
	if err != nil {
		return err
	}
	return writeSTL(name, m, "head of the reference tray, invented demo data")
}

func writeSTL(name string, m *geom.TriMesh, title string) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	if err := stl.Write(f, m, title); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

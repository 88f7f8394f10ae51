package moldbox

import (
	"context"
	"math"
	"os"
	"testing"

	"halfpour/geom"
	"halfpour/geom/column"
	"halfpour/geom/stl"
)

// minnowSpec is the five-cavity example: a head of 100,000 facets.
func minnowSpec(b *testing.B) Spec {
	b.Helper()
	data, err := os.ReadFile("../examples/minnow-tray/head.stl")
	if err != nil {
		b.Fatal(err)
	}
	mesh, _, err := stl.Decode(context.Background(), data)
	if err != nil {
		b.Fatal(err)
	}
	head, err := geom.NewMeshSolid(mesh)
	if err != nil {
		b.Fatal(err)
	}
	spec := Default()
	for range 5 {
		spec.Cavities = append(spec.Cavities, Cavity{
			Head: head, Pose: plainPose, Turn: -math.Pi / 2, Eye: geom.Vec{X: -11.5, Y: 9}, Shrink: 1.003, Scale: 0.98,
			Hook: &Hook{Name: "jig hook", Wire: 1.2, EyeInside: 2.2, Leg: 9, LegAngle: math.Pi / 2, Shank: 32, Gape: 12, Point: 9, Fit: 0.05},
		})
	}
	return spec
}

// BenchmarkChecks times what a check of the five-cavity example is made of.
func BenchmarkChecks(b *testing.B) {
	ctx, spec := context.Background(), minnowSpec(b)
	parts, err := newParts(ctx, spec, nil)
	if err != nil {
		b.Fatal(err)
	}
	row, err := newArranger(context.Background(), spec).fitting(parts)
	if err != nil {
		b.Fatal(err)
	}
	m := &builder{spec: spec, parts: parts, row: row}
	m.placeCavities()
	m.placeRunner(context.Background())
	left, err := m.cutVents(ctx)
	if err != nil {
		b.Fatal(err)
	}
	if m.keys, _, err = placeKeys(ctx, spec, row.inside, m.hollows()); err != nil {
		b.Fatal(err)
	}
	c := &m.cavities[0]
	upright, err := column.Cut(ctx, c.Head, column.Options{Step: shapeStep})
	if err != nil {
		b.Fatal(err)
	}
	look := func() *shapeCheck { return &shapeCheck{builder: m, part: parts[0], cavity: c} }
	mold, err := Build(ctx, spec)
	if err != nil {
		b.Fatal(err)
	}
	for _, bench := range []struct {
		name string
		run  func() error
	}{
		{"weighing", func() error { _, err := newParts(ctx, spec, nil); return err }},
		{"layout", func() error { _, err := newArranger(context.Background(), spec).fitting(parts); return err }},
		{"air and vents", func() error { _, err := m.cutVents(ctx); return err }},
		{"air without vents", func() error {
			for i := range m.cavities {
				m.cavities[i].Air = nil
			}
			return m.airOf(ctx, left)
		}},
		{"keys", func() error { _, _, err := placeKeys(context.Background(), spec, row.inside, m.hollows()); return err }},
		{"columns", func() error {
			_, err := column.Cut(ctx, c.Head, column.Options{Step: shapeStep})
			return err
		}},
		{"undercut, overhang", func() error {
			for _, d := range []column.Draw{{}, {Down: true}} {
				upright.Undercut(d)
				look().overhang(upright, d, "left")
			}
			return nil
		}},
		{"bubbles", func() error {
			return look().bubbles(ctx, column.Undercut{Room: math.Inf(1)}, column.Draw{}, "left")
		}},
		{"thin places", func() error { return look().thin(ctx, upright) }},
		{"shut-off", func() error { return look().flash(ctx) }},
		{"halves differ", func() error { look().halvesDiffer(upright); return nil }},
		{"thinnest rubber", func() error { m.thinnest(ctx); return nil }},
		{"whole mold", func() error { _, err := Build(ctx, spec); return err }},
		{"rubber, 1 %", func() error {
			_, err := geom.Integrate(ctx, mold.Left.Rubber(), geom.IntegrateOptions{RelTol: 1e-2})
			return err
		}},
	} {
		b.Run(bench.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := bench.run(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

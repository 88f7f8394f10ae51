package page

import (
	"math"
	"testing"

	"halfpour/geom"
)

// Vents stay as deep as they are on trays and castings of ever fewer triangles,
// from head to edge: no bridge across a channel, no gap in a ridge.
func TestVentsStayWhole(t *testing.T) {
	b := built(t)
	depth := b.mold.Spec.Vents.Depth / 2
	whole := func(what string, s surface, toPrint func(geom.Vec) geom.Vec, places []geom.Vec) {
		t.Helper()
		for _, triangles := range []int{40000, 10000, 3000} {
			thinned, err := s.thinned(t.Context(), triangles)
			if err != nil {
				t.Fatal(err)
			}
			coarse := thinned.mesh
			for _, p := range places {
				at := toPrint(p)
				if got := nearestLevel(coarse, at.X, at.Y, depth); math.Abs(got-depth) > 0.06 {
					t.Errorf("%s of %d triangles: at (%.2f, %.2f) a vent is %.2f mm deep, want %.2f mm", what, triangles, at.X, at.Y, got, depth)
					return
				}
			}
		}
	}
	var all []geom.Vec
	for _, c := range b.mold.Cavities {
		all = append(all, middleOfVent(c.Vent, c.Head, c.Sprue, b.mold.Left.Inside, depth)...)
	}
	if len(all) < 20*len(b.mold.Cavities) {
		t.Fatalf("only %d places of vents to look at", len(all))
	}
	vents := ventsOf(b.mold)
	whole("the left tray", surface{mesh: b.frames[0], class: make([]uint8, len(b.frames[0].Triangles)), kept: onSurface(b.frames[0], b.mold.Left.ToPrint, vents)}, b.mold.Left.ToPrint, all)
	whole("the right tray", surface{mesh: b.frames[1], class: make([]uint8, len(b.frames[1].Triangles)), kept: onSurface(b.frames[1], b.mold.Right.ToPrint, vents)}, b.mold.Right.ToPrint, all)
	c := b.mold.Cavities[0]
	metal, err := bodiesOf(b.mold).Metal(t.Context(), 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, triangles := range []int{40000, 5000} {
		casting, err := newBody(t.Context(), metal, triangles, c.Vent)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range middleOfVent(c.Vent, c.Head, c.Sprue, b.mold.Left.Inside, depth) {
			if got := nearestLevel(casting.mesh, p.X, p.Y, depth); math.Abs(got-depth) > 0.06 {
				t.Fatalf("a casting of %d triangles: at (%.2f, %.2f) a vent is %.2f mm deep, want %.2f mm", triangles, p.X, p.Y, got, depth)
			}
		}
	}
}

// middleOfVent lists places along the middle of a vent, away from head, funnel
// and edge.
func middleOfVent(vent, head, sprue geom.Solid, inside geom.Box, depth float64) []geom.Vec {
	var list []geom.Vec
	box := vent.BoundingBox()
	for y := box.Min.Y; y < math.Min(box.Max.Y, inside.Max.Y-0.5); y += 0.3 {
		for x := box.Min.X; x < box.Max.X; x += 0.15 {
			p := geom.Vec{X: x, Y: y}
			if vent.Evaluate(p) < 0.05-depth && head.Evaluate(p) > 1 && sprue.Evaluate(p) > 1 {
				list = append(list, p)
			}
		}
	}
	return list
}

// nearestLevel is, of the heights at which a mesh's facets stand over (x, y),
// the one nearest to want.
func nearestLevel(m *geom.TriMesh, x, y, want float64) float64 {
	best := math.Inf(1)
	for i := range m.Triangles {
		a, b, c := m.Corners(i)
		u, v := b.Sub(a), c.Sub(a)
		det := u.X*v.Y - u.Y*v.X
		if det == 0 {
			continue
		}
		s, t := ((x-a.X)*v.Y-(y-a.Y)*v.X)/det, (u.X*(y-a.Y)-u.Y*(x-a.X))/det
		if s < 0 || t < 0 || s+t > 1 {
			continue
		}
		if z := a.Z + s*u.Z + t*v.Z; math.Abs(z-want) < math.Abs(best-want) {
			best = z
		}
	}
	return best
}

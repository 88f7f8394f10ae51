package moldbox

import (
	"context"
	"fmt"
	"math"
	"slices"

	"halfpour/geom"
)

// Thinnest is the thinnest rubber of a mold and what it stands between.
type Thinnest struct {
	Width float64  // mm; 0 where hollows meet that should not
	A, B  string   // "the head of cavity 1", "key 2", "a wall", "the fill line"
	At    geom.Vec // in the middle, mold coordinates
	of    int      // the cavity that it is at, or nearest to
}

// feature is a hollow that rubber stands round.
type feature struct {
	name  string
	solid geom.Solid
	box   geom.Box // tight
	of    int      // cavity; -1: none
	kind  featureKind
	edge  bool // runs out through an edge
}

type featureKind int

const (
	headFeature featureKind = iota
	bedFeature
	sprueFeature
	ventFeature
	runnerFeature
	keyFeature
)

// joined reports whether two features are of one piece by design: all of a
// cavity hangs on its head, and all sprues on the runner.
func (f feature) joined(g feature) bool {
	if f.of >= 0 && f.of == g.of {
		return f.kind == headFeature || g.kind == headFeature || f.kind == g.kind
	}
	onRunner := func(a, b feature) bool { return a.kind == runnerFeature && b.kind == sprueFeature }
	return onRunner(f, g) || onRunner(g, f)
}

// checkThinnest finds rubber that tears when the casting is drawn, unless a
// closer look has said so.
func (b *builder) checkThinnest(t Thinnest) {
	limit := b.spec.Checks.Rubber
	const tol = 0.05 // of what other places already promise
	told := slices.ContainsFunc(b.findings, func(f Finding) bool { return slices.Contains(tellsOfThin, f.Code) })
	if !told && t.Width < limit-tol {
		b.findings = append(b.findings, Finding{Severity: Warn, Code: "rubber-thin", At: &t.At, HeadAt: b.parts[t.of].inFile(t.At), Value: t.Width, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("the rubber between %s and %s is thin: it tears when you pull castings out", t.A, t.B)})
	}
}

// tellsOfThin are findings that say more about too little rubber.
var tellsOfThin = []string{"cavities-collide", "wire-crosses", "cavities-too-near", "gate-on-hook", "wires-cross"}

// thinnest looks for the thinnest rubber between any two features that are not
// joined, to a wall, and over the top. Rubber thicker than what the frame
// leaves anyway is not looked at.
func (b *builder) thinnest(ctx context.Context) Thinnest {
	all := b.features()
	best := Thinnest{Width: math.Inf(1)}
	for _, f := range all {
		b.thinnestToFrame(f, &best)
	}
	// Within a cavity first: there it is thinnest as a rule, and what is found
	// spares a closer look at the rest.
	for _, within := range []bool{true, false} {
		for i, f := range all {
			for _, g := range all[:i] {
				same := f.of >= 0 && f.of == g.of
				if ctx.Err() != nil || same != within || f.joined(g) || same && b.cavities[f.of].AlikeTo != f.of {
					continue
				}
				if f.box.Grow(best.Width).Intersect(g.box).IsEmpty() {
					continue
				}
				if gap, ok := geom.Narrowest(g.solid, f.solid, best.Width, 0.05); ok {
					best = Thinnest{gap.Width, g.name, f.name, gap.Middle(), max(f.of, g.of)}
				}
			}
		}
	}
	if best.of < 0 {
		best.of = b.nearestCavity(best.At)
	}
	return best
}

func (b *builder) nearestCavity(at geom.Vec) int {
	best := 0
	for i := range b.cavities {
		if b.cavities[i].Eye.Dist(at) < b.cavities[best].Eye.Dist(at) {
			best = i
		}
	}
	return best
}

// features are all of the mold, up to its edge.
func (b *builder) features() []feature {
	var all []feature
	level := geom.HalfSpace(geom.Vec{Y: 1}, b.row.inside.Max.Y)
	add := func(name string, s geom.Solid, box geom.Box, of int, kind featureKind, edge bool) {
		all = append(all, feature{name, s, box, of, kind, edge})
	}
	for i := range b.cavities {
		c, p := &b.cavities[i], b.parts[i]
		add("the head of "+c.Name, c.Head, geom.Move(p.move).Box(p.headBox), i, headFeature, false)
		if c.Bed != nil {
			box := c.Bed.BoundingBox()
			flat := box
			flat.Min.Z, flat.Max.Z = 0, 0
			in := b.row.inside
			in.Min.Z, in.Max.Z = 0, 0
			add("the wires of "+c.Name, c.Bed, box, i, bedFeature, flat.Union(in) != in)
		}
		add("the sprue of "+c.Name, c.toEdge, c.toEdge.BoundingBox(), i, sprueFeature, true)
		if c.Vent != nil {
			vent := geom.Intersect(c.Vent, level)
			add("a vent of "+c.Name, vent, vent.BoundingBox(), i, ventFeature, true)
		}
	}
	if b.runner != nil {
		add("the runner", b.runner.Metal, b.runner.Metal.BoundingBox(), -1, runnerFeature, true)
	}
	for i, k := range b.keys {
		r := b.spec.Keys.socketRadius()
		box := geom.BoxOf(k.At).Grow(r)
		box.Min.Z, box.Max.Z = -k.Depth-b.spec.Keys.Clearance, k.Depth+b.spec.Keys.Clearance
		add(fmt.Sprintf("key %d", i+1), k.dome(b.spec.Keys.Clearance), box, -1, keyFeature, false)
	}
	return all
}

// thinnestToFrame holds a feature's box against the walls and the fill lines.
// Where that is thin, the place is looked for on the feature itself.
func (b *builder) thinnestToFrame(f feature, best *Thinnest) {
	if f.edge {
		return
	}
	box, in := f.box, b.row.inside
	for _, side := range []struct {
		gap  float64
		to   string
		out  geom.Vec
		from float64 // of the side along out
	}{
		{box.Min.X - in.Min.X, "a wall", geom.Vec{X: -1}, -in.Min.X},
		{in.Max.X - box.Max.X, "a wall", geom.Vec{X: 1}, in.Max.X},
		{box.Min.Y - in.Min.Y, "a wall", geom.Vec{Y: -1}, -in.Min.Y},
		{in.Max.Y - box.Max.Y, "the top edge", geom.Vec{Y: 1}, in.Max.Y},
		{b.row.left - box.Max.Z, "the fill line", geom.Vec{Z: 1}, b.row.left},
		{b.row.right + box.Min.Z, "the fill line", geom.Vec{Z: -1}, b.row.right},
	} {
		if side.gap >= best.Width {
			continue
		}
		mid := box.Centre()
		mid = mid.Add(side.out.Mul(side.from - side.gap/2 - side.out.Dot(mid)))
		*best = Thinnest{side.gap, f.name, side.to, mid, f.of}
		if side.gap >= b.spec.Checks.Rubber {
			continue
		}
		beyond := geom.HalfSpace(side.out.Neg(), -side.from)
		if gap, ok := geom.Narrowest(beyond, f.solid, side.gap+1, 0.1); ok {
			best.At = gap.Middle()
		}
	}
}

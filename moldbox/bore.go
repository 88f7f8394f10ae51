package moldbox

import (
	"context"
	"math"
	"slices"

	"halfpour/geom"
)

// Bore is a hole that a head was drawn with for a wire, and that is filled: metal is cast
// round the wire.
type Bore struct {
	Wire     string   // by its name in a sentence
	At       geom.Vec // in the middle of it, in the head's file
	Diameter float64  // its usual one, mm
	Volume   float64  // that it takes out of the head, mm³
}

const (
	boreStep    = 0.2 // along a wire's axis, mm
	boreSpokes  = 16
	leastBore   = 2.0 // length, in wires: of shorter ones that is said, not done
	widestBore  = 1.5 // from a wire's axis to the wall, in wires
	boreBeyond  = 4.0 // how far the line through a bore goes on past its mouths, in radii
	boreSlack   = 1.3 // how much farther off the line than usual its wall may be
	mostFilled  = 2.0 // times a bore's usual section and its length: more is no bore
	leastFilled = 0.25
)

// FillBores returns the mesh of a cavity's head, in mm, without the bores along its wires,
// head and wires as drawn, and what was filled. Without bores, and where one cannot be
// filled, the mesh comes back as it is. The error is the context's.
func FillBores(ctx context.Context, m *geom.TriMesh, v Cavity) (*geom.TriMesh, []Bore, error) {
	c := new(checker)
	if v.check(c, ""); len(c.errs) > 0 || v.KeepBores {
		return m, nil, nil
	}
	var list []Bore
	there, head := v.toEye().Inverse(), v.Head
	for _, w := range v.wires(1) {
		for _, b := range boresAlong(ctx, w, head, there) {
			filled, ok := geom.FillBore(m, b.line, boreSlack*b.most+0.05)
			if !ok {
				continue
			}
			volume := filled.Volume() - m.Volume()
			usual := math.Pi * b.radius * b.radius * b.length
			solid, err := geom.NewMeshSolid(filled)
			if err != nil || volume < leastFilled*usual || volume > mostFilled*usual || !b.filledIn(solid) {
				continue
			}
			m, head = filled, solid
			list = append(list, Bore{w.called(), b.line[len(b.line)/2], 2 * b.radius, volume})
		}
		if ctx.Err() != nil {
			return nil, nil, ctx.Err()
		}
	}
	return m, list, nil
}

// bore is one along a wire, in the head's file.
type bore struct {
	line           []geom.Vec // through it and on past its mouths
	inside         []geom.Vec // places of its axis, no end among them
	radius, length float64
	most           float64 // from the line to the wall, usually
}

// boresAlong finds the stretches of a wire that lie in a bore. there takes the hook's plane
// to the head's file.
func boresAlong(ctx context.Context, w partWire, head geom.Solid, there geom.Transform) (list []bore) {
	type place struct {
		at           geom.Vec
		radius, most float64 // to the wall; 0 where there is none
	}
	var axis []place
	for _, p := range w.axis.pieces {
		n := max(1, int(math.Ceil(p.length()/boreStep)))
		for i := 0; i < n && ctx.Err() == nil; i++ {
			t := (float64(i) + 0.5) / float64(n)
			out, _ := p.across(t)
			q := place{at: there.Point(p.at(t))}
			q.radius, q.most = wallRound(head, q.at, there.Direction(out), there.Direction(geom.Vec{Z: 1}), widestBore*w.axis.wire)
			axis = append(axis, q)
		}
	}
	gap := int(math.Ceil(w.axis.wire / boreStep)) // that is no end: where two bores meet
	for from := 0; from < len(axis); from++ {
		if axis[from].radius == 0 {
			continue
		}
		var radii, most []float64
		to := from
		for i := from; i < len(axis) && i-to <= gap; i++ {
			if axis[i].radius > 0 {
				radii, most, to = append(radii, axis[i].radius), append(most, axis[i].most), i
			}
		}
		slices.Sort(radii)
		slices.Sort(most)
		b := bore{radius: radii[len(radii)/2], most: most[len(most)/2]}
		for i := from; i < to; i++ {
			b.length += axis[i].at.Dist(axis[i+1].at)
		}
		if b.length >= leastBore*w.axis.wire {
			for i := from; i <= to; i++ {
				b.inside = append(b.inside, axis[i].at)
			}
			b.line = thinned(b.inside, 0.1*b.radius)
			b.extend()
			list = append(list, b)
		}
		from = to
	}
	return list
}

// extend takes the line on past the mouths, straight.
func (b *bore) extend() {
	n := len(b.inside)
	far := boreBeyond * b.radius
	back := min(n-1, int(math.Ceil(b.radius/boreStep)))
	first := b.inside[0].Sub(b.inside[back]).Unit()
	last := b.inside[n-1].Sub(b.inside[n-1-back]).Unit()
	b.line = append([]geom.Vec{b.line[0].Add(first.Mul(far))}, append(b.line, b.line[len(b.line)-1].Add(last.Mul(far)))...)
	// FillBore takes the first and the last stretch for what is outside.
	if len(b.line) == 4 {
		b.line = append(b.line[:2:2], append([]geom.Vec{b.line[1].Lerp(b.line[2], 0.5)}, b.line[2:]...)...)
	}
}

// filledIn reports whether the bore's axis is in the head, but for its ends.
func (b *bore) filledIn(head geom.Solid) bool {
	skip := min(len(b.inside)/4, int(math.Ceil(2*b.radius/boreStep)))
	for _, at := range b.inside[skip : len(b.inside)-skip] {
		if head.Evaluate(at) >= 0 {
			return false
		}
	}
	return true
}

// wallRound is how far metal is from a place in the air, looking all round across a wire:
// usually and at most. It is 0 where the place is in metal, or where some way there is
// none within reach.
func wallRound(head geom.Solid, at, out, up geom.Vec, reach float64) (usual, most float64) {
	start := valueNear(head, at, reach)
	if start <= 0 || start > reach {
		return 0, 0
	}
	for k := range boreSpokes {
		sin, cos := math.Sincos(fullTurn * float64(k) / boreSpokes)
		way := out.Mul(cos).Add(up.Mul(sin))
		on := func(t float64) float64 { return head.Evaluate(at.Add(way.Mul(t))) }
		found := false
		for t, d := range geom.March(on, 0, reach, start, 1e-3) {
			if d <= 1e-3 {
				usual, most, found = usual+t/boreSpokes, math.Max(most, t), true
				break
			}
		}
		if !found {
			return 0, 0
		}
	}
	return usual, most
}

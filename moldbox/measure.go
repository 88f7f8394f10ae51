package moldbox

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"halfpour/geom"
)

// leastScale and maxScale bound how far a head may be scaled: beyond them the
// file is more likely in another unit than meant so.
const leastScale, maxScale = 0.05, 20

// weighed is a finished cold head: its scale and volumes in mm³.
type weighed struct {
	scale               float64
	head, inHead, metal float64
	shares              []float64 // inHead wire by wire
}

// weigh takes a cavity whose head as modelled holds modelled mm³ at its scale, or
// solves the scale for the metal that is asked. The wire keeps its size,
// whatever the scale.
func weigh(ctx context.Context, v Cavity, modelled float64, field string) (weighed, error) {
	if !(modelled > 0) {
		return weighed{}, broken(field+".Head", "must enclose a volume", "check the head's file")
	}
	w := weighed{scale: cmp.Or(v.Scale, 1)}
	inHead := func(scale float64) float64 {
		sum := 0.0
		w.shares = v.wiresWithin(ctx, scale)
		for _, share := range w.shares {
			sum += share
		}
		return sum
	}
	var err error
	if v.MetalVolume > 0 {
		w.scale, w.inHead, err = solveScale(modelled, v.MetalVolume, inHead)
		if errors.Is(err, errNoScale) {
			return w, refused(field+".MetalVolume", "must be reachable by scaling; the drawn head holds", v.MetalVolume, modelled, "mm³",
				"the wire takes up most of the head: use a thinner hook or more metal")
		}
		if err == nil && (w.scale < leastScale || w.scale > maxScale) {
			return w, refused(field+".MetalVolume", "must be near the drawn head's", v.MetalVolume, modelled, "mm³", "").because(OddScale, w.scale)
		}
	} else {
		w.inHead = inHead(w.scale)
	}
	if stopped := ctx.Err(); stopped != nil {
		return w, stopped
	}
	if err != nil {
		return w, err
	}
	w.head = modelled * w.scale * w.scale * w.scale
	w.metal = w.head - w.inHead
	if w.metal <= 0 {
		return w, refused(field+".Hook.Wire", "must leave room for metal in the head; it takes up", w.inHead, w.head, "mm³",
			"use a thinner hook or a larger head")
	}
	return w, nil
}

// wiresWithin is what of each wire lies in the cold head at a scale, mm³.
func (v Cavity) wiresWithin(ctx context.Context, scale float64) []float64 {
	var shares []float64
	head := v.toHook(scale).Solid(v.Head)
	for _, w := range v.wires(scale) {
		shares = append(shares, w.within(ctx, head))
	}
	return shares
}

// solveScale finds s with s³·modelled - inHead(s) = metal to 0.01 % of the metal,
// by repeating s = ∛((metal + inHead(s))/modelled). Every s stays within the
// scales for no wire and for the whole wire in the head. It closes in by the
// share of the head's surface that the wire cuts, a hundredfold a round for
// usual hooks.
func solveScale(modelled, metal float64, inHead func(float64) float64) (scale, wire float64, err error) {
	s := math.Cbrt(metal / modelled)
	for range 60 {
		wire = inHead(s)
		if math.Abs(s*s*s*modelled-wire-metal) <= 1e-4*metal {
			return s, wire, nil
		}
		s = math.Cbrt((metal + wire) / modelled)
	}
	return 0, 0, errNoScale
}

var errNoScale = errors.New("no scale gives this weight")

// headVolume measures a head as modelled: a mesh of one shell by the divergence
// theorem, anything else to 0.04 %. Shells that overlap would count twice.
func headVolume(ctx context.Context, head geom.Solid) (float64, error) {
	if m, ok := meshOf(head); ok && oneShell(m) {
		return m.Volume(), nil
	}
	v, err := geom.Integrate(ctx, head, geom.IntegrateOptions{RelTol: 4e-4})
	return v.Best, err
}

// oneShell reports whether all triangles hang together by their corners.
func oneShell(m *geom.TriMesh) bool {
	pieces := m.Pieces()
	return !slices.ContainsFunc(m.Triangles, func(t [3]int32) bool { return pieces.Root(t[0]) != pieces.Root(m.Triangles[0][0]) })
}

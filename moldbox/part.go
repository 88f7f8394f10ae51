package moldbox

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"

	"halfpour/geom"
)

// part is a cavity before it has a place in the row: at its size and turn,
// with the hook's eye at the origin.
type part struct {
	Cavity
	weighed
	modelled float64 // volume of the head as modelled, mm³
	shrink   float64
	toPart   geom.Transform // from the head's file
	eyeOff   float64        // of the given eye from the parting plane, mm
	wires    []partWire     // in the hook's plane, the hook first
	relief   [][]relief     // of each wire's bed
	sprue    SprueSpec

	turn    geom.Transform // of the hook's plane
	head    geom.Solid
	bed     geom.Solid // of all wires, whole also where they leave the mold; nil without any
	headBox geom.Box   // tight
	bedBox  geom.Box   // of the beds that stay in the rubber; empty without any
	cut     section    // of the head
	gate    gateChoice
	lump    *headLump

	kind int      // index of the first part that comes out alike
	move geom.Vec // into the mold; set when the row is arranged
}

// inFile takes a place in the mold to the head's file.
func (p *part) inFile(at geom.Vec) *geom.Vec {
	v := p.toPart.Inverse().Point(at.Sub(p.move))
	return &v
}

// rotation takes directions of the head's file to the mold's at turn 0.
func (b bearings) rotation() geom.Transform {
	// The file's unit vectors, seen from the mold.
	image := func(v geom.Vec) geom.Vec {
		return geom.Vec{X: v.Dot(b.tail), Y: v.Dot(b.back), Z: v.Dot(b.left)}
	}
	return geom.FromAxes(image(geom.Vec{X: 1}), image(geom.Vec{Y: 1}), image(geom.Vec{Z: 1}))
}

// newParts weighs and scales every cavity. Heads of one file are measured once,
// cavities that are alike made once. What was found of an earlier mold's heads
// need not be looked for again.
func newParts(ctx context.Context, spec Spec, earlier []*part) ([]*part, error) {
	parts := make([]*part, 0, len(spec.Cavities))
	for i, v := range spec.Cavities {
		modelled, lump := 0.0, &headLump{}
		var twin, kin, heavy *part
		for _, p := range slices.Concat(earlier, parts) {
			if sameSolid(v.Head, p.Cavity.Head) {
				modelled, lump = p.modelled, p.lump
			}
			if v.kin(p.Cavity) {
				kin = p
			}
			if v.weighsAs(p.Cavity) {
				heavy = p
			}
		}
		for _, p := range parts {
			if v.same(p.Cavity) {
				twin = p
			}
		}
		field := fmt.Sprintf("Cavities[%d]", i)
		var p *part
		var err error
		switch {
		case twin != nil:
			p = &part{}
			*p = *twin
			p.Cavity = v
			parts = append(parts, p)
			continue
		case heavy != nil:
			p, err = weighedPart(ctx, v, heavy.weighed, modelled, spec, kin, field)
		default:
			if modelled == 0 {
				if modelled, err = headVolume(ctx, v.Head); err != nil {
					return nil, err
				}
			}
			p, err = newPart(ctx, v, modelled, spec, kin, field)
		}
		if err != nil {
			return nil, err
		}
		p.kind, p.lump = i, lump
		parts = append(parts, p)
	}
	return parts, nil
}

// newPart weighs a cavity whose head as modelled holds modelled mm³, scales and
// turns it and looks for its gate. kin, when not nil, is a part that differs in no
// more than scale and hook.
func newPart(ctx context.Context, v Cavity, modelled float64, spec Spec, kin *part, field string) (*part, error) {
	w, err := weigh(ctx, v, modelled, field)
	if err != nil {
		return nil, err
	}
	return weighedPart(ctx, v, w, modelled, spec, kin, field)
}

// weighedPart is newPart for what is weighed already.
func weighedPart(ctx context.Context, v Cavity, w weighed, modelled float64, spec Spec, kin *part, field string) (*part, error) {
	c := new(checker)
	if v.checkPlaces(c, w.scale, field); len(c.errs) > 0 {
		return nil, errors.Join(c.errs...)
	}
	p := &part{Cavity: v, weighed: w, modelled: modelled, shrink: v.shrink(), sprue: spec.branch(), bedBox: geom.EmptyBox()}
	_, p.eyeOff = v.Pose.onParting(v.Eye)
	p.turn = geom.Rotate(geom.Vec{Z: 1}, v.Turn)
	p.toPart = v.toHook(w.scale * p.shrink).Then(p.turn)
	p.head = p.toPart.Solid(v.Head)
	p.wires = v.wires(w.scale * p.shrink)
	var err error
	var beds []geom.Solid
	p.relief = make([][]relief, len(p.wires))
	for i, w := range p.wires {
		beds = append(beds, w.bed(p.turn))
		p.bedBox = p.bedBox.Union(w.stayBox(p.turn))
		if w.body == nil {
			continue
		}
		if p.relief[i], err = p.reliefs(ctx, w); err != nil {
			return nil, err
		}
		for _, r := range p.relief[i] {
			beds = append(beds, r.cut)
		}
	}
	if len(beds) > 0 {
		p.bed = geom.Union(beds...)
	}
	k := 0.0
	if kin != nil {
		k = p.toPart.Factor() / kin.toPart.Factor()
		p.headBox = geom.Scale(k).Box(kin.headBox)
	} else {
		p.headBox = headBox(v.Head, p.toPart)
	}
	if size := p.headBox.Size(); max(size.X, size.Y, size.Z) > largestHead {
		return nil, refused(field+".Head", "must be no larger in the mold than", max(size.X, size.Y, size.Z), largestHead, "mm", "").because(HugeHead)
	}
	if kin != nil {
		p.cut = kin.cut.scaled(k)
	} else {
		p.cut = traceSection(ctx, p.head, p.headBox)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if p.cut.empty() || p.headBox.Min.Z > -leastBehind || p.headBox.Max.Z < leastBehind {
		return nil, p.missed(field)
	}
	if p.gate = chooseGate(ctx, p, p.sprue); !p.gate.found && ctx.Err() == nil {
		return nil, gateBeside(field + ".Gate")
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	p.gate.depth, p.gate.covered = p.neckDepth(p.sprue)
	return p, nil
}

// missed says between which places of the parting plane the head lies.
func (p *part) missed(field string) *SpecError {
	low, high := p.partingAt(p.headBox.Min.Z), p.partingAt(p.headBox.Max.Z)
	return missesHead(p.Pose, min(low, high), max(low, high), field)
}

// partingAt is the parting of the plane that is at z now.
func (p *part) partingAt(z float64) float64 {
	return p.Pose.Parting + z/p.toPart.Factor()*p.Pose.Left().Dot(p.Pose.Across())
}

// largestHead bounds what the checks take, mm: their work grows with a head's
// size, and metal by the ladle with its cube (common practice, no source).
const largestHead = 150.0

// leastBehind is how much of a head each half must hold, mm.
const leastBehind = 0.2

// box is around all of the part that stays in the rubber: head and beds.
func (p *part) box() geom.Box { return p.headBox.Union(p.bedBox) }

// bedDistance is how far q is from the wires' beds, +Inf without any.
func (p *part) bedDistance(q geom.Vec) float64 {
	if p.bed == nil {
		return math.Inf(1)
	}
	return p.bed.Evaluate(q)
}

// sameSolid compares by identity; a solid of a type that cannot be compared is
// like no other.
func sameSolid(a, b geom.Solid) bool {
	return a != nil && b != nil && reflect.ValueOf(a).Comparable() && reflect.ValueOf(b).Comparable() && a == b
}

// kin reports whether two cavities show the same head in the same pose, scaled
// about the eye, so that they differ in scale, hook and gate at most.
func (v Cavity) kin(w Cavity) bool {
	return v.faces(w) && v.anchor() == (geom.Vec{}) && w.anchor() == (geom.Vec{})
}

// faces reports whether two cavities show the same head in the same pose.
func (v Cavity) faces(w Cavity) bool {
	return sameSolid(v.Head, w.Head) && v.Pose == w.Pose && v.Eye == w.Eye && v.Turn == w.Turn && v.Anchor == w.Anchor
}

// weighsAs reports whether two cavities come out alike but for turn and gate, which
// change no weight.
func (v Cavity) weighsAs(w Cavity) bool {
	v.Turn, v.Gate = w.Turn, w.Gate
	return v.same(w)
}

// same reports whether two cavities come out alike, names aside.
func (v Cavity) same(w Cavity) bool {
	return v.faces(w) && reflect.DeepEqual(v.Gate, w.Gate) && reflect.DeepEqual(v.Hook, w.Hook) && reflect.DeepEqual(v.Keepers, w.Keepers) &&
		v.MetalVolume == w.MetalVolume && v.Scale == w.Scale && v.Shrink == w.Shrink && v.Wall == w.Wall && v.KeepBores == w.KeepBores
}

package moldbox

import (
	"cmp"
	"errors"
	"fmt"
	"math"

	"halfpour/geom"
)

// farthestEye is how far from its head a hook's eye may be, and a keeper's first
// point, mm: no leg is longer.
const farthestEye = 200.0

// mostOffGate is how far from the parting plane a gate may be given, mm: what
// one reads off in CAD is rounded. It is taken in the plane.
const mostOffGate = 0.1

// CheckHeads looks at what Validate leaves out and the heads' boxes alone show:
// whether the parting plane cuts the head, and whether eye, gate and wires are near
// it. It takes no time, whatever the heads. The error joins one SpecError for each
// rule that is broken.
func (s Spec) CheckHeads() error {
	c := new(checker)
	for i, v := range s.Cavities {
		v.checkPlaces(c, v.leastScale(), fmt.Sprintf("Cavities[%d]", i))
	}
	return errors.Join(c.errs...)
}

// leastScale is the scale as given or, when it has to be found, the least that it
// can be: of a head that fills its box.
func (v Cavity) leastScale() float64 {
	if size := v.Head.BoundingBox().Size(); v.MetalVolume > 0 {
		return math.Cbrt(v.MetalVolume / (size.X * size.Y * size.Z))
	}
	return cmp.Or(v.Scale, 1)
}

// checkPlaces looks at the places in a head that has at least the given scale.
func (v Cavity) checkPlaces(c *checker, scale float64, at string) {
	box := v.Head.BoundingBox()
	if box.IsEmpty() {
		c.add(broken(at+".Head", "must enclose a volume", "check the head's file"))
		return
	}
	behind := leastBehind / (v.shrink() * scale)
	low, high := math.Inf(1), math.Inf(-1)
	across := v.Pose.Across()
	for i := range 8 {
		x := box.Corner(i).Dot(across)
		low, high = math.Min(low, x), math.Max(high, x)
	}
	if v.MetalVolume == 0 && (v.Pose.Parting < low+behind || v.Pose.Parting > high-behind) ||
		v.Pose.Parting <= low || v.Pose.Parting >= high {
		c.add(missesHead(v.Pose, low, high, at))
	}
	if v.Gate != nil {
		v.checkGate(c, box, at+".Gate")
	}
	near := func(field string, p geom.Vec) {
		if d := scale * box.Distance(p); d > farthestEye {
			c.add(refused(field, "must be no farther from the head than", d, farthestEye, "mm", "").because(FarFromHead))
		}
	}
	usesEye := v.Hook != nil
	for i, k := range v.Keepers {
		usesEye = usesEye || len(k.InHook) > 0
		if len(k.Points) > 0 {
			near(fmt.Sprintf("%s.Keepers[%d].Points", at, i), k.Points[0])
		}
	}
	if usesEye {
		near(at+".Eye", v.Eye)
	}
}

func (v Cavity) checkGate(c *checker, box geom.Box, at string) {
	if _, off := v.Pose.onParting(*v.Gate); math.Abs(off) > mostOffGate {
		c.add(refused(at, "must be no farther from the parting plane than", math.Abs(off), mostOffGate, "mm",
			fmt.Sprintf("metal enters in the parting plane, %.4g mm along %s in the head's file", v.Pose.Parting, DirectionText(v.Pose.Across()))))
	}
	if !v.AutoTurn && !v.gateOver(box) {
		c.add(gateBeside(at))
	}
}

// gateOver reports whether the gate may be over or under a head that fills its box.
func (v Cavity) gateOver(box geom.Box) bool {
	b, _ := v.Pose.axes()
	turned := b.rotation().Then(geom.Rotate(geom.Vec{Z: 1}, v.Turn))
	around, gate := turned.Box(box), turned.Point(*v.Gate)
	return gate.X >= around.Min.X && gate.X <= around.Max.X
}

func (v Cavity) shrink() float64 { return cmp.Or(v.Shrink, 1) }

func missesHead(p Pose, low, high float64, field string) *SpecError {
	return refused(field+".Pose.Parting", fmt.Sprintf("must cut the head with %.1f mm of it on each side", leastBehind),
		p.Parting, math.NaN(), "mm", fmt.Sprintf("as modelled, the head lies between %.2f and %.2f mm along %s", low, high, DirectionText(p.Across())))
}

func gateBeside(field string) *SpecError {
	return broken(field, "must be above the head in the parting plane", "give a point on the head's outline as seen from the left")
}

package moldbox

import "halfpour/geom"

// Keeper is a further wire of a cavity that lies in the parting plane: a wire
// that holds the bait, a guard, a wire through the head. It is as long as its
// points say, whatever the head is scaled to.
type Keeper struct {
	Name string
	Wire float64 // diameter
	Fit  float64 // bed radius is wire/2 + Fit
	Bend float64 // inside radius of its bends; 0: one wire diameter

	// Points is the wire's axis in the head file's coordinates. The first
	// goes with the head when that is scaled; the others keep their distances
	// from it.
	Points []geom.Vec
	// InHook replaces Points: the axis as (x, y) in the hook's plane, x
	// towards the tail and y towards the back, from the eye.
	InHook [][2]float64

	// Count of such wires lie side by side, 0 for one, each moved on by Step
	// mm from the one before: along the head file's axes or, with InHook, in
	// the hook's plane.
	Count int
	Step  geom.Vec

	// Mirror lays one more beside each, mirrored about the axis of the hook's shank.
	Mirror bool

	// body, when set, is the wire as drawn, its first point over the origin; Wire and
	// Points are measured of it.
	body *laidBody

	// Leaves says that the last stretch leaves the mold through its edge.
	Leaves bool
}

// Wires is how many wires it stands for.
func (k Keeper) Wires() int {
	n := max(1, k.Count)
	if k.Mirror {
		n *= 2
	}
	return n
}

// axis lays the wire of the given number out beside the hook of v, of which the
// head has the given scale.
func (k Keeper) axis(v Cavity, scale float64, number int) wireAxis {
	var ps []geom.Vec
	if len(k.InHook) == 0 {
		ps = k.beside(v, scale, number)
	}
	for _, p := range k.InHook {
		ps = append(ps, geom.Vec{X: p[0] + float64(number)*k.Step.X, Y: p[1] + float64(number)*k.Step.Y})
	}
	a := wireAxis{wire: k.Wire, pieces: rounded(ps, k.Wire, bendOf(k.Bend, k.Wire))}
	if k.Leaves {
		a.out = len(a.pieces)
	}
	return a
}

// beside are the points in the hook's plane.
func (k Keeper) beside(v Cavity, scale float64, number int) []geom.Vec {
	b, _ := v.Pose.axes()
	turn := b.rotation()
	first, _ := v.Pose.onParting(k.Points[0])
	start := k.start(v, scale, number)
	var ps []geom.Vec
	for _, p := range k.Points {
		flat, _ := v.Pose.onParting(p)
		at := start.Add(turn.Direction(flat.Sub(first)))
		at.Z = 0
		ps = append(ps, at)
	}
	return ps
}

// start is where the first point lies in the hook's plane.
func (k Keeper) start(v Cavity, scale float64, number int) geom.Vec {
	b, _ := v.Pose.axes()
	first, _ := v.Pose.onParting(k.Points[0])
	return v.toHook(scale).Point(first).Add(b.rotation().Direction(k.Step.Mul(float64(number))))
}

// bodyAt is the drawn body in its place; nil for a wire by its points.
func (k Keeper) bodyAt(v Cavity, scale float64, number int) *laidBody {
	if k.body == nil {
		return nil
	}
	start := k.start(v, scale, number)
	start.Z = 0
	return k.body.placed(geom.Move(start))
}

// Volume returns the volume of one wire in mm³ beside a head that faces as
// pose says; 0 for a wire or a pose that Spec.Validate refuses.
func (k Keeper) Volume(pose Pose) float64 {
	c := new(checker)
	if k.check(c, "Keeper"); len(c.errs) > 0 {
		return 0
	}
	if _, err := pose.axes(); err != nil {
		return 0
	}
	if k.body != nil {
		return k.body.volume
	}
	return k.axis(Cavity{Pose: pose}, 1, 0).volume()
}

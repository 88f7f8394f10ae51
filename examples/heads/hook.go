package heads

import (
	"context"
	"math"

	"halfpour/geom"
)

// The hooks' measures in mm: a 90° jig hook. Invented.
const (
	HookWire      = 1.1  // diameter
	HookEyeInside = 2.0  // diameter of the eye's opening
	HookLeg       = 8.95 // from the eye's centre to the shank's axis
	HookShank     = 26.0 // behind the leg
	HookGape      = 10.0 // between the axes of shank and point
	HookPoint     = 8.0  // from the bend to the tip

	hookCorner  = 1.65 // radius of the axis between leg and shank
	hookTaper   = 3.0  // length of the ground point
	hookTip     = 0.06 // radius that is left there
	hookForged  = 0.7  // thickness of a flattened bend
	hookSpread  = 1.35 // its width
	hookTurning = 0.5  // radians of the bend that stay round at either end
)

// HookKind is how a hook is made.
type HookKind struct {
	Barbed    bool // a barb is cut up from the point, on the shank's side
	Sideways  bool // a barb stands to the left of the point
	Forged    bool // the bend is pressed flat
	EyeAcross bool // the eye's ring stands across the hook's plane
}

// Hook returns the body of a jig hook in its own coordinates: the eye's centre at
// the origin, the leg down along -Y, the shank along +X, the point coming back above
// it. tolerance is of the mesh, mm.
func Hook(ctx context.Context, kind HookKind, tolerance float64) (*geom.TriMesh, error) {
	return geom.Mesh(ctx, HookSolid(kind), geom.MeshOptions{Tolerance: tolerance})
}

// HookSolid is the solid of which Hook returns the mesh.
func HookSolid(kind HookKind) geom.Solid {
	r, ring := HookWire/2, (HookEyeInside+HookWire)/2
	z, eye := geom.Vec{Z: 1}, geom.Vec{Z: 1}
	if kind.EyeAcross {
		eye = geom.Vec{X: 1}
	}
	legEnd := geom.Vec{Y: -HookLeg + hookCorner}
	shank := geom.Vec{X: hookCorner, Y: -HookLeg}
	bend := geom.Vec{X: HookShank, Y: -HookLeg}
	middle := bend.Add(geom.Vec{Y: HookGape / 2})
	back := bend.Add(geom.Vec{Y: HookGape}) // where the bend ends
	ground := back.Sub(geom.Vec{X: HookPoint - hookTaper})
	tip := back.Sub(geom.Vec{X: HookPoint})
	parts := []geom.Solid{
		geom.Torus(geom.Vec{}, eye, ring, r),
		geom.Capsule(geom.Vec{Y: -ring - 0.2*HookWire}, legEnd, r),
		geom.TubeArc(geom.Vec{X: hookCorner, Y: -HookLeg + hookCorner}, z, legEnd, math.Pi/2, r),
		geom.Capsule(shank, bend, r),
		geom.Capsule(back, ground, r),
		geom.Frustum(ground, tip, r, hookTip),
		geom.Ball(tip, hookTip),
	}
	if kind.Forged {
		parts = append(parts, forged(middle, bend, z, r))
	} else {
		parts = append(parts, geom.TubeArc(middle, z, bend, math.Pi, r))
	}
	if kind.Barbed {
		root := ground.Sub(geom.Vec{X: 1.2})
		parts = append(parts, geom.Frustum(root, root.Add(geom.Vec{X: 1.9, Y: -0.95}), 0.3, 0.07))
	}
	if kind.Sideways {
		root := ground.Sub(geom.Vec{X: 1.2}).Add(geom.Vec{Z: 0.2})
		parts = append(parts, geom.Frustum(root, root.Add(geom.Vec{X: 1.9, Y: 0.3, Z: 1}), 0.3, 0.2))
	}
	return geom.Union(parts...)
}

// forged is a bend that is pressed flat between two round ends.
func forged(middle, from, z geom.Vec, r float64) geom.Solid {
	turned := func(angle float64) geom.Vec {
		return middle.Add(geom.Rotate(z, angle).Direction(from.Sub(middle)))
	}
	flat := geom.Intersect(
		geom.TubeArc(middle, z, turned(hookTurning), math.Pi-2*hookTurning, hookSpread/2),
		geom.HalfSpace(z, hookForged/2), geom.HalfSpace(z.Neg(), hookForged/2))
	return geom.Union(flat,
		geom.TubeArc(middle, z, from, hookTurning+0.1, r),
		geom.TubeArc(middle, z, turned(math.Pi-hookTurning-0.1), hookTurning+0.1, r))
}

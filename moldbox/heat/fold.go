package heat

import (
	"math"

	"halfpour/geom"
)

// evenLines reports whether the grid's lines mirror at the parting.
func (g *grid) evenLines() bool {
	z, n := g.lines[2], g.n(2)
	if n != 2*g.middle {
		return false
	}
	for i := range g.middle {
		if math.Abs(z[i]+z[n-i]-2*z[g.middle]) > 1e-6 {
			return false
		}
	}
	return true
}

// mirror is a place's mirror image at the parting.
func (g *grid) mirror(p geom.Vec) geom.Vec {
	p.Z = 2*g.scene.Parting - p.Z
	return p
}

// mirrorBox is a box's mirror image.
func (g *grid) mirrorBox(b geom.Box) geom.Box {
	z := 2 * g.scene.Parting
	b.Min.Z, b.Max.Z = z-b.Max.Z, z-b.Min.Z
	return b
}

// alikeWithin is by how much the distance of a surface may differ from that of
// its mirror image, mm.
const alikeWithin = 0.02

// unlike reports whether a solid that has value v at a place has another at the
// mirror image.
func (b *blocker) unlike(n near, p geom.Vec, v float64) bool {
	return b.g.halved && math.Abs(n.twin.Evaluate(b.g.mirror(p))-v) > alikeWithin
}

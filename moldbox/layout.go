package moldbox

import (
	"fmt"
	"math"

	"halfpour/geom"
)

// layout is the row: where each part's eye comes to lie, and the rubber's
// outline in the parting plane.
type layout struct {
	at     []geom.Vec // moves the part into the mold
	inside geom.Box   // z is 0
}

// arrange puts the parts in a row along X with the gates at y = 0 and the row's
// middle at x = 0.
func arrange(parts []*part, spec Spec) layout {
	f, s := spec.Frame, spec.Sprue
	at := make([]geom.Vec, len(parts))
	x, left, right := 0.0, math.Inf(1), math.Inf(-1)
	bottom, top := math.Inf(1), s.height()
	for i, p := range parts {
		b, g := p.box(), p.gate.at
		switch {
		case i == 0:
		case f.Pitch > 0:
			x += f.Pitch
		default:
			x += roomyPitch(parts[i-1], p, spec)
		}
		at[i] = geom.Vec{X: x - g.X, Y: -g.Y}
		l, r := p.sides(s)
		left, right = math.Min(left, x-l), math.Max(right, x+r)
		bottom = math.Min(bottom, b.Min.Y-g.Y)
		top = math.Max(top, math.Max(s.height()+p.gate.rise, b.Max.Y-g.Y+f.ToWall))
	}
	for i := range at {
		at[i].X -= (left + right) / 2
	}
	half := (right-left)/2 + f.ToWall
	return layout{at, geom.Box{Min: geom.Vec{X: -half, Y: bottom - f.ToWall}, Max: geom.Vec{X: half, Y: top}}}
}

// sides are how far a part reaches to both sides of its gate: head, hook and
// funnel.
func (p *part) sides(s SprueSpec) (left, right float64) {
	b, x := p.box(), p.gate.at.X
	return math.Max(x-b.Min.X, s.Mouth/2), math.Max(b.Max.X-x, s.Mouth/2)
}

// roomyPitch is the pitch of neighbours at which their boxes leave the rubber
// that is asked between them.
func roomyPitch(a, b *part, spec Spec) float64 {
	_, right := a.sides(spec.Sprue)
	left, _ := b.sides(spec.Sprue)
	return right + spec.Frame.Between + left
}

// heights are of the rubber over the parting plane, for left and right.
type heights struct{ left, right float64 }

// fillHeights adds the rubber over the highest point to it.
func fillHeights(parts []*part, spec Spec) heights {
	base := math.Max(spec.Sprue.Mouth, spec.Sprue.GateThickness) / 2
	base = math.Max(base, spec.Keys.Depth+spec.Keys.Clearance)
	h := heights{base, base}
	for _, p := range parts {
		b := p.box()
		h.left = math.Max(h.left, b.Max.Z)
		h.right = math.Max(h.right, -b.Min.Z)
	}
	h.left += spec.Frame.Over
	h.right += spec.Frame.Over
	return h
}

// checkBed returns an error that says how many of the cavities fit when the
// larger half does not lie on the printer's bed, straight or turned by 90°.
func checkBed(parts []*part, spec Spec) error {
	size := printedSize(parts, spec)
	if fitsBed(size, spec.Print) {
		return nil
	}
	n := len(parts) - 1
	for n > 0 && !fitsBed(printedSize(parts[:n], spec), spec.Print) {
		n--
	}
	value, limit, field := size.X, spec.Print.BedX, "print.bed_x"
	if size.Z > spec.Print.BedHigh {
		value, limit, field = size.Z, spec.Print.BedHigh, "print.bed_high"
	} else if size.X <= limit {
		value, limit, field = size.Y, spec.Print.BedY, "print.bed_y"
	}
	remedy := fmt.Sprintf("%d of the %d cavities would fit (the first of the row): take fewer, or less frame.between and frame.to_wall", n, len(parts))
	if spec.Frame.Pitch > 0 {
		remedy = fmt.Sprintf("%d of the %d cavities would fit (the first of the row): take fewer, or a smaller frame.pitch", n, len(parts))
	}
	if n == 0 {
		remedy = "not even one cavity fits: take less frame.to_wall, a shorter sprue.length or a larger printer"
	}
	rule := fmt.Sprintf("must make a frame, here %.1f x %.1f x %.1f mm, within %s of", size.X, size.Y, size.Z, field)
	return &SpecError{"cavities", rule, math.Ceil(10*value) / 10, limit, "mm", remedy}
}

// printedSize is the size of the larger half's frame.
func printedSize(parts []*part, spec Spec) geom.Vec {
	h := fillHeights(parts, spec)
	a := newTray(spec, arrange(parts, spec).inside, h.left).outside().Size()
	b := newTray(spec, arrange(parts, spec).inside, h.right).outside().Size()
	return a.Max(b)
}

func fitsBed(size geom.Vec, p PrintSpec) bool {
	flat := size.X <= p.BedX && size.Y <= p.BedY || size.Y <= p.BedX && size.X <= p.BedY
	return flat && size.Z <= p.BedHigh
}

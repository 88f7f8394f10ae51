package moldbox

import (
	"context"
	"math"
	"slices"

	"halfpour/geom"
)

// layout is where each part comes to lie, and the rubber's outline in the
// parting plane.
type layout struct {
	at     []geom.Vec // moves the part into the mold
	tops   []float64  // y to which the part's own sprue runs
	rows   int
	feed   *feed    // the runner; nil when each cavity has its funnel
	inside geom.Box // z is 0
}

// arranger lays parts out. Its spacing is kept, so that laying out fewer of
// them, or in other rows, costs little.
type arranger struct {
	ctx   context.Context // ends what takes long: distances are of no use then
	spec  Spec
	known map[spacing]spaced
	last  *made   // a mold much like this one, to take distances from; nil to measure them
	boxes bool    // only, which is quicker and takes more room
	tol   float64 // how much more room than asked two cavities may get, mm
}

// pitchTol is how much more room than asked two cavities may get, mm.
const pitchTol = 0.1

func newArranger(ctx context.Context, spec Spec) *arranger {
	return &arranger{ctx: ctx, spec: spec, known: map[spacing]spaced{}, tol: pitchTol}
}

// rows puts the parts in n rows, with the gates of the upper one at y = 0 and the
// middle of all at x = 0.
func (a *arranger) rows(parts []*part, n int) layout {
	if a.spec.Runner.On {
		return a.underRunner(parts, n)
	}
	f, s := a.spec.Frame, a.spec.Sprue
	seats, top := a.seats(parts, n)
	at := make([]geom.Vec, len(parts))
	left, right, bottom := math.Inf(1), math.Inf(-1), math.Inf(1)
	for i, x := range a.alongRow(seats) {
		p, b, g := seats[i].part, seats[i].box(), seats[i].gate.at
		at[i] = geom.Vec{X: x - g.X, Y: seats[i].y - g.Y}
		l, r := p.sides(s)
		left, right = math.Min(left, x-l), math.Max(right, x+r)
		bottom = math.Min(bottom, at[i].Y+b.Min.Y)
	}
	for i := range at {
		at[i].X -= (left + right) / 2
	}
	half := (right-left)/2 + f.ToWall
	return layout{at: at, tops: slices.Repeat([]float64{top}, len(parts)), rows: n, inside: geom.Box{Min: geom.Vec{X: -half, Y: bottom - f.ToWall}, Max: geom.Vec{X: half, Y: top}}}
}

// alongRow returns the gates' x, each as near to all before it as the rubber
// between them allows, or at the pitch by hand.
func (a *arranger) alongRow(seats []seat) []float64 {
	xs := make([]float64, len(seats))
	for i := 1; i < len(seats); i++ {
		if pitch := a.spec.Frame.Pitch; pitch > 0 {
			xs[i] = xs[i-1] + pitch
			continue
		}
		xs[i] = math.Inf(-1)
		for j := i - 1; j >= 0; j-- {
			x := xs[j] + a.boxesApart(seats[j], seats[i])
			if x > xs[i] && !a.boxes {
				x = xs[j] + a.apart(seats[j], seats[i])
			}
			xs[i] = math.Max(xs[i], x)
		}
	}
	return xs
}

// sides are how far a part reaches to both sides of its gate: head, hook and
// funnel.
func (p *part) sides(s SprueSpec) (left, right float64) {
	b, x := p.box(), p.gate.at.X
	return math.Max(x-b.Min.X, s.Mouth/2), math.Max(b.Max.X-x, s.Mouth/2)
}

// heights are of the rubber over the parting plane, for left and right.
type heights struct{ left, right float64 }

// fillHeights adds the rubber over the highest point to it.
func (l layout) fillHeights(parts []*part, spec Spec) heights {
	base := math.Max(spec.Sprue.Mouth, spec.Sprue.GateThickness) / 2
	if l.feed != nil {
		base = math.Max(base, math.Max(l.feed.arm, l.feed.funnel(spec.Sprue).Mouth/2))
	}
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

package moldbox

import (
	"context"
	"fmt"
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
	heights
}

// heights are of the rubber over the parting plane.
type heights struct{ left, right float64 }

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

// maxRows is the most rows that a mold may have: the sprue of the lowest is as
// long as the rows above it, and metal must not freeze in it.
const maxRows = 4

// mayHave are the numbers of rows that a spec allows.
func (s Spec) mayHave(cavities int) []int {
	switch {
	case s.Layout.Rows > 0:
		return []int{s.Layout.Rows}
	case s.Frame.Pitch > 0:
		return []int{1}
	}
	var ns []int
	for n := 1; n <= min(maxRows, cavities); n++ {
		ns = append(ns, n)
	}
	return ns
}

// fitting lays the parts out so that the larger half lies on the printer's
// bed, straight or turned by 90°: in as few rows as the spec allows. Where none
// does, the error says how many cavities fit.
func (a *arranger) fitting(parts []*part) (layout, error) {
	spec := a.spec
	allowed := spec.mayHave(len(parts))
	var first geom.Vec
	for i, n := range allowed {
		l := a.rows(parts, n)
		if err := a.ctx.Err(); err != nil {
			return layout{}, err
		}
		size := printedSize(l, spec)
		if fitsBed(size, spec.Print) {
			return l, nil
		}
		if i == 0 {
			first = size
		}
	}
	most := a.mostThatFit(parts, allowed)
	if err := a.ctx.Err(); err != nil {
		return layout{}, err
	}
	return layout{}, bedError(first, most, len(parts), spec)
}

// fit is how many cavities fit, and in how many rows.
type fit struct{ cavities, rows int }

// mostThatFit tries fewer and fewer of the parts, the last left out first.
func (a *arranger) mostThatFit(parts []*part, allowed []int) fit {
	for n := len(parts) - 1; n > 0 && a.ctx.Err() == nil; n-- {
		for _, rows := range allowed {
			if rows <= n && fitsBed(printedSize(a.rows(parts[:n], rows), a.spec), a.spec.Print) {
				return fit{n, rows}
			}
		}
	}
	return fit{}
}

// bedError says what is too large of a frame of that size.
func bedError(size geom.Vec, most fit, asked int, spec Spec) error {
	value, limit, field := size.X, spec.Print.BedX, "Print.BedX"
	if size.Z > spec.Print.BedHigh {
		value, limit, field = size.Z, spec.Print.BedHigh, "Print.BedHigh"
	} else if size.X <= limit {
		value, limit, field = size.Y, spec.Print.BedY, "Print.BedY"
	}
	rule := fmt.Sprintf("must make a frame, here %.1f x %.1f x %.1f mm, within", size.X, size.Y, size.Z)
	e := refused("Cavities", rule, math.Ceil(10*value)/10, limit, "mm", "")
	e.Bound = field
	switch {
	case most.cavities == 0:
		return e.because(NoneFits)
	case spec.Frame.Pitch > 0: // which has one row
		return e.because(FewerFitAtPitch, most.cavities, asked)
	case most.rows > 1:
		return e.because(FewerFitInRows, most.cavities, asked, most.rows)
	}
	return e.because(FewerFit, most.cavities, asked)
}

// printedSize is the size of the larger half's frame.
func printedSize(l layout, spec Spec) geom.Vec {
	return newTray(spec, l.inside, math.Max(l.left, l.right)).outside().Size()
}

func fitsBed(size geom.Vec, p PrintSpec) bool {
	flat := size.X <= p.BedX && size.Y <= p.BedY || size.Y <= p.BedX && size.X <= p.BedY
	return flat && size.Z <= p.BedHigh
}

// rows lays the parts out in n rows.
func (a *arranger) rows(parts []*part, n int) layout {
	var l layout
	if a.spec.Runner.On {
		l = a.underRunner(parts, n)
	} else {
		l = a.underFunnels(parts, n)
	}
	l.heights = l.fillHeights(parts, a.spec)
	return l
}

// underFunnels puts the parts in n rows, with the gates of the upper one at y = 0
// and the middle of all at x = 0.
func (a *arranger) underFunnels(parts []*part, n int) layout {
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

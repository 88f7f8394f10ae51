package moldbox

import (
	"context"
	"math"

	"halfpour/geom"
)

// seat is a part whose row, and by that its height, is known, but not its x.
type seat struct {
	*part             // nil for the way down of a runner through a row
	wide   float64    // half width of that
	y      float64    // of the gate
	top    float64    // of the sprue: edge of the rubber, or axis of the runner
	hollow geom.Solid // head, bed and sprue up to the top edge, the gate at x = 0
}

// seats deals the parts to n rows, one after the other along X, and stacks the
// rows. Funnels stand at the top edge only: the sprue of a lower row runs up
// between its neighbours in the rows above. top is the rubber's top edge.
func (a *arranger) seats(parts []*part, n int) (seats []seat, top float64) {
	f, s := a.spec.Frame, a.spec.Sprue
	ys := a.rowHeights(parts, n)
	top = s.height()
	for i, p := range parts {
		y, b := ys[i%n], p.box()
		seats = append(seats, seat{part: p, y: y})
		top = math.Max(top, y+math.Max(s.height()+p.gate.rise, b.Max.Y-p.gate.at.Y+f.ToWall))
	}
	for i := range seats {
		seats[i].top = top
		seats[i].hollow = seats[i].hollowed()
	}
	return seats, top
}

// rowHeights returns the y of each row's gates: a row stands under the lowest
// of the row above it with the rubber between.
func (a *arranger) rowHeights(parts []*part, n int) []float64 {
	low, high := make([]float64, n), make([]float64, n)
	for i, p := range parts {
		b, g, r := p.box(), p.gate.at, i%n
		low[r] = math.Min(low[r], b.Min.Y-g.Y)
		high[r] = math.Max(high[r], b.Max.Y-g.Y)
	}
	ys := make([]float64, n)
	for r := 1; r < n; r++ {
		ys[r] = ys[r-1] + low[r-1] - a.spec.Frame.Between - high[r]
	}
	return ys
}

// hollowed is all that is hollow of a seat, vents aside.
func (s seat) hollowed() geom.Solid {
	move := geom.Move(geom.Vec{X: -s.gate.at.X, Y: s.y - s.gate.at.Y})
	solids := []geom.Solid{move.Solid(s.head), s.sprue.solid(geom.Vec{Y: s.y}, s.top, s.top, s.gate.depth)}
	if s.bed != nil {
		solids = append(solids, move.Solid(s.bed))
	}
	return geom.Union(solids...)
}

// spacing is what decides how near two seats may stand.
type spacing struct {
	left, right  int // kinds of part
	yl, yr       float64
	between, top float64
}

// apart is the least x from the gate of l to that of r from which on, standing
// to the right of it, the rubber between is left.
func (a *arranger) apart(l, r seat) float64 {
	between := a.spec.Frame.Between
	key := spacing{l.spacingKind(), r.spacingKind(), l.y, r.y, between, l.top}
	x, ok := a.known[key]
	if !ok {
		x.bodies, x.funnels = bodiesApart(l, r), a.spec.branch().Mouth+between
		if x.apart, ok = a.last.apart(key, x, l, r); !ok {
			x.apart = approach(a.ctx, l.hollow, r.hollow, between, a.tol)
		}
		a.known[key] = x
	}
	return x.apart
}

// spaced is the least x between the gates of two seats, that at which the boxes
// of heads and beds alone touch, and what their funnels need alone.
type spaced struct{ apart, bodies, funnels float64 }

func bodiesApart(l, r seat) float64 {
	_, right := l.whole(SprueSpec{})
	left, _ := r.whole(SprueSpec{})
	return right + left
}

// spacingKind tells seats apart that are spaced differently.
func (s seat) spacingKind() int {
	if s.part == nil {
		return -1
	}
	return s.kind
}

// boxesApart is the least x between gates at which the boxes of two seats leave
// the rubber between.
func (a *arranger) boxesApart(l, r seat) float64 {
	_, right := l.whole(a.spec.branch())
	left, _ := r.whole(a.spec.branch())
	return right + a.spec.Frame.Between + left
}

// whole is how far a seat reaches to both sides of its gate, beds that leave
// the mold to their very ends.
func (s seat) whole(sprue SprueSpec) (left, right float64) {
	if s.part == nil {
		return s.wide, s.wide
	}
	left, right = s.sides(sprue)
	if s.bed != nil {
		b, x := s.bed.BoundingBox(), s.gate.at.X
		left, right = math.Max(left, x-b.Min.X), math.Max(right, b.Max.X-x)
	}
	return left, right
}

// roomyPitch is the least even pitch of a row at which all cavities leave the
// rubber that is asked between them.
func roomyPitch(ctx context.Context, parts []*part, spec Spec) float64 {
	a, room := newArranger(ctx, spec), 0.0
	seats, _ := a.seats(parts, 1)
	for i := range seats {
		for j := range i {
			room = math.Max(room, a.apart(seats[j], seats[i])/float64(i-j))
		}
	}
	return room
}

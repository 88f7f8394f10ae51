package moldbox

import (
	"math"
	"slices"

	"halfpour/geom"
)

// fedRow is a row under a runner while it is laid out: x counts from the
// funnel, y from the gates.
type fedRow struct {
	first int // index of its first part
	seats []seat
	xs    []float64
	arms  float64 // y of the arms' axis at the funnel
	y     float64 // of the gates in the mold
}

// underRunner lays the parts out in n rows under a runner, dealt to the rows in
// blocks. In all rows but the lowest, the way down from the funnel passes
// through the middle.
func (a *arranger) underRunner(parts []*part, n int) layout {
	deal := dealUnderRunner(len(parts), n)
	f := &feed{runnerSize: a.spec.Runner.size(a.spec.Sprue, (slices.Max(deal)+1)/2, len(parts)), rise: math.Tan(a.spec.Runner.Rise)}
	var rows []fedRow
	first := 0
	for k, count := range deal {
		r := a.fedRow(parts[first:first+count], f, k < n-1)
		r.first = first
		if k > 0 {
			above := rows[k-1]
			r.y = above.y + above.low() - a.spec.Frame.Between - r.high(f)
		}
		rows, first = append(rows, r), first+count
	}
	return a.settleFed(parts, rows, f)
}

// dealUnderRunner shares parts out to rows, the upper one first: an even number
// where the way down passes, as many on either side, and no more than below, so
// that vents of the lower arms' ends come up beside the upper ones.
func dealUnderRunner(parts, rows int) []int {
	var deal []int
	for left := rows; left > 1; left-- {
		k := parts / left
		if k > 1 {
			k -= k % 2
		}
		deal, parts = append(deal, k), parts-k
	}
	return append(deal, parts)
}

// fedRow places one row; with through, the way down passes it in the middle.
func (a *arranger) fedRow(parts []*part, f *feed, through bool) fedRow {
	r := fedRow{arms: a.spec.Sprue.GateLength + seam + f.arm}
	below := f.arm
	if !through { // the foot of the way down stands over a part
		below = math.Max(f.arm, f.down)
	}
	for _, p := range parts {
		r.arms = math.Max(r.arms, p.box().Max.Y-p.gate.at.Y+leastRubber+below)
	}
	var row []seat
	half := (len(parts) + 1) / 2
	for i, p := range parts {
		if through && i == half {
			row = append(row, f.passing(parts, r.arms))
		}
		s := seat{part: p, top: r.arms}
		s.hollow = s.hollowed()
		row = append(row, s)
	}
	if through && len(parts) == 1 {
		row = append(row, f.passing(parts, r.arms))
	}
	xs := a.alongRow(row)
	middle := (xs[0] + xs[len(xs)-1]) / 2
	for i, s := range row {
		if s.part == nil {
			middle = xs[i]
		}
	}
	for i, s := range row {
		if s.part != nil {
			r.seats, r.xs = append(r.seats, s), append(r.xs, xs[i]-middle)
		}
	}
	return r
}

// passing is the seat of the way down through a row.
func (f *feed) passing(parts []*part, arms float64) seat {
	low := 0.0
	for _, p := range parts {
		low = math.Min(low, p.box().Min.Y-p.gate.at.Y)
	}
	way := geom.Frustum(geom.Vec{Y: low - 1}, geom.Vec{Y: arms}, f.down, f.down)
	return seat{wide: f.down, top: arms, hollow: way}
}

// low is the lowest of the row below its gates.
func (r fedRow) low() float64 {
	low := 0.0
	for _, s := range r.seats {
		low = math.Min(low, s.box().Min.Y-s.gate.at.Y)
	}
	return low
}

// high is the top of the arms over the gates.
func (r fedRow) high(f *feed) float64 {
	widest := math.Max(math.Abs(r.xs[0]), math.Abs(r.xs[len(r.xs)-1]))
	return r.arms + widest*f.rise + f.arm
}

// settleFed moves the rows into the mold and sets its outline.
func (a *arranger) settleFed(parts []*part, rows []fedRow, f *feed) layout {
	frame, s := a.spec.Frame, a.spec.Sprue
	l := layout{at: make([]geom.Vec, len(parts)), tops: make([]float64, len(parts)), rows: len(rows), feed: f}
	mouth := f.funnel(s).Mouth / 2
	left, right, bottom := -mouth, mouth, math.Inf(1)
	top := math.Max(rows[0].arms+f.arm+s.Length, rows[0].high(f)+leastRubber)
	for k, r := range rows {
		f.rows = append(f.rows, feedRow{r.y + r.arms, math.Min(0, r.xs[0]), math.Max(0, r.xs[len(r.xs)-1])})
		left, right = math.Min(left, r.xs[0]-f.arm), math.Max(right, r.xs[len(r.xs)-1]+f.arm)
		for i, st := range r.seats {
			g, b := st.gate.at, st.box()
			at := geom.Vec{X: r.xs[i] - g.X, Y: r.y - g.Y}
			l.at[r.first+i], l.tops[r.first+i] = at, f.height(k, r.xs[i])
			sl, sr := st.sides(st.sprue)
			left, right = math.Min(left, r.xs[i]-sl), math.Max(right, r.xs[i]+sr)
			bottom = math.Min(bottom, at.Y+b.Min.Y)
			top = math.Max(top, at.Y+b.Max.Y+frame.ToWall)
		}
	}
	shift := -(left + right) / 2
	f.x = shift
	for k := range f.rows {
		f.rows[k].left += shift
		f.rows[k].right += shift
	}
	for i := range l.at {
		l.at[i].X += shift
	}
	half := (right-left)/2 + frame.ToWall
	l.inside = geom.Box{Min: geom.Vec{X: -half, Y: bottom - frame.ToWall}, Max: geom.Vec{X: half, Y: top}}
	return l
}

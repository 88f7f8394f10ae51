package moldbox

import (
	"fmt"
	"math"

	"halfpour/geom"
)

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
		size := printedSize(l, parts, spec)
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
			if rows <= n && fitsBed(printedSize(a.rows(parts[:n], rows), parts[:n], a.spec), a.spec.Print) {
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
func printedSize(l layout, parts []*part, spec Spec) geom.Vec {
	h := l.fillHeights(parts, spec)
	return newTray(spec, l.inside, math.Max(h.left, h.right)).outside().Size()
}

func fitsBed(size geom.Vec, p PrintSpec) bool {
	flat := size.X <= p.BedX && size.Y <= p.BedY || size.Y <= p.BedX && size.X <= p.BedY
	return flat && size.Z <= p.BedHigh
}

package moldbox

import (
	"cmp"
	"context"
	"math"
	"slices"

	"halfpour/geom"
	"halfpour/geom/parallel"
)

// Search says what a search for the layout with the least rubber has found.
type Search struct {
	Turned    float64 // by which all cavities are turned, radians
	Alternate bool    // every second cavity by 180° more
	Rows      int
	Plain     float64 // rubber of both halves in the layout as given, mm³
	Rubber    float64 // in the layout found; Plain when there is none that takes less
	Tried     int     // layouts
}

const (
	searchStep  = math.Pi / 12 // between the turns that are tried first
	searchFine  = math.Pi / 36 // about the best of them
	searchClose = 5            // layouts of each kind that are looked at closely
	searchShare = 2e-3         // to which rubber is measured
	searchTol   = 0.3          // of pitches while layouts are compared, mm
)

// trial is one layout that may take less rubber.
type trial struct {
	turned    float64
	alternate bool
	rows      int
	block     float64 // volume of the rubber's block, mm³; +Inf when it cannot be made
}

// spec is the spec of a trial, to be built as given.
func (t trial) spec(s Spec) Spec {
	s.Layout = LayoutSpec{Rows: t.rows}
	s.Cavities = slices.Clone(s.Cavities)
	for i := range s.Cavities {
		turn := s.Cavities[i].Turn + t.turned
		if t.alternate && i%2 == 1 {
			turn += math.Pi
		}
		s.Cavities[i].Turn = math.Remainder(turn, 2*math.Pi)
	}
	return s
}

// buildLeast builds the layout as given, and then, if one of those that the
// spec allows takes less rubber and has no more to be said against it, that one.
func buildLeast(ctx context.Context, spec Spec) (*Mold, error) {
	asGiven := spec
	asGiven.Layout = LayoutSpec{Rows: spec.Layout.Rows}
	plain, err := buildAsGiven(ctx, asGiven)
	if err != nil {
		return nil, err
	}
	rubber, err := plain.rubber(ctx)
	if err != nil {
		return nil, err
	}
	trials, tried, err := tryLayouts(ctx, spec, plain.made.parts)
	if err != nil {
		return nil, err
	}
	plain.Search = &Search{Rows: plain.Rows, Plain: rubber, Rubber: rubber, Tried: tried}
	best := plain
	block := blockVolume(plain.Left.Inside, plain.Left.FillHeight+plain.Right.FillHeight)
	for _, t := range trials {
		if t.block >= block {
			break
		}
		m, err := buildAsGiven(ctx, t.spec(spec))
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil || !noWorse(m, plain) {
			continue // what cannot be made is no layout to take
		}
		less, err := m.rubber(ctx)
		if err != nil {
			return nil, err
		}
		if less < rubber {
			m.Search = &Search{t.turned, t.alternate, m.Rows, rubber, less, tried}
			best = m
			break // the others' blocks are larger
		}
	}
	best.Spec.Layout = spec.Layout
	return best, nil
}

// rubber is the rubber of both halves, mm³.
func (m *Mold) rubber(ctx context.Context) (float64, error) {
	sum := 0.0
	for _, h := range []Half{m.Left, m.Right} {
		v, err := geom.Integrate(ctx, h.Rubber(), geom.IntegrateOptions{RelTol: searchShare})
		if err != nil {
			return 0, err
		}
		sum += v.Best
	}
	return sum, nil
}

// noWorse reports whether the checks have no more against m than against plain:
// nothing new that says stop or warn, no gate moved from where it was asked, no
// key less, no sprue long.
func noWorse(m, plain *Mold) bool {
	count := func(m *Mold) map[string]int {
		codes := map[string]int{}
		for _, f := range m.Findings {
			if f.Severity != Note || slices.Contains([]string{"gate-moved", "fewer-keys", "long-sprue", "marking-dropped"}, f.Code) {
				codes[f.Code]++
			}
		}
		return codes
	}
	allowed := count(plain)
	for code, n := range count(m) {
		if n > allowed[code] {
			return false
		}
	}
	return true
}

// tryLayouts returns the layouts with the least blocks, the least first, and
// how many there were to choose from. All are compared by their boxes, then
// those next to the best, then the best of all by their solids.
func tryLayouts(ctx context.Context, spec Spec, plain []*part) ([]trial, int, error) {
	if !spec.Layout.Least {
		only, err := measured(ctx, spec, plain, []trial{{alternate: true, rows: spec.Layout.Rows}}, false)
		return only, 1, err
	}
	trials, err := measured(ctx, spec, plain, coarseTrials(spec.mayHave(len(spec.Cavities))), true)
	if err != nil {
		return nil, 0, err
	}
	var fine []trial
	for _, t := range bestOfBoth(trials) {
		for _, off := range []float64{-searchFine, searchFine} {
			near := t
			near.turned = math.Remainder(t.turned+off, 2*math.Pi)
			fine = append(fine, near)
		}
	}
	if fine, err = measured(ctx, spec, plain, fine, true); err != nil {
		return nil, 0, err
	}
	trials = sorted(append(trials, fine...))
	close, err := measured(ctx, spec, plain, bestOfBoth(trials), false)
	return close, len(trials), err
}

// coarseTrials are all turns, by wide steps.
func coarseTrials(rows []int) []trial {
	var list []trial
	for _, n := range rows {
		for k := range int(math.Round(2 * math.Pi / searchStep)) {
			turned := math.Remainder(float64(k)*searchStep, 2*math.Pi)
			list = append(list, trial{turned: turned, rows: n}, trial{turned: turned, alternate: true, rows: n})
		}
	}
	return list
}

// bestOfBoth takes the best trials of each kind: what turning every second
// cavity saves, boxes do not show.
func bestOfBoth(trials []trial) []trial {
	var best []trial
	for _, alternate := range []bool{false, true} {
		n := 0
		for _, t := range trials {
			if t.alternate == alternate && n < searchClose {
				best, n = append(best, t), n+1
			}
		}
	}
	return best
}

// measured returns the trials that can be laid out, with their blocks, the least
// first. It works on several at a time.
func measured(ctx context.Context, spec Spec, plain []*part, trials []trial, boxes bool) ([]trial, error) {
	trials = slices.Clone(trials)
	err := parallel.For(ctx, len(trials), 0, func(i int) { trials[i].block = trials[i].measure(ctx, spec, plain, boxes) })
	trials = slices.DeleteFunc(trials, func(t trial) bool { return math.IsInf(t.block, 1) })
	return sorted(trials), err
}

// sorted puts the least block first, and keeps the order of equal ones.
func sorted(trials []trial) []trial {
	slices.SortStableFunc(trials, func(a, b trial) int { return cmp.Compare(a.block, b.block) })
	return trials
}

// measure lays the trial out and returns its block, +Inf when it cannot be laid
// out or a gate lands on a hook.
func (t trial) measure(ctx context.Context, spec Spec, plain []*part, boxes bool) float64 {
	spec = t.spec(spec)
	parts, err := newParts(ctx, spec, plain)
	if err != nil {
		return math.Inf(1)
	}
	for _, p := range parts {
		if !p.gate.clear || math.Abs(p.gate.moved) > 1 {
			return math.Inf(1)
		}
	}
	a := newArranger(ctx, spec)
	a.boxes, a.tol = boxes, searchTol
	l, err := a.fitting(parts)
	if err != nil {
		return math.Inf(1)
	}
	return blockVolume(l.inside, l.left+l.right)
}

// blockVolume is of the rubber before anything is taken out of it, mm³.
func blockVolume(inside geom.Box, height float64) float64 {
	size := inside.Size()
	return size.X * size.Y * height
}

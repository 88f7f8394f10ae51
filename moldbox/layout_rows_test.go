package moldbox

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"halfpour/geom"
)

// hollowsOf are the cavities' head, bed and sprue, one solid each.
func hollowsOf(m *Mold) []geom.Solid {
	var all []geom.Solid
	for i := range m.Cavities {
		all = append(all, m.Cavities[i].hollow())
	}
	return all
}

// leastGap is the least rubber between any two cavities, looked for nearer than
// within.
func leastGap(m *Mold, within float64) (float64, bool) {
	all, least, found := hollowsOf(m), within, false
	for i := range all {
		for j := range i {
			if n, near := nearest(all[j], all[i], within); near {
				least, found = min(least, n.gap), true
			}
		}
	}
	return least, found
}

// However many rows, the rubber that is asked stays between all cavities, and
// no more than the search's certainty is given away.
func TestRowsKeepRubberBetween(t *testing.T) {
	const seed = 30
	r := rand.New(rand.NewPCG(seed, 1))
	for rows := 1; rows <= 3; rows++ {
		spec := ballSpec(5)
		for i := range spec.Cavities {
			spec.Cavities[i].MetalVolume *= 0.5 + r.Float64()
		}
		spec.Layout.Rows = rows
		spec.Frame.Between = 4 + 4*r.Float64()
		m := buildOf(t, spec)
		if m.Rows != rows {
			t.Errorf("%d rows, want %d", m.Rows, rows)
		}
		gap, found := leastGap(m, spec.Frame.Between+1)
		if !found || gap < spec.Frame.Between-nearTol || gap > spec.Frame.Between+0.3 {
			t.Errorf("seed %d, %d rows: %.3f mm between the nearest, want %.3f", seed, rows, gap, spec.Frame.Between)
		}
		low := 0
		for _, c := range m.Cavities {
			if c.Sprue.BoundingBox().Max.Y < m.Left.Inside.Max.Y {
				t.Errorf("%d rows: the sprue of %s does not reach the top edge", rows, c.Name)
			}
			if c.GateAt.Y < m.Cavities[0].GateAt.Y-1 {
				low++
			}
		}
		if want := 5 - (5+rows-1)/rows; low != want {
			t.Errorf("%d rows: %d cavities stand lower than the first, want %d", rows, low, want)
		}
		if hasFinding(m, "long-sprue", Note) != (rows > 1) {
			t.Errorf("%d rows: findings %v", rows, m.Findings)
		}
	}
}

// Solids that reach past each other stand nearer than their boxes allow: balls
// of 3 and 12 mm, both hung up by their tops, whose middles must be 15 mm and
// the rubber apart.
func TestPitchIsFoundFromTheSolids(t *testing.T) {
	spec := plainBalls(3, 12)
	spec.Sprue.Mouth = spec.Sprue.Throat
	b := spec.Frame.Between
	row := arrange(partsOf(t, spec), spec)
	want := math.Sqrt((15+b)*(15+b) - 9*9)
	if got := row.at[1].X - row.at[0].X; got < want || got > want+0.2 || got > 15+b-1 {
		t.Errorf("pitch %.3f mm, want %.3f", got, want)
	}
}

// More rows are taken where one does not fit the bed.
func TestRowsToFitTheBed(t *testing.T) {
	spec := ballSpec(4)
	spec.Print.BedX, spec.Print.BedY = 130, 130
	if m := buildOf(t, spec); m.Rows != 2 {
		t.Errorf("%d rows, want 2", m.Rows)
	}
	spec.Layout.Rows = 1
	_, err := Build(context.Background(), spec)
	var se *SpecError
	if !errors.As(err, &se) || se.Cause != FewerFit || se.Figures[1] != 4 {
		t.Errorf("in one row: %v", err)
	}
	spec.Layout.Rows, spec.Frame.Pitch = 2, 30
	if _, err := Build(context.Background(), spec); !errors.As(err, &se) || se.Field != "Frame.Pitch" {
		t.Errorf("two rows and a pitch: %v", err)
	}
}

// What is too large is told with the bed's own field, with the size of one row.
func TestBedError(t *testing.T) {
	spec := Default()
	for _, c := range []struct {
		size         geom.Vec
		value, limit float64
		field        string
	}{
		{geom.Vec{X: 230.04, Y: 100, Z: 30}, 230.1, 220, "BedX"},
		{geom.Vec{X: 220, Y: 230, Z: 250}, 230, 220, "BedY"},
		{geom.Vec{X: 230, Y: 230, Z: 251}, 251, 250, "BedHigh"},
	} {
		var e *SpecError
		if err := bedError(c.size, fit{2, 1}, 5, spec); !errors.As(err, &e) || e.Field != "Cavities" || e.Limit != c.limit ||
			math.Abs(e.Value-c.value) > 1e-9 || e.Bound != "Print."+c.field || e.Cause != FewerFit || e.Figures[0] != 2 || e.Figures[1] != 5 {
			t.Errorf("%v: %v", c.size, err)
		}
		if fitsBed(c.size, spec.Print) {
			t.Errorf("%v fits", c.size)
		}
	}
	if !fitsBed(geom.Vec{X: 220, Y: 220, Z: 250}, spec.Print) {
		t.Error("just as large as the bed does not fit")
	}
	balls := plainBalls(8, 8, 8)
	balls.Print.BedX, balls.Print.BedY = 40, 40
	parts := partsOf(t, balls)
	want := printedSize(arrange(parts, balls), balls).X
	var e *SpecError
	if _, err := newArranger(context.Background(), balls).fitting(parts); !errors.As(err, &e) || math.Abs(e.Value-want) > 0.1 {
		t.Errorf("got %v, want the %.1f mm of one row", err, want)
	}
}

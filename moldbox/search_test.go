package moldbox

import (
	"context"
	"errors"
	"math"
	"testing"

	"halfpour/geom"
)

// What a search finds takes less rubber than the layout as given, says by how
// much, and has no more to be said against it.
func TestSearchSavesRubber(t *testing.T) {
	if testing.Short() {
		t.Skip("some hundred layouts")
	}
	spec := ballSpec(3)
	for i := range spec.Cavities {
		spec.Cavities[i].MetalVolume = 0 // as modelled: quicker
	}
	plain := buildOf(t, spec)
	spec.Layout.Least = true
	m := buildOf(t, spec)
	s := m.Search
	if s == nil || s.Tried < 100 || s.Rubber >= s.Plain {
		t.Fatalf("search %+v: want less rubber than in the plain layout", s)
	}
	// And those beside the best of either kind, after all the turns by wide steps.
	if coarse := len(coarseTrials(spec.mayHave(3))); s.Tried <= coarse || s.Tried > coarse+4*searchClose {
		t.Errorf("%d layouts tried, %d of them by wide steps", s.Tried, coarse)
	}
	total := func(m *Mold) float64 {
		return volume(t, m.Left.Rubber(), m.Left.Fill.BoundingBox()).Best + volume(t, m.Right.Rubber(), m.Right.Fill.BoundingBox()).Best
	}
	near(t, "rubber as given", s.Plain, total(plain), 4e-3*s.Plain)
	near(t, "rubber found", s.Rubber, total(m), 4e-3*s.Plain)
	if !noWorse(m, plain) {
		t.Errorf("findings %v, as given %v", m.Findings, plain.Findings)
	}
	for i, c := range m.Spec.Cavities {
		want := spec.Cavities[i].Turn + s.Turned
		if s.Alternate && i%2 == 1 {
			want += math.Pi
		}
		near(t, "turn", math.Remainder(c.Turn-want, 2*math.Pi), 0, 1e-9)
	}
	if m.Rows != s.Rows || !m.Spec.Layout.Least {
		t.Errorf("%d rows, search %+v, spec %+v", m.Rows, s, m.Spec.Layout)
	}
	// Built as found, it is the same mold.
	again := m.Spec
	again.Layout = LayoutSpec{Rows: m.Rows}
	if b := buildOf(t, again); b.Left.Inside != m.Left.Inside {
		t.Errorf("as found the rubber's box is %v, in the search %v", b.Left.Inside, m.Left.Inside)
	}
}

// Alternating is taken where it saves rubber, and only there: bare cones
// (narrow above, wide below) nest head to tail, balls do not.
func TestAlternateWhereItSaves(t *testing.T) {
	spec := plainBalls(7, 7, 7)
	spec.Layout.Alternate = true
	m := buildOf(t, spec)
	if s := m.Search; s == nil || s.Alternate || s.Rubber != s.Plain || s.Tried != 1 {
		t.Errorf("balls: search %+v, want the plain layout", s)
	}
	for i := range spec.Cavities {
		spec.Cavities[i].Head = geom.Frustum(geom.Vec{Y: -14}, geom.Vec{Y: 14}, 12, 3)
	}
	m = buildOf(t, spec)
	if s := m.Search; s == nil || !s.Alternate || s.Rubber > 0.97*s.Plain {
		t.Errorf("cones: search %+v, want every second one turned", s)
	}
	if gap, found := leastGap(m, spec.Frame.Between+1); !found || gap < spec.Frame.Between-nearTol {
		t.Errorf("cones: %.3f mm between the nearest, want %.3f", gap, spec.Frame.Between)
	}
}

func TestSearchSaysWhatCannotBeMade(t *testing.T) {
	spec := ballSpec(3)
	spec.Layout.Least = true
	spec.Print.BedX, spec.Print.BedY = 40, 40
	_, err := Build(context.Background(), spec)
	var se *SpecError
	if !errors.As(err, &se) || se.Field != "Cavities" {
		t.Errorf("error is %v, want a SpecError of Cavities", err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Build(ctx, spec); !errors.Is(err, context.Canceled) {
		t.Errorf("error is %v, want context.Canceled", err)
	}
}

func TestBlockVolume(t *testing.T) {
	near(t, "volume", blockVolume(rectangle(4, 6), 5), 120, 1e-9)
}

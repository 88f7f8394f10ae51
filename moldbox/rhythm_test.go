package moldbox

import (
	"context"
	"testing"

	"halfpour/moldbox/heat"
)

// What one cavity of a row says is what the whole row does, within 1 K.
func TestRhythmOfARow(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds of heat")
	}
	m := buildOf(t, ballSpec(2))
	if w := buildOf(t, ballSpec(3)).warmest(); w.cavity != 1 || w.even != [2]bool{true, true} {
		t.Errorf("of three it is %+v", w)
	}
	ask := heat.Rhythm{Every: 120, Open: 30, Lies: 30, Shots: 3}
	solve := func(scene heat.Scene) heat.Rhythmic {
		r, err := heat.SolveRhythm(context.Background(), scene, heat.Options{Cell: 3}, ask)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	r, whole := solve(m.warmest().of(m.HeatScene(hotLead()))), solve(m.HeatScene(hotLead()))
	for i := range r.Shots {
		near(t, "skin before a shot", r.Shots[i].Skin, whole.Shots[i].Skin, 0.5)
	}
	near(t, "settled skin", r.Settled.Skin, whole.Settled.Skin, 1)
	near(t, "settled rubber", r.Settled.Fill, whole.Settled.Fill, 5)
	if !(r.Settled.Skin > 100) {
		t.Errorf("%+v", r)
	}
}

// A mold that is cast every two minutes gets warmer than it began, so that the rhythm
// that keeps it is slower.
func TestRhythmOfAMold(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds of heat")
	}
	r, err := buildOf(t, ballSpec(2)).Rhythm(context.Background(), hotLead(), heat.Rhythm{Every: 120, Open: 30})
	if err != nil {
		t.Fatal(err)
	}
	if !(len(r.Shots) == 1 && r.Shots[0].Skin > 59.9 && r.Shots[0].Skin < 60.1 && r.Settled.Skin > 62 && r.Keeps > 120) {
		t.Errorf("%+v", r)
	}
}

// Each unknown has its share of the range, and all at once make the most.
func TestFreezeRange(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds of heat")
	}
	m := buildOf(t, ballSpec(2))
	r, err := m.FreezeRange(context.Background(), hotLead(), []Unknown{
		{"contact", func(h *Hot) { h.Contact = 0 }, func(h *Hot) { h.Contact = 2000 }},
		{"mold", nil, func(h *Hot) { h.MoldC += 20 }},
	})
	if err != nil {
		t.Fatal(err)
	}
	contact, mold := r.Parts[0], r.Parts[1]
	if !(contact.Sooner < 0 && contact.Later > 0 && mold.Sooner == 0 && mold.Later > 0.05*r.Best) {
		t.Errorf("parts %+v", r.Parts)
	}
	if !(r.Low < r.Best && r.High > r.Best+max(contact.Later, mold.Later) && r.High < r.Best+contact.Later+mold.Later && r.Most > r.High) {
		t.Errorf("range %+v", r)
	}
}

// A mold like another has what was changed, and leaves the other alone.
func TestLike(t *testing.T) {
	m := buildOf(t, ballSpec(2))
	wider, err := m.Like(context.Background(), func(s *Spec) {
		s.Sprue.GateWidth += 1
		s.Cavities[0].Scale = 1.1
	})
	if err != nil {
		t.Fatal(err)
	}
	if wider.Spec.Sprue.GateWidth != m.Spec.Sprue.GateWidth+1 || m.Spec.Cavities[0].Scale == 1.1 || len(wider.HeatScene(hotLead()).Bodies) != len(m.HeatScene(hotLead()).Bodies) {
		t.Errorf("gate %g mm wide, was %g", wider.Spec.Sprue.GateWidth, m.Spec.Sprue.GateWidth)
	}
	built, err := m.Like(context.Background(), func(s *Spec) { s.Cavities = s.Cavities[:1] })
	if err != nil || len(built.Cavities) != 1 || len(m.Cavities) != 2 {
		t.Errorf("of another number of cavities: %v, %v", built, err)
	}
}
